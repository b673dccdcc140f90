"""Simple harmonic motion: x = A cos(omega t + phi), its velocity, acceleration, start and passings.

The motion is the projection of a circle of radius A turning at omega. The amplitude is not negative,
the angular frequency is above zero, and the phase is the circle's angle at t = 0. Positions are in m from
equilibrium, times in s, phases in rad; what lies outside its range raises OutOfDomainError (see `domain`).
Near the largest phases the last digits go: about one part in 1e16 of omega t.
Source of the formulas: from the projection and its derivatives, unless a function says otherwise.
"""

import math
import sys
from dataclasses import dataclass

from crankpin.mechanics.domain import finite, not_negative, positive
from crankpin.mechanics.errors import AbsentError, OutOfDomainError

_ROUNDING = 4.0 * sys.float_info.epsilon


@dataclass(frozen=True, slots=True)
class Passing:
    """One passing of a position: time (s), velocity (m/s) and acceleration (m/s2) there."""

    time: float
    velocity: float
    acceleration: float


def phase_angle(angular_frequency: float, phase: float, time: float) -> float:
    """Return theta = omega t + phi, in rad, not reduced to one turn.

    >>> phase_angle(2.0, 0.25, 1.5)
    3.25
    """
    return _omega(angular_frequency) * finite("time", time) + finite("phase", phase)


def position(amplitude: float, angular_frequency: float, phase: float, time: float) -> float:
    """Return x = A cos(omega t + phi), in m from equilibrium.

    >>> position(0.12, 3.0, 0.0, 0.0)
    0.12
    """
    theta = phase_angle(angular_frequency, phase, time)
    return _amplitude(amplitude) * math.cos(theta)


def velocity(amplitude: float, angular_frequency: float, phase: float, time: float) -> float:
    """Return v = -A omega sin(omega t + phi), in m/s, positive towards positive x.

    >>> round(velocity(0.5, 2.0, math.pi / 2, 0.0), 12)
    -1.0
    """
    theta = phase_angle(angular_frequency, phase, time)
    return -greatest_speed(amplitude, angular_frequency) * math.sin(theta)


def acceleration(amplitude: float, angular_frequency: float, phase: float, time: float) -> float:
    """Return a = -A omega^2 cos(omega t + phi), in m/s2; it always points to equilibrium.

    >>> acceleration(0.5, 2.0, 0.0, 0.0)
    -2.0
    """
    theta = phase_angle(angular_frequency, phase, time)
    return -greatest_acceleration(amplitude, angular_frequency) * math.cos(theta)


def greatest_speed(amplitude: float, angular_frequency: float) -> float:
    """Return A omega, in m/s: the speed in passing equilibrium, and the pin's speed on the circle.

    >>> greatest_speed(0.5, 2.0)
    1.0
    """
    return _amplitude(amplitude) * _omega(angular_frequency)


def greatest_acceleration(amplitude: float, angular_frequency: float) -> float:
    """Return A omega^2, in m/s2: the size of the acceleration at either turning point.

    >>> greatest_acceleration(0.5, 2.0)
    2.0
    """
    return greatest_speed(amplitude, angular_frequency) * angular_frequency


def acceleration_at(position: float, angular_frequency: float) -> float:
    """Return a = -omega^2 x, in m/s2: the law that defines simple harmonic motion.

    >>> acceleration_at(0.25, 2.0)
    -1.0
    """
    omega = _omega(angular_frequency)
    return -omega * omega * finite("position", position)


def speed_at(amplitude: float, angular_frequency: float, position: float) -> float:
    """Return the speed at a position, in m/s: |v| = omega sqrt(A^2 - x^2).

    Raises OutOfDomainError where the position lies beyond the amplitude.

    >>> round(speed_at(0.5, 2.0, 0.3), 12)
    0.8
    """
    _within_reach(amplitude, position)
    return _omega(angular_frequency) * _leg(amplitude, position)


def position_at_speed(amplitude: float, angular_frequency: float, speed: float) -> float:
    """Return the distance from equilibrium, in m, at which the speed is this: sqrt(A^2 - (v/omega)^2).

    Raises OutOfDomainError where the speed is above the greatest, A omega.

    >>> round(position_at_speed(0.5, 2.0, 0.6), 12)
    0.4
    """
    most = greatest_speed(amplitude, angular_frequency)
    if not abs(speed) <= most:
        raise OutOfDomainError("speed", f"at most the greatest speed, A omega = {most!r} m/s", speed)
    return _leg(amplitude, min(abs(speed) / angular_frequency, amplitude))  # rounding may end just above it


def amplitude_for_acceleration(acceleration: float, angular_frequency: float) -> float:
    """Return the amplitude, in m, whose greatest acceleration is this: A = a_max / omega^2.

    >>> amplitude_for_acceleration(2.0, 2.0)
    0.5
    """
    omega = _omega(angular_frequency)
    return not_negative("acceleration", acceleration, "m/s2") / omega / omega


def amplitude_from_start(angular_frequency: float, position: float, velocity: float) -> float:
    """Return A = sqrt(x0^2 + (v0/omega)^2), in m, of the motion started at x0 with velocity v0.

    >>> amplitude_from_start(2.0, 0.3, 0.8)
    0.5
    """
    omega = _omega(angular_frequency)
    return math.hypot(finite("position", position), finite("velocity", velocity) / omega)


def phase_from_start(angular_frequency: float, position: float, velocity: float) -> float:
    """Return phi in (-pi, pi], in rad, with x0 = A cos(phi) and v0 = -A omega sin(phi).

    Raises AbsentError where the mass is left at rest at equilibrium: no motion, so no phase.

    >>> phase_from_start(2.0, -0.1, 0.0) == math.pi
    True
    """
    sine_leg = 0.0 - finite("velocity", velocity) / _omega(angular_frequency)
    if finite("position", position) == 0.0 and sine_leg == 0.0:
        raise AbsentError("Left at rest at equilibrium nothing moves, so there is no phase.")
    phi = math.atan2(sine_leg, position)
    return math.pi if phi <= -math.pi else phi


def peak_time(angular_frequency: float, phase: float) -> float:
    """Return the first time t >= 0, in s, at which x = +A; a peak at t = 0 to within rounding is at 0.

    >>> peak_time(2.0, -1.0)
    0.5
    >>> peak_time(2.0, 0.0)
    0.0
    """
    return _ahead(-finite("phase", phase), _phase_rounding(phase)) / _omega(angular_frequency)


def passing_times(amplitude: float, angular_frequency: float, phase: float, position: float) -> tuple[Passing, Passing]:
    """Return the first two passings of a position with t >= 0, in order of time.

    At a turning point the mass passes once a period, so the two are one period apart. Where the
    position at t = 0 is the one asked for, to within rounding, the first passing is at t = 0.

    Raises OutOfDomainError where the amplitude or angular frequency is not above zero, or where the
    position is out of reach; the message names the amplitude.

    >>> first, second = passing_times(0.2, math.pi, 0.0, 0.0)
    >>> round(first.time, 12), round(second.time, 12)
    (0.5, 1.5)
    """
    positive("amplitude", amplitude, "m")
    omega = _omega(angular_frequency)
    _within_reach(amplitude, position)
    leg = _leg(amplitude, position)
    inward = math.atan2(leg, position)
    slack = _slack(amplitude, leg, finite("phase", phase))
    a = acceleration_at(position, omega)
    going_down = Passing(_ahead(inward - phase, slack) / omega, 0.0 - omega * leg, a)
    if leg == 0.0:
        return going_down, Passing(going_down.time + math.tau / omega, 0.0, a)
    going_up = Passing(_ahead(-inward - phase, slack) / omega, omega * leg, a)
    first, second = sorted((going_down, going_up), key=lambda passing: passing.time)
    return first, second


def _omega(angular_frequency: float) -> float:
    return positive("angular_frequency", angular_frequency, "rad/s")


def _amplitude(amplitude: float) -> float:
    return not_negative("amplitude", amplitude, "m")


def _within_reach(amplitude: float, position: float) -> None:
    if not abs(position) <= _amplitude(amplitude):
        allowed = f"within the amplitude A, that is from {-amplitude!r} m to {amplitude!r} m"
        raise OutOfDomainError("position", allowed, position)


def _leg(hypotenuse: float, other: float) -> float:
    """Return sqrt(h^2 - o^2) without losing digits where the two are nearly equal."""
    return math.sqrt(hypotenuse - abs(other)) * math.sqrt(hypotenuse + abs(other))


def _ahead(angle: float, slack: float) -> float:
    """Return the angle in [0, 2 pi) still to turn; one that is behind by at most ``slack`` is no angle."""
    reduced = math.remainder(angle, math.tau)
    if -slack <= reduced <= 0.0:
        return 0.0
    return reduced if reduced > 0.0 else reduced + math.tau


def _slack(amplitude: float, leg: float, phase: float) -> float:
    """Return the angle by which rounding of the position and of the phase can shift a passing."""
    least_leg = amplitude * math.sqrt(_ROUNDING)
    return _phase_rounding(phase) + _ROUNDING * amplitude / max(leg, least_leg)


def _phase_rounding(phase: float) -> float:
    return _ROUNDING * max(1.0, abs(phase))
