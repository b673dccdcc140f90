"""Short guards for the domain of a formula: each returns the value it was given, or says what is allowed."""

import math

from crankpin.mechanics.errors import OutOfDomainError


def finite(quantity: str, value: float) -> float:
    """Return ``value`` if it is a finite number; raise OutOfDomainError if not."""
    if not math.isfinite(value):
        raise OutOfDomainError(quantity, "a finite number", value)
    return value


def positive(quantity: str, value: float, unit: str) -> float:
    """Return ``value`` if it is finite and above zero; raise OutOfDomainError if not.

    ``unit`` is written into the message; "1" stands for a pure number.
    """
    if not (math.isfinite(value) and value > 0.0):
        raise OutOfDomainError(quantity, _greater(unit), value)
    return value


def not_negative(quantity: str, value: float, unit: str) -> float:
    """Return ``value`` if it is finite and zero or above; raise OutOfDomainError if not."""
    if not (math.isfinite(value) and value >= 0.0):
        raise OutOfDomainError(quantity, "zero or " + _greater(unit), value)
    return value


def _greater(unit: str) -> str:
    return "greater than 0" if unit == "1" else f"greater than 0 {unit}"
