"""Readings of one quantity, taken again and again: their mean, their scatter, and how sure the mean is.

All in the readings' one unit. No reading at all, or one that is no finite number, raises OutOfDomainError.
"""

import math
from collections.abc import Sequence

from crankpin.mechanics.domain import finite
from crankpin.mechanics.errors import AbsentError, OutOfDomainError


def mean(readings: Sequence[float]) -> float:
    """Return the arithmetic mean, in the readings' unit; one reading or more, else OutOfDomainError.

    >>> mean([1.0, 2.0, 6.0])
    3.0
    """
    if not readings:
        raise OutOfDomainError("readings", "at least one", 0)
    return math.fsum(finite("readings", one) for one in readings) / len(readings)


def standard_deviation(readings: Sequence[float]) -> float:
    """Return the experimental standard deviation: the root of the squares about the mean over n - 1.

    It tells how far a single reading lies from the mean. Raises AbsentError for a single reading.
    Source: GUM, JCGM 100:2008, 4.2.2 (from memory).

    >>> standard_deviation([1.0, 2.0, 3.0])
    1.0
    """
    middle = mean(readings)
    if len(readings) < 2:
        raise AbsentError("A single reading shows no scatter; take at least one more.")
    return math.sqrt(math.fsum((one - middle) ** 2 for one in readings) / (len(readings) - 1))


def uncertainty_of_mean(readings: Sequence[float]) -> float:
    """Return the standard uncertainty of the mean: the standard deviation over the root of n.

    For independent readings. Raises AbsentError for a single one. Source: GUM, JCGM 100:2008, 4.2.3
    (from memory).

    >>> uncertainty_of_mean([1.0, 1.0, 3.0, 3.0]) == math.sqrt(1.0 / 3.0)
    True
    """
    return standard_deviation(readings) / math.sqrt(len(readings))
