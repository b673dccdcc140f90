"""Typing, stepping, sliding, changing units: what a student does, and what is kept of it."""

import re

import pytest

from crankpin.calculator.evaluate import evaluate
from crankpin.service import service
from tests.browser.pages import calculator, open_live, results, state_of, type_into, wait_until

pytestmark = pytest.mark.browser


@pytest.fixture(scope="module")
def page(course, chromium):
    context = chromium.new_context(viewport={"width": 390, "height": 844}, has_touch=True)
    page = context.new_page()
    open_live(page, course.page())
    yield page
    context.close()


@pytest.fixture(autouse=True)
def printed(page):
    calculator(page).locator('[data-do="reset"]').click()
    settle(page)
    wait_until(lambda: calculator(page).locator(".table-box[data-stale]").count() == 0, "the working at rest")


def settle(page):
    wait_until(lambda: calculator(page).get_attribute("aria-busy") is None, "an answer")


def row(page, key):
    return calculator(page).locator(f'.given-row[data-key="{key}"]')


def field(page, key):
    return calculator(page).locator(f'[name="{key}"]')


def shown(page, key):
    return results(page)[key]["text"]


def test_keys_on_a_phone_change_every_result(page, catalogue):
    field(page, "t").fill("1.2")
    settle(page)
    expected = evaluate(catalogue["edge-on"], {"t": "1.2 s"})
    assert {key: one["text"] for key, one in results(page).items()} == {
        key: found.text for key, found in expected.outputs.items()
    }
    working = calculator(page).locator('.worked[data-key="x"]')
    wait_until(lambda: "1.2" in working.inner_text(), "the working of the new time")
    assert calculator(page).get_attribute("data-stale") is None


SLIDE = """async ([texts, awaited]) => {
  const box = document.getElementById("edge-on");
  const slider = box.querySelector('[data-key="A"] input[type=range]');
  const parts = ["working", "table"].map((name) => box.querySelector(`[data-part="${name}"]`));
  const seen = () => parts.map((part) => [part.hasAttribute("data-stale"), part.innerHTML]);
  const taken = [seen()];
  for (const text of texts) {
    slider.value = text;
    slider.dispatchEvent(new Event("input", {bubbles: true}));
    await new Promise((go) => {
      const watcher = new MutationObserver(() => !box.hasAttribute("aria-busy") && (watcher.disconnect(), go()));
      watcher.observe(box, {attributes: true, attributeFilter: ["aria-busy"]});
    });
    taken.push(seen());
  }
  while (awaited && seen().some(([stale]) => stale)) await new Promise((go) => setTimeout(go, 5));
  taken.push(seen());
  return taken;
}"""


def test_working_and_table_are_marked_while_the_slider_moves_and_follow_at_rest(page, catalogue):
    before, *moving, after = page.evaluate(SLIDE, [["20", "30"], True])
    assert [stale for stale, _ in before] == [False, False]
    for seen in moving:
        assert seen == [[True, html] for _, html in before]
    found, _ = service.shown("edge-on", catalogue["edge-on"], {"A": "30 cm"})
    assert [stale for stale, _ in after] == [False, False]
    assert [html.count("<tr>") for _, html in after] == [0, found["parts"]["table"].count("<tr>")]
    assert results(page)["x_max"]["text"] == found["outputs"]["x_max"]["text"]
    assert "0.3\N{NO-BREAK SPACE}m" in calculator(page).locator('.worked[data-key="x"] math').nth(1).text_content()
    assert all(now != then for (_, now), (_, then) in zip(after, before, strict=True))


HOLD = """async ([text]) => {
  const box = document.getElementById("edge-on");
  const list = box.querySelector(".calculator-find dl");
  const seen = () => [list.hasAttribute("data-held"), list.clientHeight, list.scrollHeight > list.clientHeight];
  const taken = [seen()];
  const field = box.querySelector('[name="A"]');
  field.value = text;
  field.dispatchEvent(new Event("input", {bubbles: true}));
  while (box.hasAttribute("aria-busy")) await new Promise((go) => setTimeout(go, 1));
  taken.push(seen());
  while (box.querySelector(".table-box[data-stale]")) await new Promise((go) => setTimeout(go, 5));
  taken.push(seen());
  return taken;
}"""


@pytest.mark.parametrize(("text", "held"), [("14", True), ("1.23e-7", False)])
def test_the_results_keep_their_height_while_numbers_move_and_none_wants_room(page, text, held):
    before, moving, after = page.evaluate(HOLD, [text])
    assert [is_held for is_held, _, _ in (before, moving, after)] == [False, held, False]
    assert [overflows for _, _, overflows in (before, moving, after)] == [False] * 3
    if held:
        assert before[1] == moving[1] == after[1]


def test_a_print_made_meanwhile_has_no_working_of_other_numbers(page):
    page.emulate_media(media="print")
    working = calculator(page).locator(".working-lines")
    assert working.is_visible()
    visible = page.evaluate(
        """async () => {
          const box = document.getElementById("edge-on");
          const slider = box.querySelector('[data-key="A"] input[type=range]');
          slider.value = "20";
          slider.dispatchEvent(new Event("input", {bubbles: true}));
          while (box.hasAttribute("aria-busy")) await new Promise((go) => setTimeout(go, 1));
          return box.querySelector(".working-lines").checkVisibility();
        }"""
    )
    assert not visible
    wait_until(working.is_visible, "the working of the new numbers")
    page.emulate_media(media="screen")


def test_back_where_the_working_stands_it_is_not_marked(page):
    _, moved, back, _ = page.evaluate(SLIDE, [["20", calculator(page).locator('[name="A"]').input_value()], True])
    assert [stale for stale, _ in moved] == [True, True]
    assert [stale for stale, _ in back] == [False, False]


def test_a_fault_keeps_the_text_marks_the_field_and_leaves_the_results_as_stale(page):
    before = results(page)
    field(page, "A").fill("twelve")
    settle(page)
    wait_until(lambda: field(page, "A").get_attribute("aria-invalid") == "true", "the mark")
    assert field(page, "A").input_value() == "twelve"
    assert results(page) == before
    assert calculator(page).get_attribute("data-stale") is not None
    told = page.locator(f"#{field(page, 'A').get_attribute('aria-describedby')}").inner_text()
    assert "“twelve” is not a number" in told
    assert state_of(page) == "live"
    field(page, "A").fill("13")
    settle(page)
    assert field(page, "A").get_attribute("aria-invalid") is None
    assert calculator(page).get_attribute("data-stale") is None
    assert shown(page, "x_max") == "13.0 cm"


def test_a_range_is_told_in_the_fields_own_unit(page):
    field(page, "A").fill("1e14")
    settle(page)
    field(page, "A").blur()
    told = row(page, "A").locator('[data-part="field-fault"]').inner_text()
    assert "it must be at most 1×10¹¹ cm" in told


def test_a_unit_typed_behind_the_number_moves_to_the_list_of_units(page):
    field(page, "A").fill("130 mm")
    settle(page)
    assert field(page, "A-unit").input_value() == "mm"
    assert shown(page, "x_max") == "130 mm"
    assert field(page, "A").input_value() == "130 mm", "nothing is taken from under a typing hand"
    field(page, "A").blur()
    assert field(page, "A").input_value() == "130"


def test_another_unit_keeps_the_quantity(page):
    field(page, "omega").fill("33.3")
    settle(page)
    field(page, "omega-unit").select_option("rpm")
    wait_until(lambda: field(page, "omega").input_value() != "33.3", "the number in turns a minute")
    settle(page)
    assert field(page, "omega").input_value() == "317.991576298"
    assert shown(page, "v_max") == "4.00 m/s"
    field(page, "omega-unit").select_option("s")
    wait_until(lambda: field(page, "omega").input_value().startswith("0.18"), "the period")


def test_the_printed_quantity_is_known_in_every_unit_at_once(page):
    field(page, "A-unit").select_option("m")
    assert field(page, "A").input_value() == "0.12"
    settle(page)
    assert shown(page, "x_max") == "0.120 m"


def test_one_step_more_and_less(page):
    row(page, "t").locator('[data-do="more"]').click()
    assert field(page, "t").input_value() == "0.5"
    for _ in range(2):
        row(page, "t").locator('[data-do="less"]').click()
    assert field(page, "t").input_value() == "0.3"
    settle(page)
    assert row(page, "t").locator("input[type=range]").input_value() == "0.3"


def test_a_step_starts_from_what_is_typed_even_beyond_the_slider(page):
    field(page, "A").fill("80.5")
    row(page, "A").locator('[data-do="more"]').click()
    assert field(page, "A").input_value() == "81.5"


def test_arrow_keys_step(page):
    field(page, "t").press("ArrowUp")
    assert field(page, "t").input_value() == "0.5"


def test_the_sign_can_be_changed_without_a_minus_key(page):
    field(page, "phi").fill("0.5")
    row(page, "phi").locator('[data-do="sign"]').click()
    assert field(page, "phi").input_value() == "-0.5"
    settle(page)
    assert shown(page, "theta") == "0.700 rad"
    assert row(page, "A").locator('[data-do="sign"]').count() == 0


def test_the_slider_types(page):
    slider = row(page, "A").locator("input[type=range]")
    slider.fill("20")
    assert field(page, "A").input_value() == "20"
    settle(page)
    assert shown(page, "x_max") == "20.0 cm"


def test_the_slider_follows_the_unit(page):
    field(page, "A-unit").select_option("mm")
    settle(page)
    slider = row(page, "A").locator("input[type=range]")
    assert [slider.get_attribute(name) for name in ("min", "max", "step")] == ["10", "500", "10"]
    assert slider.input_value() == "120"


def test_every_digit(page):
    button = calculator(page).locator('[data-do="digits"]')
    button.click()
    assert shown(page, "x") == "4.348293053720081 cm"
    assert button.get_attribute("aria-pressed") == "true"
    button.click()
    assert shown(page, "x") == "4.35 cm"


def test_what_changed_is_said_once_the_hand_rests(page):
    said = calculator(page).locator('[role="status"]')
    type_into(page, {"t": "0.6"})
    wait_until(lambda: "position −2.73 cm" in said.text_content(), "what changed since the test before")
    type_into(page, {"t": "0.7"})
    wait_until(lambda: "position −6.06 cm" in said.text_content(), "the announcement")
    assert "amplitude" not in said.text_content()
    spoken_by_itself = calculator(page).locator('output:not([aria-live="off"])')
    assert spoken_by_itself.count() == 0


def test_the_strip_holds_what_the_field_in_hand_changes(page):
    kept = calculator(page).locator(".strip-results > :not([hidden])")
    type_into(page, {"t": "0.9"})
    assert [one.get_attribute("data-strip") for one in kept.all()] == ["theta", "x", "v", "a"]
    type_into(page, {"A": "15"})
    assert [one.get_attribute("data-strip") for one in kept.all()] == ["x", "v", "a", "x_max", "v_max", "a_max"]


def test_the_strip_stays_in_sight_over_the_last_field(page):
    field(page, "t").scroll_into_view_if_needed()
    page.evaluate("document.querySelector('[name=t]').scrollIntoView({block: 'end'})")
    strip = calculator(page).locator(".strip-results").bounding_box()
    header = page.locator(".md-header").bounding_box()
    assert header["y"] + header["height"] - 2 <= strip["y"] < 200
    assert field(page, "t").bounding_box()["y"] > strip["y"] + strip["height"]


def test_controls_are_large_enough_for_a_thumb(page):
    small = page.evaluate(
        """() => [...document.querySelectorAll("crankpin-calculator :is(button, input, select, summary)")]
            .filter((one) => one.checkVisibility())
            .map((one) => [one.outerHTML.slice(0, 60), one.getBoundingClientRect()])
            .filter(([, box]) => box.height < 44 || box.width < 44).map(([html]) => html)"""
    )
    assert small == []


def test_back_to_the_printed_numbers(page):
    printed = results(page)
    type_into(page, {"A": "99", "t": "3", "phi": "45 deg"})
    assert results(page) != printed
    calculator(page).locator('[data-do="reset"]').click()
    settle(page)
    assert results(page) == printed
    assert field(page, "phi-unit").input_value() == "rad"


def test_the_table_follows_the_picture(page):
    type_into(page, {"A": "50"})
    cells = calculator(page).locator('[data-part="table"] tbody tr').first.locator("td")
    wait_until(lambda: cells.all_text_contents() == ["0", "50.0", "0", "−4.50"], "the table of the new amplitude")


def test_the_picture_says_what_it_shows(page):
    type_into(page, {"A": "50"})
    picture = calculator(page).locator("svg.figure")
    assert picture.get_attribute("role") == "img"
    wait_until(lambda: "highest 50.0 cm" in picture.get_attribute("aria-label"), "the new words")


def test_a_finger_on_the_picture_reads_the_curves(page):
    figure = calculator(page).locator("svg.figure")
    readout = calculator(page).locator('[data-part="readout"]')
    figure.hover(position={"x": 55, "y": 40}, force=True)
    read = readout.text_content().replace("\u00a0", " ")
    assert re.fullmatch(r"t = 0\.04\d+ s: x = 11\.9 cm, v = −0\.0\d+ m/s, a = −1\.07 m/s²", read)
    assert calculator(page).locator(".chart-pointer circle").count() == 3
    type_into(page, {"A": "24"})
    assert ": x = 23." in readout.text_content(), "read again from the new curves"
    page.mouse.move(1, 1)
    assert readout.text_content() == ""
    assert calculator(page).locator(".chart-pointer *").count() == 0


def test_a_reading_names_a_curve_once_and_has_no_marks_of_formulas(phone, course):
    page = phone()
    open_live(page, course.page("all"), "driven")
    figure = calculator(page, "driven").locator("svg.figure")
    figure.hover(position={"x": 150, "y": 60}, force=True)
    read = calculator(page, "driven").locator('[data-part="readout"]').text_content().replace("\u00a0", " ")
    assert re.fullmatch(r"ω = [\d.]+ rad/s: A = [\d.]+ \w+, lag: φ lag = [\d.]+ rad, P = [\d.]+ W", read), read


def test_a_finger_reads_until_it_touches_something_else(page):
    figure = calculator(page).locator("svg.figure")
    figure.scroll_into_view_if_needed()
    box = figure.bounding_box()
    page.touchscreen.tap(box["x"] + 0.55 * box["width"], box["y"] + 0.8 * box["height"])
    readout = calculator(page).locator('[data-part="readout"]')
    assert readout.text_content().startswith("t = 2.")
    calculator(page).locator(".calculator-title").tap()
    assert readout.text_content() == ""


def test_the_picture_belongs_to_the_results_beside_it(page):
    """At each moment that anything is painted, words, curves and results are of one answer."""
    seen = page.evaluate(
        r"""async () => {
          const box = document.querySelector("crankpin-calculator");
          const slider = box.querySelector('[data-key="A"] input[type=range]');
          const seen = [];
          for (let i = 0; i < 25; i++) {
            slider.value = String(11 + i);
            slider.dispatchEvent(new Event("input", {bubbles: true}));
            for (let frame = 0; frame < 3; frame++) {
              await new Promise(requestAnimationFrame);
              const words = box.querySelector("svg.figure").getAttribute("aria-label");
              const highest = words.match(/highest ([^,;.]+(\.\d+)?[^,;.]*)/)[1];
              seen.push([box.querySelector('[name="x_max"]').textContent, highest]);
            }
          }
          return seen;
        }"""
    )
    assert len({text for text, _ in seen}) > 5
    assert [pair for pair in seen if pair[0] not in pair[1]] == []


def test_a_print_has_the_picture_of_the_numbers_as_they_stand(page):
    type_into(page, {"A": "50"})
    ticks = "() => [...document.querySelectorAll('[data-panel=\"0\"] .chart-end text')].map((one) => one.textContent)"
    assert page.evaluate(ticks) == ["−50", "0", "50"]
    page.emulate_media(media="print")
    assert calculator(page).locator("svg.figure").is_visible()
    assert page.evaluate(ticks) == ["−50", "0", "50"]
    assert (
        calculator(page).locator(".figure path.ink-position").first.evaluate("one => getComputedStyle(one).stroke")
        == "rgb(11, 122, 134)"
    )
    page.emulate_media(media="screen")
