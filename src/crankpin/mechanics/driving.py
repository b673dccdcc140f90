"""A mass on a damped spring under a steady push and pull: m x'' + b x' + k x = F_0 cos(omega t).

``mass`` m in kg and ``stiffness`` k in N/m are above zero; ``damping`` b in kg/s, ``force`` F_0 in N (the
amplitude of the drive) and ``angular_frequency`` omega in rad/s are zero or above; any other value raises
OutOfDomainError. The same equation holds for any constants of one consistent system.
Source of the formulas: from that equation, unless a function says otherwise.
"""

import cmath
import math
from dataclasses import dataclass

from crankpin.mechanics.damping import (
    CRITICAL_TOLERANCE,
    MAX_PHASE,
    Motion,
    critical_damping,
    damped_motion,
    natural_angular_frequency,
)
from crankpin.mechanics.domain import not_negative, positive, zero_or_positive
from crankpin.mechanics.errors import AbsentError, OutOfDomainError
from crankpin.mechanics.exact import difference_of_products

_ENDLESS = (
    "Without damping and driven exactly at its own frequency, the swing grows without end: there is no steady state."
)


@dataclass(frozen=True, slots=True)
class HalfPowerBand:
    """The two angular frequencies in rad/s at which the mean power is half its greatest value."""

    lower: float
    upper: float


# The steady state


def amplitude(mass: float, stiffness: float, damping: float, force: float, angular_frequency: float) -> float:
    """Return the steady amplitude in m, F_0/sqrt((k - m omega^2)^2 + (b omega)^2).

    Raises AbsentError at resonance without damping.

    >>> amplitude(1.0, 16.0, 0.5, 2.0, 4.0)
    1.0
    """
    return not_negative("force", force, "N") / _opposition(mass, stiffness, damping, angular_frequency)


def phase_lag(mass: float, stiffness: float, damping: float, angular_frequency: float) -> float:
    """Return by how many radians, 0 to pi, the displacement lags behind the force.

    pi/2 at omega_0 for any damping; without damping 0 below omega_0 and pi above, and AbsentError at it.

    >>> phase_lag(1.0, 16.0, 0.5, 4.0) == math.pi / 2
    True
    """
    _opposition(mass, stiffness, damping, angular_frequency)
    return math.atan2(damping * angular_frequency, _net_stiffness(mass, stiffness, angular_frequency))


def velocity_amplitude(mass: float, stiffness: float, damping: float, force: float, angular_frequency: float) -> float:
    """Return the steady amplitude of the velocity in m/s, omega times `amplitude`.

    Greatest at omega_0, where it is F_0/b.
    """
    return angular_frequency * amplitude(mass, stiffness, damping, force, angular_frequency)


def velocity_phase_lag(mass: float, stiffness: float, damping: float, angular_frequency: float) -> float:
    """Return by how many radians, -pi/2 to pi/2, the velocity lags behind the force.

    Zero at omega_0, where force and velocity keep step and the power is greatest; negative (ahead) below
    it. `phase_lag` less pi/2, digits kept near omega_0. Errors as `phase_lag`.
    """
    _opposition(mass, stiffness, damping, angular_frequency)
    net = _net_stiffness(mass, stiffness, angular_frequency)
    return math.atan2(-net, damping * angular_frequency)


def mean_power(mass: float, stiffness: float, damping: float, force: float, angular_frequency: float) -> float:
    """Return the mean power in W that the drive gives and the damping takes, b (omega A)^2/2.

    >>> mean_power(1.0, 16.0, 0.5, 2.0, 4.0)
    4.0
    """
    speed = velocity_amplitude(mass, stiffness, damping, force, angular_frequency)
    return damping * speed * speed / 2


def static_displacement(stiffness: float, force: float) -> float:
    """Return F_0/k in m: how far a steady force moves the mass, and the amplitude of a very slow drive."""
    return not_negative("force", force, "N") / positive("stiffness", stiffness, "N/m")


def support_force(stiffness: float, support_amplitude: float) -> float:
    """Return the drive F_0 = k a in N of a spring whose far end is moved to and fro by ``a`` m.

    A crank pin of radius ``a`` moves it so when the connecting rod is long. Damping must act against the
    ground, not across the spring.

    >>> support_force(20.0, 0.01)
    0.2
    """
    return positive("stiffness", stiffness, "N/m") * not_negative("support_amplitude", support_amplitude, "m")


def steady_motion(
    mass: float, stiffness: float, damping: float, force: float, angular_frequency: float, time: float
) -> Motion:
    """Return the motion at ``time`` s once every trace of the start is gone, x = A cos(omega t - lag).

    ``time`` in s on the drive's clock, zero at a peak of the force. Errors as `amplitude`.
    """
    swing = amplitude(mass, stiffness, damping, force, angular_frequency)
    angle = _phase(angular_frequency, time) - phase_lag(mass, stiffness, damping, angular_frequency)
    return Motion(swing * math.cos(angle), -swing * angular_frequency * math.sin(angle))


# Resonance


def peak_angular_frequency(mass: float, stiffness: float, damping: float) -> float:
    """Return the angular frequency in rad/s of the greatest amplitude, sqrt(omega_0^2 - 2 gamma^2).

    Raises AbsentError when zeta >= 1/sqrt(2) (b^2 >= 2mk, within CRITICAL_TOLERANCE): the amplitude
    then only falls as the drive gets faster.

    >>> peak_angular_frequency(1.0, 18.0, 2.0)
    4.0
    """
    critical_damping(mass, stiffness)
    zero_or_positive("damping", damping, "kg/s")
    gap = difference_of_products((2.0, mass, stiffness), (damping, damping))
    if gap <= CRITICAL_TOLERANCE * 2 * mass * stiffness:
        raise AbsentError(
            "With a damping ratio of 1/√2 (0.707) or more there is no resonance peak: "
            "the amplitude is greatest for a very slow drive and only falls as the drive gets faster."
        )
    return math.sqrt(gap / 2) / mass


def peak_amplitude(mass: float, stiffness: float, damping: float, force: float) -> float:
    """Return the amplitude in m at `peak_angular_frequency`, F_0/(b omega_d).

    Raises AbsentError where there is no peak, and without damping (the peak has no limit).

    >>> peak_amplitude(1.0, 17.0, 2.0, 16.0)
    2.0
    """
    peak_angular_frequency(mass, stiffness, damping)
    not_negative("force", force, "N")
    if damping == 0:
        raise AbsentError("Without damping the resonance peak has no limit.")
    gap = difference_of_products((4.0, mass, stiffness), (damping, damping))
    return force / damping * (2 * mass / math.sqrt(gap))


def bandwidth(mass: float, damping: float) -> float:
    """Return the width b/m in rad/s between the two half-power frequencies, omega_0/Q.

    >>> bandwidth(0.5, 0.25)
    0.5
    """
    return zero_or_positive("damping", damping, "kg/s") / positive("mass", mass, "kg")


def half_power_band(mass: float, stiffness: float, damping: float) -> HalfPowerBand:
    """Return where the mean power is half its greatest value, sqrt(omega_0^2 + gamma^2) -+ gamma.

    Exact for any damping; the lower is omega_0^2 over the upper, so that no digits are lost.

    >>> half_power_band(1.0, 16.0, 6.0)
    HalfPowerBand(lower=2.0, upper=8.0)
    """
    omega_0 = natural_angular_frequency(mass, stiffness)
    gamma = bandwidth(mass, damping) / 2
    upper = math.hypot(omega_0, gamma) + gamma
    return HalfPowerBand(omega_0 / upper * omega_0, upper)


def quality_factor_from_width(centre: float, width: float) -> float:
    """Return Q from a resonance curve's ``centre`` and half-power ``width`` in one unit, centre/width.

    >>> quality_factor_from_width(100.0, 0.5)
    200.0
    """
    return positive("centre", centre, "rad/s") / positive("width", width, "rad/s")


# The whole motion, start included


def driven_motion(
    mass: float,
    stiffness: float,
    damping: float,
    force: float,
    angular_frequency: float,
    time: float,
    position: float = 0.0,
    velocity: float = 0.0,
) -> Motion:
    """Return the motion ``time`` s (zero or above) after the start at ``position`` and ``velocity``.

    The drive is F_0 cos(omega t) with its peak at the start. Right for every damping, at critical
    damping and at resonance without damping as well, where the swing grows as F_0 t/(2 m omega).
    Source: the second divided difference of exp(p t) over i omega and the two free roots, which is the
    Laplace transform's answer from rest, plus `damping.damped_motion`.

    >>> round(driven_motion(1.0, 16.0, 0.0, 8.0, 4.0, math.pi / 8).position, 6)
    0.392699
    """
    free = damped_motion(mass, stiffness, damping, position, velocity, time)
    not_negative("angular_frequency", angular_frequency, "rad/s")
    push = not_negative("force", force, "N") / mass
    if time == 0 or force == 0:
        return free
    drive = complex(0, _phase(angular_frequency, time))
    roots = _free_phases(mass, stiffness, damping, time)
    twice = _second_difference(drive, *roots)
    once = _first_difference(*roots)
    reach = push * time * time
    return Motion(
        free.position + reach * twice.real,
        free.velocity + push * time * (once + drive * twice).real,
    )


def _free_phases(mass: float, stiffness: float, damping: float, time: float) -> tuple[complex, complex]:
    """Return the two roots of m p^2 + b p + k = 0 times ``time``."""
    gap = difference_of_products((4.0, mass, stiffness), (damping, damping))
    split, gamma = math.sqrt(abs(gap)) / mass / 2, damping / mass / 2
    if gap > 0:
        return complex(-gamma * time, split * time), complex(-gamma * time, -split * time)
    fast = gamma + split
    return complex(-stiffness / mass / fast * time), complex(-fast * time)


def _first_difference(a: complex, b: complex) -> complex:
    """Return (exp a - exp b)/(a - b) for real parts of zero or below, smooth down to a = b."""
    half = (a - b) / 2
    if abs(half) >= 0.5:
        return (cmath.exp(a) - cmath.exp(b)) / (a - b)
    square = half * half
    term = total = 1 + 0j
    for n in range(1, 9):  # sinh(half)/half
        term *= square / (2 * n * (2 * n + 1))
        total += term
    return cmath.exp((a + b) / 2) * total


def _second_difference(a: complex, b: complex, c: complex) -> complex:
    """Return exp's second divided difference over a, b, c, in any order, smooth as they meet."""
    pairs = ((abs(a - b), a, b, c), (abs(a - c), a, c, b), (abs(b - c), b, c, a))
    apart, one, other, middle = max(pairs, key=lambda pair: pair[0])
    if apart >= 1:
        return (_first_difference(one, middle) - _first_difference(middle, other)) / (one - other)
    centre = (a + b + c) / 3
    return cmath.exp(centre) * _close_difference(a - centre, b - centre, c - centre)


def _close_difference(a: complex, b: complex, c: complex) -> complex:
    """Return the sum of h_n(a, b, c)/(n + 2)!, h_n the complete symmetric polynomials; sizes below 1."""
    powers_a, powers_ab, powers_abc = 1 + 0j, 1 + 0j, 1 + 0j
    factorial, total = 2.0, 0.5 + 0j
    for n in range(1, 20):
        powers_a *= a
        powers_ab = powers_ab * b + powers_a
        powers_abc = powers_abc * c + powers_ab
        factorial *= n + 2
        total += powers_abc / factorial
    return total


def _opposition(mass: float, stiffness: float, damping: float, angular_frequency: float) -> float:
    """Return the force in N per metre of steady amplitude."""
    net = _net_stiffness(mass, stiffness, angular_frequency)
    opposition = math.hypot(net, zero_or_positive("damping", damping, "kg/s") * angular_frequency)
    if opposition == 0:
        raise AbsentError(_ENDLESS)
    return opposition


def _net_stiffness(mass: float, stiffness: float, angular_frequency: float) -> float:
    """Return k - m omega^2 in N/m, rounded once."""
    positive("mass", mass, "kg")
    positive("stiffness", stiffness, "N/m")
    omega = not_negative("angular_frequency", angular_frequency, "rad/s")
    return difference_of_products((stiffness,), (mass, omega, omega))


def _phase(angular_frequency: float, time: float) -> float:
    angle = angular_frequency * time
    if not abs(angle) <= MAX_PHASE:
        allowed = f"within {MAX_PHASE / angular_frequency:.3g} s of zero (1e10 rad of the drive)"
        raise OutOfDomainError("time", allowed, time)
    return angle
