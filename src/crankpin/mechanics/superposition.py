"""Two simple harmonic motions at once: along one line (phasors, beats) and at right angles (patterns).

Amplitudes in m and frequencies in Hz are zero or above, phases in rad; what lies outside its range raises
OutOfDomainError (see `domain`), also what lies so in a `Phasor` when it is used.
Source of the formulas: from the sum of the two projections, unless a function says otherwise.
"""

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from crankpin.mechanics.domain import finite, not_negative, positive
from crankpin.mechanics.errors import AbsentError, OutOfDomainError

if TYPE_CHECKING:
    from fractions import Fraction

_LARGEST_EXACT = 10**9
_LARGEST_ROUNDED = 10**5
_ROUNDING = 2**50


@dataclass(frozen=True, slots=True)
class Phasor:
    """One projected circle: amplitude (m, not negative), frequency (Hz, not negative), phase (rad)."""

    amplitude: float
    frequency: float
    phase: float = 0.0


def displacement(phasor: Phasor, time: float) -> float:
    """Return x = A cos(2 pi f t + phi), in m.

    >>> displacement(Phasor(0.2, 3.0), 0.0)
    0.2
    """
    turns = not_negative("frequency", phasor.frequency, "Hz") * finite("time", time)
    angle = math.tau * math.remainder(turns, 1.0) + finite("phase", phasor.phase)
    return not_negative("amplitude", phasor.amplitude, "m") * math.cos(angle)


def together(first: Phasor, second: Phasor, time: float) -> float:
    """Return the sum of the two displacements along one line at a time in s, in m.

    >>> together(Phasor(0.3, 2.0), Phasor(0.2, 3.0), 0.0)
    0.5
    """
    return displacement(first, time) + displacement(second, time)


def resultant(
    first_amplitude: float, first_phase: float, second_amplitude: float, second_phase: float
) -> tuple[float, float]:
    """Return amplitude (m) and phase (rad, in (-pi, pi]) of the sum of two motions of one rate.

    The two arrows are added along and across the direction midway between them, so that no digits
    are lost where they nearly cancel. Raises AbsentError where they cancel: no motion, no phase.

    >>> amplitude, phase = resultant(3.0, 0.0, 4.0, math.pi / 2)
    >>> round(amplitude, 12), round(math.tan(phase), 12)
    (5.0, 1.333333333333)
    """
    difference = finite("second_phase", second_phase) - finite("first_phase", first_phase)
    amplitude, ahead = _around_middle(first_amplitude, second_amplitude, difference)
    if amplitude == 0.0:
        raise AbsentError("The two motions cancel, so there is no motion and no phase.")
    phase = math.remainder(first_phase + 0.5 * difference + ahead, math.tau)
    return amplitude, math.pi if phase <= -math.pi else phase


def resultant_amplitude(first_amplitude: float, second_amplitude: float, phase_difference: float) -> float:
    """Return the amplitude of the sum of two motions of one rate, in m.

    sqrt(A_1^2 + A_2^2 + 2 A_1 A_2 cos(difference)), zero included.

    >>> round(resultant_amplitude(4.0, 4.0, math.pi / 3), 3)
    6.928
    """
    return _around_middle(first_amplitude, second_amplitude, finite("phase_difference", phase_difference))[0]


def phase_difference(first_amplitude: float, second_amplitude: float, resultant: float) -> float:
    """Return the phase between two motions of one rate, in [0, pi], whose sum has this amplitude.

    Raises OutOfDomainError unless the resultant lies between the difference and the sum of the two.

    >>> round(phase_difference(3.0, 3.0, 3.0) / math.pi, 12)
    0.666666666667
    """
    most = positive("first_amplitude", first_amplitude, "m") + positive("second_amplitude", second_amplitude, "m")
    least = abs(first_amplitude - second_amplitude)
    if not least <= resultant <= most:
        raise OutOfDomainError("resultant", f"from {least!r} m to {most!r} m", resultant)
    short_of_most = math.sqrt(most - resultant) * math.sqrt(most + resultant)
    above_least = math.sqrt(resultant - least) * math.sqrt(resultant + least)
    return 2.0 * math.atan2(short_of_most, above_least)


def beat_frequency(first_frequency: float, second_frequency: float) -> float:
    """Return how often a second the sum swells, in Hz: |f_1 - f_2|; zero where the two keep step.

    >>> beat_frequency(460.0, 464.0)
    4.0
    """
    return abs(
        not_negative("first_frequency", first_frequency, "Hz")
        - not_negative("second_frequency", second_frequency, "Hz")
    )


def mean_frequency(first_frequency: float, second_frequency: float) -> float:
    """Return the frequency of the oscillation within the beat, in Hz: (f_1 + f_2)/2.

    It is the rate seen where the amplitudes are equal; otherwise the rate wanders about the stronger's.

    >>> mean_frequency(460.0, 464.0)
    462.0
    """
    return 0.5 * (
        not_negative("first_frequency", first_frequency, "Hz")
        + not_negative("second_frequency", second_frequency, "Hz")
    )


def frequencies_from_beat(mean_frequency: float, beat_frequency: float) -> tuple[float, float]:
    """Return the higher and the lower frequency, in Hz: mean +- beat/2.

    >>> frequencies_from_beat(462.0, 4.0)
    (464.0, 460.0)
    """
    half = 0.5 * not_negative("beat_frequency", beat_frequency, "Hz")
    if not not_negative("mean_frequency", mean_frequency, "Hz") >= half:
        raise OutOfDomainError("mean_frequency", f"at least half the beat, {half!r} Hz", mean_frequency)
    return mean_frequency + half, mean_frequency - half


def greatest_amplitude(first: Phasor, second: Phasor) -> float:
    """Return A_1 + A_2, in m: the envelope where the two are in step.

    >>> greatest_amplitude(Phasor(3.0, 1.0), Phasor(4.0, 2.0))
    7.0
    """
    return not_negative("amplitude", first.amplitude, "m") + not_negative("amplitude", second.amplitude, "m")


def least_amplitude(first: Phasor, second: Phasor) -> float:
    """Return |A_1 - A_2|, in m: the envelope where the two are opposite.

    >>> least_amplitude(Phasor(3.0, 1.0), Phasor(4.0, 2.0))
    1.0
    """
    return abs(not_negative("amplitude", first.amplitude, "m") - not_negative("amplitude", second.amplitude, "m"))


def envelope(first: Phasor, second: Phasor, time: float) -> float:
    """Return the amplitude that the sum has at this time, in m: the length of the two arrows' sum.

    >>> round(envelope(Phasor(3.0, 10.0), Phasor(4.0, 11.0), 0.25), 12)
    5.0
    """
    turns = finite("frequency", second.frequency - first.frequency) * finite("time", time)
    difference = math.tau * math.remainder(turns, 1.0) + finite("phase", second.phase - first.phase)
    return resultant_amplitude(first.amplitude, second.amplitude, difference)


def whole_ratio(x_frequency: "float | Fraction", y_frequency: "float | Fraction") -> tuple[int, int]:
    """Return the smallest whole numbers in the ratio of two frequencies above zero.

    Whole numbers and fractions are taken exactly; a decimal number as it is written in its shortest
    form. Where that gives no ratio of numbers up to 1e9, the smallest ratio that agrees with the two
    to within rounding is taken, up to 1e5 (a rate converted from turns a minute is such a number).
    Raises AbsentError where there is none: the pattern does not close in any time that matters.

    >>> whole_ratio(0.3, 0.2)
    (3, 2)
    >>> whole_ratio(1 / 3, 1.0)
    (1, 3)
    """
    positive("x_frequency", float(x_frequency), "Hz")
    positive("y_frequency", float(y_frequency), "Hz")
    x_over, x_under = _as_written(x_frequency)
    y_over, y_under = _as_written(y_frequency)
    p, q = _lowest(x_over * y_under, x_under * y_over)
    if max(p, q) <= _LARGEST_EXACT:
        return p, q
    return _near_ratio(p, q)


def pattern_period(x_frequency: "float | Fraction", y_frequency: "float | Fraction") -> float:
    """Return the time, in s, after which two motions at right angles draw the same figure again.

    Both make a whole number of swings in it: T = ratio_x / f_x = ratio_y / f_y.

    >>> round(pattern_period(0.3, 0.2), 12)
    10.0
    """
    return whole_ratio(x_frequency, y_frequency)[0] / float(x_frequency)


def crossed(x_phasor: Phasor, y_phasor: Phasor, time: float) -> tuple[float, float]:
    """Return x and y, in m, of two motions at right angles.

    >>> crossed(Phasor(0.2, 3.0), Phasor(0.1, 2.0), 0.0)
    (0.2, 0.1)
    """
    return displacement(x_phasor, time), displacement(y_phasor, time)


def _around_middle(first: float, second: float, difference: float) -> tuple[float, float]:
    """Return the length of the sum of two arrows and its angle from the direction midway between them."""
    along = (not_negative("first_amplitude", first, "m") + not_negative("second_amplitude", second, "m")) * math.cos(
        0.5 * difference
    )
    across = (second - first) * math.sin(0.5 * difference)
    return math.hypot(along, across), math.atan2(across, along)


def _as_written(value: "float | Fraction") -> tuple[int, int]:
    """Return a number as a ratio of two whole numbers, a decimal one by the digits it is written with."""
    if not isinstance(value, float):
        return value.as_integer_ratio()
    figures, _, power = repr(value).partition("e")
    whole, _, part = figures.partition(".")
    shift = int(power or "0") - len(part)
    return int(whole + part) * 10 ** max(shift, 0), 10 ** max(-shift, 0)


def _lowest(p: int, q: int) -> tuple[int, int]:
    common = math.gcd(p, q)
    return p // common, q // common


def _near_ratio(p: int, q: int) -> tuple[int, int]:
    """Return the simplest ratio equal to p/q to within rounding: the first such continued fraction."""
    before, now, over, under = (0, 1), (1, 0), p, q
    while under:
        whole, rest = divmod(over, under)
        before, now = now, (whole * now[0] + before[0], whole * now[1] + before[1])
        over, under = under, rest
        if max(now) > _LARGEST_ROUNDED:
            break
        if abs(now[0] * q - p * now[1]) * _ROUNDING <= p * now[1]:
            return now
    raise AbsentError("The two rates are in no ratio of small whole numbers, so the pattern does not close.")
