"""crankpin as a library."""

from pathlib import Path

import pypdfium2
import pytest

from crankpin import api
from crankpin.chromium import find_browser
from crankpin.scaffold import new_course

PAGE = "# A drum\n\nIt is {= drum.d =} wide, and $v = {= drum.v =}$.\n\n```calculator drum\nT = 2 s\n```\n"


@pytest.fixture
def course(tmp_path: Path) -> api.Course:
    new_course(tmp_path / "course")
    return api.load_course(tmp_path / "course")


def test_what_is_public_is_there() -> None:
    assert sorted(api.__all__) == api.__all__
    assert all(hasattr(api, name) for name in api.__all__)


def test_a_calculator_is_asked(course: api.Course) -> None:
    assert course.evaluation("drum", {"d": "60 cm"}).outputs["v"].text == "0.628 m/s"


def test_a_page_is_rendered(course: api.Course) -> None:
    page = api.render_page(course, PAGE)
    assert page.title == "A drum"
    assert '<span class="number">45.0\u00a0cm</span>' in page.html
    assert "<mn>0.471</mn>" in page.html
    assert page.calculators[0].given == {"d": "45 cm", "T": "2 s"}


def test_mistakes_come_with_file_and_line(course: api.Course) -> None:
    with pytest.raises(api.CourseFaultsError, match=r"^drum.md:3: \{= drum.q =\}: drum has no quantity q"):
        api.render_page(course, PAGE.replace("drum.v", "drum.q"), "drum.md")
    with pytest.raises(api.CourseFaultsError, match="did you mean calculator"):
        api.render_page(course, PAGE.replace("```calculator", "```calculater"), "drum.md")


@pytest.mark.browser
def test_a_document_is_printed(course: api.Course, tmp_path: Path) -> None:
    if find_browser() is None:
        pytest.skip("no browser to print with")
    file = api.print_document(course, api.render_page(course, PAGE), tmp_path / "drum.pdf")
    text = pypdfium2.PdfDocument(file)[0].get_textpage().get_text_bounded()
    assert "0.707" in text
