import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crankpin.mechanics import circular
from crankpin.mechanics.errors import AbsentError, OutOfDomainError
from tests.strategies import angular_frequencies, either_sign, lengths


def test_a_disc_at_33_and_a_third_rpm():
    omega = circular.angular_frequency_from_frequency(100.0 / 3.0 / 60.0)
    assert circular.rotational_frequency_rpm(omega) == pytest.approx(100.0 / 3.0, rel=1e-15, abs=0.0)
    assert circular.period(omega) == pytest.approx(1.8, rel=1e-15, abs=0.0)
    assert circular.frequency(omega) == pytest.approx(1.0 / 1.8, rel=1e-15, abs=0.0)
    assert omega == pytest.approx(10.0 * math.pi / 9.0, rel=1e-15, abs=0.0)


def test_nothing_turning_has_no_period():
    with pytest.raises(AbsentError, match="no period"):
        circular.period(0.0)
    assert circular.frequency(0.0) == 0.0


@pytest.mark.parametrize("bad", [0.0, -1.0, math.nan, math.inf])
def test_a_period_must_be_above_zero(bad):
    with pytest.raises(OutOfDomainError, match="period must be greater than 0 s"):
        circular.angular_frequency_from_period(bad)


def test_a_negative_radius_is_refused():
    with pytest.raises(OutOfDomainError, match=r"radius must be zero or greater than 0 m; it was -0\.1"):
        circular.rim_speed(-0.1, 1.0)


@given(either_sign(angular_frequencies))
def test_every_form_of_the_rate_leads_back_to_the_rate(omega):
    assert circular.angular_frequency_from_frequency(circular.frequency(omega)) == pytest.approx(
        abs(omega), rel=4e-16, abs=0.0
    )
    if omega:
        assert circular.angular_frequency_from_period(circular.period(omega)) == pytest.approx(
            abs(omega), rel=4e-16, abs=0.0
        )


@given(lengths, either_sign(angular_frequencies))
def test_the_two_forms_of_centripetal_acceleration_agree(radius, omega):
    by_rate = circular.centripetal_acceleration(radius, omega)
    by_speed = circular.centripetal_acceleration_from_speed(circular.rim_speed(radius, omega), radius)
    assert by_speed == pytest.approx(by_rate, rel=1e-15, abs=0.0)
    assert circular.angular_speed_from_acceleration(by_rate, radius) == pytest.approx(abs(omega), rel=1e-15, abs=0.0)


@given(lengths, either_sign(angular_frequencies), st.floats(-10.0, 10.0))
def test_velocity_is_along_the_circle_and_acceleration_to_its_centre(radius, omega, angle):
    motion = circular.plane_motion(radius, omega, angle)
    speed, inward = circular.rim_speed(radius, omega), circular.centripetal_acceleration(radius, omega)
    assert math.hypot(motion.x, motion.y) == pytest.approx(radius, rel=1e-14, abs=0.0)
    assert math.hypot(motion.v_x, motion.v_y) == pytest.approx(speed, rel=1e-14, abs=0.0)
    assert abs(motion.x * motion.v_x + motion.y * motion.v_y) <= 1e-14 * radius * speed
    towards_centre = -(motion.x * motion.a_x + motion.y * motion.a_y)
    assert towards_centre == pytest.approx(radius * inward, rel=1e-14, abs=0.0)


@given(st.floats(-1e6, 1e6))
def test_within_turn_keeps_the_direction(angle):
    reduced = circular.within_turn(angle)
    assert -math.pi < reduced <= math.pi
    assert math.cos(reduced) == pytest.approx(math.cos(angle), abs=1e-9)
    assert math.sin(reduced) == pytest.approx(math.sin(angle), abs=1e-9)


def test_turns_of_a_rolling_wheel():
    assert circular.rolled_turns(math.pi, 0.25) == pytest.approx(2.0, rel=1e-15, abs=0.0)
    assert circular.turns(circular.angle(math.tau, 2.0, math.pi)) == pytest.approx(2.5, rel=1e-15, abs=0.0)
