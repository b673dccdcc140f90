"""What a reader typed, pasted or chose is not lost: reload, back, a crash of the tab, a newer edition, no engine."""

import pytest

from tests.browser.pages import calculator, open_live, results, state_of, wait_for_state, wait_until

pytestmark = pytest.mark.browser

LEFT = "Live numbers, as you left them on this device."
ROWS = "0.10 0.50\n0.20 1.00\n0.30 1.50\n0.40 2.00"


def words(page, element="edge-on"):
    return calculator(page, element).locator('[data-part="state"]').text_content()


def field(page, name="t", element="edge-on"):
    return calculator(page, element).locator(f'[name="{name}"]')


def foot(page):
    return page.locator("[data-typed]")


def type_time(page, text="0.8", shown="2.40 rad"):
    field(page).fill(text)
    wait_until(lambda: results(page)["theta"]["text"] == shown, "the answer")


def left(page):
    wait_until(lambda: words(page) == LEFT, lambda: f"what was left, it says {words(page)}")
    return field(page).input_value(), results(page)["theta"]["text"]


def test_what_was_typed_survives_a_reload_and_the_foot_says_so(phone, course):
    page = phone()
    open_live(page, course.page())
    assert foot(page).is_hidden()
    type_time(page)
    field(page, "A-unit").select_option("cm")
    page.reload()
    assert left(page) == ("0.8", "2.40 rad")
    assert field(page, "A-unit").input_value() == "cm"
    assert "in one calculator of this course is kept, on this device alone" in foot(page).text_content()
    assert not page.heard.complaints


def test_one_button_forgets_all_of_it(phone, course):
    page = phone()
    open_live(page, course.page("few"))
    field(page).fill("0.5")
    page.goto(course.page())
    wait_for_state(page)
    printed = field(page).input_value()
    type_time(page)
    assert "in 2 calculators" in foot(page).text_content()
    foot(page).get_by_role("button").click()
    wait_until(lambda: field(page).input_value() == printed, "the printed number")
    assert "Nothing of what you typed is kept" in foot(page).text_content()
    assert page.evaluate("Object.keys(localStorage).filter((key) => key.includes('typed')).length") == 0
    page.reload()
    wait_for_state(page)
    assert field(page).input_value() == printed
    page.goto(course.page("few"))
    wait_for_state(page)
    assert field(page).input_value() == printed


def test_what_was_typed_is_there_on_the_way_back(phone, course):
    page = phone()
    open_live(page, course.page())
    type_time(page)
    page.goto(course.page("words"))
    page.go_back()
    wait_until(lambda: field(page).input_value() == "0.8", "the number")
    wait_until(lambda: results(page)["theta"]["text"] == "2.40 rad", "its answer")


def test_what_was_typed_is_on_the_device_at_once_so_that_a_crash_of_the_tab_loses_nothing(phone, course):
    page = phone()
    open_live(page, course.page())
    page.evaluate(
        """() => { const field = document.querySelector("#edge-on [name=t]"); field.value = "0.8";
        field.dispatchEvent(new Event("input", {bubbles: true})); }"""
    )
    again = page.context.new_page()  # the first page is neither left nor asked anything more
    again.goto(course.page())
    assert left(again) == ("0.8", "2.40 rad")


def test_a_newer_edition_keeps_what_was_typed_and_renews_the_rest(phone, course):
    page = phone()
    open_live(page, course.page())
    type_time(page)
    was = field(page, "A").input_value()

    def newer(route):
        answer = route.fetch()
        text = answer.text()
        assert f'value="{was}" data-plain' in text
        route.fulfill(response=answer, body=text.replace(f'value="{was}" data-plain', 'value="17" data-plain'))

    page.route(course.page(), newer)
    page.reload()
    assert left(page)[0] == "0.8"
    assert field(page, "A").input_value() == "17"


def test_what_was_typed_stands_in_the_fields_where_the_engine_cannot_be_had(phone, course):
    page = phone()
    open_live(page, course.page())
    type_time(page)
    page.context.route("**/python*", lambda route: route.abort())
    page.reload()
    wait_for_state(page, "failed")
    assert field(page).input_value() == "0.8"
    assert calculator(page).get_attribute("data-stale") is not None


def test_a_link_opens_what_it_says_and_offers_what_was_there(phone, course):
    page = phone()
    open_live(page, course.page())
    type_time(page)
    page.goto(course.page() + "?edge-on.t=0.4s#edge-on")
    wait_until(lambda: results(page)["theta"]["text"] == "1.20 rad", "the link's answer")
    mine = calculator(page).locator('[data-do="mine"]')
    assert mine.is_visible()
    mine.click()
    assert left(page) == ("0.8", "2.40 rad")
    assert mine.is_hidden()
    assert "?" not in page.url
    page.reload()
    assert left(page) == ("0.8", "2.40 rad")


def test_what_is_typed_over_a_link_survives_a_reload_and_the_earlier_numbers_are_still_offered(phone, course):
    page = phone()
    open_live(page, course.page())
    type_time(page)
    page.goto(course.page() + "?edge-on.t=0.4s#edge-on")
    wait_until(lambda: results(page)["theta"]["text"] == "1.20 rad", "the link's answer")
    type_time(page, "0.6", "1.80 rad")
    page.reload()
    assert left(page) == ("0.6", "1.80 rad")
    calculator(page).locator('[data-do="mine"]').click()
    wait_until(lambda: results(page)["theta"]["text"] == "2.40 rad", "the earlier numbers")


def test_a_pasted_table_survives_a_reload(phone, course):
    page = phone()
    name = "line-fit" if "line-fit" in course.calculators else "sine-fit"
    open_live(page, course.page("all"), name)
    box = calculator(page, name).locator("textarea").first
    box.fill(ROWS)
    wait_until(lambda: calculator(page, name).get_attribute("aria-busy") is None, "an answer")
    page.reload()
    wait_until(lambda: box.input_value() == ROWS, "the rows")


def test_back_to_the_printed_numbers_forgets_what_was_typed(phone, course):
    page = phone()
    open_live(page, course.page())
    printed = field(page).input_value()
    type_time(page)
    calculator(page).locator('[data-do="reset"]').click()
    page.reload()
    wait_for_state(page)
    assert field(page).input_value() == printed
    assert foot(page).is_hidden()


def test_numbers_over_which_the_page_once_crashed_are_shown_and_not_worked_out_again(phone, course):
    page = phone()
    open_live(page, course.page())
    type_time(page)
    page.goto(course.page("words"))
    page.evaluate(
        """() => { const key = Object.keys(localStorage).find((one) => one.includes("typed"));
        localStorage.setItem(key, JSON.stringify({...JSON.parse(localStorage.getItem(key)), trying: true})); }"""
    )
    page.goto(course.page())
    wait_until(lambda: words(page).startswith("These numbers could not be worked out"), "the word on it")
    assert field(page).input_value() == "0.8"
    type_time(page, "0.6", "1.80 rad")


def test_a_browser_that_keeps_nothing_says_so_and_works(phone, course):
    page = phone()
    page.add_init_script("Storage.prototype.setItem = () => { throw new DOMException('full', 'QuotaExceededError'); }")
    open_live(page, course.page())
    type_time(page)
    assert "keeps nothing of what you type" in foot(page).text_content()
    assert state_of(page) == "live"


def test_a_damaged_entry_is_no_entry(phone, course):
    page = phone()
    open_live(page, course.page())
    type_time(page)
    for damaged in ("", "{", "[]", '{"given": {"t": 5}}', '{"given": {"t": ["0.8"]}}', '{"given": null}'):
        page.evaluate(
            "text => localStorage.setItem(Object.keys(localStorage).find((one) => one.includes('typed')), text)",
            damaged,
        )
        page.reload()
        wait_for_state(page)
        assert words(page) == "Live numbers."
    assert not page.heard.complaints


@pytest.mark.parametrize("content", [b"", b"1 2\n" * 100_000, b"\x00\x01" * 500])
def test_a_file_that_no_student_wrote_is_left_alone_and_a_good_one_can_be_taken_back(phone, course, content):
    page = phone()
    open_live(page, course.page("all"), "sine-fit")
    box = calculator(page, "sine-fit").locator("textarea").first
    before = box.input_value()
    file = calculator(page, "sine-fit").locator("input[type=file]").first
    file.set_input_files({"name": "lab.csv", "mimeType": "text/csv", "buffer": content})
    fault = calculator(page, "sine-fit").locator('.given-row:has(textarea) [data-part="field-fault"]').first
    wait_until(lambda: "lab.csv" in fault.text_content(), "what is wrong")
    assert box.input_value() == before
    file.set_input_files({"name": "lab.csv", "mimeType": "text/csv", "buffer": ROWS.encode()})
    wait_until(lambda: box.input_value() == ROWS, "the file's rows")
    calculator(page, "sine-fit").get_by_role("button", name="Back to the rows before").first.click()
    assert box.input_value() == before
