"""Uniform circular motion: rates of turning, speed and acceleration on a circle of fixed radius.

Angles grow anticlockwise, so a negative angular velocity turns clockwise. Radii and the like are above zero or
not negative, as each function says; what lies outside raises OutOfDomainError (see `domain`).
Source of the formulas: from the definitions, unless a function says otherwise.
"""

import math
from dataclasses import dataclass

from crankpin.mechanics.constants import STANDARD_GRAVITY
from crankpin.mechanics.domain import finite, not_negative, positive
from crankpin.mechanics.errors import AbsentError


def frequency(angular_frequency: float) -> float:
    """Return the turns made in one second, in Hz; never negative, whichever way the circle turns.

    f = |omega| / 2 pi, from its definition.

    >>> round(frequency(2 * math.pi), 12)
    1.0
    """
    return abs(finite("angular_frequency", angular_frequency)) / math.tau


def period(angular_frequency: float) -> float:
    """Return the duration of one turn, in s: T = 2 pi / |omega|, from its definition.

    Raises AbsentError where nothing turns.

    >>> round(period(-math.pi), 12)
    2.0
    """
    if finite("angular_frequency", angular_frequency) == 0.0:
        raise AbsentError("What does not turn never completes a turn, so it has no period.")
    return math.tau / positive("angular_frequency", abs(angular_frequency), "rad/s")


def angular_frequency_from_frequency(frequency: float) -> float:
    """Return omega = 2 pi f, in rad/s, for f in Hz, with f's sign.

    >>> round(angular_frequency_from_frequency(0.5), 4)
    3.1416
    """
    return math.tau * finite("frequency", frequency)


def angular_frequency_from_period(period: float) -> float:
    """Return omega = 2 pi / T, in rad/s, for a period T above zero, in s.

    Raises OutOfDomainError for a period of zero or less.

    >>> round(angular_frequency_from_period(2.0), 4)
    3.1416
    """
    return math.tau / positive("period", period, "s")


def angular_velocity_from_speed(speed: float, radius: float) -> float:
    """Return omega = v / r, in rad/s, for a speed v along the circle in m/s and a radius above zero in m.

    >>> angular_velocity_from_speed(3.0, 1.5)
    2.0
    """
    return finite("speed", speed) / positive("radius", radius, "m")


def rotational_frequency_rpm(angular_frequency: float) -> float:
    """Return the turns made in one minute, never negative: n = 60 |omega| / 2 pi.

    >>> round(rotational_frequency_rpm(math.pi), 12)
    30.0
    """
    return 60.0 * frequency(angular_frequency)


def turns(angle: float) -> float:
    """Return the rotation N = theta / 2 pi: how many turns an angle in rad makes, with its sign.

    >>> turns(math.pi)
    0.5
    """
    return finite("angle", angle) / math.tau


def rolled_turns(distance: float, radius: float) -> float:
    """Return how many turns a wheel of this radius makes while it rolls this distance without slipping.

    N = s / 2 pi r, from its definition; both in m, radius above zero.

    >>> round(rolled_turns(2 * math.pi, 0.5), 12)
    2.0
    """
    return finite("distance", distance) / (math.tau * positive("radius", radius, "m"))


def angle(angular_velocity: float, time: float, start: float = 0.0) -> float:
    """Return the angle theta = omega t + start, in rad, not reduced to one turn.

    The last digits are lost as turns add up: about one part in 1e16 of the whole angle.

    >>> angle(2.0, 3.0, 0.5)
    6.5
    """
    return finite("angular_velocity", angular_velocity) * finite("time", time) + finite("start", start)


def within_turn(angle: float) -> float:
    """Return the same direction as an angle in (-pi, pi].

    >>> round(within_turn(3.5 * math.pi) / math.pi, 12)
    -0.5
    >>> within_turn(-math.pi) == math.pi
    True
    """
    reduced = math.remainder(finite("angle", angle), math.tau)
    return math.pi if reduced <= -math.pi else reduced


def arc_length(radius: float, angle: float) -> float:
    """Return the way along the circle, in m, with the angle's sign: s = r theta.

    >>> arc_length(0.5, 3.0)
    1.5
    """
    return not_negative("radius", radius, "m") * finite("angle", angle)


def rim_speed(radius: float, angular_velocity: float) -> float:
    """Return the speed along the circle, in m/s, never negative: v = r |omega|.

    Radius in m, zero or more. From the definition of angular measure.

    >>> rim_speed(0.2, -5.0)
    1.0
    """
    return not_negative("radius", radius, "m") * abs(finite("angular_velocity", angular_velocity))


def centripetal_acceleration(radius: float, angular_velocity: float) -> float:
    """Return the acceleration towards the centre, in m/s2: a_c = r omega^2.

    Holds at every instant, also while the rate changes (then a tangential part is added).
    Source: OpenStax, University Physics 1, section 4.4 (from memory).

    >>> centripetal_acceleration(0.5, 4.0)
    8.0
    """
    omega = finite("angular_velocity", angular_velocity)
    return not_negative("radius", radius, "m") * omega * omega


def centripetal_acceleration_from_speed(speed: float, radius: float) -> float:
    """Return the acceleration towards the centre a_c = v^2 / r, in m/s2; speed in m/s, radius above zero in m.

    >>> centripetal_acceleration_from_speed(6.0, 4.0)
    9.0
    """
    v = finite("speed", speed)
    return v * v / positive("radius", radius, "m")


def angular_speed_from_acceleration(acceleration: float, radius: float) -> float:
    """Return the rate, in rad/s, at which the acceleration towards the centre is this: sqrt(a_c / r).

    >>> angular_speed_from_acceleration(8.0, 0.5)
    4.0
    """
    return math.sqrt(not_negative("acceleration", acceleration, "m/s2") / positive("radius", radius, "m"))


def gravity_ratio(acceleration: float, gravity: float = STANDARD_GRAVITY) -> float:
    """Return an acceleration as a multiple of ``gravity`` (standard gravity unless given), a pure number.

    >>> gravity_ratio(19.6133)
    2.0
    """
    return finite("acceleration", acceleration) / positive("gravity", gravity, "m/s2")


@dataclass(frozen=True, slots=True)
class PlaneMotion:
    """Position (m), velocity (m/s) and acceleration (m/s2) in the plane of the circle, from its centre."""

    x: float
    y: float
    v_x: float
    v_y: float
    a_x: float
    a_y: float


def plane_motion(radius: float, angular_velocity: float, angle: float) -> PlaneMotion:
    """Return position, velocity and acceleration of a point on the circle at an angle from the x axis.

    r = R (cos theta, sin theta); v = R omega (-sin theta, cos theta); a = -omega^2 r. ``radius`` in m (zero or
    more), ``angular_velocity`` in rad/s (steady), ``angle`` in rad. Source: r differentiated twice.

    >>> plane_motion(2.0, 3.0, 0.0)
    PlaneMotion(x=2.0, y=0.0, v_x=-0.0, v_y=6.0, a_x=-18.0, a_y=-0.0)
    """
    r = not_negative("radius", radius, "m")
    omega = finite("angular_velocity", angular_velocity)
    c, s = math.cos(finite("angle", angle)), math.sin(angle)
    x, y = r * c, r * s
    return PlaneMotion(x, y, -omega * y, omega * x, -omega * omega * x, -omega * omega * y)
