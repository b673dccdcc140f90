import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crankpin.mechanics import rolling
from tests.strategies import spread

wheels = spread(1e-3, 1e2)
angles = st.floats(0.0, 20.0)


@given(wheels, spread(1e-2, 1e2), angles)
def test_the_speed_is_that_of_the_path(radius, speed, angle):
    """The path, differenced over a short time with the wheel turning at v/r."""
    step = 1e-5
    (x_0, y_0), (x_1, y_1) = (rolling.place_of_rim_point(radius, angle + side * step) for side in (-1.0, 1.0))
    by_path = math.hypot(x_1 - x_0, y_1 - y_0) / (2.0 * step * radius / speed)
    assert rolling.speed_of_rim_point(speed, angle) == pytest.approx(by_path, rel=1e-4, abs=2e-5 * speed)


@given(wheels, angles)
def test_a_rim_point_stays_a_radius_from_the_axle(radius, angle):
    x, y = rolling.place_of_rim_point(radius, angle)
    assert math.hypot(x - radius * angle, y - radius) == pytest.approx(radius, rel=1e-12)


@given(wheels, spread(1e-2, 1e2))
def test_it_rests_on_the_ground_and_runs_twice_as_fast_on_top(radius, speed):
    assert rolling.speed_of_rim_point(speed, 0.0) == 0.0
    assert rolling.speed_of_rim_point(speed, math.pi) == 2.0 * speed
    assert rolling.place_of_rim_point(radius, math.tau)[0] == pytest.approx(math.tau * radius, rel=1e-14)
