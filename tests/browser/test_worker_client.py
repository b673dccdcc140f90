"""One worker for a page: killed, hung or long out of sight, it comes back and nothing that was typed is lost."""

import json
import subprocess
import time

import pytest

from tests.browser.conftest import ROOT
from tests.browser.pages import calculator, open_live, results, state_of, wait_for_state, wait_until

pytestmark = pytest.mark.browser

WORKERS = """
window.workers = [];
const Own = Worker;
window.Worker = class extends Own {
  constructor(url, options) {
    super(url, options);
    if (options?.type === "module") workers.push(this);
  }
};
"""
HIDE = """hidden => {
  Object.defineProperty(document, "hidden", {value: hidden, configurable: true});
  document.dispatchEvent(new Event("visibilitychange"));
}"""


def count(page):
    return page.evaluate("workers.length")


def test_a_worker_that_the_system_killed_is_replaced_and_the_next_change_is_answered(phone, course):
    page = phone()
    page.add_init_script(WORKERS)
    open_live(page, course.page())
    page.evaluate("workers.at(-1).terminate()")  # as a phone short of memory does: without a word
    calculator(page).locator("[name=t]").fill("0.8")
    wait_until(lambda: count(page) == 2, "a second worker")
    wait_until(lambda: results(page)["theta"]["text"] == "2.40 rad", "the answer")
    assert calculator(page).locator("[name=t]").input_value() == "0.8"


SPOKEN = """
window.spoken = [];
const Quiet = Worker;
window.Worker = class extends Quiet {
  constructor(...given) {
    super(...given);
    this.addEventListener("message", ({data}) => data.number && !data.begun && spoken.push(`back ${data.number}`));
  }
  postMessage(message, ...rest) {
    spoken.push(`${message.ask} ${message.number}`);
    super.postMessage(message, ...rest);
  }
};
"""


def test_the_first_question_is_sent_before_python_has_started_and_asked_once(phone, course):
    page = phone()
    page.add_init_script(SPOKEN)
    page.goto(course.page())
    wait_for_state(page)
    assert page.evaluate("spoken") == ["start 1", "answer 2", "back 1", "back 2"]


def test_a_worker_at_rest_gives_back_what_starting_has_left(phone, course):
    page = phone()
    open_live(page, course.page())
    page.workers[-1].evaluate("(() => { self.left = new WeakRef(new ArrayBuffer(8)) })()")
    time.sleep(8)  # each look at the worker makes it work, so that one is all that may be had
    assert page.workers[-1].evaluate("left.deref() === undefined")
    calculator(page).locator("[name=t]").fill("0.8")
    wait_until(lambda: results(page)["theta"]["text"] == "2.40 rad", "the answer")


def test_a_page_long_out_of_sight_gives_its_worker_up_and_goes_on_without_loss(phone, course):
    page = phone()
    page.add_init_script(WORKERS)
    page.clock.install()
    page.goto(course.page())
    wait_until(lambda: page.clock.run_for(100) or state_of(page) == "live", "live numbers")
    calculator(page).locator("[name=t]").fill("0.8")
    wait_until(lambda: page.clock.run_for(100) or results(page)["theta"]["text"] == "2.40 rad", "the answer")
    shown = results(page)
    page.evaluate(HIDE, True)
    page.clock.fast_forward(5 * 60_000 - 2000)
    assert count(page) == 1 and len(page.workers) > 0
    before = len(page.workers)
    page.clock.fast_forward(3000)
    wait_until(lambda: page.evaluate("true") and len(page.workers) == before - 1, "the end of the worker")
    page.evaluate(HIDE, False)
    assert results(page) == shown
    assert calculator(page).locator("[name=t]").input_value() == "0.8"
    calculator(page).locator("[name=t]").fill("0.4")
    wait_until(lambda: page.clock.run_for(100) or results(page)["theta"]["text"] == "1.20 rad", "the next answer")
    assert count(page) == 2
    assert not page.heard.complaints


def test_a_short_look_elsewhere_keeps_the_worker(phone, course):
    page = phone()
    page.add_init_script(WORKERS)
    open_live(page, course.page())
    page.evaluate(HIDE, True)
    page.evaluate(HIDE, False)
    calculator(page).locator("[name=t]").fill("0.8")
    wait_until(lambda: results(page)["theta"]["text"] == "2.40 rad", "the answer")
    assert count(page) == 1
    wait_for_state(page)


SWALLOW = """
window.asked = [];
const Whole = Worker;
window.Worker = class extends Whole {
  postMessage(message, ...rest) {
    if (message.ask === "answer") asked.push(JSON.parse(message.given).t?.[0]);
    if (message.ask === "answer" && window.swallow === JSON.parse(message.given).t?.[0]) {
      setTimeout(() => this.dispatchEvent(new MessageEvent("message", {data: {number: message.number, begun: true}})));
      return;
    }
    super.postMessage(message, ...rest);
  }
};
"""


def test_what_took_too_long_is_not_asked_again_until_an_input_changes(phone, course):
    page = phone()
    page.add_init_script(SWALLOW)
    page.clock.install()
    page.goto(course.page())
    state = calculator(page).locator('[data-part="state"]')
    wait_until(lambda: page.clock.run_for(100) or state_of(page) == "live", "live numbers")
    page.evaluate("window.swallow = '0.8'")
    calculator(page).locator("[name=t]").fill("0.8")
    page.clock.run_for(1500)
    assert state.text_content() == "Results will follow as soon as they are ready."
    page.clock.run_for(9000)
    told = "That took too long and was stopped. Change a number to try again."
    wait_until(lambda: page.clock.run_for(100) or state.text_content() == told, "the word on it")
    wait_until(lambda: page.clock.run_for(100) or len(page.workers) == 1, "another worker")
    for _ in range(4):
        page.clock.run_for(10_500)
        page.wait_for_timeout(300)
    assert page.evaluate("asked.filter((t) => t === '0.8').length") == 1
    assert state.text_content() == told
    assert calculator(page).get_attribute("data-stale") is not None
    calculator(page).locator("[name=t]").fill("0.4")
    wait_until(lambda: page.clock.run_for(100) or results(page)["theta"]["text"] == "1.20 rad", "the next answer")
    assert not page.heard.complaints


def test_no_question_that_overran_or_broke_the_engine_is_asked_twice_running():
    done = subprocess.run(
        ["node", "tests/browser/asked_once.mjs", "3000"],
        cwd=ROOT,
        capture_output=True,
        text=True,
        timeout=300,
        check=True,
    )
    tried = json.loads(done.stdout)
    assert tried["sent"] > 5 * tried["pages"]
    assert not tried["count"], tried["faults"]
