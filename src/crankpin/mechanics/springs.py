"""A mass on springs: stiffness, static stretch and rate of oscillation.

Springs obey Hooke's law (force proportional to stretch); masses move along one line. ``mass`` in kg, ``stiffness``
in N/m, ``angular_frequency`` in rad/s and ``gravity`` in m/s2 are above zero; any other value raises OutOfDomainError
(see `domain`). Source of the formulas: from Hooke's and Newton's laws, unless a function says otherwise.
"""

import math

from crankpin.mechanics.domain import finite, not_negative, positive
from crankpin.mechanics.errors import OutOfDomainError


def force(stiffness: float, displacement: float) -> float:
    """Return the spring's force on the mass, in N: F = -k x, back towards equilibrium.

    >>> force(50.0, 0.1)
    -5.0
    """
    return -_k(stiffness) * finite("displacement", displacement)


def effective_mass(mass: float, spring_mass: float = 0.0) -> float:
    """Return m + m_spring/3, in kg: the mass that swings, with a third of the spring's own.

    For a uniform spring; the rate found from it is too quick by 0.1 % for a spring of 0.3 m, by 0.7 %
    for one as heavy as the mass. Above that the share grows, up to 4/pi^2 = 0.41 with nothing hung.
    Source: American Journal of Physics, 1969 (from memory); the limits from the spring's wave equation.

    >>> effective_mass(0.5, 0.03)
    0.51
    """
    return _m(mass) + not_negative("spring_mass", spring_mass, "kg") / 3.0


def angular_frequency(stiffness: float, mass: float) -> float:
    """Return omega = sqrt(k/m), in rad/s; for a heavy spring give the effective mass.

    The same hanging, lying or on a slope: gravity only shifts the equilibrium.
    Source: OpenStax, University Physics 1, section 15.1.

    >>> angular_frequency(32.0, 2.0)
    4.0
    """
    return math.sqrt(_k(stiffness) / _m(mass))


def stiffness_for_rate(mass: float, angular_frequency: float) -> float:
    """Return the stiffness, in N/m, that gives this mass this rate: k = m omega^2.

    >>> stiffness_for_rate(2.0, 4.0)
    32.0
    """
    omega = positive("angular_frequency", angular_frequency, "rad/s")
    return _m(mass) * omega * omega


def mass_for_rate(stiffness: float, angular_frequency: float) -> float:
    """Return the mass, in kg, to which this spring gives this rate: m = k / omega^2.

    >>> mass_for_rate(32.0, 4.0)
    2.0
    """
    omega = positive("angular_frequency", angular_frequency, "rad/s")
    return _k(stiffness) / omega / omega


def static_stretch(mass: float, stiffness: float, gravity: float) -> float:
    """Return how far a hung mass stretches the spring at rest, in m: m g / k, downwards.

    >>> static_stretch(0.5, 50.0, 10.0)
    0.1
    """
    return _m(mass) * _g(gravity) / _k(stiffness)


def stiffness_from_stretch(mass: float, stretch: float, gravity: float) -> float:
    """Return the stiffness, in N/m, of a spring that this mass stretches this far: k = m g / stretch.

    >>> stiffness_from_stretch(0.5, 0.1, 10.0)
    50.0
    """
    return _m(mass) * _g(gravity) / positive("stretch", stretch, "m")


def mass_from_stretch(stiffness: float, stretch: float, gravity: float) -> float:
    """Return the mass, in kg, that holds the spring stretched this far: m = k stretch / g.

    >>> mass_from_stretch(50.0, 0.1, 10.0)
    0.5
    """
    return _k(stiffness) * not_negative("stretch", stretch, "m") / _g(gravity)


def angular_frequency_from_stretch(stretch: float, gravity: float) -> float:
    """Return omega = sqrt(g / static stretch), in rad/s: the mass need not be known.

    >>> round(angular_frequency_from_stretch(0.05, 9.8), 12)
    14.0
    """
    return math.sqrt(_g(gravity) / positive("stretch", stretch, "m"))


def side_by_side(*stiffnesses: float) -> float:
    """Return the stiffness of springs that share the load, in N/m: the sum.

    Also for a mass held between two springs, one on each side.

    >>> side_by_side(30.0, 20.0)
    50.0
    """
    return math.fsum(_k(stiffness) for stiffness in _some(stiffnesses))


def end_to_end(*stiffnesses: float) -> float:
    """Return the stiffness of springs hooked in a row, in N/m: 1/k is the sum of the 1/k_i.

    >>> round(end_to_end(1200.0, 400.0), 9)
    300.0
    """
    return 1.0 / math.fsum(1.0 / _k(stiffness) for stiffness in _some(stiffnesses))


def stiffness_of_length(stiffness: float, length_ratio: float) -> float:
    """Return the stiffness of a piece ``length_ratio`` times as long, in N/m: k / ratio.

    >>> stiffness_of_length(140.0, 2.0)
    70.0
    """
    return _k(stiffness) / positive("length_ratio", length_ratio, "1")


def stretch_after_fall(mass: float, stiffness: float, gravity: float, height: float) -> float:
    """Return the greatest stretch, in m, when a mass falls freely by ``height`` before the spring pulls.

    The weight's work while stretching counts too: k x^2 / 2 = m g (height + x). No loss.
    From zero height the stretch is twice the static stretch.

    >>> stretch_after_fall(0.5, 50.0, 10.0, 0.0)
    0.2
    """
    still = static_stretch(mass, stiffness, gravity)
    return still + math.sqrt(still) * math.sqrt(still + 2.0 * not_negative("height", height, "m"))


def _k(stiffness: float) -> float:
    return positive("stiffness", stiffness, "N/m")


def _m(mass: float) -> float:
    return positive("mass", mass, "kg")


def _g(gravity: float) -> float:
    return positive("gravity", gravity, "m/s2")


def _some(stiffnesses: tuple[float, ...]) -> tuple[float, ...]:
    if not stiffnesses:
        raise OutOfDomainError("stiffnesses", "at least one spring", 0)
    return stiffnesses
