"""Units and their conversions."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crankpin.calculator.units import DIMENSIONS, find_unit, gap, plain_unit, printed_unit

PAIRS = [(dimension, symbol) for dimension, units in DIMENSIONS.items() for symbol in units]


@pytest.mark.parametrize(("dimension", "symbol"), PAIRS)
@given(number=st.floats(min_value=1e-6, max_value=1e6))
def test_there_and_back(dimension: str, symbol: str, number: float) -> None:
    unit = DIMENSIONS[dimension][symbol]
    assert math.isclose(unit.shown(unit.inside(number)), number, rel_tol=1e-15)


@pytest.mark.parametrize("dimension", DIMENSIONS)
def test_a_measure_is_named_by_its_own_unit(dimension: str) -> None:
    own = DIMENSIONS[dimension][dimension]
    assert (own.times, own.over, own.reciprocal) == (1.0, 1.0, False)


def test_behind_an_angular_velocity_seconds_are_a_period() -> None:
    period = DIMENSIONS["rad/s"]["s"]
    assert period.inside(2.0) == math.pi
    assert period.shown(math.pi) == 2.0


def test_decimal_fractions_convert_without_dust() -> None:
    assert DIMENSIONS["m"]["cm"].inside(7.0) == 0.07
    assert DIMENSIONS["m"]["mm"].inside(3.0) == 0.003


@pytest.mark.parametrize(
    ("typed", "plain"),
    [
        ("m/s²", "m/s2"),
        ("°", "deg"),
        ("kg·m²", "kg m2"),
        ("rev/min", "rpm"),
        (" cm ", "cm"),
        ("s⁻¹", "1/s"),
        ("min⁻¹", "1/min"),
    ],
)
def test_other_spellings(typed: str, plain: str) -> None:
    assert plain_unit(typed) == plain


def test_how_units_are_printed() -> None:
    assert printed_unit("m/s2") == "m/s²"
    assert printed_unit("deg/s") == "°/s"
    assert printed_unit("1/s") == "s⁻¹"
    assert printed_unit("1") == ""
    assert (gap("m"), gap("deg"), gap("1"), gap("%")) == (" ", "", "", " ")


def test_a_unit_of_another_measure_is_not_found() -> None:
    assert find_unit("m", "kg") is None
    assert find_unit("no dimension", "m") is None
