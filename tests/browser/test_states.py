"""Printed, starting, live, failed: a page is whole in each of them."""

import pytest

from crankpin.calculator.evaluate import evaluate
from tests.browser.pages import calculator, open_live, results, state_of, wait_for_state, wait_until

pytestmark = pytest.mark.browser


def words(page):
    return calculator(page).locator('[data-part="state"]').text_content()


def test_without_scripts_everything_is_printed_and_nothing_pretends_to_work(phone, course, catalogue):
    page = phone(javascript=False)
    page.goto(course.page())
    evaluation = evaluate(catalogue["edge-on"])
    for found in evaluation.outputs.values():
        assert calculator(page).locator(f'output[name="{found.key}"]').inner_text() == found.text
    for reading in evaluation.inputs.values():
        assert calculator(page).locator(f'[data-key="{reading.key}"] .given-printed').inner_text() == reading.text
    controls = calculator(page).locator("button, input, select")
    assert controls.count() > 0
    assert not any(one.is_visible() for one in controls.all())
    assert calculator(page).locator("svg.figure").is_visible()
    assert calculator(page).locator(".worked").count() == len(evaluation.outputs)
    calculator(page).locator("summary", has_text="table").click()
    assert calculator(page).locator('[data-part="table"] tbody tr').count() == 13


def test_python_starts_by_itself(phone, course):
    page = phone()
    page.goto(course.page())
    wait_for_state(page, "live")
    assert words(page) == "Live numbers."
    assert not page.heard.complaints


def test_what_is_printed_is_left_in_place_where_python_says_the_same(phone, course, catalogue):
    page = phone()
    page.add_init_script(
        """addEventListener("DOMContentLoaded", () => {
            window.printed = [...document.querySelectorAll(".worked, .table-box tr, svg.figure > *, output")];
        })"""
    )
    page.goto(course.page("all"))
    for name in catalogue:
        wait_for_state(page, "live", name)
    pictures = page.locator(".picture-box").count()
    wait_until(lambda: page.locator(".picture-box[data-live]").count() == pictures, "the pictures")
    page.wait_for_timeout(500)
    assert page.evaluate("printed.length") > 10 * len(catalogue)
    assert page.evaluate("printed.filter((one) => !one.isConnected).map((one) => one.outerHTML)") == []


def test_a_page_without_a_calculator_fetches_nothing_of_them(phone, course):
    page = phone()
    page.goto(course.page("words"))
    page.wait_for_load_state("networkidle")
    theirs = ("/start.", "/calculator.", "/worker.", "/course.", "/python-", ".wasm")
    scripts = [url for url in page.heard.requests if "/live/" in url]
    assert not [url for url in scripts if any(name in url for name in theirs)]


SAVES_DATA = "Object.defineProperty(navigator, 'connection', {value: {saveData: true}})"


def test_a_reader_who_saves_data_starts_python_by_touching(phone, course):
    page = phone()
    page.add_init_script(SAVES_DATA)
    page.goto(course.page())
    page.wait_for_load_state("networkidle")
    assert state_of(page) == "printed"
    assert not [url for url in page.heard.requests if "/worker." in url]
    calculator(page).locator("input[type=text]").first.focus()
    wait_for_state(page, "live")


def test_a_worker_ahead_of_the_page_is_the_one_that_answers(phone, course):
    page = phone()
    page.goto(course.page())
    wait_for_state(page, "live")
    assert len([url for url in page.heard.requests if "/worker." in url]) == 1


def test_a_calculator_answers_while_the_end_of_the_page_is_still_on_its_way(phone, course):
    page = phone()

    def without_end(route):
        response = route.fetch()
        body = response.text().replace("</body>", '<script src="never.js"></script></body>')
        route.fulfill(response=response, body=body)

    page.route(course.page(), without_end)
    page.route("**/never.js", lambda route: None)
    page.goto(course.page(), wait_until="commit")
    wait_for_state(page, "live")
    assert page.evaluate("document.readyState") == "loading"


def test_progress_is_told_while_starting(phone, course):
    page = phone()
    page.add_init_script(SAVES_DATA)
    page.add_init_script(
        """addEventListener("DOMContentLoaded", () => {
            window.told = [];
            const words = document.querySelector('[data-part="state"]');
            new MutationObserver(() => told.push(words.textContent)).observe(words, {childList: true});
        })"""
    )
    open_live(page, course.page())
    told = page.evaluate("told")
    assert any("% of" in one for one in told)
    assert told[-1] == "Live numbers."
    shares = [int(one.split(": ")[1].split()[0]) for one in told if "% of" in one]
    assert shares == sorted(shares) and shares[-1] <= 100


@pytest.mark.parametrize("lost", ["*.wasm*", "*/course.*.zip", "*/worker.*.mjs"])
def test_what_is_printed_stays_when_a_file_is_missing(phone, course, lost):
    page = phone()
    page.route(f"**/{lost}", lambda route: route.fulfill(status=404, body="gone"))
    printed = None
    page.goto(course.page())
    printed = results(page)
    calculator(page).locator("[name=t]").focus()
    wait_for_state(page, "failed")
    assert words(page) == "Live numbers are not available just now; everything printed here is still valid."
    assert results(page) == printed
    assert calculator(page).get_attribute("data-stale") is None
    again = calculator(page).locator('[data-do="again"]')
    assert again.is_visible()
    page.unroute(f"**/{lost}")
    again.click()
    wait_for_state(page, "live")


def test_what_was_typed_is_kept_when_python_cannot_start(phone, course):
    page = phone()
    page.route("**/*.wasm*", lambda route: route.fulfill(status=404, body="gone"))
    page.goto(course.page())
    calculator(page).locator("[name=t]").fill("0.8")
    wait_for_state(page, "failed")
    assert calculator(page).locator("[name=t]").input_value() == "0.8"
    assert calculator(page).get_attribute("data-stale") is not None


def test_an_older_browser_sees_the_printed_page(phone, course):
    page = phone()
    page.add_init_script("delete window.customElements")
    page.goto(course.page())
    assert not calculator(page).locator("input").first.is_visible()
    assert calculator(page).locator(".given-printed").first.is_visible()


def test_a_worker_that_broke_is_replaced(phone, course):
    page = phone()
    page.add_init_script(
        """const Own = Worker;
        window.workers = [];
        window.Worker = class extends Own {
          constructor(url, options) { super(url, options); if (options?.type === "module") workers.push(this); }
          postMessage(message) { if (!window.swallow || message.ask !== "answer") super.postMessage(message); }
        };"""
    )
    open_live(page, course.page())
    page.evaluate("window.swallow = true")
    calculator(page).locator("[name=t]").fill("0.8")
    wait_until(lambda: words(page).startswith("Getting ready") or "too long" in words(page), "the watchdog")
    page.evaluate("window.swallow = false")
    wait_until(lambda: page.evaluate("workers.length") == 2, "a second worker")
    wait_until(lambda: results(page)["theta"]["text"] == "2.40 rad", "the answer")
    assert calculator(page).locator("[name=t]").input_value() == "0.8"


def test_several_calculators_share_one_worker(phone, course):
    page = phone()
    page.goto(course.page("few"))
    page.locator("#passing-times input").first.focus()
    for element in ("turning-rate", "edge-on", "edge-on-2", "passing-times"):
        wait_for_state(page, "live", element)
    assert len(page.workers) <= 2, "the page's own and the theme's search"
    page.locator("#edge-on-2 [name=A]").fill("20")
    wait_until(lambda: results(page, "edge-on-2")["x_max"]["text"] == "20.0 cm", "the second's answer")
    assert results(page, "edge-on")["x_max"]["text"] == "12.0 cm"


def test_a_calculator_taken_out_of_the_page_leaves_nothing_running(phone, course):
    page = phone()
    open_live(page, course.page())
    wait_until(lambda: calculator(page).locator("[data-live]").count() == 1, "the live picture")
    page.evaluate("window.kept = document.querySelector('crankpin-calculator'); kept.remove()")
    assert page.evaluate("kept.querySelectorAll('[data-live]').length") == 0
    page.evaluate("document.querySelector('h1').after(kept)")
    wait_until(lambda: calculator(page).locator("[data-live]").count() == 1, "the live picture again")
    assert not page.heard.complaints
