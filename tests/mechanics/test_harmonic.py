import math

import pytest
from hypothesis import assume, example, given
from hypothesis import strategies as st

from crankpin.mechanics import circular, harmonic
from crankpin.mechanics.errors import AbsentError, OutOfDomainError
from tests.strategies import (
    angular_frequencies,
    any_phases,
    lengths,
    phases,
    positions,
    shares,
    velocities,
)


def test_the_pin_of_the_pier_wheel():
    # common practice, no source: x = A cos(omega t), v = -A omega sin(omega t), a = -A omega^2 cos(omega t)
    a, omega, t = 0.12, 3.0, 0.4
    assert harmonic.position(a, omega, 0.0, t) == pytest.approx(0.12 * math.cos(1.2), rel=1e-15, abs=0.0)
    assert harmonic.velocity(a, omega, 0.0, t) == pytest.approx(-0.36 * math.sin(1.2), rel=1e-15, abs=0.0)
    assert harmonic.acceleration(a, omega, 0.0, t) == pytest.approx(-1.08 * math.cos(1.2), rel=1e-15, abs=0.0)


@given(lengths, angular_frequencies, phases, st.floats(0.0, 50.0))
def test_the_motion_is_the_projection_of_the_circle(amplitude, omega, phase, turned):
    time = turned / omega
    pin = circular.plane_motion(amplitude, omega, harmonic.phase_angle(omega, phase, time))
    assert harmonic.position(amplitude, omega, phase, time) == pytest.approx(pin.x, rel=1e-15, abs=0.0)
    assert harmonic.velocity(amplitude, omega, phase, time) == pytest.approx(pin.v_x, rel=4e-16, abs=0.0)
    assert harmonic.acceleration(amplitude, omega, phase, time) == pytest.approx(pin.a_x, rel=1e-15, abs=0.0)


@given(lengths, angular_frequencies, phases, st.floats(0.0, 50.0))
def test_speed_and_acceleration_follow_from_the_position_alone(amplitude, omega, phase, turned):
    time = turned / omega
    x = harmonic.position(amplitude, omega, phase, time)
    v = harmonic.velocity(amplitude, omega, phase, time)
    most = harmonic.greatest_speed(amplitude, omega)
    assert harmonic.speed_at(amplitude, omega, x) == pytest.approx(abs(v), rel=1e-12, abs=3e-8 * most)
    assert harmonic.acceleration_at(x, omega) == pytest.approx(
        harmonic.acceleration(amplitude, omega, phase, time), rel=1e-14, abs=0.0
    )


@given(lengths, angular_frequencies, shares)
def test_position_and_speed_are_each_others_inverse(amplitude, omega, share):
    speed = harmonic.greatest_speed(amplitude, omega) * share
    x = harmonic.position_at_speed(amplitude, omega, speed)
    assert math.hypot(x * omega, speed) == pytest.approx(amplitude * omega, rel=1e-14, abs=0.0)


def test_a_speed_above_the_greatest_is_refused():
    with pytest.raises(OutOfDomainError, match="speed must be at most the greatest speed"):
        harmonic.position_at_speed(0.5, 2.0, 1.5)
    assert harmonic.position_at_speed(0.5, 2.0, 1.0) == 0.0


@given(lengths, angular_frequencies)
@example(9.855, 7.319)  # 9.855 * 7.319 / 7.319 is rounded to just above 9.855
def test_at_the_greatest_speed_it_is_at_equilibrium(amplitude, omega):
    assert harmonic.position_at_speed(amplitude, omega, amplitude * omega) <= 2e-8 * amplitude
    assert harmonic.position_at_speed(amplitude, omega, -amplitude * omega) <= 2e-8 * amplitude


@given(angular_frequencies, positions, velocities)
@example(3.0, -0.1, 0.0)
@example(3.0, -0.1, -0.0)
@example(3.0, -0.1, 1e-300)
def test_the_start_gives_the_state_back(omega, x0, v0):
    assume(x0 or v0)
    amplitude = harmonic.amplitude_from_start(omega, x0, v0)
    phase = harmonic.phase_from_start(omega, x0, v0)
    assert -math.pi < phase <= math.pi
    assert harmonic.position(amplitude, omega, phase, 0.0) == pytest.approx(x0, abs=1e-15 * amplitude)
    assert harmonic.velocity(amplitude, omega, phase, 0.0) == pytest.approx(v0, abs=1e-15 * amplitude * omega)


def test_released_on_the_far_side_the_phase_is_plus_pi():
    assert harmonic.phase_from_start(2.0, -0.1, 0.0) == math.pi
    assert harmonic.phase_from_start(2.0, -0.1, -0.0) == math.pi
    assert harmonic.phase_from_start(2.0, 0.1, 0.0) == 0.0


def test_nothing_moving_has_no_phase():
    assert harmonic.amplitude_from_start(2.0, 0.0, 0.0) == 0.0
    with pytest.raises(AbsentError, match="no phase"):
        harmonic.phase_from_start(2.0, 0.0, 0.0)


@given(angular_frequencies, any_phases)
def test_the_peak_is_at_or_after_the_start_and_within_one_period(omega, phase):
    t = harmonic.peak_time(omega, phase)
    assert 0.0 <= t <= math.tau / omega
    assert harmonic.position(1.0, omega, phase, t) == pytest.approx(1.0, abs=1e-15)


@pytest.mark.parametrize("turns", range(-8, 9))
def test_whole_turns_of_phase_start_at_the_peak(turns):
    assert harmonic.peak_time(2.0, turns * math.tau) == 0.0


def test_a_phase_just_past_the_peak_waits_one_period():
    assert harmonic.peak_time(1.0, 1e-12) == pytest.approx(math.tau, rel=1e-12, abs=0.0)
    assert harmonic.peak_time(1.0, -1e-12) == pytest.approx(1e-12, rel=1e-12, abs=0.0)


@given(lengths, angular_frequencies, any_phases, shares)
@example(0.12, 3.0, 0.0, 1.0)
@example(0.12, 3.0, math.pi, -1.0)
@example(0.12, 3.0, 3.0 * math.pi, -1.0)
@example(0.12, 3.0, 0.0, 1.0 - 1e-16)
def test_the_passings_are_there_in_order_and_the_first_two(amplitude, omega, phase, share):
    x = amplitude * share
    first, second = harmonic.passing_times(amplitude, omega, phase, x)
    turn = math.tau / omega
    assert 0.0 <= first.time <= second.time <= (2.0 * turn if abs(x) == amplitude else turn)
    for passing in (first, second):
        assert harmonic.position(amplitude, omega, phase, passing.time) == pytest.approx(x, abs=5e-14 * amplitude)
        assert harmonic.velocity(amplitude, omega, phase, passing.time) == pytest.approx(
            passing.velocity, abs=5e-14 * amplitude * omega / max(math.sqrt(1.0 - share * share), 1e-7)
        )
        assert passing.acceleration == harmonic.acceleration_at(x, omega)
    if abs(x) < amplitude:
        assert first.velocity == -second.velocity != 0.0
    else:
        assert first.velocity == second.velocity == 0.0


@given(lengths, angular_frequencies, phases)
def test_the_present_position_is_passed_now(amplitude, omega, phase):
    x = harmonic.position(amplitude, omega, phase, 0.0)
    first, _ = harmonic.passing_times(amplitude, omega, phase, x)
    assert first.time * omega <= 1e-7


@pytest.mark.parametrize("amplitude", [1e-6, 1.0, 1e6])
def test_so_it_is_close_to_a_turning_point(amplitude):
    # rounding of the position alone moves the passing by far more than rounding of the phase
    for step in range(1, 200):
        x = harmonic.position(amplitude, 1.0, 1e-5 * step, 0.0)
        first, _ = harmonic.passing_times(amplitude, 1.0, 1e-5 * step, x)
        assert first.time <= 1e-10


@pytest.mark.parametrize(
    ("phase", "x", "first"),
    [(0.0, 0.12, 0.0), (math.pi, -0.12, 0.0), (1e-9, 0.12, 0.0), (1.0, 0.12, (math.tau - 1.0) / 3.0)],
)
def test_at_a_turning_point_the_passings_are_one_period_apart(phase, x, first):
    one, two = harmonic.passing_times(0.12, 3.0, phase, x)
    assert one.time == pytest.approx(first, rel=1e-15, abs=0.0)
    assert two.time - one.time == pytest.approx(math.tau / 3.0, rel=1e-15, abs=0.0)


def test_out_of_reach_names_the_amplitude():
    with pytest.raises(OutOfDomainError) as caught:
        harmonic.passing_times(0.12, 3.0, 0.0, -0.13)
    assert str(caught.value) == (
        "position must be within the amplitude A, that is from -0.12 m to 0.12 m; it was -0.13"
    )
    assert (caught.value.quantity, caught.value.given) == ("position", -0.13)


@pytest.mark.parametrize("bad", [0.0, -0.1, math.nan])
def test_no_amplitude_no_passing(bad):
    with pytest.raises(OutOfDomainError, match="amplitude must be greater than 0 m"):
        harmonic.passing_times(bad, 3.0, 0.0, 0.0)


@pytest.mark.parametrize("bad", [math.nan, math.inf])
def test_no_silent_nan(bad):
    for call in (
        lambda: harmonic.position(1.0, 1.0, bad, 0.0),
        lambda: harmonic.position(1.0, 1.0, 0.0, bad),
        lambda: harmonic.position(1.0, bad, 0.0, 0.0),
        lambda: harmonic.passing_times(1.0, 1.0, bad, 0.0),
        lambda: harmonic.passing_times(1.0, 1.0, 0.0, bad),
        lambda: harmonic.phase_from_start(1.0, bad, 0.0),
        lambda: harmonic.position_at_speed(1.0, 1.0, bad),
    ):
        with pytest.raises(OutOfDomainError):
            call()


def test_the_amplitude_that_a_given_acceleration_allows():
    assert harmonic.amplitude_for_acceleration(harmonic.greatest_acceleration(0.07, 5.0), 5.0) == pytest.approx(
        0.07, rel=1e-15, abs=0.0
    )
