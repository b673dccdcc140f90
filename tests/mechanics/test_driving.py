import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from crankpin.mechanics import damping, driving
from crankpin.mechanics.errors import AbsentError, OutOfDomainError
from crankpin.mechanics.integrate import integrate
from tests.strategies import either_sign, masses, spread, stiffnesses

zetas = spread(1e-9, 1e9)
ratios = spread(1e-6, 1e6)
forces = spread(1e-6, 1e6)
starts = either_sign(spread(1e-3, 1e3))


def damping_of(zeta, mass, stiffness):
    return zeta * damping.critical_damping(mass, stiffness)


@given(masses, stiffnesses, zetas, ratios, forces)
def test_amplitude_and_lag_balance_the_forces(mass, stiffness, zeta, ratio, force):
    """Along the force: F cos(lag) = (k - m w^2) A; across it: F sin(lag) = b w A."""
    b = damping_of(zeta, mass, stiffness)
    omega = ratio * damping.natural_angular_frequency(mass, stiffness)
    swing = driving.amplitude(mass, stiffness, b, force, omega)
    lag = driving.phase_lag(mass, stiffness, b, omega)
    assert 0.0 <= lag <= math.pi
    size = (stiffness + mass * omega * omega) * swing + force
    assert force * math.cos(lag) == pytest.approx((stiffness - mass * omega * omega) * swing, abs=4e-15 * size)
    assert force * math.sin(lag) == pytest.approx(b * omega * swing, rel=1e-13, abs=4e-15 * force)
    speed_lag = driving.velocity_phase_lag(mass, stiffness, b, omega)
    assert speed_lag == pytest.approx(lag - math.pi / 2.0, abs=1e-15)


@given(masses, stiffnesses, zetas, ratios, forces)
def test_the_damping_takes_what_the_drive_gives(mass, stiffness, zeta, ratio, force):
    b = damping_of(zeta, mass, stiffness)
    omega = ratio * damping.natural_angular_frequency(mass, stiffness)
    given_by_drive = (
        0.5
        * force
        * driving.velocity_amplitude(mass, stiffness, b, force, omega)
        * math.sin(driving.phase_lag(mass, stiffness, b, omega))
    )
    power = driving.mean_power(mass, stiffness, b, force, omega)
    assert power <= 0.5 * force * force / b * (1.0 + 1e-14)
    assume(math.sin(driving.phase_lag(mass, stiffness, b, omega)) > 1e-6)
    assert power == pytest.approx(given_by_drive, rel=1e-8, abs=0.0)


@given(masses, stiffnesses, spread(1e-9, 0.7), forces)
def test_the_peak_is_the_highest_place_of_the_curve(mass, stiffness, zeta, force):
    b = damping_of(zeta, mass, stiffness)
    peak = driving.peak_angular_frequency(mass, stiffness, b)
    height = driving.peak_amplitude(mass, stiffness, b, force)
    assert driving.amplitude(mass, stiffness, b, force, peak) == pytest.approx(height, rel=1e-6, abs=0.0)
    for aside in (1.0 - 1e-3, 1.0 + 1e-3, 0.5, 2.0):
        assert driving.amplitude(mass, stiffness, b, force, peak * aside) < height
    assert height >= driving.static_displacement(stiffness, force) * (1.0 - 1e-15)


@given(masses, stiffnesses, spread(0.7072, 1e9), forces, ratios)
def test_beyond_the_last_peak_the_amplitude_only_falls(mass, stiffness, zeta, force, ratio):
    b = damping_of(zeta, mass, stiffness)
    with pytest.raises(AbsentError, match="there is no resonance peak"):
        driving.peak_angular_frequency(mass, stiffness, b)
    omega = ratio * damping.natural_angular_frequency(mass, stiffness)
    slower, faster = (driving.amplitude(mass, stiffness, b, force, w) for w in (omega, 1.1 * omega))
    assert faster <= slower <= driving.static_displacement(stiffness, force)


def test_the_last_peak_is_at_one_over_root_two():
    mass, stiffness = 0.5, 4.84  # b = sqrt(2mk) = 2.2 exactly on paper
    with pytest.raises(AbsentError):
        driving.peak_angular_frequency(mass, stiffness, 2.2)
    assert driving.peak_angular_frequency(mass, stiffness, 2.2 * (1.0 - 1e-12)) < 1e-4


@given(masses, stiffnesses, zetas)
def test_half_the_power_at_both_ends_of_the_band(mass, stiffness, zeta):
    b = damping_of(zeta, mass, stiffness)
    band = driving.half_power_band(mass, stiffness, b)
    omega_0 = damping.natural_angular_frequency(mass, stiffness)
    assert band.lower * band.upper == pytest.approx(omega_0 * omega_0, rel=1e-14, abs=0.0)
    width = driving.bandwidth(mass, b)
    assert band.upper - band.lower == pytest.approx(width, rel=1e-13, abs=1e-15 * band.upper)
    assert width == pytest.approx(omega_0 / damping.quality_factor(mass, stiffness, b), rel=1e-14, abs=0.0)
    if 1e-6 < zeta < 1e6:
        most = driving.mean_power(mass, stiffness, b, 1.0, omega_0)
        for end in (band.lower, band.upper):
            assert driving.mean_power(mass, stiffness, b, 1.0, end) == pytest.approx(most / 2.0, rel=1e-8, abs=0.0)
        assert most == pytest.approx(0.5 / b, rel=1e-8, abs=0.0)


def test_without_damping_the_lag_jumps():
    assert driving.phase_lag(1.0, 4.0, 0.0, 1.9) == 0.0
    assert driving.phase_lag(1.0, 4.0, 0.0, 2.1) == math.pi
    assert driving.amplitude(1.0, 4.0, 0.0, 3.0, 1.0) == 1.0
    assert driving.mean_power(1.0, 4.0, 0.0, 3.0, 1.0) == 0.0
    assert driving.peak_angular_frequency(1.0, 4.0, 0.0) == 2.0


@pytest.mark.parametrize(
    "call",
    [
        lambda: driving.amplitude(1.0, 4.0, 0.0, 3.0, 2.0),
        lambda: driving.phase_lag(1.0, 4.0, 0.0, 2.0),
        lambda: driving.velocity_phase_lag(1.0, 4.0, 0.0, 2.0),
        lambda: driving.mean_power(1.0, 4.0, 0.0, 3.0, 2.0),
        lambda: driving.steady_motion(1.0, 4.0, 0.0, 3.0, 2.0, 1.0),
    ],
)
def test_without_damping_there_is_no_steady_state_at_resonance(call):
    with pytest.raises(AbsentError) as absent:
        call()
    assert absent.value.reason == (
        "Without damping and driven exactly at its own frequency, the swing grows without end: "
        "there is no steady state."
    )


def test_without_damping_the_peak_has_no_limit():
    with pytest.raises(AbsentError) as absent:
        driving.peak_amplitude(1.0, 4.0, 0.0, 1.0)
    assert absent.value.reason == "Without damping the resonance peak has no limit."


@pytest.mark.parametrize("zeta", [0.0, 1e-9, 0.02, 0.5, 1.0 - 1e-9, 1.0, 1.0 + 1e-9, 2.0, 15.0])
@pytest.mark.parametrize("ratio", [0.0, 0.3, 1.0 - 1e-7, 1.0, 1.3, 3.0])
def test_the_driven_motion_satisfies_its_equation_of_motion(zeta, ratio):
    mass, stiffness, force, start = 0.4, 10.0, 2.0, (0.1, -0.5)
    b = damping_of(zeta, mass, stiffness)
    omega = ratio * damping.natural_angular_frequency(mass, stiffness)
    path = integrate(
        lambda t, state: (
            state[1],
            (force * math.cos(omega * t) - b * state[1] - stiffness * state[0]) / mass,
        ),
        start,
        0.0,
        2.0,
        relative=1e-12,
        absolute=1e-13,
    )
    for time, (position, velocity) in list(zip(path.times, path.states, strict=True))[::10]:
        at = driving.driven_motion(mass, stiffness, b, force, omega, time, *start)
        assert at.position == pytest.approx(position, abs=1e-9)
        assert at.velocity == pytest.approx(velocity, abs=5e-9)


@given(spread(1e-2, 10.0), spread(0.1, 10.0), st.floats(0.0, 10.0))
def test_after_the_start_has_died_away_the_steady_state_is_left(zeta, ratio, time):
    b = 2.0 * zeta
    slowest = zeta if zeta <= 1.0 else damping.decay_rates(1.0, 1.0, b).slow
    late = 45.0 / slowest + time
    whole = driving.driven_motion(1.0, 1.0, b, 1.0, ratio, late, 0.5, -0.5)
    steady = driving.steady_motion(1.0, 1.0, b, 1.0, ratio, late)
    size = driving.amplitude(1.0, 1.0, b, 1.0, ratio)
    assert whole.position == pytest.approx(steady.position, abs=1e-11 * size * (1.0 + ratio * late))
    speed = size * max(ratio, 1.0)
    assert whole.velocity == pytest.approx(steady.velocity, abs=1e-11 * speed * (1.0 + ratio * late))


@given(st.floats(1e-6, 100.0), spread(1e-15, 1e-9), st.sampled_from([-1.0, 0.0, 1.0]))
def test_at_resonance_without_damping_the_swing_grows_evenly(time, gap, side):
    at = driving.driven_motion(1.0, 1.0, 0.0, 1.0, 1.0 + side * gap, time)
    grown = 0.5 * time * math.sin(time)
    assert at.position == pytest.approx(grown, abs=(gap * time * time + 1e-14) * time)
    assert at.velocity == pytest.approx(
        0.5 * (math.sin(time) + time * math.cos(time)), abs=(gap * time * time + 1e-14) * (1.0 + time)
    )


@given(zetas, ratios, starts, starts)
def test_the_start_is_where_it_was_put(zeta, ratio, position, velocity):
    at = driving.driven_motion(1.0, 1.0, 2.0 * zeta, 1.0, ratio, 0.0, position, velocity)
    assert (at.position, at.velocity) == (position, pytest.approx(velocity, rel=1e-15, abs=0.0))


@given(zetas | st.just(0.0) | st.floats(0.99, 1.01), spread(1e-3, 1e3), spread(1e-9, 1e-4))
def test_the_first_moments_follow_the_force_alone(zeta, ratio, time):
    assume(time * max(zeta, ratio, 1.0) < 1e-3)
    at = driving.driven_motion(2.0, 2.0, 4.0 * zeta, 1.0, ratio, time)
    early = time * max(zeta, ratio, 1.0) * 2.0
    assert at.velocity == pytest.approx(0.5 * time, rel=early, abs=0.0)
    assert at.position == pytest.approx(0.25 * time * time, rel=early, abs=0.0)


@given(st.floats(0.0, 100.0), st.just(0.0) | st.floats(1e-12, 2.0))
def test_no_force_leaves_the_free_motion(time, zeta):
    free = damping.damped_motion(1.0, 1.0, 2.0 * zeta, 1.0, 0.5, time)
    assert driving.driven_motion(1.0, 1.0, 2.0 * zeta, 0.0, 3.0, time, 1.0, 0.5) == free


def test_a_very_slow_drive_moves_it_as_a_steady_force_does():
    assert driving.amplitude(1.0, 8.0, 2.0, 4.0, 0.0) == driving.static_displacement(8.0, 4.0) == 0.5
    assert driving.phase_lag(1.0, 8.0, 2.0, 0.0) == 0.0
    assert driving.support_force(8.0, 0.5) == 4.0


@pytest.mark.parametrize("bad", [-1.0, math.nan, math.inf])
@pytest.mark.parametrize("which", ["mass", "stiffness", "damping", "force", "angular_frequency"])
def test_what_is_no_driven_oscillator_is_refused(bad, which):
    values = {"mass": 1.0, "stiffness": 1.0, "damping": 0.1, "force": 1.0, "angular_frequency": 1.0}
    for call in (driving.amplitude, driving.mean_power):
        with pytest.raises(OutOfDomainError) as caught:
            call(**values | {which: bad})
        assert caught.value.quantity == which
    with pytest.raises(OutOfDomainError):
        driving.driven_motion(**values | {which: bad}, time=1.0)


def test_a_time_of_too_many_turns_is_refused():
    with pytest.raises(OutOfDomainError, match=r"1e10 rad of the drive"):
        driving.steady_motion(1.0, 1.0, 0.1, 1.0, 2.0, 1e10)
