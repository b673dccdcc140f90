"""Uncertainty of a measured value, and rounding to agree with it.

Source of the rules: JCGM 100:2008 (GUM), clause 7.2.6: an uncertainty to at most two significant
digits, the estimate rounded to the same place. Value and uncertainty share one unit, whichever it is; what lies outside
its range raises OutOfDomainError (see `domain`).
"""

import math

from crankpin.mechanics.domain import finite, positive
from crankpin.mechanics.errors import AbsentError, OutOfDomainError


def relative_uncertainty(value: float, uncertainty: float) -> float:
    """Return u / |value|, a pure number.

    Raises AbsentError for a value of zero.

    >>> relative_uncertainty(-50.0, 2.0)
    0.04
    """
    if finite("value", value) == 0.0:
        raise AbsentError("A value of zero has no relative uncertainty.")
    return positive("uncertainty", uncertainty, "1") / positive("value", abs(value), "1")


def last_place(number: float, figures: int = 2) -> int:
    """Return the power of ten of the last place that is kept when a number keeps so many figures.

    >>> last_place(0.0273)
    -3
    >>> last_place(9.96)
    0
    """
    if not 1 <= figures <= 17:
        raise OutOfDomainError("figures", "from 1 to 17", figures)
    _, _, exponent = f"{positive('number', number, '1'):.{figures - 1}e}".partition("e")
    return int(exponent) - figures + 1


def rounded(value: float, place: int) -> float:
    """Return a value rounded to a power of ten; a tie goes to the even digit.

    >>> rounded(10.05762, -3)
    10.058
    >>> rounded(2500.0, 3)
    2000.0
    """
    return round(finite("value", value), -place)


def rounded_up(uncertainty: float, figures: int = 2) -> float:
    """Return an uncertainty rounded up to so many figures, as may be fitting; never below what it was.

    >>> rounded_up(10.47)
    11.0
    >>> rounded_up(0.027)
    0.027
    """
    place = last_place(uncertainty, figures)
    nearest = rounded(uncertainty, place)
    return nearest if nearest >= uncertainty else rounded(nearest + 10.0**place, place)


def rounded_to_figures(value: float, figures: int) -> float:
    """Return a value rounded to so many significant figures; zero stays zero.

    >>> rounded_to_figures(-0.0196349, 3)
    -0.0196
    """
    if finite("value", value) == 0.0:
        return 0.0
    return rounded(value, last_place(abs(value), figures))


def least_figures(*figures: int) -> int:
    """Return the figures that a product of measured values keeps: the fewest among its factors.

    Common practice, no source.

    >>> least_figures(4, 2, 3)
    2
    """
    if not figures or min(figures) < 1:
        raise OutOfDomainError("figures", "at least 1 for each factor", min(figures, default=0))
    return min(figures)


def period_of_count(duration: float, count: int) -> float:
    """Return the period, in s, from the duration of a count of whole swings.

    >>> period_of_count(18.0, 10)
    1.8
    """
    return positive("duration", duration, "s") / positive("count", count, "1")


def uncertainty_of_period(timing_uncertainty: float, count: int) -> float:
    """Return the uncertainty of a period timed over a count of swings, in s: one timing's share.

    >>> uncertainty_of_period(0.2, 10)
    0.02
    """
    return positive("timing_uncertainty", timing_uncertainty, "s") / positive("count", count, "1")


def independent(*uncertainties: float) -> float:
    """Return the uncertainty of a sum of independent parts: the root of the sum of the squares.

    >>> independent(3.0, 4.0)
    5.0
    """
    return math.hypot(*(finite("uncertainty", one) for one in uncertainties))
