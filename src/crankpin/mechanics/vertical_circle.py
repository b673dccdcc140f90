"""Upright circles: a load carried round at a steady rate, a hump and a dip, and a body that runs round freely.

Angles grow anticlockwise from the horizontal x axis; y is up. ``mass`` in kg and ``gravity`` in m/s2 are above
zero, ``radius`` in m zero or above, else OutOfDomainError (see `domain`).
"""

import math

from crankpin.mechanics.circular import centripetal_acceleration_from_speed, plane_motion
from crankpin.mechanics.domain import finite, not_negative, positive
from crankpin.mechanics.errors import AbsentError


def weight(mass: float, gravity: float) -> float:
    """Return the size of the Earth's pull, in N: m g, downwards.

    >>> weight(2.0, 10.0)
    20.0
    """
    return positive("mass", mass, "kg") * positive("gravity", gravity, "m/s2")


def holding_force(
    mass: float, radius: float, angular_velocity: float, angle: float, gravity: float
) -> tuple[float, float]:
    """Return the force of the holder on the load, in N, as (towards +x, up), where the load is at ``angle``.

    Newton's second law with the weight moved across: F = m a + m g up, with a = -omega^2 r. The load is
    small beside the radius and the rate is steady. A negative upward part means that the holder pulls down.

    >>> holding_force(2.0, 1.0, 2.0, 0.0, 10.0)
    (-8.0, 20.0)
    """
    carried = weight(mass, gravity)
    motion = plane_motion(radius, angular_velocity, finite("angle", angle))
    return mass * motion.a_x, mass * motion.a_y + carried


def force_at_top(mass: float, radius: float, angular_velocity: float, gravity: float) -> float:
    """Return the holder's upward force at the top, in N: m (g - r omega^2); negative where it pulls down.

    >>> force_at_top(2.0, 1.0, 2.0, 10.0)
    12.0
    """
    return holding_force(mass, radius, angular_velocity, 0.5 * math.pi, gravity)[1]


def force_at_bottom(mass: float, radius: float, angular_velocity: float, gravity: float) -> float:
    """Return the holder's upward force at the bottom, in N: m (g + r omega^2).

    >>> force_at_bottom(2.0, 1.0, 2.0, 10.0)
    28.0
    """
    return holding_force(mass, radius, angular_velocity, -0.5 * math.pi, gravity)[1]


def force_over_hump(mass: float, radius: float, speed: float, gravity: float) -> float:
    """Return the upward push of the road at the top of a hump, in N: m (g - v^2/r).

    ``speed`` in m/s there, ``radius`` of the road's curve above zero. Negative where the road would have to pull: it
    cannot, and the wheels leave it.

    >>> force_over_hump(2.0, 10.0, 5.0, 10.0)
    15.0
    """
    return weight(mass, gravity) - mass * centripetal_acceleration_from_speed(speed, radius)


def force_through_dip(mass: float, radius: float, speed: float, gravity: float) -> float:
    """Return the upward push of the road at the bottom of a dip, in N: m (g + v^2/r).

    >>> force_through_dip(2.0, 10.0, 5.0, 10.0)
    25.0
    """
    return weight(mass, gravity) + mass * centripetal_acceleration_from_speed(speed, radius)


def weightless_speed(radius: float, gravity: float) -> float:
    """Return the speed, in m/s, at which the weight alone bends the path over the top: sqrt(r g).

    >>> weightless_speed(10.0, 10.0)
    10.0
    """
    return math.sqrt(positive("radius", radius, "m") * positive("gravity", gravity, "m/s2"))


def speed_round_circle(lowest_speed: float, radius: float, angle: float, gravity: float) -> float:
    """Return the speed, in m/s, at ``angle`` (rad) from the lowest point: sqrt(v^2 - 2 g r (1 - cos(angle))).

    ``lowest_speed`` is that at the lowest point. Nothing drives it and nothing is lost. Raises AbsentError where it
    does not get so high.

    >>> round(speed_round_circle(7.0, 1.0, math.pi, 10.0), 12)
    3.0
    """
    v = not_negative("lowest_speed", lowest_speed, "m/s")
    half_sine = math.sin(0.5 * finite("angle", angle))
    lost = 2.0 * half_sine * weightless_speed(radius, gravity)
    if v < abs(lost):
        raise AbsentError("It is not fast enough at the bottom to get so high.")
    return math.sqrt((v - lost) * (v + lost))


def inward_force_round_circle(mass: float, radius: float, lowest_speed: float, angle: float, gravity: float) -> float:
    """Return the force of track, thread or rod towards the centre, in N: m (v_low^2/r - 2 g + 3 g cos(angle)).

    Negative where it must push outwards, which only a rod can. Source: energy, and the weight's part along the radius.

    >>> inward_force_round_circle(2.0, 1.0, 7.0, math.pi, 10.0)
    -2.0
    """
    inward = centripetal_acceleration_from_speed(not_negative("lowest_speed", lowest_speed, "m/s"), radius)
    carried = weight(mass, gravity)
    return mass * inward + carried * (3.0 * math.cos(finite("angle", angle)) - 2.0)


def lowest_speed(radius: float, angle: float, gravity: float) -> float:
    """Return the speed, in m/s, at the lowest point after a start from rest at ``angle`` (rad): sqrt(2 g r (1 - cos)).

    >>> round(lowest_speed(0.45, 0.5 * math.pi, 10.0), 12)
    3.0
    """
    half_sine = math.sin(0.5 * finite("angle", angle))
    return 2.0 * abs(half_sine) * weightless_speed(radius, gravity)


def leaving_angle(lowest_speed: float, radius: float, gravity: float) -> float:
    """Return the angle from the lowest point, in rad, at which a body on a thread or in a track leaves the circle.

    cos(angle) = (2 - v^2/(g r))/3, from `inward_force_round_circle` = 0. Raises AbsentError where it goes round, or
    swings back below the height of the centre.

    >>> round(math.cos(leaving_angle(math.sqrt(35.0), 1.0, 10.0)), 12)
    -0.5
    """
    ratio = _speed_ratio(lowest_speed, radius, gravity)
    if ratio <= 2.0:
        raise AbsentError("It swings back below the height of the centre and stays on the circle.")
    if ratio >= 5.0:
        raise AbsentError("It goes all the way round and never leaves the circle.")
    return math.acos((2.0 - ratio) / 3.0)


def turning_angle(lowest_speed: float, radius: float, gravity: float) -> float:
    """Return the angle from the lowest point, in rad, at which it stops and swings back: cos = 1 - v^2/(2 g r).

    Raises AbsentError where a body held on the circle goes all the way round.

    >>> round(turning_angle(math.sqrt(20.0), 1.0, 10.0) / math.pi, 12)
    0.5
    """
    ratio = _speed_ratio(lowest_speed, radius, gravity)
    if ratio >= 4.0:
        raise AbsentError("It goes all the way round and does not swing back.")
    return math.acos(1.0 - 0.5 * ratio)


def _speed_ratio(lowest_speed: float, radius: float, gravity: float) -> float:
    return (not_negative("lowest_speed", lowest_speed, "m/s") / weightless_speed(radius, gravity)) ** 2
