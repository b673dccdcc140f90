"""Pendulums: a bob on a thread, a rigid body on a pivot, a body on a twisted wire.

Angles are in radians from the vertical, positive to one side; the clock starts at the release, at
rest at the angle ``amplitude``. Air, friction and the thread's mass are left out.
"""

import math
from dataclasses import dataclass

from crankpin.mechanics.constants import DAY
from crankpin.mechanics.domain import finite, not_negative, positive
from crankpin.mechanics.errors import AbsentError, OutOfDomainError

_MAX_ROUNDS = 40  # the mean doubles its correct digits each round; 8 rounds serve 179.9999 degrees


@dataclass(frozen=True, slots=True)
class Swing:
    """Where a pendulum is in its swing: ``angle`` in rad, ``angular_velocity`` in rad/s."""

    angle: float
    angular_velocity: float


# The thread pendulum at small angle


def small_swing_period(length: float, gravity: float) -> float:
    """Return the period in s of a very small swing, T = 2 pi sqrt(L/g).

    ``length`` in m from the pivot to the centre of the bob, ``gravity`` in m/s2, both above zero;
    else OutOfDomainError. Low by theta^2/16 of itself: 0.2 % at 10 degrees, 0.4 % at 15.
    Source: from the equation of motion theta'' = -(g/L) theta.

    >>> round(small_swing_period(1.0, 9.8), 4)
    2.0071
    """
    return math.tau * math.sqrt(positive("length", length, "m") / positive("gravity", gravity, "m/s2"))


def length_for_period(period: float, gravity: float) -> float:
    """Return the thread's length in m whose small swing takes ``period`` s, L = g (T/2 pi)^2.

    >>> round(length_for_period(2.0, 9.8), 4)
    0.9929
    """
    turn = positive("period", period, "s") / math.tau
    return positive("gravity", gravity, "m/s2") * turn * turn


def gravity_from_period(length: float, period: float) -> float:
    """Return the strength of gravity in m/s2 from a small swing's ``period``, g = L (2 pi/T)^2.

    >>> round(gravity_from_period(1.0, 2.0), 4)
    9.8696
    """
    rate = math.tau / positive("period", period, "s")
    return positive("length", length, "m") * rate * rate


# The thread pendulum at any angle


def period_ratio(amplitude: float) -> float:
    """Return how many times longer than a very small swing a swing of ``amplitude`` rad takes.

    T/T_small = 1/M(1, cos(amplitude/2)), M the arithmetic-geometric mean; 0 <= amplitude < pi, else
    OutOfDomainError. At pi the bob would balance upside down for ever.
    Source: the complete elliptic integral by the mean, Abramowitz & Stegun 17.6 (from memory).

    >>> round(period_ratio(math.pi / 2), 12)
    1.180340599016
    """
    mean, _ = _mean(amplitude)
    return 1.0 / mean


def period_excess(amplitude: float) -> float:
    """Return T/T_small - 1 for a swing of ``amplitude`` rad, all digits kept at tiny angles.

    Near amplitude^2/16 for small swings. Domain and source as for `period_ratio`.

    >>> period_excess(1e-6)
    6.25000000000036e-14
    """
    mean, shortfall = _mean(amplitude)
    return shortfall / mean


def swing_period(length: float, gravity: float, amplitude: float) -> float:
    """Return the exact period in s of a swing of ``amplitude`` rad (0 <= amplitude < pi).

    ``length`` in m, ``gravity`` in m/s2. Source: `small_swing_period` times `period_ratio`.

    >>> round(swing_period(1.0, 9.81, math.radians(30)), 12)
    2.040989889519
    """
    return small_swing_period(length, gravity) * period_ratio(amplitude)


def daily_drift(amplitude: float, trimmed_amplitude: float = 0.0) -> float:
    """Return the drift in s/day of a pendulum clock swinging at ``amplitude`` rad.

    The clock is trimmed to keep time at ``trimmed_amplitude`` rad, by default for very small swings.
    Positive: the clock gains (shows later than the true time); negative: it loses. A wider swing
    than the trimmed one is slower, so the clock loses. Both angles in [0, pi), else OutOfDomainError.
    Source: 86400 (T_trimmed/T - 1), from its definition.

    >>> round(daily_drift(math.radians(2)), 2)
    -6.58
    """
    _, shortfall = _mean(amplitude)
    trimmed_mean, trimmed_shortfall = _mean(trimmed_amplitude)
    return DAY * (trimmed_shortfall - shortfall) / trimmed_mean


def clock_drift(period: float, right_period: float) -> float:
    """Return the drift in s/day of a clock whose pendulum takes ``period`` s, not ``right_period`` s.

    Positive: it gains; negative: it loses. Source: 86400 (T_right/T - 1), from its definition.

    >>> clock_drift(2.5, 2.0)
    -17280.0
    """
    positive("right_period", right_period, "s")
    return DAY * (right_period - positive("period", period, "s")) / period


def length_change_for_drift(drift: float) -> float:
    """Return the change of length, as a share of the length, that cures a clock's ``drift`` in s/day.

    Positive: lengthen the pendulum (cures a gain). The clock's period is T_right/(1 + drift/86400) and
    the length goes as its square; ``drift`` above -86400 s/day, else OutOfDomainError.
    Source: from T = 2 pi sqrt(L/g).

    >>> round(length_change_for_drift(5.0), 8)
    0.00011574
    """
    share = finite("drift", drift) / DAY
    if share <= -1.0:
        raise OutOfDomainError("drift", "above -86400 s/day (a clock that stands still)", drift)
    return share * (2.0 + share)


def small_length_change(drift: float) -> float:
    """Return `length_change_for_drift` to first order, 2 drift/86400: the rule of thumb of the bench.

    >>> small_length_change(43.2)
    0.001
    """
    return 2 * finite("drift", drift) / DAY


def swing(length: float, gravity: float, amplitude: float, time: float) -> Swing:
    """Return the angle and the angular velocity at ``time`` s after the release at rest.

    ``amplitude`` in rad, 0 <= amplitude < pi, any size of swing below it. ``time`` may be negative.
    The angle in rad is good to about 1e-15 times the count of periods; past 1e10 rad of phase
    OutOfDomainError, as no digit would be left to trust.
    Source: theta = 2 atan2(k cn u, k'), with u = t sqrt(g/L), k = sin(amplitude/2), k' = cos(amplitude/2);
    from the energy integral by Jacobi's functions, Abramowitz & Stegun 16.4 (from memory).

    >>> swing(1.0, 9.81, math.radians(170), 0.0).angle == math.radians(170)
    True
    """
    rate = math.sqrt(positive("gravity", gravity, "m/s2") / positive("length", length, "m"))
    k, k_other = math.sin(_checked(amplitude) / 2), math.cos(amplitude / 2)
    phase = rate * finite("time", time)
    if abs(phase) > 1e10:
        raise OutOfDomainError("time", f"within {1e10 / rate:.3g} s of the release", time)
    u = math.remainder(phase, math.tau * period_ratio(amplitude))
    sn, cn = _jacobi(u, k_other)
    dn = math.hypot(k_other, k * cn)
    return Swing(2 * math.atan2(k * cn, k_other), -2 * k * k_other * rate * sn / dn)


def amplitude_from_speed(speed: float, length: float, gravity: float) -> float:
    """Return the amplitude in rad of a bob that passes the lowest point at ``speed`` m/s.

    Raises AbsentError if the bob would go over the top. Source: energy, sin(theta/2) = v/(2 sqrt(g L)).

    >>> round(amplitude_from_speed(0.9523809523809523, 1.0, 9.8), 4)
    0.3054
    """
    top = 2 * math.sqrt(positive("gravity", gravity, "m/s2") * positive("length", length, "m"))
    if not_negative("speed", speed, "m/s") >= top:
        raise AbsentError(
            f"At {speed:.4g} m/s the bob goes over the top, so it has no turning angle; "
            f"it swings back below {top:.4g} m/s."
        )
    return 2 * math.asin(speed / top)


def plane_turning_rate(latitude: float, spin: float) -> float:
    """Return how fast a long pendulum's plane turns over the ground, in the unit of ``spin``.

    ``latitude`` in rad, north positive, -pi/2 to pi/2 (else OutOfDomainError); ``spin`` the Earth's
    turning rate against the stars. Positive: clockwise seen from above.
    Source: spin times sin(latitude), from the vertical component of the spin.

    >>> plane_turning_rate(math.pi / 2, 15.0)
    15.0
    """
    if not abs(latitude) <= math.pi / 2:
        raise OutOfDomainError("latitude", "from -pi/2 to pi/2 rad", latitude)
    return finite("spin", spin) * math.sin(latitude)


# A rigid body on a pivot


def rigid_pendulum_period(inertia: float, mass: float, distance: float, gravity: float) -> float:
    """Return the period in s of a very small swing of a rigid body, T = 2 pi sqrt(I/(m g d)).

    ``inertia`` in kg m2 about the pivot, ``mass`` in kg, ``distance`` in m from the pivot to the centre
    of mass, ``gravity`` in m/s2, all above zero, and I at least m d^2 (no body has less), else
    OutOfDomainError. At wider swings multiply by `period_ratio`.
    Source: from the equation of motion I theta'' = -m g d theta.

    >>> round(rigid_pendulum_period(0.24, 1.0, 0.4, 9.81), 4)
    1.5539
    """
    return small_swing_period(equivalent_length(inertia, mass, distance), gravity)


def equivalent_length(inertia: float, mass: float, distance: float) -> float:
    """Return the length in m of the thread pendulum that keeps time with a rigid body, I/(m d).

    Arguments and errors as for `rigid_pendulum_period`.

    >>> equivalent_length(0.25, 1.0, 0.25)
    1.0
    """
    moment = positive("mass", mass, "kg") * positive("distance", distance, "m")
    least = moment * distance
    if positive("inertia", inertia, "kg m2") < least * (1 - 1e-12):
        required = f"about the pivot, so at least mass times distance squared, {least:.6g} kg m2"
        raise OutOfDomainError("inertia", required, inertia)
    return inertia / moment


def pivot_distances(central_inertia: float, mass: float, period: float, gravity: float) -> tuple[float, float]:
    """Return the two distances in m from the centre of mass at which a pivot gives ``period`` s.

    Smaller first; equal at the shortest period a body can have. ``central_inertia`` in kg m2 is about
    the centre of mass. Raises AbsentError if the period is shorter than that.
    Source: d^2 - d L + I_c/m = 0 with L = g (T/2 pi)^2, from `rigid_pendulum_period`.

    >>> [round(d, 3) for d in pivot_distances(1 / 12, 1.0, 2.5, 9.8)]
    [0.056, 1.496]
    """
    length = length_for_period(period, gravity)
    product = positive("central_inertia", central_inertia, "kg m2") / positive("mass", mass, "kg")
    half, root = length / 2, math.sqrt(product)
    if half < root:
        shortest = small_swing_period(2 * root, gravity)
        raise AbsentError(f"No pivot gives this body a period below {shortest:.4g} s.")
    larger = half + math.sqrt((half - root) * (half + root))
    return product / larger, larger


def conjugate_distance(central_inertia: float, mass: float, distance: float) -> float:
    """Return the other distance in m from the centre of mass with the same period, I_c/(m d).

    >>> conjugate_distance(0.125, 1.0, 0.5)
    0.25
    """
    moment = positive("mass", mass, "kg") * positive("distance", distance, "m")
    return positive("central_inertia", central_inertia, "kg m2") / moment


# A body on a twisted wire


def torsion_angular_frequency(stiffness: float, inertia: float) -> float:
    """Return the angular frequency in rad/s of a body on a twisted wire, sqrt(kappa/I).

    ``stiffness`` in N m/rad, ``inertia`` in kg m2 about the wire, above zero, else OutOfDomainError.
    Holds at any angle as long as the torque grows with the angle. Source: I theta'' = -kappa theta.

    >>> torsion_angular_frequency(0.5, 0.125)
    2.0
    """
    return math.sqrt(positive("stiffness", stiffness, "N m/rad") / positive("inertia", inertia, "kg m2"))


def torsion_frequency(stiffness: float, inertia: float) -> float:
    """Return the frequency in Hz; arguments as for `torsion_angular_frequency`."""
    return torsion_angular_frequency(stiffness, inertia) / math.tau


def torsion_period(stiffness: float, inertia: float) -> float:
    """Return the period in s; arguments as for `torsion_angular_frequency`."""
    return math.tau / torsion_angular_frequency(stiffness, inertia)


def torsion_stiffness(inertia: float, period: float) -> float:
    """Return the wire's stiffness in N m/rad from a timed ``period`` in s, I (2 pi/T)^2.

    >>> round(torsion_stiffness(0.1125, 1.5), 4)
    1.9739
    """
    rate = math.tau / positive("period", period, "s")
    return positive("inertia", inertia, "kg m2") * rate * rate


# The arithmetic-geometric mean and Jacobi's functions


def quarter_period(parameter: float) -> float:
    """Return the complete elliptic integral K(m), the quarter period in units of sqrt(L/g).

    ``parameter`` m = sin(amplitude/2)^2 in [0, 1), else OutOfDomainError.
    Source: pi/2 over the mean of 1 and sqrt(1 - m), Abramowitz & Stegun 17.6.3 (from memory).

    >>> round(quarter_period(0.5), 14)
    1.85407467730137
    """
    if not 0 <= parameter < 1:
        raise OutOfDomainError("parameter", "from 0 to below 1", parameter)
    other = math.sqrt(1 - parameter)
    mean, _ = _mean_below_one(other, parameter / (1 + other))
    return math.pi / 2 / mean


def _checked(amplitude: float) -> float:
    if 0 <= amplitude < math.pi:
        return amplitude
    raise OutOfDomainError("amplitude", "from 0 to below pi rad (180 degrees)", amplitude)


def _mean(amplitude: float) -> tuple[float, float]:
    """Return M(1, cos(amplitude/2)) and 1 less it, each to full relative precision."""
    quarter_sine = math.sin(_checked(amplitude) / 4)
    return _mean_below_one(math.cos(amplitude / 2), 2 * quarter_sine * quarter_sine)


def _mean_below_one(lower: float, gap: float) -> tuple[float, float]:
    """Return M(1, lower) and 1 - M, given ``gap`` = 1 - lower free of cancellation."""
    a, b = 1.0, lower
    a_gap, b_gap = 0.0, gap
    for _ in range(_MAX_ROUNDS):
        if abs(a - b) <= 4e-16 * a and abs(a_gap - b_gap) <= 4e-16 * a_gap:
            break
        root = math.sqrt(a * b)
        a, b, a_gap, b_gap = (
            (a + b) / 2,
            root,
            (a_gap + b_gap) / 2,
            (a_gap + b_gap - a_gap * b_gap) / (1 + root),
        )
    return a, a_gap


def _jacobi(u: float, k_other: float) -> tuple[float, float]:
    """Return sn(u), cn(u) of complementary modulus ``k_other``, |u| at most two quarter periods.

    Source: descending means, Abramowitz & Stegun 16.4 (from memory).
    """
    a, b = 1.0, k_other
    steps = []
    for _ in range(_MAX_ROUNDS):
        c = (a - b) / 2
        a, b = (a + b) / 2, math.sqrt(a * b)
        steps.append(c / a)
        if c <= 1e-17 * a:
            break
    angle = math.ldexp(a * u, len(steps))
    for ratio in reversed(steps):
        angle = (angle + math.asin(ratio * math.sin(angle))) / 2
    return math.sin(angle), math.cos(angle)
