"""Going round a bend: the force towards the centre, grip on a flat road, and banking.

Speeds are in m/s (either sign), accelerations in m/s2 and towards the centre, angles in rad; what lies outside its
range raises OutOfDomainError (see `domain`). The speed is steady and what goes round is small beside the bend.
Source of the formulas: Newton's second law with a_c = v^2 / r.
"""

import math

from crankpin.mechanics.circular import centripetal_acceleration_from_speed
from crankpin.mechanics.domain import finite, not_negative, positive
from crankpin.mechanics.errors import OutOfDomainError


def centripetal_force(mass: float, acceleration: float) -> float:
    """Return the net force towards the centre, in N, that the motion needs: F = m a_c.

    >>> centripetal_force(2.0, 8.0)
    16.0
    """
    return positive("mass", mass, "kg") * not_negative("acceleration", acceleration, "m/s2")


def friction_needed(speed: float, radius: float, gravity: float) -> float:
    """Return the least coefficient of static friction for a flat bend: mu = v^2 / r g.

    >>> friction_needed(10.0, 20.0, 10.0)
    0.5
    """
    return centripetal_acceleration_from_speed(speed, radius) / positive("gravity", gravity, "m/s2")


def greatest_speed_on_flat(coefficient: float, radius: float, gravity: float) -> float:
    """Return the greatest speed on a flat bend, in m/s: sqrt(mu r g).

    >>> greatest_speed_on_flat(0.5, 20.0, 10.0)
    10.0
    """
    grip = not_negative("coefficient", coefficient, "1") * positive("gravity", gravity, "m/s2")
    return math.sqrt(grip * positive("radius", radius, "m"))


def banking_angle(acceleration: float, gravity: float) -> float:
    """Return the bank, in rad, at which no friction is needed: tan(theta) = a_c / g.

    It is also the angle from the vertical at which a freely hung load settles.

    >>> round(math.tan(banking_angle(5.0, 10.0)), 12)
    0.5
    """
    return math.atan2(not_negative("acceleration", acceleration, "m/s2"), positive("gravity", gravity, "m/s2"))


def hanging_angle(acceleration: float, gravity: float) -> float:
    """Return how far below the level a swung cage hangs, in rad: tan = g / a_c, what is left of a quarter turn.

    >>> round(math.tan(hanging_angle(5.0, 10.0)), 12)
    2.0
    """
    return 0.5 * math.pi - banking_angle(acceleration, gravity)


def speed_for_bank(angle: float, radius: float, gravity: float) -> float:
    """Return the speed, in m/s, that needs no friction on a bank: sqrt(r g tan(theta)), angle in [0, pi/2).

    >>> round(speed_for_bank(math.atan(0.5), 20.0, 10.0), 12)
    10.0
    """
    return math.sqrt(positive("radius", radius, "m") * positive("gravity", gravity, "m/s2") * _slope(angle))


def radius_for_bank(speed: float, angle: float, gravity: float) -> float:
    """Return the radius, in m, of a bend that needs no friction: v^2 / (g tan(theta)), angle in (0, pi/2).

    >>> round(radius_for_bank(10.0, math.atan(0.5), 10.0), 12)
    20.0
    """
    v = finite("speed", speed)
    slope = positive("angle", _slope(angle), "rad")
    return v * v / (positive("gravity", gravity, "m/s2") * slope)


def _slope(angle: float) -> float:
    if not 0.0 <= angle < math.pi / 2.0:
        raise OutOfDomainError("angle", "from 0 to less than pi/2 rad", angle)
    return math.tan(angle)
