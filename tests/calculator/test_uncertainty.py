"""A result with a standard uncertainty is written to the place of the uncertainty's second digit."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crankpin.calculator.entries import read_entry
from crankpin.calculator.numbers import format_with_uncertainty


def test_against_gum_7_2_6() -> None:
    # JCGM 100:2008, 7.2.6: an estimate of 10.057 62 ohm with 27 milliohm is rounded to 10.058 ohm.
    assert format_with_uncertainty(10.05762, 0.027) == "10.058"


@pytest.mark.parametrize(
    ("value", "uncertainty", "text"),
    [
        (9.996, 0.12, "10.00"),
        (0.0999, 0.012, "0.100"),
        (-5.0049, 0.013, "−5.005"),
        (0.0004, 0.02, "0.000"),
        (-0.0004, 0.02, "0.000"),
        (0.006, 0.12, "0.01"),
        (0.0, 3.0, "0.0"),
        (12.0, 300.0, "10"),
        (1234.6, 21.0, "1235"),
        (99999.6, 12.0, "1.00000×10⁵"),
    ],
)
def test_where_rounding_carries_or_leaves_nothing(value: float, uncertainty: float, text: str) -> None:
    assert format_with_uncertainty(value, uncertainty) == text


@given(st.floats(-1e9, 1e9), st.floats(1e-6, 1e6))
def test_what_is_written_is_within_half_a_unit_of_the_place(value: float, uncertainty: float) -> None:
    entry = read_entry(format_with_uncertainty(value, uncertainty))
    assert entry is not None
    place = 10.0 ** (math.floor(math.log10(uncertainty)) - 1)
    kept = max(place, abs(value) * 1e-11)
    assert abs(entry.number - value) <= 5.0001 * kept
