"""A mass on a spring with a resistance proportional to the velocity: m x'' + b x' + k x = 0.

``mass`` m in kg and ``stiffness`` k in N/m are above zero, ``damping`` b in kg/s is zero or above; any
other value raises OutOfDomainError (see `domain`). ``position`` is in m from the rest position, ``velocity`` in m/s
along the same line. The same equation holds for any three constants of one consistent system.
Source of the formulas: from that equation, unless a function says otherwise.
"""

import math
from dataclasses import dataclass
from enum import StrEnum

from crankpin.mechanics.domain import finite, not_negative, positive, zero_or_positive
from crankpin.mechanics.errors import AbsentError, OutOfDomainError
from crankpin.mechanics.exact import difference_of_products

CRITICAL_TOLERANCE = 16 * 2.0**-52
"""Widest share |4mk - b^2|/(4mk) that still counts as critical, about 4e-15.

Three decimal numbers that were rounded to doubles, or converted from other units, and that are
critical on paper miss by a few units of 2^-52; the motion itself cannot tell the difference.
"""

MAX_PHASE = 1e10
"""Most radians of swing for which a double keeps six digits of a turn."""


class Regime(StrEnum):
    """How the mass comes to rest: swinging, as fast as it can without swinging, or creeping."""

    UNDERDAMPED = "underdamped"
    CRITICAL = "critical"
    OVERDAMPED = "overdamped"


@dataclass(frozen=True, slots=True)
class Motion:
    """A state of motion: ``position`` in m and ``velocity`` in m/s."""

    position: float
    velocity: float


@dataclass(frozen=True, slots=True)
class DecayRates:
    """The two rates in 1/s of a return without swinging."""

    slow: float
    fast: float


@dataclass(frozen=True, slots=True)
class SwingTerms:
    """What the cosine and the sine of a decaying swing are multiplied by, in m."""

    cosine: float
    sine: float


@dataclass(frozen=True, slots=True)
class CreepTerms:
    """What the slow and the fast decay of a creeping return are multiplied by, in m."""

    slow: float
    fast: float


def damping_coefficient(mass: float, damping: float) -> float:
    """Return gamma = b/(2m) in 1/s, the rate at which the amplitude decays as exp(-gamma t).

    ISO 80000-3 calls it damping coefficient, delta, the reciprocal of the time constant.

    >>> damping_coefficient(0.5, 0.25)
    0.25
    """
    _check(mass, 1.0, damping)
    return damping / mass / 2


def time_constant(mass: float, damping: float) -> float:
    """Return 1/gamma in s, the time in which the amplitude falls to 1/e (0.368) of itself.

    Raises AbsentError without damping.
    """
    rate = damping_coefficient(mass, damping)
    if damping == 0:
        raise AbsentError("Without damping the amplitude never falls, so there is no time constant.")
    return 1 / rate


def natural_angular_frequency(mass: float, stiffness: float) -> float:
    """Return omega_0 = sqrt(k/m) in rad/s, that of the same spring and mass without damping.

    >>> natural_angular_frequency(0.5, 8.0)
    4.0
    """
    _check(mass, stiffness, 0.0)
    return math.sqrt(stiffness / mass)


def damping_ratio(mass: float, stiffness: float, damping: float) -> float:
    """Return zeta = b/(2 sqrt(m k)): below 1 it swings, at 1 it is critical, above 1 it creeps.

    >>> damping_ratio(1.0, 16.0, 2.0)
    0.25
    """
    return _check(mass, stiffness, damping) / critical_damping(mass, stiffness)


def critical_damping(mass: float, stiffness: float) -> float:
    """Return the damping 2 sqrt(m k) in kg/s at which the mass just no longer swings.

    >>> critical_damping(1.0, 16.0)
    8.0
    """
    _check(mass, stiffness, 0.0)
    return 2 * math.sqrt(mass) * math.sqrt(stiffness)


def regime(mass: float, stiffness: float, damping: float) -> Regime:
    """Return the regime, decided by the exact sign of 4mk - b^2 with CRITICAL_TOLERANCE around zero.

    >>> str(regime(0.5, 2.42, 2.2))
    'critical'
    """
    _check(mass, stiffness, damping)
    gap = difference_of_products((4.0, mass, stiffness), (damping, damping))
    if abs(gap) <= CRITICAL_TOLERANCE * 4 * mass * stiffness:
        return Regime.CRITICAL
    return Regime.UNDERDAMPED if gap > 0 else Regime.OVERDAMPED


def damped_angular_frequency(mass: float, stiffness: float, damping: float) -> float:
    """Return omega_d = sqrt(omega_0^2 - gamma^2) in rad/s, all digits kept up to critical damping.

    Raises AbsentError unless underdamped.

    >>> damped_angular_frequency(1.0, 20.0, 4.0)
    4.0
    """
    _must_swing(mass, stiffness, damping, "no damped angular frequency")
    return _split_rate(mass, stiffness, damping)


def damped_period(mass: float, stiffness: float, damping: float) -> float:
    """Return the time 2 pi/omega_d in s between peaks on one side; AbsentError unless underdamped."""
    _must_swing(mass, stiffness, damping, "no period")
    return math.tau / _split_rate(mass, stiffness, damping)


def decay_rates(mass: float, stiffness: float, damping: float) -> DecayRates:
    """Return the two rates of an overdamped return; the slow one sets how long it takes.

    The slow one is omega_0^2 over the fast one, so heavy damping costs no digits. At critical damping
    both are gamma. Raises AbsentError if underdamped.

    >>> decay_rates(12.0, 1152.0, 240.0)
    DecayRates(slow=8.0, fast=12.0)
    """
    kind = regime(mass, stiffness, damping)
    if kind is Regime.UNDERDAMPED:
        raise AbsentError("An underdamped oscillator swings as it decays, so it has one decay rate, not two.")
    gamma = damping / mass / 2
    if kind is Regime.CRITICAL:
        return DecayRates(gamma, gamma)
    fast = gamma + _split_rate(mass, stiffness, damping)
    return DecayRates(stiffness / mass / fast, fast)


def quality_factor(mass: float, stiffness: float, damping: float) -> float:
    """Return Q = sqrt(m k)/b = 1/(2 zeta); Q/pi swings bring a light damping's amplitude to 1/e.

    Raises AbsentError without damping.

    >>> quality_factor(1.0, 16.0, 0.5)
    8.0
    """
    _check(mass, stiffness, damping)
    if damping == 0:
        raise AbsentError("Without damping no energy is lost, so Q has no limit.")
    return critical_damping(mass, stiffness) / damping / 2


def log_decrement(mass: float, stiffness: float, damping: float) -> float:
    """Return the logarithmic decrement gamma T_d: ln of one peak over the next on the same side.

    Zero without damping; AbsentError unless underdamped. ISO 80000-3 gives the same product.

    >>> round(log_decrement(1.0, 39.4784, 0.211), 4)
    0.1055
    """
    _must_swing(mass, stiffness, damping, "no swings to compare")
    return math.tau / _split_rate(mass, stiffness, damping) * damping / mass / 2


def damping_ratio_from_decrement(decrement: float) -> float:
    """Return zeta from a measured logarithmic ``decrement`` (zero or above), L/sqrt(4 pi^2 + L^2).

    >>> round(damping_ratio_from_decrement(0.6931471805599453), 4)
    0.1097
    """
    return not_negative("decrement", decrement, "1") / math.hypot(math.tau, decrement)


def decrement_from_peaks(first: float, later: float, turns: int = 1) -> float:
    """Return the logarithmic decrement from two measured peaks on one side, ``turns`` whole turns apart.

    ``first`` and ``later`` in any one unit, above zero, ``later`` no greater. Source: ln(first/later)/turns.

    >>> round(decrement_from_peaks(1.0, 0.9), 4)
    0.1054
    """
    positive("first", first, "of the peaks' unit")
    positive("turns", turns, "1")
    if not 0 < later <= first:
        raise OutOfDomainError("later", f"above zero and no greater than the first peak, {first:g}", later)
    return math.log(first / positive("later", later, "of the peaks' unit")) / turns


def frequency_shortfall(damping_ratio: float) -> float:
    """Return by what share of itself damping lowers the frequency, 1 - sqrt(1 - zeta^2).

    ``damping_ratio`` from 0 to below 1, else OutOfDomainError. Near zeta^2/2, digits kept.

    >>> round(frequency_shortfall(0.6), 12)
    0.2
    """
    if not 0 <= damping_ratio < 1:
        raise OutOfDomainError("damping_ratio", "from 0 to below 1", damping_ratio)
    return damping_ratio**2 / (1 + math.sqrt((1 - damping_ratio) * (1 + damping_ratio)))


def energy_lost_per_turn(decrement: float) -> float:
    """Return the share of the energy lost from one peak to the next on the same side.

    Exact, as the mass is at rest at both: 1 - exp(-2 decrement), the decrement zero or above.

    >>> round(energy_lost_per_turn(math.log(2)), 12)
    0.75
    """
    return -math.expm1(-2 * not_negative("decrement", decrement, "1"))


def energy_fall_time(quality_factor: float, frequency: float, factor: float) -> float:
    """Return the time in s in which the energy falls by ``factor`` (1 or more), Q ln(factor)/(2 pi f).

    ``frequency`` f in Hz is the undamped one; averaged over a swing, for light damping.

    >>> round(energy_fall_time(10.0, 100.0, math.exp(2 * math.pi)), 12)
    0.1
    """
    if not 1 <= factor < math.inf:
        raise OutOfDomainError("factor", "1 or more", factor)
    quality = positive("quality_factor", quality_factor, "1")
    return quality * math.log(factor) / (math.tau * positive("frequency", frequency, "Hz"))


def energy_fall_factor(quality_factor: float, turns: float) -> float:
    """Return the factor by which the energy falls in ``turns`` undamped periods, exp(2 pi turns/Q).

    Averaged over a swing, for light damping. OutOfDomainError if it is beyond the largest double.

    >>> round(energy_fall_factor(10.0, 10.0))
    535
    """
    exponent = math.tau * not_negative("turns", turns, "1") / positive("quality_factor", quality_factor, "1")
    if exponent > 700:
        raise OutOfDomainError("turns", f"at most {700 / math.tau * quality_factor:.4g} for this Q", turns)
    return math.exp(exponent)


def half_life(mass: float, stiffness: float, damping: float) -> float:
    """Return the time ln 2/gamma in s in which the amplitude halves.

    Raises AbsentError without damping (it never halves) and where there is no swing to have an amplitude.

    >>> round(half_life(0.5, 8.0, 0.25), 4)
    2.7726
    """
    if _check(mass, stiffness, damping) == 0:
        raise AbsentError("Without damping the amplitude never halves.")
    _must_swing(mass, stiffness, damping, "no amplitude to halve")
    return math.log(2) * 2 * mass / damping


def amplitude_share(mass: float, damping: float, time: float) -> float:
    """Return exp(-gamma t), the share of the starting amplitude left after ``time`` s (zero or above)."""
    return math.exp(-damping_coefficient(mass, damping) * not_negative("time", time, "s"))


def energy_share(mass: float, damping: float, time: float) -> float:
    """Return exp(-2 gamma t), the share of the energy left after ``time`` s, averaged over a swing.

    Holds for light damping; within one swing the energy falls in steps.
    """
    share = amplitude_share(mass, damping, time)
    return share * share


def envelope(mass: float, stiffness: float, damping: float, position: float, velocity: float, time: float) -> float:
    """Return the height in m, ``time`` s after the start, of the curve that the swing's peaks follow.

    The swing lies between plus and minus it and touches it once each half turn. AbsentError unless
    underdamped.
    """
    terms = swing_terms(mass, stiffness, damping, position, velocity)
    return math.hypot(terms.cosine, terms.sine) * amplitude_share(mass, damping, time)


def swing_terms(mass: float, stiffness: float, damping: float, position: float, velocity: float) -> SwingTerms:
    """Return the two lengths in m of x = exp(-gamma t)(cosine cos omega_d t + sine sin omega_d t).

    ``position`` and ``velocity`` are those of the start. AbsentError unless underdamped.

    >>> swing_terms(25.0, 226.0, 10.0, 20.0, 41.0)
    SwingTerms(cosine=20.0, sine=15.0)
    """
    _must_swing(mass, stiffness, damping, "no peaks")
    split, gamma = _split_rate(mass, stiffness, damping), damping / mass / 2
    return SwingTerms(finite("position", position), (finite("velocity", velocity) + gamma * position) / split)


def creep_terms(mass: float, stiffness: float, damping: float, position: float, velocity: float) -> CreepTerms:
    """Return the two lengths in m of x = slow exp(-slow rate t) + fast exp(-fast rate t).

    ``position`` and ``velocity`` are those of the start. AbsentError unless overdamped.

    >>> creep_terms(0.5, 3.0, 2.5, 0.0, -5.0)
    CreepTerms(slow=-5.0, fast=5.0)
    """
    rates = decay_rates(mass, stiffness, damping)
    apart = 2 * _split_rate(mass, stiffness, damping)
    if rates.slow == rates.fast:
        raise AbsentError("A critically damped return is not a sum of two decays: its two rates are one.")
    x_0, v_0 = finite("position", position), finite("velocity", velocity)
    return CreepTerms((v_0 + rates.fast * x_0) / apart, -(v_0 + rates.slow * x_0) / apart)


def damped_motion(
    mass: float, stiffness: float, damping: float, position: float, velocity: float, time: float
) -> Motion:
    """Return the motion ``time`` s (zero or above) after the start at ``position`` and ``velocity``.

    One formulation that joins smoothly across the three regimes, right for any damping from zero to
    1e12 times critical and more. The position is good to about 1e-15 of the amplitude per radian of
    swing; beyond MAX_PHASE radians OutOfDomainError.

    >>> damped_motion(1.0, 16.0, 8.0, 5.0, -10.0, 0.5).position == 10 * math.exp(-2)
    True
    """
    _check(mass, stiffness, damping)
    finite("position", position)
    finite("velocity", velocity)
    not_negative("time", time, "s")
    gap = difference_of_products((4.0, mass, stiffness), (damping, damping))
    split = _split_rate(mass, stiffness, damping)
    gamma, omega_0_squared = damping / mass / 2, stiffness / mass
    start = Motion(position, velocity)
    if gap > 0:
        return _swinging(gamma, split, omega_0_squared, start, time)
    return _creeping(gamma, split, omega_0_squared, start, time)


def _swinging(gamma: float, split: float, omega_0_squared: float, start: Motion, time: float) -> Motion:
    decay = math.exp(-gamma * time)
    angle = split * time
    if decay == 0:
        return Motion(0.0, 0.0)
    if angle > MAX_PHASE:
        raise OutOfDomainError("time", f"at most {MAX_PHASE / split:.3g} s (1e10 rad of swing)", time)
    cosine, sine = math.cos(angle), math.sin(angle)
    over_split = sine / split if angle > 0 else time  # sin(split t)/split, smooth down to split = 0
    x_0, v_0 = start.position, start.velocity
    return Motion(
        decay * (x_0 * cosine + (v_0 + gamma * x_0) * over_split),
        decay * (v_0 * cosine - (gamma * v_0 + omega_0_squared * x_0) * over_split),
    )


def _creeping(gamma: float, split: float, omega_0_squared: float, start: Motion, time: float) -> Motion:
    fast = gamma + split
    slow = omega_0_squared / fast
    decay, fast_decay = math.exp(-slow * time), math.exp(-fast * time)
    gap = 2 * split * time
    # (exp(-slow t) - exp(-fast t))/(fast - slow), smooth down to equal rates
    between = decay * (-math.expm1(-gap) / (2 * split) if gap > 0 else time)
    x_0, v_0 = start.position, start.velocity
    return Motion(
        x_0 * decay + (v_0 + slow * x_0) * between,
        v_0 * fast_decay - slow * (v_0 + fast * x_0) * between,
    )


def _split_rate(mass: float, stiffness: float, damping: float) -> float:
    """Return sqrt|omega_0^2 - gamma^2| in 1/s: half the split of the two roots."""
    gap = difference_of_products((4.0, mass, stiffness), (damping, damping))
    return math.sqrt(abs(gap)) / mass / 2


def _must_swing(mass: float, stiffness: float, damping: float, lacking: str) -> None:
    kind = regime(mass, stiffness, damping)
    if kind is not Regime.UNDERDAMPED:
        name = "A critically damped" if kind is Regime.CRITICAL else "An overdamped"
        raise AbsentError(f"{name} oscillator returns without swinging, so it has {lacking}.")


def _check(mass: float, stiffness: float, damping: float) -> float:
    positive("mass", mass, "kg")
    positive("stiffness", stiffness, "N/m")
    return zero_or_positive("damping", damping, "kg/s")
