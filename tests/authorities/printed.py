"""Published records: their numbers in SI, and agreement with what is printed."""

import json
import math
from dataclasses import dataclass
from pathlib import Path
from typing import Any

HERE = Path(__file__).parent

FOOT = 0.3048
POUND_FORCE = 4.4482216152605
HOUR = 3600.0
DAY = 86_400.0
JULIAN_YEAR = 365.25 * DAY
DEGREE = math.pi / 180.0
TURN = 2.0 * math.pi

# Each unit that the records use, in SI and radians. "lb" is a force in them. A turn is an angle, a beat a
# cycle. Months of the ENSO series and unnamed units stay as they are.
UNITS = {
    "1": 1.0, "": 1.0, "%": 0.01, "month": 1.0,
    "m": 1.0, "cm": 0.01, "mm": 1e-3, "km": 1e3, "Mm": 1e6, "ft": FOOT, "1/m": 1.0,
    "s": 1.0, "ms": 1e-3, "us": 1e-6, "min": 60.0, "h": HOUR, "d": DAY, "y": JULIAN_YEAR,
    "Hz": 1.0, "kHz": 1e3, "MHz": 1e6, "beats/min": 1.0 / 60.0, "1/s": 1.0,
    "rad": 1.0, "deg": DEGREE, "rev": TURN,
    "rad/s": 1.0, "rev/s": TURN, "rev/min": TURN / 60.0, "deg/h": DEGREE / HOUR, "deg/d": DEGREE / DAY,
    "rad/s^2": 1.0, "s/d": 1.0 / DAY,
    "m/s": 1.0, "cm/s": 0.01, "km/s": 1e3, "km/h": 1e3 / HOUR, "ft/s": FOOT,
    "m/s^2": 1.0, "cm/s^2": 0.01, "ft/s^2": FOOT,
    "kg": 1.0, "gram": 1e-3, "slug": POUND_FORCE / FOOT, "kg m^2": 1.0,
    "N": 1.0, "lb": POUND_FORCE, "N/m": 1.0, "N/cm": 100.0, "lb/ft": POUND_FORCE / FOOT,
    "N s/m": 1.0, "lb s/ft": POUND_FORCE / FOOT, "N m": 1.0, "N m/rad": 1.0, "J": 1.0, "W": 1.0,
    "N m^2/kg^2": 1.0, "m^3/s^2": 1.0, "km^3/y^2": 1e9 / JULIAN_YEAR**2,
    "H": 1.0, "mH": 1e-3, "F": 1.0, "uF": 1e-6, "pF": 1e-12, "C": 1.0, "A": 1.0, "mA": 1e-3,
    "V": 1.0, "ohm": 1.0,
}  # fmt: skip


@dataclass(frozen=True)
class Expected:
    """One printed result: number and unit as printed, digits, and the recomputed number if it slipped."""

    number: float
    unit: str
    digits: int | str
    recomputed: float
    follows: bool

    def in_unit(self, value: float) -> float:
        """Return an SI value in the unit of the print."""
        return value / UNITS[self.unit]

    def agrees(self, value: float) -> bool:
        """Whether an SI value is the printed one, or the recomputed one where the print slipped."""
        if not self.follows:
            return self.agrees_with_recomputed(value)
        return agrees(self.in_unit(value), self.number, self.digits)

    def agrees_with_recomputed(self, value: float) -> bool:
        """Whether an SI value is the ten-digit number that was recomputed from the same givens."""
        return same_number(self.in_unit(value), self.recomputed)


@dataclass(frozen=True)
class Record:
    """One published example: its givens (SI by name) and what is printed for them."""

    id: str
    source: str
    where: str
    given: dict[str, Any]
    expect: dict[str, Expected]

    def __getitem__(self, name: str) -> Any:
        """Return a given in SI (text stays text)."""
        value, unit = self.given[name]
        return value if isinstance(value, str) else value * UNITS[unit]


def agrees(value: float, printed: float, digits: int | str) -> bool:
    """Whether a value, in the printed unit, is within half a unit of the last printed digit, ties included."""
    if digits == "exact":
        return same_number(value, printed)
    half_unit = 0.5 * 10.0 ** last_place(printed, digits)
    return abs(value - printed) <= half_unit * (1.0 + 1e-9) + 1e-12 * abs(printed)


def same_number(value: float, told: float) -> bool:
    """Whether two numbers are the same to nine digits; a told zero allows for rounding."""
    return math.isclose(value, told, rel_tol=1e-9, abs_tol=0.0 if told else 1e-12)


def last_place(printed: float, digits: int | str) -> int:
    """Return the power of ten of the last printed digit."""
    if isinstance(digits, str):
        return -int(digits.removeprefix("dp"))
    return math.floor(math.log10(abs(printed))) - digits + 1


def records() -> list[Record]:
    """Return all published records."""
    listed = json.loads((HERE / "published.json").read_text(encoding="utf-8"))
    return [_record(one) for one in listed]


def _record(one: dict[str, Any]) -> Record:
    expect = {
        key: Expected(number, unit, digits, one["recomputed"][key], one["test_against"][key] == "printed")
        for key, (number, unit, digits) in one["expect"].items()
    }
    return Record(one["id"], one["source"], one["where"], one["given"], expect)
