"""What is left of a free oscillation after so many periods, from its quality factor.

``quality_factor`` Q is above one half, below which nothing swings; ``turns`` is a number of whole damped periods,
zero or above; what lies outside raises OutOfDomainError (see `domain`). The mass is let go at rest, and again at
rest after each whole period, so the shares are exact.
Source of the formulas: the decrement gamma T_d with Q = omega_0 / 2 gamma, unless a function says otherwise.
"""

import math

from crankpin.mechanics.domain import not_negative, positive
from crankpin.mechanics.errors import OutOfDomainError


def decrement(quality_factor: float) -> float:
    """Return the logarithmic decrement, a pure number: pi / sqrt(Q^2 - 1/4).

    >>> round(decrement(0.5 * math.sqrt(5.0)), 12) == round(math.pi, 12)
    True
    """
    q = positive("quality_factor", quality_factor, "1")
    if q <= 0.5:
        raise OutOfDomainError("quality_factor", "above 0.5, since below that nothing swings", quality_factor)
    return math.pi / (math.sqrt(q - 0.5) * math.sqrt(q + 0.5))


def amplitude_left(quality_factor: float, turns: float) -> float:
    """Return the share of the amplitude left after so many periods: exp(-n decrement).

    >>> amplitude_left(20.0, 0.0)
    1.0
    """
    return math.exp(-not_negative("turns", turns, "1") * decrement(quality_factor))


def energy_left(quality_factor: float, turns: float) -> float:
    """Return the share of the energy left after so many periods: exp(-2 n decrement).

    >>> round(energy_left(20.0, 20.0) / math.exp(-math.tau), 2)
    1.0
    """
    return math.exp(-2.0 * not_negative("turns", turns, "1") * decrement(quality_factor))


def energy_left_short(quality_factor: float, turns: float) -> float:
    """Return the same by the short rule exp(-2 pi n / Q), good for light damping.

    Source: B. Crowell, Light and Matter, definition of Q (a factor of 535 in Q periods).

    >>> round(1.0 / energy_left_short(10.0, 10.0))
    535
    """
    return math.exp(-math.tau * not_negative("turns", turns, "1") / positive("quality_factor", quality_factor, "1"))
