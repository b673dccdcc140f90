"""Turning with constant angular acceleration.

Signs: angles, rates and angular accelerations are positive anticlockwise; opposite signs of rate and
angular acceleration mean slowing down. Angles are in rad, rates in rad/s, times in s; what lies outside its range
raises OutOfDomainError (see `domain`).
Source of the formulas: from the definitions of rate and angular acceleration, unless a function says otherwise.
"""

import math

from crankpin.mechanics.domain import finite, not_negative, positive, zero_or_positive
from crankpin.mechanics.errors import AbsentError, OutOfDomainError
from crankpin.mechanics.exact import difference_of_products


def angular_acceleration(start_rate: float, end_rate: float, time: float) -> float:
    """Return alpha = (omega - omega_0) / t, in rad/s2, for a time above zero.

    >>> angular_acceleration(2.0, 10.0, 4.0)
    2.0
    """
    change = finite("end_rate", end_rate) - finite("start_rate", start_rate)
    return change / positive("time", time, "s")


def angular_acceleration_of_rim(tangential_acceleration: float, radius: float) -> float:
    """Return alpha = a_t / r, in rad/s2, of a wheel whose rim gains speed at a_t (m/s2).

    >>> angular_acceleration_of_rim(3.0, 0.5)
    6.0
    """
    return finite("tangential_acceleration", tangential_acceleration) / positive("radius", radius, "m")


def rate_after(start_rate: float, angular_acceleration: float, time: float) -> float:
    """Return omega = omega_0 + alpha t, in rad/s.

    >>> rate_after(2.0, 4.0, 10.0)
    42.0
    """
    gained = finite("angular_acceleration", angular_acceleration) * finite("time", time)
    return finite("start_rate", start_rate) + gained


def angle_after(start_rate: float, angular_acceleration: float, time: float) -> float:
    """Return theta = omega_0 t + alpha t^2 / 2, in rad, from the angle at the start.

    >>> angle_after(2.0, 4.0, 10.0)
    220.0
    """
    halfway = rate_after(start_rate, angular_acceleration, 0.5 * finite("time", time))
    return halfway * time


def rate_through(start_rate: float, angular_acceleration: float, angle: float) -> float:
    """Return the size of the rate, in rad/s, after turning through an angle: sqrt(omega_0^2 + 2 alpha theta).

    Raises AbsentError where the turning stops and goes back before that angle.

    >>> rate_through(3.0, 2.0, 4.0)
    5.0
    """
    omega, alpha = finite("start_rate", start_rate), finite("angular_acceleration", angular_acceleration)
    square = difference_of_products((omega, omega), (-2.0, alpha, finite("angle", angle)))
    if square < 0.0:
        raise AbsentError("It comes to rest and turns back before it reaches that angle.")
    return math.sqrt(square)


def time_through(start_rate: float, angular_acceleration: float, angle: float) -> float:
    """Return the first time, in s, at which an angle of zero or more has been turned through.

    The rate at the start is zero or more. Raises AbsentError where that angle is never reached.

    >>> time_through(3.0, 2.0, 4.0)
    1.0
    """
    zero_or_positive("start_rate", start_rate, "rad/s")
    if not_negative("angle", angle, "rad") == 0.0:
        return 0.0
    both_rates = start_rate + rate_through(start_rate, angular_acceleration, angle)
    if both_rates == 0.0:
        raise AbsentError("Nothing turns, so that angle is never reached.")
    return 2.0 * angle / both_rates


def stopping_time(start_rate: float, angular_acceleration: float) -> float:
    """Return the time, in s, to come to rest: -omega_0 / alpha.

    Raises OutOfDomainError unless the angular acceleration opposes the turning.

    >>> stopping_time(220.0, -300.0) == 220.0 / 300.0
    True
    """
    _check_slowing(start_rate, angular_acceleration)
    return -start_rate / angular_acceleration


def stopping_angle(start_rate: float, angular_acceleration: float) -> float:
    """Return the angle, in rad, turned through in coming to rest: -omega_0^2 / 2 alpha, signed as the rate.

    >>> stopping_angle(4.0, -2.0)
    4.0
    """
    return 0.5 * start_rate * stopping_time(start_rate, angular_acceleration)


def tangential_acceleration(radius: float, angular_acceleration: float) -> float:
    """Return a_t = r alpha, in m/s2, along the circle.

    >>> tangential_acceleration(0.5, 6.0)
    3.0
    """
    return not_negative("radius", radius, "m") * finite("angular_acceleration", angular_acceleration)


def total_acceleration(inward: float, tangential: float) -> tuple[float, float]:
    """Return the size of the whole acceleration (m/s2) and its angle from the inward direction (rad).

    The angle has the sign of the tangential part.

    >>> size, angle = total_acceleration(4.0, -3.0)
    >>> size, round(math.tan(angle), 12)
    (5.0, -0.75)
    """
    inward = not_negative("inward", inward, "m/s2")
    return math.hypot(inward, finite("tangential", tangential)), math.atan2(tangential, inward)


def _check_slowing(start_rate: float, angular_acceleration: float) -> None:
    finite("start_rate", start_rate)
    if not start_rate * angular_acceleration < 0.0:
        required = "opposite in sign to the rate at the start"
        raise OutOfDomainError("angular_acceleration", required, angular_acceleration)
    positive("angular_acceleration", abs(angular_acceleration), "rad/s2")
