"""The height of the tide as a sum of constituents: h(t) = z0 + sum of A cos(omega t - lag).

Each constituent is one projected circle with an amplitude, a speed and a phase lag, as tide tables list
them. Time counts from the moment that the lags refer to. Weather and shallow water are not in it, and
tables made for navigation go before anything computed here. Heights are in m, times in s, speeds in rad/s and lags in
rad unless a name says otherwise; what lies outside its range raises OutOfDomainError (see `domain`).
Source of the formulas: from that sum.
"""

import math
from collections.abc import Iterable
from dataclasses import dataclass

from crankpin.mechanics.constants import DEGREE, HOUR
from crankpin.mechanics.domain import finite, not_negative, positive
from crankpin.mechanics.errors import AbsentError

_MOST_STEPS = 20_000
_HALVINGS = 60


@dataclass(frozen=True, slots=True)
class Constituent:
    """One part of the tide: amplitude (m, not negative), angular frequency (rad/s, positive), lag (rad)."""

    amplitude: float
    angular_frequency: float
    lag: float


def listed_constituent(amplitude: float, speed_deg_per_h: float, lag_deg: float) -> Constituent:
    """Return a constituent from the units that tide tables use: m, degrees per hour, degrees.

    >>> listed_constituent(1.0, 30.0, 180.0).lag == math.pi
    True
    """
    speed = positive("speed_deg_per_h", speed_deg_per_h, "deg/h") * DEGREE / HOUR
    return Constituent(not_negative("amplitude", amplitude, "m"), speed, finite("lag_deg", lag_deg) * DEGREE)


def overtide(constituent_rate: float, harmonic: int) -> float:
    """Return the rate of a constituent's whole-number harmonic (M4 from M2 is the second), in its unit.

    >>> overtide(30.0, 2)
    60.0
    """
    return positive("harmonic", harmonic, "1") * positive("constituent_rate", constituent_rate, "rad/s")


def lag_at_zone(lag: float, angular_frequency: float, zone: float) -> float:
    """Return the phase lag for clocks set ``zone`` seconds ahead of the ones it was listed for, in [0, 2 pi).

    A lag G for universal time becomes G + omega zone; zones west of Greenwich are negative.

    >>> lag_at_zone(0.5, 1.0, 0.25)
    0.75
    """
    return _one_turn(finite("lag", lag) + finite("angular_frequency", angular_frequency) * finite("zone", zone))


def height(constituents: Iterable[Constituent], mean_level: float, time: float) -> float:
    """Return the height of the water, in m, above the level that ``mean_level`` is counted from.

    >>> height([Constituent(1.5, 0.1, 0.0)], 2.0, 0.0)
    3.5
    """
    finite("time", time)
    swings = [_checked(one).amplitude * math.cos(one.angular_frequency * time - one.lag) for one in constituents]
    return math.fsum([finite("mean_level", mean_level), *swings])


def rate(constituents: Iterable[Constituent], time: float) -> float:
    """Return how fast the water rises, in m/s; negative while it falls.

    >>> rate([Constituent(2.0, 0.5, 0.0)], 0.0)
    0.0
    """
    parts = [_checked(one) for one in constituents]
    return 0.0 - _slope(parts, finite("time", time))


def next_high(constituents: Iterable[Constituent], time: float) -> float:
    """Return the time, in s, of the first high water after ``time``: the next greatest height.

    A high water that falls on ``time`` itself is not the next one. Raises AbsentError where there is no
    tide, or where the constituents are too unlike to be searched.

    >>> round(next_high([Constituent(1.0, math.pi, math.pi)], 0.0), 9)
    1.0
    """
    return _next_turn(_gather(constituents, 0.0), time)


def next_low(constituents: Iterable[Constituent], time: float) -> float:
    """Return the time, in s, of the first low water after ``time``; else as ``next_high``.

    >>> round(next_low([Constituent(1.0, math.pi, 0.0)], 0.0), 9)
    1.0
    """
    return _next_turn(_gather(constituents, math.pi), time)


def _checked(one: Constituent) -> Constituent:
    not_negative("amplitude", one.amplitude, "m")
    positive("angular_frequency", one.angular_frequency, "rad/s")
    finite("lag", one.lag)
    return one


def _one_turn(angle: float) -> float:
    reduced = math.fmod(angle, math.tau)
    turned = reduced if reduced >= 0.0 else reduced + math.tau
    return turned if turned < math.tau else 0.0


def _slope(parts: list[Constituent], time: float) -> float:
    """Return sum A omega sin(omega t - lag): the fall of the water, so it rises through zero at a high."""
    return math.fsum(
        one.amplitude * one.angular_frequency * math.sin(one.angular_frequency * time - one.lag) for one in parts
    )


def _bend(parts: list[Constituent], time: float) -> float:
    """Return the slope's own rate of change."""
    return math.fsum(
        one.amplitude * one.angular_frequency**2 * math.cos(one.angular_frequency * time - one.lag) for one in parts
    )


def _gather(constituents: Iterable[Constituent], shift: float) -> list[Constituent]:
    """Return one constituent for each speed, without those that cancel, lags shifted.

    With a shift of pi high and low water change places.
    """
    by_speed: dict[float, list[Constituent]] = {}
    for one in constituents:
        by_speed.setdefault(_checked(one).angular_frequency, []).append(one)
    gathered = []
    for speed, group in by_speed.items():
        x = math.fsum(one.amplitude * math.cos(one.lag) for one in group)
        y = math.fsum(one.amplitude * math.sin(one.lag) for one in group)
        if math.hypot(x, y) > 1e-14 * math.fsum(one.amplitude for one in group):
            gathered.append(Constituent(math.hypot(x, y), speed, math.atan2(y, x) + shift))
    if not gathered:
        raise AbsentError("There is no tide here, so neither high nor low water.")
    return gathered


def _next_turn(parts: list[Constituent], time: float) -> float:
    """Return the first time after ``time`` at which the slope turns from negative to positive.

    The slope of these parts takes both signs in any stretch of the length sum(pi/omega): weighting it
    with two equal weights pi/omega apart, once for each part, leaves nothing. So twice that length holds
    a turn, and a little more holds one also where turns fall on its ends. Spans are split until bounds on
    the slope's change show that a span holds none or just one.
    """
    least = 1e-9 / max(one.angular_frequency for one in parts)
    reach = 2.1 * math.fsum(math.pi / one.angular_frequency for one in parts)
    start = finite("time", time) + 1e3 * least
    bounds = [math.fsum(one.amplitude * one.angular_frequency**power for one in parts) for power in (2, 3)]
    spans = [(start, start + reach)]
    for _ in range(_MOST_STEPS):
        if not spans:
            break
        left, right = spans.pop()
        middle, half = 0.5 * (left + right), 0.5 * (right - left)
        if abs(_slope(parts, middle)) > bounds[0] * half:
            continue
        if abs(_bend(parts, middle)) > bounds[1] * half or half <= least:
            if _slope(parts, left) < 0.0 <= _slope(parts, right):
                return _crossing(parts, left, right)
            continue
        spans += [(middle, right), (left, middle)]
    raise AbsentError("The constituents' speeds are too far apart to find the tide's next turn.")


def _crossing(parts: list[Constituent], left: float, right: float) -> float:
    for _ in range(_HALVINGS):
        middle = 0.5 * (left + right)
        if _slope(parts, middle) < 0.0:
            left = middle
        else:
            right = middle
    return right
