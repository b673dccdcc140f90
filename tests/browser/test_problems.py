"""Problems on a phone: what is answered, what is said of it, other numbers, and what is kept."""

import json

import pytest

from crankpin.problems.parsing import read_problems
from crankpin.problems.respond import respond
from crankpin.problems.serialise import slots
from tests.browser.conftest import PHONE, ROOT
from tests.browser.pages import wait_until

pytestmark = pytest.mark.browser

KEY = "crankpin progress /course/"


@pytest.fixture(scope="module")
def problems(catalogue):
    text = (ROOT / "docs" / "problems" / "01-turning.md").read_text(encoding="utf-8")
    return {problem.id: problem for problem in read_problems(text, "01-turning.md", catalogue)}


@pytest.fixture(scope="module")
def page(course, chromium):
    context = chromium.new_context(viewport=PHONE, has_touch=True)
    page = context.new_page()
    page.complaints = []
    page.on("console", lambda message: page.complaints.append(message.text))
    page.on("pageerror", lambda error: page.complaints.append(str(error)))
    open_problems(page, course)
    yield page
    context.close()


def open_problems(page, course, query=""):
    page.goto(course.page("problems") + query)
    wait_until(lambda: page.locator("#ten-turns").get_attribute("data-state") == "live", "live problems")


def asked(page, name, request):
    """Ask the page's Python as the element does."""
    return page.evaluate(
        """([id, request]) => {
            const element = document.getElementById(id);
            return element.client.problem(null, element.querySelector("[data-part=data]").textContent, request);
        }""",
        [name, request],
    )


def answer(page, name, text, part=""):
    question = page.locator(f'#{name} .problem-part[data-question="{part}"]')
    question.locator("input[name=number]").fill(text)
    question.locator("button[type=submit]").click()
    said = question.locator(".problem-verdict")
    wait_until(lambda: said.get_attribute("data-verdict") != "waiting", "a verdict")
    return said.get_attribute("data-verdict"), said.inner_text()


def test_the_page_and_the_build_draw_the_same_numbers(page, problems, catalogue):
    for problem in problems.values():
        for number in (1, 2, 77, 1000):
            request = {"do": "draw", "variant": number}
            built = respond(problem, slots(problem), request, catalogue)
            assert asked(page, problem.id, request)["slots"] == built["slots"], (problem.id, number)


def test_what_is_printed_is_the_first_set(page, problems, catalogue):
    for problem in problems.values():
        built = respond(problem, slots(problem), {"do": "draw", "variant": 1}, catalogue)["slots"]
        shown = page.evaluate(
            """id => [...document.querySelectorAll(`#${id} [data-slot]`)]
                .map((slot) => [Number(slot.dataset.slot), slot.textContent])""",
            problem.id,
        )
        assert all(built[at] == text for at, text in shown)


def test_the_page_and_the_build_mark_alike(page, problems, catalogue):
    for problem in problems.values():
        for question in problem.questions:
            for given in ("1 m", "6.65 s", "3,2e-1 rad/s", "", "x", "12"):
                if question.kind != "number":
                    continue
                request = {"do": "mark", "variant": 5, "part": question.name, "given": given}
                assert asked(page, problem.id, request) == respond(problem, (), request, catalogue)


def test_a_student_is_told_what_may_have_happened_and_then_that_it_is_right(page):
    assert answer(page, "ten-turns", "66.5 s")[0] == "slip"
    assert answer(page, "ten-turns", "6.65")[0] == "nearly"
    assert answer(page, "ten-turns", "6,65 s") == ("right", "Right.")


def test_the_solution_waits_for_the_hints(page):
    part = page.locator('#winch-drum .problem-part[data-question="a"]')
    assert not part.locator(".problem-solution").is_visible()
    for hint in (1, 2, 3):
        part.locator(f'[data-hint="{hint}"] summary').click()
    assert part.locator(".problem-solution").is_visible()


def test_other_numbers_stand_everywhere_in_the_problem(page, problems, catalogue):
    problem = problems["loose-bolt"]
    page.locator("#loose-bolt input[name=variant]").fill("12")
    page.locator("#loose-bolt .problem-numbers button[type=submit]").click()
    expected = respond(problem, slots(problem), {"do": "draw", "variant": 12}, catalogue)["slots"]
    first = page.locator('#loose-bolt [data-slot="0"]').first
    wait_until(lambda: first.text_content() == expected[0], "other numbers")
    for element in page.locator("#loose-bolt [data-slot]").all():
        assert element.text_content() == expected[int(element.get_attribute("data-slot"))]


def test_a_guess_opens_a_calculator_with_this_students_numbers(page, problems, catalogue):
    page.locator("#slower-wheel input[name=variant]").fill("9")
    page.locator("#slower-wheel .problem-numbers button[type=submit]").click()
    inside = page.locator("#slower-wheel crankpin-calculator")
    assert not inside.is_visible()
    page.locator("#slower-wheel input[name=choices]").first.check()
    page.locator("#slower-wheel .problem-answer button[type=submit]").click()
    wait_until(inside.is_visible, "the calculator")
    problem = problems["slower-wheel"]
    drawn = respond(problem, slots(problem), {"do": "draw", "variant": 9}, catalogue)["slots"]
    field = inside.locator('[name="rate"]')
    wait_until(lambda: field.input_value() and drawn[1].startswith(field.input_value()), "its period")


def test_steps_are_put_in_order_by_touching_them(page):
    steps = page.locator("#from-photo-to-acceleration")
    for place in range(5):
        steps.locator(f'li[data-place="{place}"] button').click()
    steps.locator("button[type=submit]").click()
    wait_until(lambda: steps.locator(".problem-verdict").get_attribute("data-verdict") == "right", "a verdict")


def test_what_is_done_is_kept_and_cleared(page, course):
    kept = json.loads(page.evaluate("key => localStorage.getItem(key)", KEY))
    assert kept["problems"]["ten-turns"]["done"] is True
    assert kept["problems"]["ten-turns"]["slips"] == {"one_for_all": 1}
    open_problems(page, course)
    row = page.locator('crankpin-overview [data-for="ten-turns"]')
    wait_until(lambda: row.get_attribute("data-done") == "done", "the overview")
    with page.expect_download() as download:
        page.locator('crankpin-overview [data-do="save"]').click()
    saved = download.value.path()
    page.locator('crankpin-overview [data-do="clear"]').click()
    assert row.get_attribute("data-done") == "done"  # once is a slip of the finger
    page.locator('crankpin-overview [data-do="clear"]').click()
    wait_until(lambda: row.get_attribute("data-done") == "", "a clean list")
    assert page.evaluate("key => localStorage.getItem(key)", KEY) is None
    page.locator("crankpin-overview input[type=file]").set_input_files(saved)
    wait_until(lambda: row.get_attribute("data-done") == "done", "what was saved")


def test_a_file_that_is_none_of_ours_is_refused_in_words(page, tmp_path):
    for text in ("{", "{}", '{"version": 1, "problems": {"a": 3}}', '{"version": 9, "problems": {}}'):
        file = tmp_path / "other.json"
        file.write_text(text, encoding="utf-8")
        page.locator("crankpin-overview input[type=file]").set_input_files(file)
        said = page.locator('crankpin-overview [data-part="said"]')
        wait_until(lambda said=said: "holds no progress" in said.inner_text(), text)


def test_a_link_opens_a_problem_with_a_sheets_numbers(page, course, problems, catalogue):
    open_problems(page, course, "?ten-turns.variant=31#ten-turns")
    problem = problems["ten-turns"]
    expected = respond(problem, slots(problem), {"do": "draw", "variant": 31}, catalogue)["slots"][0]
    slot = page.locator('#ten-turns [data-slot="0"]').first
    wait_until(lambda: slot.text_content() == expected, "the numbers of the link")


def test_nothing_reaches_past_a_phones_edge(page):
    assert page.evaluate("document.scrollingElement.scrollWidth") <= PHONE["width"]


def test_the_page_says_nothing_on_the_console(page):
    assert page.complaints == []


def test_without_script_everything_can_be_read(course, phone):
    page = phone(javascript=False)
    page.goto(course.page("problems"))
    assert page.locator("#ten-turns .problem-solution summary").is_visible()
    assert not page.locator("#ten-turns button").first.is_visible()
