import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crankpin.mechanics import bends, circular
from crankpin.mechanics.errors import OutOfDomainError
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
