"""Going round a bend: the force towards the centre, grip on a flat road, and banking.

Speeds are in m/s (either sign), accelerations in m/s2 and towards the centre, angles in rad; what lies outside its
range raises OutOfDomainError (see `domain`). The speed is steady and what goes round is small beside the bend.
Source of the formulas: Newton's second law with a_c = v^2 / r.
"""

import math

from crankpin.mechanics.circular import centripetal_acceleration_from_speed
from crankpin.mechanics.domain import finite, not_negative, positive
from crankpin.mechanics.errors import AbsentError, OutOfDomainError


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


def normal_force(mass: float, acceleration: float, angle: float, gravity: float) -> float:
    """Return the push of a banked road at right angles to itself, in N: m (g cos(angle) + a_c sin(angle)).

    ``acceleration`` is the one towards the centre, level, in m/s2; ``angle`` the bank, in [0, pi/2).

    >>> round(normal_force(2.0, 7.5, math.atan(0.75), 10.0), 9)
    25.0
    """
    down, inward = _weight_and_inward(mass, acceleration, gravity)
    return down * math.cos(_bank(angle)) + inward * math.sin(angle)


def friction_on_bank(mass: float, acceleration: float, angle: float, gravity: float) -> float:
    """Return the friction along a banked road, in N: m (a_c cos(angle) - g sin(angle)).

    Positive down the bank, where the speed is above that of the bank; negative up the bank, where it is below.

    >>> round(friction_on_bank(2.0, 5.0, math.atan(0.75), 10.0), 9)
    -4.0
    """
    down, inward = _weight_and_inward(mass, acceleration, gravity)
    return inward * math.cos(_bank(angle)) - down * math.sin(angle)


def greatest_speed_on_bank(coefficient: float, radius: float, angle: float, gravity: float) -> float:
    """Return the speed, in m/s, above which friction no longer holds: sqrt(r g (tan + mu)/(1 - mu tan)).

    Raises AbsentError where mu tan(angle) is 1 or more: there it never slides up the bank.
    Source: friction and normal force in the ratio mu, friction down the bank.

    >>> round(greatest_speed_on_bank(0.5, 20.0, math.atan(0.5), 10.0), 9)
    16.329931619
    """
    mu, slope = not_negative("coefficient", coefficient, "1"), _slope(angle)
    if mu * slope >= 1.0:
        raise AbsentError("On a bank as steep as this, with this grip, nothing slides up however fast it goes.")
    return math.sqrt(positive("radius", radius, "m") * positive("gravity", gravity, "m/s2")) * math.sqrt(
        (slope + mu) / (1.0 - mu * slope)
    )


def least_speed_on_bank(coefficient: float, radius: float, angle: float, gravity: float) -> float:
    """Return the speed, in m/s, below which friction no longer holds: sqrt(r g (tan - mu)/(1 + mu tan)).

    Raises AbsentError where mu is tan(angle) or more: there even what stands still is held.
    Source: friction and normal force in the ratio mu, friction up the bank.

    >>> round(least_speed_on_bank(0.25, 20.0, math.atan(0.75), 10.0), 9)
    9.176629355
    """
    mu, slope = not_negative("coefficient", coefficient, "1"), _slope(angle)
    if mu >= slope:
        raise AbsentError("Friction holds it on this bank even when it stands still, so there is no least speed.")
    return math.sqrt(positive("radius", radius, "m") * positive("gravity", gravity, "m/s2")) * math.sqrt(
        (slope - mu) / (1.0 + mu * slope)
    )


def _weight_and_inward(mass: float, acceleration: float, gravity: float) -> tuple[float, float]:
    return mass * positive("gravity", gravity, "m/s2"), centripetal_force(mass, acceleration)


def _bank(angle: float) -> float:
    _slope(angle)
    return angle


def _slope(angle: float) -> float:
    if not 0.0 <= angle < math.pi / 2.0:
        raise OutOfDomainError("angle", "from 0 to less than pi/2 rad", angle)
    return math.tan(angle)
