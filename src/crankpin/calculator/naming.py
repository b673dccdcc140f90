"""What a quantity is called in the unit in which it is given: one number may be typed as T, f, n or ω.

How fast something turns or swings may be typed as an angular velocity, as turns per minute, as a frequency or as a
period. Each is a quantity of its own, with its own symbol and name, and no symbol is printed with the unit of another.
"""

import re
from dataclasses import dataclass
from typing import Protocol


class Quantity(Protocol):
    """Whatever is declared with a symbol (TeX), a name and a unit: an input, an axis."""

    @property
    def symbol(self) -> str: ...  # noqa: D102
    @property
    def meaning(self) -> str: ...  # noqa: D102
    @property
    def unit(self) -> str: ...  # noqa: D102


@dataclass(frozen=True, slots=True)
class QuantityName:
    """A quantity as it is printed: its symbol as TeX, and its name in words."""

    symbol: str
    meaning: str


@dataclass(frozen=True, slots=True)
class Form:
    """Another quantity that says the same: its letter and name, and the formula that leads from it (``given``)."""

    letter: str
    name: str
    formula: str


#: By (unit inside, unit typed). Source: the definitions, ISO 80000-3:2019, items 3-14 to 3-18 (numbers from memory).
FORMS = {
    ("rad/s", "rpm"): Form("n", "rotational frequency", '2*pi*given/quantity(60, "s/min")'),
    ("rad/s", "Hz"): Form("f", "frequency", "2*pi*given"),
    ("rad/s", "s"): Form("T", "period", "2*pi/given"),
    ("Hz", "rpm"): Form("n", "rotational frequency", 'given/quantity(60, "s/min")'),
}
#: How the same quantity is reckoned from another unit, where that is more than moving the point.
RECKONED = {("rad/s", "deg/s"): 'given*pi/quantity(180, "deg")'}
_LETTER = re.compile(r"\\omega|[A-Za-z]")
_NAME = re.compile(r"angular frequency|angular velocity|frequency")


def form_of(one: Quantity, unit: str) -> Form | None:
    """Return the form that a quantity takes in that unit, None where it is the declared quantity itself."""
    return FORMS.get((one.unit, unit))


def name_of(one: Quantity, unit: str) -> QuantityName:
    """Return the symbol and the name of a quantity in the unit in which it is given.

    >>> from crankpin.calculator.common import turning_rate
    >>> name_of(turning_rate(), "rad/s"), name_of(turning_rate(), "s")
    (QuantityName(symbol='\\\\omega', meaning='angular velocity'), QuantityName(symbol='T', meaning='period'))
    """
    form = form_of(one, unit)
    if form is None:
        return QuantityName(one.symbol, one.meaning)
    return QuantityName(_LETTER.sub(form.letter, one.symbol, count=1), _NAME.sub(form.name, one.meaning, count=1))
