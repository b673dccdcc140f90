"""Results over a range of one input."""

import re
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crankpin.calculator.catalogue import load_catalogue
from crankpin.calculator.evaluate import evaluate
from crankpin.elements.ranges import ROWS, range_html, values_about

CALCULATORS = load_catalogue(Path(__file__).parents[2] / "calculators")


@given(st.floats(1e-6, 1e9))
def test_the_value_given_is_among_the_round_ones(value):
    value = float(f"{value:.3g}")
    values = values_about(value)
    assert any(abs(one - value) <= 1e-9 * value for one in values)
    assert values == sorted(values)
    assert ROWS <= len(values) <= ROWS + 1
    assert values[0] > 0


def test_negative_values_stay_negative():
    assert values_about(-4.0) == [-1.0, -2.0, -3.0, -4.0, -5.0, -6.0, -7.0, -8.0]


def test_every_row_is_what_the_calculator_gives():
    table = range_html(CALCULATORS["edge-on"], {"t": "0.4 s"})
    assert "Other values of time" in table
    assert "</math> / cm</th>" in table
    assert "</math> / (m/s)</th>" in table, "a unit with a stroke stands in brackets"
    rows = re.findall(r'<th scope="row">([^<]+)</th>((?:<td>[^<]*</td>)+)', table)
    assert len(rows) == 8
    for typed, cells in rows:
        found = evaluate(CALCULATORS["edge-on"], {"t": f"{typed} s"})
        shown = re.findall(r"<td>([^<]*)</td>", cells)
        assert shown == [found.outputs[key].text.partition(" ")[0] for key in ("theta", "x", "v", "a")]


def test_the_row_given_is_marked():
    table = range_html(CALCULATORS["edge-on"], {"t": "0.4 s"})
    assert re.findall(r'<tr class=here><th scope="row">([^<]+)<', table) == ["0.4"]


@pytest.mark.parametrize("name", CALCULATORS)
def test_every_calculator_gives_a_table_or_none(name):
    table = range_html(CALCULATORS[name], {})
    assert table == "" or table.count("<tr") >= 5


def test_the_varied_values_have_the_same_number_of_places():
    html = range_html(CALCULATORS["pendulum"], {"L": "99.4 cm", "g": "9.81 m/s2", "theta_max": "2 deg"})
    firsts = re.findall(r'<th scope="row">(.*?)</th>', html)
    assert firsts == ["0.5", "1.0", "1.5", "2.0", "2.5", "3.0", "3.5", "4.0"]
