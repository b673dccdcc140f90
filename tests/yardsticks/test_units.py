"""Pint agrees on every unit that may be typed."""

import math

import pint
import pytest

from crankpin.calculator.units import DIMENSIONS

# In pint rpm and Hz count turns; behind an angular velocity a frequency or a period means whole turns.
SPELT = {"rad/s": "radian/second", "deg/s": "degree/second", "rpm": "turn/minute", "deg": "degree", "rad": "radian"}
SPELT |= {"m/s2": "m/s**2", "cm/s2": "cm/s**2", "mm/s2": "mm/s**2", "kg m2": "kg*m**2", "g m2": "g*m**2"}
SPELT |= {"kg cm2": "kg*cm**2", "g cm2": "g*cm**2", "N m/rad": "N*m/radian", "mN m/rad": "mN*m/radian"}
SPELT |= {
    "N m/deg": "N*m/degree",
    "s2": "s**2",
    "s2/kg": "s**2/kg",
    "s2/g": "s**2/g",
    "1": "dimensionless",
    "%": "percent",
}
SPELT |= {"deg/h": "degree/hour", "rad/h": "radian/hour", "m/h": "meter/hour", "cm/h": "cm/hour", "cm/min": "cm/minute"}
SPELT |= {"1/min": "1/minute", "h": "hour", "d": "day", "min": "minute", "s/d": "second/day", "min/d": "minute/day"}
SPELT |= {"km/h": "km/hour", "t": "tonne"}
REGISTRY = pint.UnitRegistry()
PAIRS = [(measure, symbol) for measure, units in DIMENSIONS.items() for symbol in units]


@pytest.mark.parametrize(("measure", "symbol"), PAIRS)
def test_against_pint(measure: str, symbol: str) -> None:
    unit = DIMENSIONS[measure][symbol]
    if measure == "rad/s" and symbol in ("Hz", "s"):
        there = 2.0 * math.pi * 3.7 if symbol == "Hz" else 2.0 * math.pi / 3.7
    elif "Hz" in measure and symbol in ("rpm", "rad/s"):
        there = REGISTRY.Quantity(3.7, SPELT[symbol]).to("turn/second").magnitude
    elif measure == "rpm":
        spelt = {"Hz": "turn/second"}.get(symbol, SPELT.get(symbol, symbol))
        there = REGISTRY.Quantity(3.7, spelt).to("turn/minute").magnitude
    else:
        there = REGISTRY.Quantity(3.7, SPELT.get(symbol, symbol)).to(SPELT.get(measure, measure)).magnitude
    assert math.isclose(unit.inside(3.7), there, rel_tol=1e-14)
