"""What a reviewer of a page would point out."""

import pytest

from crankpin.course.review import Values, reading_level, review_page
from crankpin.faults import Place

VALUES = Values({"m": [0.45], "rad": [0.5235987755982988]})


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("The drum is 45 cm wide.", ""),
        ("The drum is 0.45 m wide.", ""),
        ("The drum is 450 mm wide, or 0.5 m.", ""),
        ("The drum is 46 cm wide.", "“46 cm” is typed and equals no value of the course"),
        ("The drum is $r = 46\\unit{cm}$ wide.", "is typed and equals no value"),
        ("It turns by 30°, then 90°.", ""),
        ("It turns by 31°.", "“31°” is typed"),
        ("A `46 cm` in code, {= drum.d in cm =}, 3 drums, chapter 4.", ""),
        ("![](drum.svg)", "a picture has no words"),
        ("![a drum](drum.svg)", ""),
        ('<img src="drum.svg" alt="">', "a picture has no words"),
    ],
)
def test_a_page_is_looked_through(line: str, told: str) -> None:
    found = review_page(f"# Title\n\n{line}\n\n```\n77 cm\n```\n", Place("a.md", 1), VALUES)
    assert [fault.place.line for fault in found] == ([3] if told else [])
    assert all(told in fault.message for fault in found)


def test_long_words_and_sentences_ask_for_more_years_at_school() -> None:
    easy = "1. Let the bob go. Time ten swings. Write it down. Do it again with a thread half as long.\n" * 4
    hard = "Subsequently recalibrate all instrumentation whose characteristics demonstrably deteriorate throughout " * 6
    assert reading_level(easy) < 5 < 20 < reading_level(hard)
    assert reading_level("Too short.") is None
