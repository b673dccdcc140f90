import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crankpin.mechanics import projection
from crankpin.mechanics.errors import OutOfDomainError
from tests.strategies import lengths

layouts = st.tuples(lengths, st.floats(1e-6, 1e3), st.floats(1e-3, 1e3)).map(
    lambda t: (t[0], t[0] * (1.0 + t[1]), t[0] * (2.0 + t[1]) * (1.0 + t[2]))
)


def test_a_lamp_at_five_radii():
    # 3-4-5: the tangent ray leaves the axis at asin(3/5)
    one = projection.lamp_shadow(0.3, 0.5, 1.0)
    assert one.magnification == 2.0
    assert one.extreme == pytest.approx(0.75, rel=1e-15, abs=0.0)
    assert one.excess == pytest.approx(0.25, rel=1e-15, abs=0.0)
    assert one.extreme_angle == pytest.approx(math.asin(0.6), rel=1e-15, abs=0.0)


@given(layouts, st.floats(0.0, math.tau))
def test_no_shadow_falls_beyond_the_extreme(layout, angle):
    one = projection.lamp_shadow(*layout)
    assert abs(projection.shadow(*layout, angle)) <= one.extreme * (1.0 + 1e-9)
    assert projection.shadow(*layout, one.extreme_angle) == pytest.approx(one.extreme, rel=1e-9, abs=0.0)
    assert one.extreme == pytest.approx(one.magnification * layout[0] * (1.0 + one.excess), rel=1e-14, abs=0.0)


@given(layouts, st.floats(0.0, math.tau))
def test_the_departure_is_what_the_edge_on_view_misses(layout, angle):
    radius, lamp_distance, screen_distance = layout
    scale = screen_distance / lamp_distance
    seen = projection.shadow(*layout, angle) / scale
    departure = projection.shadow_departure(radius, lamp_distance, angle)
    assert projection.edge_on(radius, angle) + departure == pytest.approx(seen, rel=1e-9, abs=1e-12 * radius)


def test_a_far_lamp_gives_the_edge_on_view_to_the_last_digit():
    one = projection.lamp_shadow(1e-9, 1e9, 3e9)
    assert one.excess == pytest.approx(0.5e-36, rel=1e-12, abs=0.0)
    assert projection.shadow(0.1, 1e9, 2e9, 1.0) == pytest.approx(0.2 * math.cos(1.0), rel=1e-9, abs=0.0)


@pytest.mark.parametrize("lamp", [0.3, 0.1, math.nan, math.inf])
def test_the_lamp_stands_outside_the_circle(lamp):
    with pytest.raises(OutOfDomainError, match=r"lamp_distance must be greater than the radius, 0\.3 m"):
        projection.lamp_shadow(0.3, lamp, 2.0)


def test_the_screen_stands_beyond_the_circle():
    with pytest.raises(OutOfDomainError, match="screen_distance must be greater than the lamp distance and"):
        projection.shadow(0.25, 0.5, 0.75, 0.0)


def test_a_circle_has_a_radius():
    with pytest.raises(OutOfDomainError, match="radius must be zero or greater"):
        projection.edge_on(-0.1, 0.0)
    with pytest.raises(OutOfDomainError, match="radius must be greater than 0 m"):
        projection.shadow_departure(0.0, 1.0, 0.0)
