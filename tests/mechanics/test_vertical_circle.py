"""The holder's force on an upright circle."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crankpin.mechanics import bends, circular, vertical_circle
from crankpin.mechanics.errors import AbsentError, OutOfDomainError
from tests.strategies import gravities, masses, spread


def test_weight_and_holder_together_give_the_centripetal_force():
    for angle in (0.0, 0.7, 2.0, 3.9, 5.5):
        across, up = vertical_circle.holding_force(2.5, 1.8, 0.42, angle, 9.81)
        net = (across, up - vertical_circle.weight(2.5, 9.81))
        needed = bends.centripetal_force(2.5, circular.centripetal_acceleration(1.8, 0.42))
        assert net[0] == pytest.approx(-needed * math.cos(angle), abs=1e-12)
        assert net[1] == pytest.approx(-needed * math.sin(angle), abs=1e-12)


def test_at_the_rate_at_which_the_acceleration_is_g_the_holder_does_nothing_at_the_top():
    rate = math.sqrt(9.81 / 1.8)
    assert vertical_circle.force_at_top(2.5, 1.8, rate, 9.81) == pytest.approx(0.0, abs=1e-12)
    assert vertical_circle.force_at_top(2.5, 1.8, 1.1 * rate, 9.81) < 0.0
    assert vertical_circle.force_at_bottom(2.5, 1.8, rate, 9.81) == pytest.approx(2 * 2.5 * 9.81)


@pytest.mark.parametrize(("name", "given"), [("mass", (0.0, 9.81)), ("gravity", (2.5, -9.81))])
def test_mass_and_gravity_must_be_above_zero(name, given):
    with pytest.raises(OutOfDomainError) as caught:
        vertical_circle.weight(*given)
    assert caught.value.quantity == name


lowest = spread(1e-3, 1e3)
circles = spread(1e-2, 1e2)


@given(masses, circles, spread(1e-2, 1e2), gravities)
def test_hump_and_dip_lie_as_far_from_the_weight(mass, radius, speed, gravity):
    above = vertical_circle.force_over_hump(mass, radius, speed, gravity)
    below = vertical_circle.force_through_dip(mass, radius, speed, gravity)
    carried = vertical_circle.weight(mass, gravity)
    size = below + abs(above)
    assert above + below == pytest.approx(2.0 * carried, abs=1e-14 * size)
    assert below - above == pytest.approx(2.0 * mass * speed * speed / radius, abs=1e-14 * size)


@given(masses, circles, gravities)
def test_at_the_weightless_speed_the_road_does_not_push(mass, radius, gravity):
    speed = vertical_circle.weightless_speed(radius, gravity)
    push = vertical_circle.force_over_hump(mass, radius, speed, gravity)
    assert push == pytest.approx(0.0, abs=1e-14 * vertical_circle.weight(mass, gravity))


@given(lowest, circles, st.floats(0.0, math.pi), gravities)
def test_energy_stays_the_same_round_the_circle(speed, radius, angle, gravity):
    try:
        there = vertical_circle.speed_round_circle(speed, radius, angle, gravity)
    except AbsentError:
        assert speed**2 <= 2.0 * gravity * radius * (1.0 - math.cos(angle)) * (1.0 + 1e-14)
        return
    gained = 2.0 * gravity * radius * (1.0 - math.cos(angle))
    assert there**2 + gained == pytest.approx(speed**2, rel=1e-13)
    inward = vertical_circle.inward_force_round_circle(1.0, radius, speed, angle, gravity)
    size = speed**2 / radius + 5.0 * gravity
    assert inward - gravity * math.cos(angle) == pytest.approx(there**2 / radius, abs=1e-13 * size)


@given(st.floats(2.001, 4.999), circles, gravities)
def test_where_it_leaves_nothing_holds_it(ratio, radius, gravity):
    speed = math.sqrt(ratio * gravity * radius)
    angle = vertical_circle.leaving_angle(speed, radius, gravity)
    force = vertical_circle.inward_force_round_circle(1.0, radius, speed, angle, gravity)
    assert force == pytest.approx(0.0, abs=1e-13 * gravity)
    assert vertical_circle.speed_round_circle(speed, radius, angle, gravity) > 0.0


@given(st.floats(1e-6, 3.99), circles, gravities)
def test_it_turns_back_where_its_speed_is_used_up(ratio, radius, gravity):
    speed = math.sqrt(ratio * gravity * radius)
    angle = vertical_circle.turning_angle(speed, radius, gravity)
    assert vertical_circle.lowest_speed(radius, angle, gravity) == pytest.approx(speed, rel=1e-8)


@pytest.mark.parametrize(("ratio", "words"), [(1.0, "swings back"), (5.5, "all the way round")])
def test_no_leaving_where_it_stays_on_the_circle(ratio, words):
    with pytest.raises(AbsentError, match=words):
        vertical_circle.leaving_angle(math.sqrt(10.0 * ratio), 1.0, 10.0)


def test_no_turning_back_where_it_goes_round():
    with pytest.raises(AbsentError, match="all the way round"):
        vertical_circle.turning_angle(math.sqrt(40.5), 1.0, 10.0)
