"""A pendulum clock in warm weather: the rod grows longer, the swings slower.

``expansion`` is the rod's coefficient of linear expansion, in 1/K, ``warming`` the rise in temperature in K, negative
for a fall; the two together leave the rod a length. What lies outside raises OutOfDomainError (see `domain`).
Source of the formulas: length in proportion to 1 + expansion times warming, period to the root of the length.
"""

import math

from crankpin.mechanics.constants import DAY
from crankpin.mechanics.domain import finite, positive
from crankpin.mechanics.errors import OutOfDomainError


def warmed_length(length: float, expansion: float, warming: float) -> float:
    """Return the length, in m, after warming: L (1 + expansion warming).

    >>> warmed_length(2.0, 0.001, 250.0)
    2.5
    """
    return positive("length", length, "m") * (1.0 + _growth(expansion, warming))


def period_growth(expansion: float, warming: float) -> float:
    """Return by what share of itself the period grows: sqrt(1 + expansion warming) - 1, all digits kept.

    Near half of expansion times warming.

    >>> round(period_growth(0.01, 44.0), 12)
    0.2
    """
    growth = _growth(expansion, warming)
    return growth / (1.0 + math.sqrt(1.0 + growth))


def daily_drift(expansion: float, warming: float) -> float:
    """Return how much the clock gains, in seconds per day; negative: it loses.

    In a day it counts as many swings as fit, so it shows 86 400 s T/T_warm.

    >>> daily_drift(0.01, 44.0)
    -14400.0
    """
    growth = period_growth(expansion, warming)
    return -DAY * growth / (1.0 + growth)


def _growth(expansion: float, warming: float) -> float:
    growth = finite("expansion", expansion) * finite("warming", warming)
    if not -1.0 < growth <= 1e6:
        raise OutOfDomainError("warming", "small enough to leave the rod a length", warming)
    return growth
