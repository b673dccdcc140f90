"""Circular orbits, and the moons of a planet seen edge-on.

The body that orbits is light beside the one it goes round. ``gravitational_parameter`` is G M of the
latter, in m3/s2: for planets it is known far better than G or M alone. A moon seen from far away in the
plane of its orbit swings by ``harmonic.position`` with the radius for amplitude. All arguments are above zero, else
OutOfDomainError (see `domain`).
Source of the formulas: gravity as the force towards the centre, unless a function says otherwise.
"""

import math

from crankpin.mechanics.constants import GRAVITATIONAL_CONSTANT
from crankpin.mechanics.domain import positive


def parameter_of_mass(mass: float) -> float:
    """Return G M, in m3/s2, of a body of this mass (kg).

    >>> parameter_of_mass(1e11)
    6.6743
    """
    return GRAVITATIONAL_CONSTANT * positive("mass", mass, "kg")


def mass_of_parameter(gravitational_parameter: float) -> float:
    """Return the mass, in kg, of a body with this G M; no better known than G, to 22 parts in a million.

    >>> round(mass_of_parameter(6.6743) / 1e11, 12)
    1.0
    """
    return _gm(gravitational_parameter) / GRAVITATIONAL_CONSTANT


def orbital_acceleration(gravitational_parameter: float, radius: float) -> float:
    """Return the acceleration towards the body that is orbited, in m/s2: G M / r^2.

    >>> orbital_acceleration(400.0, 4.0)
    25.0
    """
    return _gm(gravitational_parameter) / _r(radius) / radius


def orbital_speed(gravitational_parameter: float, radius: float) -> float:
    """Return the speed on a circular orbit, in m/s: sqrt(G M / r).

    Source: OpenStax, University Physics 1, section 13.4.

    >>> orbital_speed(400.0, 4.0)
    10.0
    """
    return math.sqrt(_gm(gravitational_parameter) / _r(radius))


def orbital_angular_frequency(gravitational_parameter: float, radius: float) -> float:
    """Return the rate of a circular orbit, in rad/s: sqrt(G M / r^3), Kepler's third law.

    >>> orbital_angular_frequency(400.0, 4.0)
    2.5
    """
    return orbital_speed(gravitational_parameter, radius) / radius


def orbital_period(gravitational_parameter: float, radius: float) -> float:
    """Return the period of a circular orbit, in s: 2 pi sqrt(r^3 / G M), Kepler's third law.

    >>> round(orbital_period(400.0, 4.0) / math.tau, 12)
    0.4
    """
    return math.tau / orbital_angular_frequency(gravitational_parameter, radius)


def orbital_radius(gravitational_parameter: float, period: float) -> float:
    """Return the radius of the circular orbit with this period, in m: (G M (T / 2 pi)^2)^(1/3).

    >>> round(orbital_radius(400.0, 0.4 * math.tau), 12)
    4.0
    """
    radian_time = _t(period) / math.tau
    return math.cbrt(_gm(gravitational_parameter)) * math.cbrt(radian_time) ** 2


def kepler_ratio(radius: float, period: float) -> float:
    """Return r^3 / T^2, the same for all that orbits one body, in m3/s2 for SI (or in the units given).

    >>> kepler_ratio(4.0, 2.0)
    16.0
    """
    return _r(radius) * (radius / _t(period)) ** 2


def gravitational_parameter(radius: float, period: float) -> float:
    """Return G M of the body that is orbited, in m3/s2: 4 pi^2 r^3 / T^2.

    Divide by the constant of gravitation for the mass.

    >>> round(gravitational_parameter(4.0, 0.4 * math.tau), 9)
    400.0
    """
    return parameter_from_ratio(kepler_ratio(radius, period))


def parameter_from_ratio(kepler_ratio: float) -> float:
    """Return G M of the body that is orbited, in m3/s2, from r^3 / T^2 of anything that orbits it.

    >>> round(parameter_from_ratio(1.0 / math.tau**2), 12)
    1.0
    """
    return math.tau**2 * positive("kepler_ratio", kepler_ratio, "m3/s2")


def scaled_period(period: float, radius_ratio: float) -> float:
    """Return the period on an orbit ``radius_ratio`` times as wide about the same body: T ratio^(3/2).

    >>> scaled_period(2.0, 4.0)
    16.0
    """
    return _t(period) * positive("radius_ratio", radius_ratio, "1") * math.sqrt(radius_ratio)


def scaled_radius(radius: float, period_ratio: float) -> float:
    """Return the radius of an orbit whose period is ``period_ratio`` times as long: r ratio^(2/3).

    >>> round(scaled_radius(2.0, 8.0), 12)
    8.0
    """
    return _r(radius) * math.cbrt(positive("period_ratio", period_ratio, "1")) ** 2


def radius_ratio_for_speed(speed_ratio: float) -> float:
    """Return how many times as wide the orbit of ``speed_ratio`` times the speed is: ratio^-2.

    >>> radius_ratio_for_speed(2.0)
    0.25
    """
    return 1.0 / positive("speed_ratio", speed_ratio, "1") ** 2


def _gm(gravitational_parameter: float) -> float:
    return positive("gravitational_parameter", gravitational_parameter, "m3/s2")


def _r(radius: float) -> float:
    return positive("radius", radius, "m")


def _t(period: float) -> float:
    return positive("period", period, "s")
