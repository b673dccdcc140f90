import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crankpin.mechanics import rotation
from crankpin.mechanics.errors import AbsentError, OutOfDomainError
from tests.strategies import spread

rates = st.floats(-1e3, 1e3)
accelerations = st.floats(-1e3, 1e3)


@given(rates, accelerations, st.floats(0.0, 1e3))
def test_the_angle_is_the_mean_rate_times_the_time(start, alpha, time):
    end = rotation.rate_after(start, alpha, time)
    scale = abs(start * time) + abs(alpha * time * time)
    assert rotation.angle_after(start, alpha, time) == pytest.approx(0.5 * (start + end) * time, abs=1e-14 * scale)


@given(spread(1e-3, 1e3), spread(1e-3, 1e3), spread(1e-3, 1e3))
def test_time_and_rate_at_an_angle_agree_with_the_motion(start, alpha, time):
    angle = rotation.angle_after(start, alpha, time)
    assert rotation.time_through(start, alpha, angle) == pytest.approx(time, rel=1e-13, abs=0.0)
    assert rotation.rate_through(start, alpha, angle) == pytest.approx(
        rotation.rate_after(start, alpha, time), rel=1e-14, abs=0.0
    )
    assert rotation.angular_acceleration(start, start + alpha * time, time) == pytest.approx(
        alpha, rel=1e-13 + 1e-15 * start / (alpha * time), abs=0.0
    )


@given(spread(1e-3, 1e3), spread(1e-3, 1e3), st.sampled_from([-1.0, 1.0]))
def test_stopping_is_the_instant_of_no_rate(start, braking, way):
    time = rotation.stopping_time(way * start, -way * braking)
    assert rotation.rate_after(way * start, -way * braking, time) == pytest.approx(0.0, abs=1e-15 * start)
    assert rotation.stopping_angle(way * start, -way * braking) == pytest.approx(
        rotation.angle_after(way * start, -way * braking, time), rel=1e-14, abs=0.0
    )


def test_an_angle_beyond_the_stop_is_never_reached():
    assert rotation.rate_through(4.0, -2.0, 4.0) == 0.0
    with pytest.raises(AbsentError, match="turns back before"):
        rotation.rate_through(4.0, -2.0, 4.1)
    with pytest.raises(AbsentError, match="never reached"):
        rotation.time_through(0.0, 0.0, 1.0)
    assert rotation.time_through(0.0, -1.0, 0.0) == 0.0


def test_speeding_up_never_stops():
    for alpha in (2.0, 0.0, math.nan):
        with pytest.raises(OutOfDomainError, match="angular_acceleration must be opposite in sign"):
            rotation.stopping_time(4.0, alpha)


@given(st.floats(0.0, 1e6), st.floats(-1e6, 1e6))
def test_the_whole_acceleration_has_its_two_parts(inward, tangential):
    size, angle = rotation.total_acceleration(inward, tangential)
    assert size * math.cos(angle) == pytest.approx(inward, abs=1e-15 * size)
    assert size * math.sin(angle) == pytest.approx(tangential, abs=1e-15 * size)


def test_rim_and_wheel():
    assert rotation.tangential_acceleration(0.3, 5.0) == pytest.approx(1.5, rel=1e-15, abs=0.0)
    assert rotation.angular_acceleration_of_rim(1.5, 0.3) == pytest.approx(5.0, rel=1e-15, abs=0.0)
