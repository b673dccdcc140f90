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
    assert values_about(-4.0) == [-2.5, -3.0, -3.5, -4.0, -4.5, -5.0, -5.5, -6.0]


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
    assert re.findall(r'<tr class=here><th scope="row">([^<]+)<', table) == ["0.40"]


@pytest.mark.parametrize("name", CALCULATORS)
def test_every_calculator_gives_a_table_or_none(name):
    table = range_html(CALCULATORS[name], {})
    assert table == "" or table.count("<tr") >= 5


def test_the_varied_values_have_the_same_number_of_places():
    html = range_html(CALCULATORS["pendulum"], {"L": "99.4 cm", "g": "9.81 m/s2", "theta_max": "2 deg"})
    firsts = re.findall(r'<th scope="row">(.*?)</th>', html)
    assert firsts == ["1.4", "1.6", "1.8", "2.0", "2.2", "2.4", "2.6", "2.8"]


@pytest.mark.parametrize("name", ["repeated-readings", "line-fit", "sine-fit", "tide-height"])
def test_readings_have_no_table_over_what_they_belong_to(name):
    """The same times divided by another number of swings would be nonsense."""
    assert range_html(CALCULATORS[name], {}) == ""


def test_a_table_stays_where_it_is_of_use():
    html = range_html(CALCULATORS["disc-match"], {"m": "0.4 kg"})
    assert re.findall(r'<th scope="row">(.*?)</th>', html) == [f"0.{m}" for m in range(385, 421, 5)]


@pytest.mark.parametrize("name", CALCULATORS)
def test_the_cells_of_a_column_have_the_digits_of_the_row_given(name):
    """Digits that one row needs for its own working have no place in the others."""
    html = range_html(CALCULATORS[name], {})
    rows = [re.findall(r"<td>([^<]*)</td>", row) for row in re.findall(r"<tr[^>]*><th scope=\"row\">.*?</tr>", html)]
    for column in zip(*rows, strict=True):
        digits = {len(re.sub(r"×.*|[^0-9]", "", cell).lstrip("0")) for cell in column if re.search("[1-9]", cell)}
        assert len(digits) <= 2, column
