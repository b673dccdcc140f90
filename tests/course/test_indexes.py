"""Indexes made from the declarations."""

from pathlib import Path

import pytest

from crankpin.calculator.catalogue import load_catalogue
from crankpin.course.faults import AuthorError
from crankpin.course.indexes import index_html

CATALOGUE = load_catalogue(Path(__file__).parents[2] / "calculators")


def test_symbols_are_listed_once_for_each_meaning() -> None:
    html = index_html("symbols", ["edge-on", "passing-times"], CATALOGUE)
    assert html.count("<td>amplitude</td>") == 1
    assert "<td><math><mrow><mi>ω</mi></mrow></math></td><td>angular frequency</td><td>rad/s</td>" in html


def test_formulas_are_those_of_the_working() -> None:
    html = index_html("formulas", ["edge-on"], CATALOGUE)
    assert "<dt>position</dt>" in html
    assert "<mi>x</mi><mo>=</mo><mi>A</mi>" in html


def test_checks_name_their_sources() -> None:
    html = index_html("checks", [], CATALOGUE)
    assert html.count("<tr>") == 1 + sum(len(calculator.checks) for calculator in CATALOGUE.values())
    assert "common practice, no source" in html


@pytest.mark.parametrize(
    ("kind", "names", "message"),
    [
        ("pages", [], 'there is no index "pages"; there are symbols, formulas, checks'),
        ("symbols", ["edge-off"], "there is no calculator edge-off; there are "),
    ],
)
def test_what_does_not_exist_is_told(kind: str, names: list[str], message: str) -> None:
    with pytest.raises(AuthorError, match=message):
        index_html(kind, names, CATALOGUE)
