"""Making up pages: what follows a thing that does not fit is let past it, and pages come out as they were planned."""

import io
from pathlib import Path

import pypdfium2
import pytest

from crankpin.paper import postprocess, printer

PAPER = Path(printer.__file__).parent
WIDTH, HEIGHT = printer._TEXT_WIDTH["A4"], printer._TEXT_HEIGHT["A4"]
LINE = "<p>{}</p>"
PICTURE = '<svg width="300" height="500"></svg>'
TALL = f'<figure id="tall">{PICTURE}</figure>'


def words(name, number):
    return "".join(LINE.format(f"{name} {i}") for i in range(number))


def sheet(rows, working):
    numbers = '<table class="numbers"><tr><td>A</td></tr></table>'
    lines = "".join(f'<div class="worked"><p>line {i}</p></div>' for i in range(working))
    table = '<table class="ruled range">' + "<tr><td>row</td></tr>" * rows + "</table>"
    return (
        '<section class="sheet"><div class="sheet-top"><p class="sheet-title">Sheet</p></div>'
        f'<div class="sheet-body"><div>{numbers}{numbers}</div><figure>{PICTURE}</figure></div>'
        f'<div class="sheet-working"><p class="sheet-part">Working</p>{lines}</div>{table}</section>'
    )


@pytest.fixture
def made_up(chromium):
    """Return what is asked of an article after it was made up, and the pages of its PDF."""

    def make(inside, asked):
        page = chromium.new_page(viewport={"width": round(WIDTH), "height": 1000})
        try:
            page.emulate_media(media="print")
            rules = (PAPER / "print.css").read_text("utf-8")
            page.set_content(f"<style>@page {{ size: A4 }} {rules}</style><article>{inside}</article>")
            page.evaluate((PAPER / "pagination.js").read_text("utf-8"))
            before = page.evaluate("(size) => pagination.white(...size)", [WIDTH, HEIGHT])[0]
            page.evaluate("(size) => pagination.all(...size)", [WIDTH, HEIGHT])
            after = page.evaluate("(size) => pagination.white(...size)", [WIDTH, HEIGHT])[0]
            assert not page.evaluate("document.querySelector('article').getAttribute('style')")
            found = page.evaluate(asked)
            pages = pypdfium2.PdfDocument(io.BytesIO(printer._pdf(page)))
            assert len(pages) == len(after), "the pages come out as they were planned"
            make.texts = [one.get_textpage().get_text_bounded() for one in pages]
            return before, after, found
        finally:
            page.close()

    return make


BEFORE_IT = "document.querySelector('#tall').previousElementSibling.textContent"


@pytest.mark.browser
def test_text_is_let_past_a_figure_that_does_not_fit(made_up):
    before, after, last = made_up(words("above", 22) + TALL + words("below", 9), BEFORE_IT)
    assert before[0] > 0.25
    assert after[0] < before[0] - 0.1
    assert last.startswith("below")


@pytest.mark.browser
def test_a_figure_that_fits_stays_where_it_is(made_up):
    before, after, last = made_up(words("above", 12) + TALL + words("below", 9), BEFORE_IT)
    assert before == after
    assert last == "above 11"


@pytest.mark.browser
def test_a_figure_does_not_come_between_a_formula_and_its_words(made_up):
    barrier = '<div class="admonition summary"><p>In short</p></div>'
    for ending, landed in ("<p>and so on</p>", "and so on"), ("", "x"):
        below = '<p>Where</p><div class="eq">x</div>' + ending + barrier
        before, after, last = made_up(words("above", 22) + TALL + below, BEFORE_IT)
        assert last == landed
        assert after[0] < before[0] - 0.04


@pytest.mark.browser
def test_a_figure_does_not_go_past_a_summary_or_another_figure(made_up):
    for barrier in ('<div class="admonition summary"><p>In short</p></div>', "<figure><p>other</p></figure>"):
        _, _, last = made_up(words("above", 22) + TALL + barrier + words("below", 9), BEFORE_IT)
        assert last == "above 21"


@pytest.mark.browser
def test_a_sheet_begins_on_the_page_before_with_its_numbers_and_works_on_after_the_picture(made_up):
    asked = "document.querySelector('.sheet').className"
    before, after, classes = made_up(words("above", 20) + sheet(4, 9) + "<h2>Next</h2>", asked)
    assert "apart" in classes
    assert after[0] < before[0] - 0.04


@pytest.mark.browser
def test_a_table_that_does_not_fit_changes_places_with_the_working(made_up):
    asked = "[...document.querySelector('.sheet').children].map((one) => one.className.split(' ').at(-1))"
    before, after, parts = made_up(sheet(12, 10) + "<p>end</p>", asked)
    assert 0.11 < before[0] < 0.3
    assert parts.index("range") < parts.index("sheet-working")
    assert after[0] < before[0]


@pytest.mark.browser
def test_a_tall_caution_may_break_between_its_paragraphs(made_up):
    box = f'<div class="admonition caution">{"<p>Take care of it.<br>And of that.<br>Always.</p>" * 12}</div>'
    before, after, classes = made_up(words("above", 15) + box, "document.querySelector('.caution').className")
    assert "may-break" in classes
    assert after[0] < before[0] - 0.1


@pytest.mark.browser
def test_a_caution_that_is_a_little_too_tall_is_made_wide_and_stays_whole(made_up):
    paragraph = f"<p>{'Take care of it. ' * 25}</p>"
    box = f'<div class="admonition caution">{paragraph * 4}</div>'
    before, after, classes = made_up(words("above", 16) + box, "document.querySelector('.caution').className")
    assert before[0] > 0.3
    assert classes.split()[-1] == "wide"
    assert after == [pytest.approx(after[0])]


@pytest.mark.browser
@pytest.mark.parametrize("lines", (10, 11))
def test_no_line_of_a_working_stands_alone_on_a_page(made_up, lines):
    made_up(words("above", 6) + sheet(0, lines), "0")
    worked = [text.count("line ") for text in made_up.texts]
    assert sum(worked) == lines
    assert 1 not in worked


@pytest.mark.browser
def test_a_printed_course_has_the_pages_that_were_planned(printed, chromium):
    """The columns in which pages are planned break as the printed pages do."""
    for name in ("01-turning", "02-edge-on"):
        page = chromium.new_page(viewport={"width": round(WIDTH), "height": 1000})
        page.emulate_media(media="print")
        page.goto((printed.folder / "build/print" / f"{name}.html").as_uri())
        for script in printer._ASKED:
            page.evaluate(script)
        page.evaluate("paper.lostFonts()")
        page.evaluate("paper.fit()")
        page.evaluate("(size) => pagination.all(...size)", [WIDTH, HEIGHT])
        planned = page.evaluate("(size) => pagination.white(...size)", [WIDTH, HEIGHT])[0]
        page.close()
        assert len(planned) == len(pypdfium2.PdfDocument(printed.pdf(name)))


@pytest.mark.browser
def test_the_numbers_planned_for_the_contents_are_those_of_the_printed_pages(printed, chromium):
    page = chromium.new_page(viewport={"width": round(WIDTH), "height": 1000})
    page.emulate_media(media="print")
    page.goto((printed.folder / "build/print/course.html").as_uri())
    for script in printer._ASKED:
        page.evaluate(script)
    page.evaluate("paper.lostFonts()")
    page.evaluate("(size) => pagination.all(...size)", [WIDTH, HEIGHT])
    planned = page.evaluate("(size) => pagination.numbers(...size)", [WIDTH, HEIGHT])
    page.close()
    found = postprocess.pages_of_destinations(printed.pdf("course").read_bytes())
    assert len(planned) == 5 and len(set(planned.values())) > 2
    assert planned == {name: found[name] for name in planned}
