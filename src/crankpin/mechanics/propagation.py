"""How the uncertainties of two measured values pass into a sum or a product of powers.

The values are independent, and their uncertainties small beside them. ``u_first`` and ``u_second`` are standard
uncertainties, zero or above, in the units of their values; what lies outside raises OutOfDomainError (see `domain`).
Source of the rules: JCGM 100:2008 (GUM), 5.1.2, and 5.1.6 for products of powers (from memory).
"""

import math

from crankpin.mechanics.domain import finite, not_negative, positive
from crankpin.mechanics.errors import AbsentError, OutOfDomainError

_MOST_PLACES = 100.0


def sum_parts(first_factor: float, u_first: float, second_factor: float, u_second: float) -> tuple[float, float]:
    """Return what each value contributes to the uncertainty of a x + b y: (|a| u_x, |b| u_y).

    >>> sum_parts(1.0, 3.0, -2.0, 2.0)
    (3.0, 4.0)
    """
    a, b = abs(finite("first_factor", first_factor)), abs(finite("second_factor", second_factor))
    return a * not_negative("u_first", u_first, "1"), b * not_negative("u_second", u_second, "1")


def power_product(first: float, first_power: float, second: float, second_power: float) -> float:
    """Return x^p y^q. Raises OutOfDomainError for a negative value to a power that is no whole number.

    >>> power_product(3.0, 2.0, 4.0, -1.0)
    2.25
    """
    return _power("first", first, first_power) * _power("second", second, second_power)


def relative_parts(
    first: float, u_first: float, first_power: float, second: float, u_second: float, second_power: float
) -> tuple[float, float]:
    """Return what each value contributes to the relative uncertainty of x^p y^q: (|p| u_x/|x|, |q| u_y/|y|).

    Raises AbsentError for a value of zero, which has no relative uncertainty.

    >>> relative_parts(50.0, 1.0, 1.0, 10.0, 0.1, -2.0)
    (0.02, 0.02)
    """
    if finite("first", first) == 0.0 or finite("second", second) == 0.0:
        raise AbsentError("A value of zero has no relative uncertainty, so the rule for products does not help.")
    return (
        abs(finite("first_power", first_power)) * not_negative("u_first", u_first, "1") / _size("first", first),
        abs(finite("second_power", second_power)) * not_negative("u_second", u_second, "1") / _size("second", second),
    )


def _power(name: str, value: float, power: float) -> float:
    finite(f"{name}_power", power)
    if finite(name, value) < 0.0 and not float(power).is_integer():
        raise OutOfDomainError(f"{name}_power", "a whole number where the value is negative", power)
    if value == 0.0 and power < 0.0:
        raise OutOfDomainError(name, "other than zero under a negative power", value)
    if value and abs(power * math.log10(abs(value))) > _MOST_PLACES:
        raise OutOfDomainError(f"{name}_power", "small enough for the power to stay between 1e-100 and 1e100", power)
    return math.pow(value, power)


def _size(name: str, value: float) -> float:
    return positive(name, abs(value), "1")
