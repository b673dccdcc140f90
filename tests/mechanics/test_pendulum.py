import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crankpin.mechanics import inertia, pendulum
from crankpin.mechanics.errors import AbsentError, OutOfDomainError
from crankpin.mechanics.integrate import integrate
from tests.strategies import gravities, lengths, masses, spread, stiffnesses

amplitudes = st.floats(0.0, math.radians(179.9))
shares_of_period = st.floats(-5.0, 5.0)


@given(lengths, gravities)
def test_length_and_gravity_lead_back_from_the_period(length, gravity):
    period = pendulum.small_swing_period(length, gravity)
    assert pendulum.length_for_period(period, gravity) == pytest.approx(length, rel=2e-15, abs=0.0)
    assert pendulum.gravity_from_period(length, period) == pytest.approx(gravity, rel=2e-15, abs=0.0)


@pytest.mark.parametrize(("degrees", "percent"), [(15.0, 0.43), (10.0, 0.19)])
def test_share_added_by_common_swings(degrees, percent):
    """Common practice, no source."""
    assert 100.0 * pendulum.period_excess(math.radians(degrees)) == pytest.approx(percent, abs=0.005)


@given(spread(1e-9, 1e-2))
def test_excess_keeps_its_digits_at_small_angles(amplitude):
    square = amplitude * amplitude
    series = square / 16.0 * (1.0 + 11.0 * square / 192.0 + 173.0 * square * square / 46_080.0)
    assert pendulum.period_excess(amplitude) == pytest.approx(series, rel=1e-14, abs=0.0)


@given(amplitudes)
def test_ratio_excess_and_drift_tell_the_same(amplitude):
    ratio, excess = pendulum.period_ratio(amplitude), pendulum.period_excess(amplitude)
    assert ratio == pytest.approx(1.0 + excess, rel=1e-15, abs=0.0)
    assert pendulum.daily_drift(amplitude) == pytest.approx(-86_400.0 * excess / ratio, rel=1e-14, abs=0.0)
    assert pendulum.swing_period(2.0, 9.8, amplitude) == pendulum.small_swing_period(2.0, 9.8) * ratio


@given(st.floats(1e-4, math.radians(179.0)), st.floats(1e-3, 0.5))
def test_a_wider_swing_takes_longer(amplitude, wider):
    more = min(amplitude * (1.0 + wider), math.radians(179.9))
    assert pendulum.period_ratio(more) > pendulum.period_ratio(amplitude) > 1.0
    assert pendulum.daily_drift(more) < pendulum.daily_drift(amplitude) < 0.0
    assert pendulum.daily_drift(amplitude, trimmed_amplitude=more) > 0.0
    assert pendulum.daily_drift(amplitude, trimmed_amplitude=amplitude) == 0.0


@given(amplitudes)
def test_drift_is_that_of_the_periods(amplitude):
    right, wide = pendulum.small_swing_period(1.0, 9.8), pendulum.swing_period(1.0, 9.8, amplitude)
    assert pendulum.daily_drift(amplitude) == pytest.approx(pendulum.clock_drift(wide, right), abs=1e-9)


@given(st.floats(-20_000.0, 20_000.0))
def test_the_cured_clock_keeps_time(drift):
    length = 1.0 + pendulum.length_change_for_drift(drift)
    fast = pendulum.small_swing_period(1.0, 9.8)
    cured = pendulum.small_swing_period(length, 9.8)
    assert pendulum.clock_drift(fast, cured) == pytest.approx(drift, abs=1e-9)


@given(amplitudes, shares_of_period)
def test_a_swing_keeps_its_energy_and_repeats(amplitude, share):
    period = pendulum.swing_period(0.5, 9.8, amplitude)
    at = pendulum.swing(0.5, 9.8, amplitude, share * period)
    kinetic = 0.5 * 0.5 * at.angular_velocity**2
    potential = 2.0 * 9.8 * math.sin(at.angle / 2.0) ** 2
    assert kinetic + potential == pytest.approx(2.0 * 9.8 * math.sin(amplitude / 2.0) ** 2, rel=1e-13, abs=0.0)
    assert abs(at.angle) <= amplitude * (1.0 + 1e-15)
    later = pendulum.swing(0.5, 9.8, amplitude, (share + 1.0) * period)
    assert later.angle == pytest.approx(at.angle, abs=1e-10 * amplitude)


@pytest.mark.parametrize("amplitude", [1e-9, 0.1, 1.0, math.pi / 2.0, 3.0, math.radians(179.9)])
def test_where_a_swing_is_at_each_quarter(amplitude):
    period = pendulum.swing_period(1.0, 9.8, amplitude)
    fastest = 2.0 * math.sqrt(9.8) * math.sin(amplitude / 2.0)
    start, bottom, end = (pendulum.swing(1.0, 9.8, amplitude, q * period / 4.0) for q in (0, 1, 2))
    assert (start.angle, start.angular_velocity) == (pytest.approx(amplitude, rel=1e-15, abs=0.0), 0.0)
    assert bottom.angle == pytest.approx(0.0, abs=1e-12 * amplitude)
    assert bottom.angular_velocity == pytest.approx(-fastest, rel=1e-12, abs=0.0)
    assert end.angle == pytest.approx(-amplitude, rel=1e-12, abs=0.0)


@given(spread(1e-9, 1e-5), st.floats(0.0, 30.0))
def test_a_tiny_swing_is_harmonic(amplitude, time):
    at = pendulum.swing(1.0, 1.0, amplitude, time)
    assert at.angle == pytest.approx(amplitude * math.cos(time), abs=1e-9 * amplitude)


@pytest.mark.parametrize("degrees", [5.0, 60.0, 120.0, 179.0])
def test_the_swing_satisfies_its_equation_of_motion(degrees):
    amplitude = math.radians(degrees)
    end = 1.5 * pendulum.swing_period(1.2, 9.8, amplitude)
    path = integrate(
        lambda _, state: (state[1], -9.8 / 1.2 * math.sin(state[0])),
        (amplitude, 0.0),
        0.0,
        end,
        relative=1e-13,
        absolute=1e-14,
    )
    for time, (angle, rate) in zip(path.times, path.states, strict=True):
        at = pendulum.swing(1.2, 9.8, amplitude, time)
        assert at.angle == pytest.approx(angle, abs=1e-9 * amplitude)
        assert at.angular_velocity == pytest.approx(rate, abs=1e-9 * amplitude * math.sqrt(9.8 / 1.2))


@given(spread(1e-9, 3.0), lengths, gravities)
def test_the_speed_at_the_bottom_gives_the_amplitude_back(amplitude, length, gravity):
    fastest = 2.0 * math.sqrt(gravity * length) * math.sin(amplitude / 2.0)
    assert pendulum.amplitude_from_speed(fastest, length, gravity) == pytest.approx(amplitude, rel=1e-13, abs=0.0)


@given(masses, lengths, gravities, st.floats(0.05, 20.0))
def test_both_pivots_of_a_body_give_the_period(mass, width, gravity, share):
    central = inertia.rod(mass, width)
    period = pendulum.small_swing_period(width * share, gravity)
    if share < 2.0 / math.sqrt(12.0):
        with pytest.raises(AbsentError, match=r"^No pivot gives this body a period below "):
            pendulum.pivot_distances(central, mass, period, gravity)
        return
    for distance in pendulum.pivot_distances(central, mass, period, gravity):
        about_pivot = inertia.about_parallel_axis(central, mass, distance)
        found = pendulum.rigid_pendulum_period(about_pivot, mass, distance, gravity)
        assert found == pytest.approx(period, rel=1e-13, abs=0.0)


@given(masses, lengths)
def test_the_conjugate_pivot_is_the_other_root(mass, width):
    central = inertia.disc(mass, width)
    nearer, farther = pendulum.pivot_distances(central, mass, pendulum.small_swing_period(3.0 * width, 9.8), 9.8)
    assert pendulum.conjugate_distance(central, mass, nearer) == pytest.approx(farther, rel=1e-14, abs=0.0)
    assert nearer + farther == pytest.approx(3.0 * width, rel=1e-14, abs=0.0)


@given(masses, lengths, gravities)
def test_a_point_mass_on_a_rod_is_a_thread_pendulum(mass, length, gravity):
    period = pendulum.rigid_pendulum_period(mass * length * length, mass, length, gravity)
    assert period == pytest.approx(pendulum.small_swing_period(length, gravity), rel=1e-14, abs=0.0)


@given(stiffnesses, masses)
def test_a_twisted_wire(stiffness, body):
    omega = pendulum.torsion_angular_frequency(stiffness, body)
    assert pendulum.torsion_frequency(stiffness, body) * math.tau == pytest.approx(omega, rel=1e-15, abs=0.0)
    period = pendulum.torsion_period(stiffness, body)
    assert pendulum.torsion_stiffness(body, period) == pytest.approx(stiffness, rel=2e-15, abs=0.0)


def test_a_swing_to_the_top_and_beyond_is_refused():
    for amplitude in (math.pi, 4.0, -0.1, math.nan, math.inf):
        with pytest.raises(OutOfDomainError, match="from 0 to below pi rad") as caught:
            pendulum.period_ratio(amplitude)
        assert caught.value.quantity == "amplitude"
    with pytest.raises(AbsentError) as absent:
        pendulum.amplitude_from_speed(6.3, 1.0, 9.8)
    assert absent.value.reason == (
        "At 6.3 m/s the bob goes over the top, so it has no turning angle; it swings back below 6.261 m/s."
    )


def test_a_time_of_too_many_swings_is_refused():
    with pytest.raises(OutOfDomainError, match=r"^time must be within 1e\+10 s of the release"):
        pendulum.swing(1.0, 1.0, 0.1, 2e10)


def test_less_inertia_than_a_point_mass_has_is_refused():
    with pytest.raises(OutOfDomainError, match=r"at least mass times distance squared, 0\.25 kg m2"):
        pendulum.rigid_pendulum_period(0.2, 1.0, 0.5, 9.8)


@pytest.mark.parametrize("latitude", [-2.0, 2.0, math.nan])
def test_no_such_latitude(latitude):
    with pytest.raises(OutOfDomainError):
        pendulum.plane_turning_rate(latitude, 1.0)


@pytest.mark.parametrize("parameter", [-0.1, 1.0, math.nan])
def test_no_quarter_period_at_the_top(parameter):
    with pytest.raises(OutOfDomainError):
        pendulum.quarter_period(parameter)


def test_a_clock_that_stands_still_is_not_cured():
    with pytest.raises(OutOfDomainError, match="above -86400 s/day"):
        pendulum.length_change_for_drift(-86_400.0)
