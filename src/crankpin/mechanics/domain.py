"""Short guards for the domain of a formula: each returns the value it was given, or says what is allowed.

Sizes end at LEAST and MOST, in SI as in any other unit: far beyond all that is measured, and near enough to
one that products of six such sizes still fit a double. So no formula overflows, and none divides by a
product that has vanished.
"""

import math

from crankpin.mechanics.errors import OutOfDomainError

LEAST = 1e-50
"""The smallest size above zero of a quantity that a formula divides by."""

MOST = 1e50
"""The greatest size of any quantity."""


def finite(quantity: str, value: float) -> float:
    """Return ``value`` if it is a number of either sign, at most MOST in size; raise OutOfDomainError if not."""
    if -MOST <= value <= MOST:
        return value
    if not math.isfinite(value):
        raise OutOfDomainError(quantity, "a finite number", value)
    raise OutOfDomainError(quantity, "between -1e50 and 1e50", value)


def positive(quantity: str, value: float, unit: str) -> float:
    """Return ``value`` if it lies from LEAST to MOST; raise OutOfDomainError if not.

    ``unit`` is written into the message; "1" stands for a pure number.
    """
    if LEAST <= value <= MOST:
        return value
    if not (math.isfinite(value) and value > 0.0):
        raise OutOfDomainError(quantity, _greater(unit), value)
    raise OutOfDomainError(quantity, "from 1e-50 to 1e50" + _after(unit), value)


def not_negative(quantity: str, value: float, unit: str) -> float:
    """Return ``value`` if it is zero or above, up to MOST; raise OutOfDomainError if not."""
    if 0.0 <= value <= MOST:
        return value
    if not (math.isfinite(value) and value >= 0.0):
        raise OutOfDomainError(quantity, "zero or " + _greater(unit), value)
    raise OutOfDomainError(quantity, "at most 1e50" + _after(unit), value)


def zero_or_positive(quantity: str, value: float, unit: str) -> float:
    """Return ``value`` if it is zero or lies from LEAST to MOST; raise OutOfDomainError if not.

    For what may be left out, and is divided by where it is not.
    """
    if 0.0 < value < LEAST:
        raise OutOfDomainError(quantity, "zero or from 1e-50 to 1e50" + _after(unit), value)
    return not_negative(quantity, value, unit)


def _greater(unit: str) -> str:
    return "greater than 0" + _after(unit)


def _after(unit: str) -> str:
    return "" if unit == "1" else " " + unit
