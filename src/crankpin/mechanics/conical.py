"""The conical pendulum: a bob on a cord that goes round in a level circle at a steady rate.

``length`` of the cord in m and ``gravity`` in m/s2 are above zero, ``angle`` between cord and vertical in rad, above
zero and below a quarter turn, else OutOfDomainError (see `domain`). The cord is light and the bob small; the air is
left out. Source of the formulas: the cord's pull holds the weight and gives the force towards the centre.
"""

import math

from crankpin.mechanics.domain import positive
from crankpin.mechanics.errors import AbsentError, OutOfDomainError


def circle_radius(length: float, angle: float) -> float:
    """Return the radius of the bob's circle, in m: L sin(angle).

    >>> round(circle_radius(2.0, math.pi / 6), 12)
    1.0
    """
    return positive("length", length, "m") * math.sin(_checked(angle))


def depth(length: float, angle: float) -> float:
    """Return how far the circle lies below the point of suspension, in m: L cos(angle).

    >>> round(depth(2.0, math.pi / 3), 12)
    1.0
    """
    return positive("length", length, "m") * math.cos(_checked(angle))


def angular_velocity(length: float, angle: float, gravity: float) -> float:
    """Return the rate at which the bob goes round, in rad/s: sqrt(g / (L cos(angle))).

    >>> round(angular_velocity(5.0, math.pi / 3, 10.0), 12)
    2.0
    """
    return math.sqrt(positive("gravity", gravity, "m/s2") / depth(length, angle))


def tension(mass: float, angle: float, gravity: float) -> float:
    """Return the cord's tension, in N: m g / cos(angle), ``mass`` in kg above zero.

    >>> round(tension(2.0, math.pi / 3, 10.0), 9)
    40.0
    """
    weight = positive("mass", mass, "kg") * positive("gravity", gravity, "m/s2")
    return weight / math.cos(_checked(angle))


def angle_at_rate(length: float, angular_velocity: float, gravity: float) -> float:
    """Return the angle, in rad, at which the bob goes round at this rate: cos(angle) = g / (L omega^2).

    Raises AbsentError at sqrt(g/L) or slower: there the cord hangs straight down.

    >>> round(angle_at_rate(5.0, 2.0, 10.0) / math.pi, 12)
    0.333333333333
    """
    omega = positive("angular_velocity", angular_velocity, "rad/s")
    cosine = positive("gravity", gravity, "m/s2") / positive("length", length, "m") / omega / omega
    if cosine >= 1.0:
        least = math.sqrt(gravity / length)
        raise AbsentError(f"Below {least:.4g} rad/s the cord hangs straight down: there is no cone as slow as this.")
    return math.acos(cosine)


def _checked(angle: float) -> float:
    if 0.0 < angle < math.pi / 2.0:
        return angle
    raise OutOfDomainError("angle", "above 0 and below pi/2 rad (90 degrees)", angle)
