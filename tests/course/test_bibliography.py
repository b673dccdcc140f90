"""The page of sources: every source that a check or a published record names stands on it, with its chapters."""

import re
from pathlib import Path

import pytest

from crankpin.calculator.catalogue import load_catalogue
from tests.authorities.printed import records

COURSE = Path(__file__).parents[2]
PAGE = (COURSE / "docs" / "reference" / "bibliography.md").read_text(encoding="utf-8")
PLAIN = " ".join(PAGE.replace("*", "").split())
NO_SOURCE = "common practice, no source"

# How a check or a record begins its source, and how the page of sources names it.
ENTRIES = {
    "B. Crowell, Light and Matter": "B. Crowell, Light and Matter",
    "B. Crowell, Simple Nature": "and Simple Nature",
    "BIPM SI Digital Framework": "SI Digital Framework",
    "Foucault's Paris pendulum 1851": "Foucault's pendulum in Paris, 1851",
    "GNU Scientific Library": "GNU Scientific Library",
    "George Mason Univ": "George Mason University, exercise page of a computing course",
    "Halliday & Resnick, Fundamentals of Physics": "D. Halliday and R. Resnick, Fundamentals of Physics",
    "Halliday and Resnick, Fundamentals of Physics": "D. Halliday and R. Resnick, Fundamentals of Physics",
    "J. Burkardt, test_values": "J. Burkardt, test_values",
    "J. Lebl, Notes on Diffy Qs": "J. Lebl, Notes on Diffy Qs",
    "JCGM 100:2008": "JCGM 100:2008, Guide to the expression of uncertainty in measurement",
    "NASA NSSDC Jovian Satellite Fact Sheet": "NASA NSSDC, Jovian Satellite Fact Sheet",
    "NCERT Physics": "NCERT, Physics",
    "NIST/ITL Statistical Reference Datasets": "NIST/ITL, Statistical Reference Datasets",
    "NOAA CO-OPS harmonic constituents": "NOAA CO-OPS, Harmonic constituents",
    "OpenStax, Astronomy 2e": "OpenStax, Astronomy 2e",
    "OpenStax, Calculus Volume 3": "OpenStax, Calculus Volume 3",
    "OpenStax, College Physics 2e": "OpenStax, College Physics 2e",
    "OpenStax, University Physics Volume 1": "OpenStax, University Physics Volume 1",
    "OpenStax, University Physics Volume 2": "OpenStax, University Physics Volume 2",
    "R. Fitzpatrick, Classical Mechanics": "R. Fitzpatrick, Classical Mechanics: An Introductory Course",
    "Resnick, Halliday & Krane, Physics": "R. Resnick, D. Halliday and K. Krane, Physics",
    "Young & Freedman, University Physics": "H. Young and R. Freedman, University Physics",
    "mpmath": "mpmath, reference documentation",
}
RECORDS = [one for one in records() if not one.source.startswith("same problem")]
CHECKED = [
    (f"{name}: {check.source}", check.source)
    for name, calculator in load_catalogue(COURSE / "calculators").items()
    for check in calculator.checks
    if check.source != NO_SOURCE
]
NAMED = sorted({(source, source) for source in (one.source for one in RECORDS)} | set(CHECKED))


@pytest.mark.parametrize(("told", "source"), NAMED)
def test_every_source_named_stands_on_the_page(told: str, source: str) -> None:
    entries = [entry for start, entry in ENTRIES.items() if source.startswith(start)]
    assert entries, f"{told} has no entry: add one to the page of sources and to this test"
    assert all(entry in PLAIN for entry in entries), entries


@pytest.mark.parametrize("book", [start for start in ENTRIES if start.startswith("OpenStax")])
def test_every_chapter_used_is_named(book: str) -> None:
    """The chapters that records and checks point to are those that the page lists, no less, no more."""
    places = [one.where for one in RECORDS if one.source.startswith(book)]
    places += [source.removeprefix(book) for _, source in CHECKED if source.startswith(book)]
    found = [re.search(r"(?:[Ss]ec(?:tion)?|Ch|chapter) (\d+)", place) for place in places]
    used = {int(one[1]) for one in found if one}
    assert used or all("Appendix" in place for place in places)
    entry = next(line for line in re.split(r"\n- ", PAGE) if line.replace("*", "").startswith(book))
    listed = re.search(r"Chapters? ([\d, and]+)", entry)
    assert used == ({int(one) for one in re.findall(r"\d+", listed[1])} if listed else set())


def test_the_page_counts_the_records() -> None:
    assert f"{len(records())} published results" in PLAIN
