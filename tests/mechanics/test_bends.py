import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crankpin.mechanics import bends, circular
from crankpin.mechanics.errors import AbsentError, OutOfDomainError
from tests.strategies import gravities, spread

radii = spread(1e-2, 1e5)
speeds = spread(1e-2, 1e4)


@given(speeds, radii, gravities)
def test_grip_and_speed_on_the_flat_are_each_others_inverse(speed, radius, gravity):
    needed = bends.friction_needed(speed, radius, gravity)
    assert bends.greatest_speed_on_flat(needed, radius, gravity) == pytest.approx(speed, rel=1e-14, abs=0.0)


@given(st.floats(1e-3, 1.5), radii, gravities)
def test_the_bank_its_speed_and_its_radius_agree(angle, radius, gravity):
    speed = bends.speed_for_bank(angle, radius, gravity)
    inward = circular.centripetal_acceleration_from_speed(speed, radius)
    assert bends.banking_angle(inward, gravity) == pytest.approx(angle, rel=1e-13, abs=0.0)
    assert bends.radius_for_bank(speed, angle, gravity) == pytest.approx(radius, rel=1e-13, abs=0.0)


@pytest.mark.parametrize("bad", [-0.1, math.pi / 2.0, math.nan])
def test_a_bank_is_less_than_upright(bad):
    with pytest.raises(OutOfDomainError, match="angle must be from 0 to less than pi/2 rad"):
        bends.speed_for_bank(bad, 10.0, 9.8)


def test_a_level_road_turns_nothing_without_friction():
    assert bends.speed_for_bank(0.0, 10.0, 9.8) == 0.0
    with pytest.raises(OutOfDomainError, match="angle must be greater than 0 rad"):
        bends.radius_for_bank(10.0, 0.0, 9.8)


def test_the_net_force_is_mass_times_acceleration():
    assert bends.centripetal_force(1.5, 4.0) == 6.0


@given(speeds, radii, st.floats(0.0, 1.5), gravities)
def test_the_forces_on_a_bank_add_up_to_the_centripetal_force(speed, radius, angle, gravity):
    inward = circular.centripetal_acceleration_from_speed(speed, radius)
    push = bends.normal_force(2.0, inward, angle, gravity)
    friction = bends.friction_on_bank(2.0, inward, angle, gravity)
    size = 2.0 * (inward + gravity)
    level = push * math.sin(angle) + friction * math.cos(angle)
    upright = push * math.cos(angle) - friction * math.sin(angle) - 2.0 * gravity
    assert level == pytest.approx(2.0 * inward, abs=1e-13 * size)
    assert upright == pytest.approx(0.0, abs=1e-13 * size)


@given(st.floats(0.01, 0.99), radii, st.floats(0.0, 0.78), gravities)
def test_at_the_greatest_speed_friction_is_used_up(coefficient, radius, angle, gravity):
    speed = bends.greatest_speed_on_bank(coefficient, radius, angle, gravity)
    inward = circular.centripetal_acceleration_from_speed(speed, radius)
    friction = bends.friction_on_bank(1.0, inward, angle, gravity)
    assert friction == pytest.approx(coefficient * bends.normal_force(1.0, inward, angle, gravity), rel=1e-11)


@given(st.floats(0.01, 0.5), radii, st.floats(0.6, 1.5), gravities)
def test_at_the_least_speed_friction_is_used_up_the_other_way(coefficient, radius, angle, gravity):
    speed = bends.least_speed_on_bank(coefficient, radius, angle, gravity)
    inward = circular.centripetal_acceleration_from_speed(speed, radius)
    friction = bends.friction_on_bank(1.0, inward, angle, gravity)
    assert friction == pytest.approx(-coefficient * bends.normal_force(1.0, inward, angle, gravity), rel=1e-11)


@given(st.floats(0.0, 5.0), radii, gravities)
def test_a_bank_of_no_angle_is_the_flat(coefficient, radius, gravity):
    on_bank = bends.greatest_speed_on_bank(coefficient, radius, 0.0, gravity)
    assert on_bank == pytest.approx(bends.greatest_speed_on_flat(coefficient, radius, gravity), rel=1e-14)


def test_where_there_is_no_limit_a_reason_is_given():
    with pytest.raises(AbsentError, match="slides up"):
        bends.greatest_speed_on_bank(1.0, 10.0, math.pi / 4 + 1e-12, 10.0)
    with pytest.raises(AbsentError, match="stands still"):
        bends.least_speed_on_bank(0.5, 10.0, 0.1, 10.0)
