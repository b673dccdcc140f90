"""Indexes made from the declarations."""

import re
from pathlib import Path

import pytest

from crankpin.calculator.catalogue import load_catalogue
from crankpin.elements.index import index_html
from crankpin.faults import AuthorError

COURSE = Path(__file__).parents[2]
CATALOGUE = load_catalogue(COURSE / "calculators")


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
    assert html.count("<dt>") == sum(len(calculator.checks) for calculator in CATALOGUE.values())
    assert "<dt>Common practice, no source</dt>" in html


def test_checks_are_printed_with_symbols_and_printers_numbers() -> None:
    html = index_html("checks", ["springs-together", "turning-rate", "damped"], CATALOGUE)
    assert "<mi>k</mi><mn>1</mn></msub><mo>=</mo><mtext>1.40×10⁴\u00a0N/m</mtext>" in html
    assert "<mtext>75\u202f000\u00a0rpm</mtext>" in html
    assert "kind of damping: underdamped" in html
    assert "<mtext>−0.24\u00a0m</mtext>" in html


def test_every_calculator_stands_among_the_formulas() -> None:
    page = (COURSE / "docs" / "reference" / "formulas.md").read_text(encoding="utf-8")
    listed = [line for block in re.findall(r"```index formulas\n(.*?)```", page, re.S) for line in block.split()]
    assert sorted(listed) == sorted(CATALOGUE)


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
