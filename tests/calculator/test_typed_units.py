"""Units as they are typed: composed, prefixed, in words, in another case."""

import math

import pytest

from crankpin.calculator.typed_units import meant_unit, typed_unit
from crankpin.calculator.units import DIMENSIONS


@pytest.mark.parametrize(
    ("dimension", "typed", "inside"),
    [
        ("m", "µm", 1e-6),
        ("m", "CM", 0.01),
        ("m", "metres", 1.0),
        ("m", "au", 149597870700.0),
        ("s", "us", 1e-6),
        ("s", "Minutes", 60.0),
        ("s", "sec", 1.0),
        ("s", "days", 86400.0),
        ("kg", "grams", 0.001),
        ("kg", "KG", 1.0),
        ("kg", "mg", 1e-6),
        ("rad", "′", math.pi / 10800.0),
        ("rad/s", "s^-1", 1.0),
        ("rad/s", "1/s", 1.0),
        ("rad/s", "RPM", math.pi / 30.0),
        ("rad/s", "revolutions per minute", math.pi / 30.0),
        ("rad/s", "kHz", 2000.0 * math.pi),
        ("rad/s", "d", 2.0 * math.pi / 86400.0),
        ("m/s", "km / h", 1.0 / 3.6),
        ("m/s", "cm / s", 0.01),
        ("m/s2", "N/kg", 1.0),
        ("m/s2", "m/s/s", 1.0),
        ("m/s2", "metres per second squared", 1.0),
        ("N/m", "N m^-1", 1.0),
        ("N/m", "N·m⁻¹", 1.0),
        ("N/m", "kN / m", 1000.0),
        ("N/m", "newtons per metre", 1.0),
        ("N/m", "n/m", 1.0),
        ("kg/s", "N s/m", 1.0),
        ("kg m2", "kgm²", 1.0),
        ("kg m2", "g cm^2", 1e-7),
        ("N m/rad", "Nm", 1.0),
    ],
)
def test_a_unit_composed_of_others(dimension: str, typed: str, inside: float) -> None:
    unit = typed_unit(dimension, typed)
    assert unit is not None
    assert unit.inside(1.0) == pytest.approx(inside, rel=1e-15)


@pytest.mark.parametrize(
    ("dimension", "typed"),
    [
        ("m", "kg"),
        ("m", "ft"),
        ("1/s", "Hz"),
        ("Hz", "rad/s"),
        ("m", "Mm"),
        ("s", "MS"),
        ("1", "s/d"),
        ("m", "m/s s/m/s"),
    ],
)
def test_what_is_no_unit_of_the_quantity(dimension: str, typed: str) -> None:
    assert typed_unit(dimension, typed) is None


def test_a_capital_m_is_asked_back() -> None:
    assert (meant_unit("m", "Mm"), meant_unit("s", "MS"), meant_unit("m", "cm")) == ("mm", "ms", "")


@pytest.mark.parametrize("dimension", DIMENSIONS)
def test_the_units_offered_are_read_as_they_are(dimension: str) -> None:
    assert all(typed_unit(dimension, symbol) is unit for symbol, unit in DIMENSIONS[dimension].items())
