import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crankpin.mechanics import circular, conical, pendulum
from crankpin.mechanics.errors import AbsentError, OutOfDomainError
from tests.strategies import gravities, masses, spread

cords = spread(1e-3, 1e3)
angles = st.floats(1e-3, 1.56)


@given(masses, cords, angles, gravities)
def test_the_cord_holds_the_weight_and_gives_the_centripetal_force(mass, length, angle, gravity):
    radius = conical.circle_radius(length, angle)
    omega = conical.angular_velocity(length, angle, gravity)
    pull = conical.tension(mass, angle, gravity)
    inward = mass * circular.centripetal_acceleration(radius, omega)
    assert pull * math.cos(angle) == pytest.approx(mass * gravity, rel=1e-13)
    assert pull * math.sin(angle) == pytest.approx(inward, rel=1e-12)
    assert math.hypot(radius, conical.depth(length, angle)) == pytest.approx(length, rel=1e-14)


@given(cords, st.floats(0.05, 1.56), gravities)
def test_angle_and_rate_lead_back_to_each_other(length, angle, gravity):
    omega = conical.angular_velocity(length, angle, gravity)
    assert conical.angle_at_rate(length, omega, gravity) == pytest.approx(angle, rel=1e-11)


@given(cords, gravities)
def test_a_narrow_cone_keeps_time_with_a_small_swing(length, gravity):
    period = circular.period(conical.angular_velocity(length, 1e-6, gravity))
    assert period == pytest.approx(pendulum.small_swing_period(length, gravity), rel=1e-11)


def test_no_cone_as_slow_as_the_swing_itself():
    with pytest.raises(AbsentError, match="straight down"):
        conical.angle_at_rate(2.5, 2.0, 10.0)


@pytest.mark.parametrize("bad", [0.0, math.pi / 2, -0.1, math.nan])
def test_a_cone_needs_an_angle_between_upright_and_level(bad):
    with pytest.raises(OutOfDomainError, match="below pi/2"):
        conical.tension(1.0, bad, 9.81)
