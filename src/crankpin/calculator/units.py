"""Units: what may be typed behind a number, and how it becomes SI.

A unit belongs to a *dimension*, named by the unit in which the value is kept inside. The same symbol may
stand in two dimensions with different meanings: behind an angular velocity, ``s`` is a period.
"""

import math
from dataclasses import dataclass
from functools import lru_cache


@dataclass(frozen=True, slots=True)
class Unit:
    """One unit of a dimension: inside = typed * times / over, or times / typed where ``reciprocal``."""

    symbol: str
    times: float = 1.0
    over: float = 1.0
    reciprocal: bool = False

    def inside(self, number: float) -> float:
        """Return the number, given in this unit, in the unit that is kept inside."""
        return self.times / (number * self.over) if self.reciprocal else number * self.times / self.over

    def shown(self, value: float) -> float:
        """Return the inside value expressed in this unit."""
        return self.times / (value * self.over) if self.reciprocal else value * self.over / self.times


_TURN = 2.0 * math.pi
_DAY = 86_400.0
# The astronomers' year of 365.25 days, their unit of length, and how far light goes in such a year (IAU, from memory).
_YEAR = 365.25 * _DAY
_ASTRONOMICAL_UNIT = 149_597_870_700.0
_LIGHT_YEAR = 299_792_458.0 * _YEAR


def _dimension(*units: Unit) -> dict[str, Unit]:
    return {unit.symbol: unit for unit in units}


# Degrees, minutes and hours are accepted beside the SI (BIPM, SI Brochure, 9th ed., Table 8);
# rpm is the trade's name for one turn a minute, 2 pi/60 rad/s.
DIMENSIONS: dict[str, dict[str, Unit]] = {
    "m": _dimension(
        Unit("m"),
        Unit("cm", over=100.0),
        Unit("mm", over=1000.0),
        Unit("nm", over=1e9),
        Unit("km", times=1000.0),
        Unit("au", times=_ASTRONOMICAL_UNIT),
        Unit("ly", times=_LIGHT_YEAR),
    ),
    "s": _dimension(
        Unit("s"),
        Unit("ms", over=1000.0),
        Unit("min", times=60.0),
        Unit("h", times=3600.0),
        Unit("d", times=_DAY),
        Unit("yr", times=_YEAR),
    ),
    "rad": _dimension(Unit("rad"), Unit("deg", times=math.pi, over=180.0)),
    "rad/s": _dimension(
        Unit("rad/s"),
        Unit("rpm", times=_TURN, over=60.0),
        Unit("deg/s", times=math.pi, over=180.0),
        Unit("Hz", times=_TURN),
        Unit("s", times=_TURN, reciprocal=True),
    ),
    "rad/s2": _dimension(
        Unit("rad/s2"), Unit("deg/s2", times=math.pi, over=180.0), Unit("rpm/s", times=_TURN, over=60.0)
    ),
    "Hz": _dimension(Unit("Hz"), Unit("mHz", over=1000.0), Unit("kHz", times=1000.0), Unit("rpm", over=60.0)),
    "rpm": _dimension(Unit("rpm"), Unit("Hz", times=60.0), Unit("rad/s", times=60.0, over=_TURN)),
    "m/s": _dimension(
        Unit("m/s"),
        Unit("cm/s", over=100.0),
        Unit("mm/s", over=1000.0),
        Unit("km/h", times=1000.0, over=3600.0),
        Unit("km/s", times=1000.0),
    ),
    "m/s2": _dimension(Unit("m/s2"), Unit("cm/s2", over=100.0), Unit("mm/s2", over=1000.0)),
    "kg": _dimension(Unit("kg"), Unit("g", over=1000.0), Unit("t", times=1000.0)),
    "N/m": _dimension(Unit("N/m"), Unit("N/cm", times=100.0), Unit("N/mm", times=1000.0), Unit("kN/m", times=1000.0)),
    "N": _dimension(Unit("N"), Unit("mN", over=1000.0), Unit("kN", times=1000.0)),
    "J": _dimension(Unit("J"), Unit("mJ", over=1000.0), Unit("kJ", times=1000.0)),
    "W": _dimension(Unit("W"), Unit("mW", over=1000.0), Unit("kW", times=1000.0)),
    "kg/s": _dimension(Unit("kg/s"), Unit("g/s", over=1000.0)),
    "kg m2": _dimension(Unit("kg m2"), Unit("g m2", over=1000.0), Unit("kg cm2", over=1e4), Unit("g cm2", over=1e7)),
    "N m/rad": _dimension(Unit("N m/rad"), Unit("mN m/rad", over=1000.0), Unit("N m/deg", times=180.0, over=math.pi)),
    "1/s": _dimension(Unit("1/s"), Unit("1/min", over=60.0)),
    "s2": _dimension(Unit("s2")),
    "s2/kg": _dimension(Unit("s2/kg"), Unit("s2/g", times=1000.0)),
    "1": _dimension(Unit("1"), Unit("%", over=100.0)),
    "dB": _dimension(Unit("dB")),
    "K": _dimension(Unit("K"), Unit("mK", over=1000.0)),
    "1/K": _dimension(Unit("1/K"), Unit("ppm/K", over=1e6)),
    "m3/s2": _dimension(Unit("m3/s2"), Unit("km3/s2", times=1e9), Unit("km3/yr2", times=1e9, over=_YEAR**2)),
    "d": _dimension(Unit("d")),
    "m3/(kg s2)": _dimension(Unit("m3/(kg s2)")),
    "s/d": _dimension(Unit("s/d"), Unit("min/d", times=60.0)),
    "h": _dimension(Unit("h"), Unit("min", over=60.0), Unit("s", over=3600.0), Unit("d", times=24.0)),
    "deg": _dimension(Unit("deg"), Unit("rad", times=180.0, over=math.pi)),
    "deg/h": _dimension(Unit("deg/h"), Unit("rad/h", times=180.0, over=math.pi)),
    "m/h": _dimension(Unit("m/h"), Unit("cm/h", over=100.0), Unit("cm/min", times=60.0, over=100.0)),
}

_OTHER_SPELLINGS = {
    "°": "deg",
    "°/s": "deg/s",
    "°/h": "deg/h",
    "rev/min": "rpm",
    "r/min": "rpm",
    "1/s2": "1/s2",
    "s-1": "1/s",
    "min-1": "1/min",
    "rad s-1": "rad/s",
    "m s-1": "m/s",
    "m s-2": "m/s2",
    "s/day": "s/d",
}
_PLAIN_DIGIT = str.maketrans({"²": "2", "³": "3", "⁻": "-", "¹": "1", "·": " ", "⋅": " ", "^": "", "−": "-", "’": "'"})
_RAISED = str.maketrans("0123456789-", "⁰¹²³⁴⁵⁶⁷⁸⁹⁻")


def plain_unit(text: str) -> str:
    """Return a typed unit in the spelling used as a key here: ``m/s²`` gives ``m/s2``, ``°`` gives ``deg``."""
    spelt = " ".join(text.translate(_PLAIN_DIGIT).split())
    return _OTHER_SPELLINGS.get(spelt, spelt)


def find_unit(dimension: str, symbol: str) -> Unit | None:
    """Return the unit of that dimension with that symbol in any accepted spelling, or None."""
    return DIMENSIONS.get(dimension, {}).get(plain_unit(symbol))


@lru_cache(maxsize=256)
def printed_unit(symbol: str) -> str:
    """Return the unit as it is printed: raised digits, a degree sign; nothing for the unit one.

    A bare reciprocal is printed as a negative power, so that no number stands before a number.

    >>> printed_unit("kg m2"), printed_unit("deg/h"), printed_unit("1"), printed_unit("1/s")
    ('kg\\u202fm²', '°/h', '', 's⁻¹')
    """
    if symbol == "1":
        return ""
    if symbol.startswith("1/"):
        return symbol.removeprefix("1/") + "⁻¹"
    shown = symbol.replace("deg", "°").replace(" ", "\u202f")
    return "".join(
        c.translate(_RAISED) if c.isdigit() and i and shown[i - 1].isalpha() else c for i, c in enumerate(shown)
    )


def over_unit(printed: str) -> str:
    """Return what stands behind a quantity's symbol over a column or an axis; a second solidus stands in brackets.

    >>> over_unit("cm"), over_unit("m/s"), over_unit("")
    (' / cm', ' / (m/s)', '')
    """
    if not printed:
        return ""
    return f" / ({printed})" if "/" in printed else f" / {printed}"


def gap(symbol: str) -> str:
    """Return what stands between a number and this unit: nothing before a degree sign, else a space."""
    return "" if symbol in ("deg", "1") else " "
