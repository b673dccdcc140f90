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
SPELT |= {
    "km/h": "km/hour",
    "km/s": "km/second",
    "t": "tonne",
    "yr": "julian_year",
    "au": "astronomical_unit",
    "ly": "light_year",
}
SPELT |= {
    "rad/s2": "radian/s**2",
    "deg/s2": "degree/s**2",
    "rpm/s": "turn/minute/s",
    "km3/yr2": "km**3/julian_year**2",
    "1/K": "1/kelvin",
    "ppm/K": "ppm/kelvin",
}
SPELT |= {"m3/s2": "m**3/s**2", "km3/s2": "km**3/s**2", "m3/(kg s2)": "m**3/(kg*s**2)"}
REGISTRY = pint.UnitRegistry()
PAIRS = [(measure, symbol) for measure, units in DIMENSIONS.items() for symbol in units]


@pytest.mark.parametrize(("measure", "symbol"), PAIRS)
def test_against_pint(measure: str, symbol: str) -> None:
    unit = DIMENSIONS[measure][symbol]
    if measure == "rad/s" and symbol == "Hz":
        there = 2.0 * math.pi * 3.7
    elif measure == "rad/s" and symbol == "s":
        there = 2.0 * math.pi / 3.7
    elif measure == "dB":
        there = 3.7
    elif "Hz" in measure and symbol in ("rpm", "rad/s"):
        there = REGISTRY.Quantity(3.7, SPELT[symbol]).to("turn/second").magnitude
    elif measure == "rpm":
        spelt = {"Hz": "turn/second"}.get(symbol, SPELT.get(symbol, symbol))
        there = REGISTRY.Quantity(3.7, spelt).to("turn/minute").magnitude
    else:
        there = REGISTRY.Quantity(3.7, SPELT.get(symbol, symbol)).to(SPELT.get(measure, measure)).magnitude
    assert math.isclose(unit.inside(3.7), there, rel_tol=1e-14)
