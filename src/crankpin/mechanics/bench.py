"""Keeping a turning disc in step with a mass on a spring: what to change, and how soon the two part.

The disc turns at a steady rate; its pin seen edge-on and the hung mass are to move together. The
spring's own mass counts for a third (see ``springs.effective_mass``). ``stiffness`` in N/m, ``mass`` in kg and
``disc_rate`` in rad/s are above zero, ``spring_mass`` in kg zero or above, else OutOfDomainError (see `domain`).
Source of the formulas: the two rates set equal.
"""

import math
import sys

from crankpin.mechanics.domain import not_negative, positive
from crankpin.mechanics.errors import AbsentError
from crankpin.mechanics.exact import difference_of_products
from crankpin.mechanics.springs import angular_frequency, effective_mass, mass_for_rate, stiffness_for_rate


def disc_rate_needed(stiffness: float, mass: float, spring_mass: float = 0.0) -> float:
    """Return the rate, in rad/s, at which the disc keeps step with this mass on this spring.

    >>> disc_rate_needed(32.0, 2.0)
    4.0
    """
    return angular_frequency(stiffness, effective_mass(mass, spring_mass))


def mass_needed(stiffness: float, disc_rate: float, spring_mass: float = 0.0) -> float:
    """Return the mass to hang, in kg, for this disc rate: k / omega^2 less a third of the spring's mass.

    Raises AbsentError where the spring alone is already too slow for the disc.

    >>> round(mass_needed(32.0, 4.0, 0.3), 12)
    1.9
    """
    hung = (
        mass_for_rate(stiffness, positive("disc_rate", disc_rate, "rad/s"))
        - not_negative("spring_mass", spring_mass, "kg") / 3.0
    )
    if hung <= 0.0:
        raise AbsentError(
            "Even with nothing hung this spring is too slow for the disc: take a stiffer or lighter spring, "
            "or slow the disc."
        )
    return hung


def stiffness_needed(mass: float, disc_rate: float, spring_mass: float = 0.0) -> float:
    """Return the stiffness, in N/m, with which this mass keeps step with the disc: (m + m_s/3) omega^2.

    >>> stiffness_needed(2.0, 4.0)
    32.0
    """
    return stiffness_for_rate(effective_mass(mass, spring_mass), positive("disc_rate", disc_rate, "rad/s"))


def mismatch(stiffness: float, mass: float, disc_rate: float, spring_mass: float = 0.0) -> float:
    """Return (omega_disc - omega_osc)/omega_osc, a pure number; positive where the disc runs ahead.

    No digits are lost where the two rates are nearly equal.

    >>> mismatch(32.0, 2.0, 5.0)
    0.25
    """
    swinging = effective_mass(mass, spring_mass)
    own = angular_frequency(stiffness, swinging)
    disc = positive("disc_rate", disc_rate, "rad/s")
    surplus = difference_of_products((disc, disc, swinging), (stiffness,))
    return surplus / swinging / (disc + own) / own


def slip_per_period(stiffness: float, mass: float, disc_rate: float, spring_mass: float = 0.0) -> float:
    """Return the angle, in rad, by which the disc gains on the oscillator in each of the latter's periods.

    2 pi times the mismatch; negative where the disc falls behind.

    >>> round(slip_per_period(32.0, 2.0, 5.0) / math.pi, 12)
    0.5
    """
    return math.tau * mismatch(stiffness, mass, disc_rate, spring_mass)


def slip_time(stiffness: float, mass: float, disc_rate: float, tolerance: float, spring_mass: float = 0.0) -> float:
    """Return the time, in s, after which two that started in step are ``tolerance`` rad apart.

    tolerance / |omega_disc - omega_osc|. Raises AbsentError where the rates are equal to within
    rounding: they stay in step.

    >>> slip_time(32.0, 2.0, 5.0, 0.5)
    0.5
    """
    apart = positive("tolerance", tolerance, "rad")
    share = mismatch(stiffness, mass, disc_rate, spring_mass)
    if abs(share) <= 4.0 * sys.float_info.epsilon:
        raise AbsentError("The disc and the oscillator have one rate, so they stay in step.")
    return apart / (abs(share) * disc_rate_needed(stiffness, mass, spring_mass))
