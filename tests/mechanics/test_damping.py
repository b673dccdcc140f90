import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from crankpin.mechanics import damping
from crankpin.mechanics.damping import Regime
from crankpin.mechanics.errors import AbsentError, OutOfDomainError
from crankpin.mechanics.integrate import integrate
from tests.strategies import either_sign, masses, spread, stiffnesses

zetas = st.just(0.0) | spread(1e-12, 1e12) | st.floats(0.9, 1.1) | st.floats(1e-12, 3.0)
near_critical = spread(1e-12, 1e-3).flatmap(lambda gap: st.sampled_from([1.0 - gap, 1.0 + gap, 1.0]))
starts = either_sign(spread(1e-3, 1e3))
turns = st.floats(0.0, 20.0)


def damping_of(zeta, mass, stiffness):
    return zeta * damping.critical_damping(mass, stiffness)


@given(masses, stiffnesses, spread(1e-12, 0.999))
def test_light_damping_in_its_several_measures(mass, stiffness, zeta):
    b = damping_of(zeta, mass, stiffness)
    constants = mass, stiffness, b
    gamma = damping.damping_coefficient(mass, b)
    assert damping.damping_ratio(*constants) == pytest.approx(zeta, rel=1e-15, abs=0.0)
    assert damping.quality_factor(*constants) == pytest.approx(0.5 / zeta, rel=1e-15, abs=0.0)
    assert damping.time_constant(mass, b) * gamma == pytest.approx(1.0, rel=1e-15, abs=0.0)
    assert damping.regime(*constants) is Regime.UNDERDAMPED
    decrement = damping.log_decrement(*constants)
    assert decrement == pytest.approx(gamma * damping.damped_period(*constants), rel=1e-14, abs=0.0)
    assert damping.damping_ratio_from_decrement(decrement) == pytest.approx(zeta, rel=1e-12, abs=0.0)
    assert damping.amplitude_share(mass, b, damping.half_life(*constants)) == pytest.approx(0.5, rel=1e-14, abs=0.0)
    slower = damping.natural_angular_frequency(mass, stiffness) * (1.0 - damping.frequency_shortfall(zeta))
    assert damping.damped_angular_frequency(*constants) == pytest.approx(slower, rel=1e-12, abs=0.0)


@given(st.integers(1, 999), st.integers(1, 999), st.sampled_from([0.1, 0.01, 0.001]))
def test_decimals_that_are_critical_on_paper_are_critical(root_of_mass, root_of_stiffness, unit):
    mass, stiffness = root_of_mass**2 * unit * unit, root_of_stiffness**2 * unit * unit
    b = 2 * root_of_mass * root_of_stiffness * unit * unit
    assert damping.regime(mass, stiffness, b) is Regime.CRITICAL
    assert damping.regime(mass, stiffness, b * (1.0 - 1e-13)) is Regime.UNDERDAMPED
    assert damping.regime(mass, stiffness, b * (1.0 + 1e-13)) is Regime.OVERDAMPED


def test_the_damped_rate_keeps_its_digits_next_to_critical():
    omega = damping.damped_angular_frequency(1.0, 1.0, 2.0 - 2.0**-40)
    assert omega == pytest.approx(math.sqrt(2.0**-40 * (1.0 - 2.0**-42)), rel=1e-15, abs=0.0)


@given(masses, stiffnesses, spread(1.0 + 1e-9, 1e12))
def test_two_rates_of_a_creeping_return(mass, stiffness, zeta):
    b = damping_of(zeta, mass, stiffness)
    rates = damping.decay_rates(mass, stiffness, b)
    assert rates.slow <= rates.fast
    assert rates.slow * rates.fast == pytest.approx(stiffness / mass, rel=1e-13, abs=0.0)
    assert rates.slow + rates.fast == pytest.approx(b / mass, rel=1e-13, abs=0.0)


@given(zetas | near_critical, starts, starts)
def test_the_start_is_where_it_was_put(zeta, position, velocity):
    at = damping.damped_motion(0.7, 3.1, damping_of(zeta, 0.7, 3.1), position, velocity, 0.0)
    assert (at.position, at.velocity) == (position, pytest.approx(velocity, rel=1e-15, abs=0.0))


@given(zetas | near_critical, starts, starts, turns, turns)
def test_going_on_from_the_middle_leads_to_the_same_end(zeta, position, velocity, first, second):
    b = damping_of(zeta, 1.0, 1.0)
    middle = damping.damped_motion(1.0, 1.0, b, position, velocity, first)
    end = damping.damped_motion(1.0, 1.0, b, middle.position, middle.velocity, second)
    whole = damping.damped_motion(1.0, 1.0, b, position, velocity, first + second)
    size = math.hypot(position, velocity)
    assert end.position == pytest.approx(whole.position, abs=1e-13 * size)
    assert end.velocity == pytest.approx(whole.velocity, abs=1e-13 * size)


@given(zetas | near_critical, starts, starts, turns, st.floats(1e-3, 3.0))
def test_energy_never_grows(zeta, position, velocity, time, later):
    b = damping_of(zeta, 1.0, 1.0)
    now = damping.damped_motion(1.0, 1.0, b, position, velocity, time)
    then = damping.damped_motion(1.0, 1.0, b, position, velocity, time + later)
    before, after = math.hypot(now.position, now.velocity), math.hypot(then.position, then.velocity)
    assert after <= before + 1e-14 * math.hypot(position, velocity)


@given(spread(1e-15, 1e-6), st.sampled_from([-1.0, 1.0]), starts, starts, st.floats(0.0, 10.0))
def test_the_three_regimes_join(gap, side, position, velocity, time):
    near = damping.damped_motion(1.0, 1.0, 2.0 * (1.0 + side * gap), position, velocity, time)
    at = damping.damped_motion(1.0, 1.0, 2.0, position, velocity, time)
    critical = (position + (velocity + position) * time) * math.exp(-time)
    size = math.hypot(position, velocity)
    assert at.position == pytest.approx(critical, abs=1e-14 * size)
    assert near.position == pytest.approx(at.position, abs=(3.0 * gap + 1e-14) * size)
    assert near.velocity == pytest.approx(at.velocity, abs=(3.0 * gap + 1e-14) * size)


@given(spread(1e5, 1e12), st.floats(0.01, 5.0))
def test_heavy_damping_creeps_at_k_over_b(zeta, shares):
    b = 2.0 * zeta
    at = damping.damped_motion(1.0, 1.0, b, 1.0, 0.0, shares * b)
    assert at.position == pytest.approx(math.exp(-shares), rel=3e-10, abs=0.0)
    assert at.velocity == pytest.approx(-math.exp(-shares) / b, rel=3e-10, abs=0.0)


@pytest.mark.parametrize("zeta", [0.0, 0.05, 0.7, 1.0 - 1e-9, 1.0, 1.0 + 1e-9, 1.5, 20.0])
@pytest.mark.parametrize("start", [(1.0, 0.0), (0.0, -2.0), (0.3, 4.0)])
def test_the_motion_satisfies_its_equation_of_motion(zeta, start):
    mass, stiffness = 0.4, 10.0
    b = damping_of(zeta, mass, stiffness)
    path = integrate(
        lambda _, state: (state[1], -(b * state[1] + stiffness * state[0]) / mass),
        start,
        0.0,
        4.0,
        relative=1e-13,
        absolute=1e-14,
    )
    for time, (position, velocity) in zip(path.times, path.states, strict=True):
        at = damping.damped_motion(mass, stiffness, b, *start, time)
        assert at.position == pytest.approx(position, abs=1e-9)
        assert at.velocity == pytest.approx(velocity, abs=5e-9)


@given(spread(1e-9, 0.99), starts, starts, turns)
def test_the_swing_stays_within_its_envelope_and_is_its_two_terms(zeta, position, velocity, time):
    constants = 1.0, 1.0, 2.0 * zeta
    at = damping.damped_motion(*constants, position, velocity, time)
    height = damping.envelope(*constants, position, velocity, time)
    assert abs(at.position) <= height * (1.0 + 1e-12) + 1e-13 * math.hypot(position, velocity)
    terms = damping.swing_terms(*constants, position, velocity)
    angle = damping.damped_angular_frequency(*constants) * time
    swing = (terms.cosine * math.cos(angle) + terms.sine * math.sin(angle)) * math.exp(-zeta * time)
    assert at.position == pytest.approx(swing, abs=1e-12 * math.hypot(terms.cosine, terms.sine))


@given(st.floats(1.001, 100.0), starts, starts, turns)
def test_the_creep_is_its_two_terms(zeta, position, velocity, time):
    constants = 1.0, 1.0, 2.0 * zeta
    rates = damping.decay_rates(*constants)
    terms = damping.creep_terms(*constants, position, velocity)
    creep = terms.slow * math.exp(-rates.slow * time) + terms.fast * math.exp(-rates.fast * time)
    at = damping.damped_motion(*constants, position, velocity, time)
    assert at.position == pytest.approx(creep, abs=1e-13 * (abs(terms.slow) + abs(terms.fast)))


@given(spread(1e-6, 0.9), st.integers(1, 5))
def test_peaks_give_the_decrement_and_the_lost_energy(zeta, count):
    constants = 1.0, 1.0, 2.0 * zeta
    time = count * damping.damped_period(*constants)
    peak = damping.damped_motion(*constants, 1.0, 0.0, time)
    assert abs(peak.velocity) <= 1e-12
    assume(peak.position > 1e-6)
    decrement = damping.decrement_from_peaks(1.0, peak.position, count)
    assert decrement == pytest.approx(damping.log_decrement(*constants), rel=1e-8, abs=1e-13)
    lost = damping.energy_lost_per_turn(decrement)
    assert lost == pytest.approx(1.0 - peak.position ** (2.0 / count), abs=1e-12)


def test_q_turns_divide_the_energy_by_535():
    """Common practice: exp(2 pi)."""
    assert damping.energy_fall_factor(25.0, 25.0) == pytest.approx(535.49, abs=0.005)
    assert damping.energy_fall_time(25.0, 50.0, math.exp(math.tau)) == pytest.approx(0.5, rel=1e-15, abs=0.0)
    b = damping_of(0.5 / 25.0, 1.0, 1.0)
    assert damping.energy_share(1.0, b, 25.0 * math.tau) == pytest.approx(math.exp(-math.tau), rel=1e-14, abs=0.0)


@pytest.mark.parametrize(
    ("call", "reason"),
    [
        (
            lambda: damping.damped_angular_frequency(1.0, 4.0, 4.0),
            "A critically damped oscillator returns without swinging, so it has no damped angular frequency.",
        ),
        (
            lambda: damping.half_life(1.0, 4.0, 5.0),
            "An overdamped oscillator returns without swinging, so it has no amplitude to halve.",
        ),
        (
            lambda: damping.damped_period(1.0, 4.0, 4.0),
            "A critically damped oscillator returns without swinging, so it has no period.",
        ),
        (
            lambda: damping.log_decrement(1.0, 4.0, 5.0),
            "An overdamped oscillator returns without swinging, so it has no swings to compare.",
        ),
        (
            lambda: damping.envelope(1.0, 4.0, 5.0, 1.0, 0.0, 1.0),
            "An overdamped oscillator returns without swinging, so it has no peaks.",
        ),
        (lambda: damping.half_life(1.0, 4.0, 0.0), "Without damping the amplitude never halves."),
        (
            lambda: damping.quality_factor(1.0, 4.0, 0.0),
            "Without damping no energy is lost, so Q has no limit.",
        ),
        (
            lambda: damping.time_constant(1.0, 0.0),
            "Without damping the amplitude never falls, so there is no time constant.",
        ),
        (
            lambda: damping.decay_rates(1.0, 4.0, 1.0),
            "An underdamped oscillator swings as it decays, so it has one decay rate, not two.",
        ),
        (
            lambda: damping.creep_terms(1.0, 4.0, 4.0, 1.0, 0.0),
            "A critically damped return is not a sum of two decays: its two rates are one.",
        ),
    ],
)
def test_what_a_regime_lacks_is_absent_with_a_reason(call, reason):
    with pytest.raises(AbsentError) as absent:
        call()
    assert absent.value.reason == reason


def test_critical_damping_has_equal_rates_and_no_damping_no_decrement():
    assert damping.decay_rates(1.0, 4.0, 4.0) == damping.DecayRates(2.0, 2.0)
    assert damping.log_decrement(1.0, 4.0, 0.0) == 0.0
    assert damping.damped_period(1.0, 4.0, 0.0) == math.pi


@pytest.mark.parametrize("bad", [-1.0, math.nan, math.inf])
@pytest.mark.parametrize("which", ["mass", "stiffness", "damping", "time"])
def test_what_is_no_oscillator_is_refused(bad, which):
    given_values = {"mass": 1.0, "stiffness": 1.0, "damping": 0.1, "time": 1.0} | {which: bad}
    with pytest.raises(OutOfDomainError) as caught:
        damping.damped_motion(position=1.0, velocity=0.0, **given_values)
    assert caught.value.quantity == which


@pytest.mark.parametrize("measure", [damping.log_decrement, damping.regime, damping.quality_factor])
def test_no_mass_is_refused(measure):
    with pytest.raises(OutOfDomainError):
        measure(0.0, 1.0, 0.1)


def test_a_time_of_too_many_turns_is_refused_unless_all_is_at_rest():
    with pytest.raises(OutOfDomainError, match=r"1e10 rad of swing"):
        damping.damped_motion(1.0, 1.0, 0.0, 1.0, 0.0, 2e10)
    assert damping.damped_motion(1.0, 1.0, 1e-6, 1.0, 0.0, 2e10) == damping.Motion(0.0, 0.0)


def test_refused_measures():
    for call in (
        lambda: damping.decrement_from_peaks(1.0, 1.1),
        lambda: damping.decrement_from_peaks(1.0, 0.0),
        lambda: damping.decrement_from_peaks(1.0, 0.5, 0),
        lambda: damping.frequency_shortfall(1.0),
        lambda: damping.energy_fall_time(1.0, 1.0, 0.5),
        lambda: damping.energy_fall_factor(1.0, 1000.0),
        lambda: damping.energy_lost_per_turn(-0.1),
    ):
        with pytest.raises(OutOfDomainError):
            call()
