import math
from itertools import pairwise

import pytest
from hypothesis import assume, example, given
from hypothesis import strategies as st

from crankpin.mechanics import tide
from crankpin.mechanics.constants import HOUR
from crankpin.mechanics.errors import AbsentError, OutOfDomainError
from crankpin.mechanics.tide import Constituent, listed_constituent
from tests.strategies import angular_frequencies, phases, spread

SPEEDS = [28.984104, 30.0, 28.43973, 15.041069, 13.943035, 57.968208, 0.0410686, 0.5443747]
tides = st.lists(
    st.builds(listed_constituent, spread(1e-3, 3.0), st.sampled_from(SPEEDS), st.floats(0.0, 360.0)),
    min_size=1,
    max_size=8,
)
moments = st.floats(-1e4, 1e4).map(lambda hours: hours * HOUR)


@given(tides, moments)
def test_high_and_low_are_turning_points_with_nothing_between(constituents, time):
    strength = math.fsum(one.amplitude * one.angular_frequency for one in constituents)
    assume(strength > 1e-9)
    high = tide.next_high(constituents, time)
    low = tide.next_low(constituents, time)
    assert min(high, low) > time
    slack = 1e-9 * math.fsum(one.amplitude for one in constituents)
    for start, end in ((time, min(high, low)), (min(high, low), max(high, low))):
        moments_between = [start + (end - start) * step / 50.0 for step in range(51)]
        heights = [tide.height(constituents, 0.0, moment) for moment in moments_between]
        way = 1.0 if end == high else -1.0
        assert abs(tide.rate(constituents, end)) < 1e-7 * strength
        assert all(way * (b - a) >= -slack for a, b in pairwise(heights))


@given(tides, moments)
def test_the_rate_is_the_slope_of_the_height(constituents, time):
    step = 60.0
    rise = tide.height(constituents, 0.0, time + step) - tide.height(constituents, 0.0, time - step)
    bend = math.fsum(one.amplitude * one.angular_frequency**3 for one in constituents)
    assert tide.rate(constituents, time) == pytest.approx(rise / (2.0 * step), abs=bend * step**2 + 1e-12)


@given(spread(1e-3, 10.0), angular_frequencies, phases)
@example(10.0**0.8, 9.356864194494744e-07, 1e-06)  # the high falls on the very moment at which the search begins
def test_one_constituent_is_high_once_a_period_at_its_lag(amplitude, omega, lag):
    one = [Constituent(amplitude, omega, lag)]
    first = tide.next_high(one, 0.0)
    second = tide.next_high(one, first)
    assert math.remainder(first * omega - lag, math.tau) == pytest.approx(0.0, abs=1e-8)
    assert second - first == pytest.approx(math.tau / omega, rel=1e-8, abs=0.0)
    assert tide.next_low(one, first) - first == pytest.approx(math.pi / omega, rel=1e-8, abs=0.0)


def test_thirty_degrees_an_hour_is_twice_a_day():
    half_a_day = [listed_constituent(1.5, 30.0, 90.0)]
    assert tide.next_high(half_a_day, 0.0) == pytest.approx(3.0 * HOUR, rel=1e-12, abs=0.0)
    assert tide.next_low(half_a_day, 0.0) == pytest.approx(9.0 * HOUR, rel=1e-12, abs=0.0)
    assert tide.rate(half_a_day, 0.0) * HOUR == pytest.approx(1.5 * math.pi / 6.0, rel=1e-12, abs=0.0)


def test_a_high_water_now_is_not_the_next():
    one = [Constituent(1.0, math.pi, 0.0)]
    assert tide.next_high(one, 0.0) == pytest.approx(2.0, rel=1e-12, abs=0.0)
    assert tide.next_low(one, 0.0) == pytest.approx(1.0, rel=1e-12, abs=0.0)


def test_constituents_of_one_speed_are_one():
    pair = [Constituent(3.0, 1.0, 0.0), Constituent(4.0, 1.0, math.pi / 2.0)]
    assert tide.next_high(pair, 0.0) == pytest.approx(math.atan2(4.0, 3.0), rel=1e-12, abs=0.0)


def test_no_tide_no_high_water():
    opposite = [Constituent(1.0, 1.0, 0.0), Constituent(1.0, 1.0, math.pi)]
    for still in ([], [Constituent(0.0, 1.0, 0.0)], opposite):
        with pytest.raises(AbsentError, match="no tide here"):
            tide.next_high(still, 0.0)
    assert tide.height([], 1.5, 0.0) == 1.5


def test_speeds_too_far_apart_end_with_a_message():
    unlike = [Constituent(1.0, 1e-9, 1.0), Constituent(1e-13, 1e3, 0.0)]
    with pytest.raises(AbsentError, match="too far apart"):
        tide.next_high(unlike, 0.0)


def test_bad_constituents_are_refused():
    for bad in (Constituent(-1.0, 1.0, 0.0), Constituent(1.0, 0.0, 0.0), Constituent(1.0, 1.0, math.nan)):
        for call in (tide.rate, tide.next_high, tide.next_low):
            with pytest.raises(OutOfDomainError):
                call([bad], 0.0)
    with pytest.raises(OutOfDomainError, match="speed_deg_per_h must be greater than 0 deg/h"):
        listed_constituent(1.0, 0.0, 0.0)


@given(tides, moments, st.floats(-12.0, 12.0))
def test_another_zone_shows_the_same_water(constituents, time, hours):
    zone = hours * HOUR
    moved = [
        Constituent(one.amplitude, one.angular_frequency, tide.lag_at_zone(one.lag, one.angular_frequency, zone))
        for one in constituents
    ]
    assert all(0.0 <= one.lag < math.tau for one in moved)
    assert tide.height(moved, 2.0, time + zone) == pytest.approx(tide.height(constituents, 2.0, time), abs=1e-9)
