import math
import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from crankpin.mechanics.errors import AbsentError, OutOfDomainError
from crankpin.mechanics.sine_fitting import sine_fit
from tests.strategies import spread


def wave(times, amplitude, omega, phase, offset, gamma=0.0):
    return [offset + amplitude * math.exp(-gamma * t) * math.cos(omega * t + phase) for t in times]


def noisy(values, sigma, seed):
    source = random.Random(seed)
    return [value + source.gauss(0.0, sigma) for value in values]


def codes(fit):
    return [warning.code for warning in fit.warnings]


def angle_between(a, b):
    return abs(math.remainder(a - b, math.tau))


@settings(max_examples=40, deadline=None)
@given(
    spread(1e-3, 1e3),
    st.floats(1.6, 18.0),
    st.floats(-3.1, 3.1),
    st.floats(-10.0, 10.0),
    spread(1e-3, 1e3),
    st.floats(-5.0, 5.0),
    st.integers(0, 10**6),
)
def test_a_wave_at_uneven_times_is_found(amplitude, cycles, phase, lift, span, begin, seed):
    source = random.Random(seed)
    times = sorted(span * (begin + (i + source.uniform(-0.3, 0.3)) / 49.0) for i in range(50))
    omega = math.tau * cycles / (times[-1] - times[0])
    fit = sine_fit(times, wave(times, amplitude, omega, phase, amplitude * lift))
    assert fit.angular_frequency == pytest.approx(omega, rel=1e-9)
    assert fit.amplitude == pytest.approx(amplitude, rel=1e-8)
    assert fit.offset == pytest.approx(amplitude * lift, abs=1e-8 * amplitude)
    assert angle_between(fit.phase, phase) < 1e-7
    assert -math.pi < fit.phase <= math.pi
    assert fit.rms < 1e-8 * amplitude
    assert fit.cycles == pytest.approx(cycles, rel=1e-8)
    assert fit.frequency * fit.period == pytest.approx(1.0, rel=1e-15)


def test_order_does_not_matter_and_missing_readings_are_left_out():
    times = [0.1 * i for i in range(40)]
    values = noisy(wave(times, 2.0, 5.0, 1.0, 3.0), 0.1, 1)
    plain = sine_fit(times, values)
    mixed = list(zip(times, values, strict=True))
    random.Random(2).shuffle(mixed)
    rows = [*mixed[:7], (0.55, None), *mixed[7:], (None, 1.0)]
    fit = sine_fit([t for t, _ in rows], [x for _, x in rows])
    assert fit.angular_frequency == plain.angular_frequency
    assert fit.u_phase == plain.u_phase
    assert (fit.n, fit.missing, codes(fit)) == (40, 2, ["missing"])


@settings(max_examples=25, deadline=None)
@given(st.floats(2.0, 12.0), st.floats(0.5, 4.0), st.floats(-3.0, 3.0), st.floats(-2.0, 2.0))
def test_a_decaying_wave_is_found(cycles, decay, phase, begin):
    times = [begin + i / 80.0 for i in range(81)]
    fit = sine_fit(times, wave(times, 2.0, math.tau * cycles, phase, -1.0, decay), damped=True)
    assert fit.decay_rate == pytest.approx(decay, rel=1e-8)
    assert fit.angular_frequency == pytest.approx(math.tau * cycles, rel=1e-9)
    assert fit.amplitude == pytest.approx(2.0, rel=1e-7)
    assert angle_between(fit.phase, phase) < 1e-7


@given(st.floats(0.5, 20.0), st.floats(-3.0, 3.0))
def test_a_known_frequency_is_kept(cycles, phase):
    times = [i / 50.0 for i in range(51)]
    omega = math.tau * cycles
    fit = sine_fit(times, wave(times, 2.0, omega, phase, 1.0), angular_frequency=omega)
    assert (fit.angular_frequency, fit.u_angular_frequency) == (omega, 0.0)
    assert fit.amplitude == pytest.approx(2.0, rel=1e-10)
    assert angle_between(fit.phase, phase) < 1e-10


def test_a_known_frequency_with_decay():
    times = [i / 50.0 for i in range(51)]
    values = wave(times, 2.0, 20.0, 0.5, 1.0, 1.5)
    fit = sine_fit(times, values, angular_frequency=20.0, damped=True)
    assert fit.decay_rate == pytest.approx(1.5, rel=1e-10)
    assert fit.u_angular_frequency == 0.0


def test_uncertainties_of_many_readings_are_those_of_theory():
    """sigma_A = sqrt(2/N) sigma, sigma_f = sqrt(6/N) sigma/(pi T A), phase at the middle sqrt(2/N) sigma/A.

    Montgomery and O'Donoghue, Communications in Asteroseismology (1999), from memory.
    """
    n, sigma, amplitude = 400, 0.2, 2.0
    times = [10.0 * i / n for i in range(n)]
    values = noisy(wave(times, amplitude, math.tau * 2.03, 1.0, 3.0), sigma, 4)
    fit = sine_fit(times, values, [sigma] * n)
    assert fit.u_amplitude == pytest.approx(math.sqrt(2.0 / n) * sigma, rel=0.02)
    assert fit.u_frequency == pytest.approx(math.sqrt(6.0 / n) * sigma / (math.pi * 10.0 * amplitude), rel=0.02)
    assert fit.u_middle_phase == pytest.approx(math.sqrt(2.0 / n) * sigma / amplitude, rel=0.02)
    assert fit.u_phase == pytest.approx(2.0 * fit.u_middle_phase, rel=0.02)
    assert fit.u_offset == pytest.approx(sigma / math.sqrt(n), rel=0.02)
    assert fit.u_period == pytest.approx(fit.period * fit.u_frequency / fit.frequency, rel=1e-14)
    assert 0.8 < fit.chi2 < 1.2


def test_the_uncertainties_hold_their_promise():
    """Of 200 noisy records the true value lies within one u for about 68 %, within two for 95 %."""
    times = [i / 12.0 for i in range(40)]
    truth = {"amplitude": 1.0, "angular_frequency": 6.0, "phase": 0.7, "offset": 0.2}
    inside = {key: [0, 0] for key in truth}
    for seed in range(200):
        fit = sine_fit(times, noisy(wave(times, 1.0, 6.0, 0.7, 0.2), 0.2, seed))
        for key, value in truth.items():
            off = abs(getattr(fit, key) - value) / getattr(fit, "u_" + key)
            inside[key][0] += off < 1.0
            inside[key][1] += off < 2.0
    for one, two in inside.values():
        assert 116 <= one <= 156
        assert two >= 180


def test_the_fit_is_the_wave_between_the_readings():
    times = [0.1 * i for i in range(60)]
    fit = sine_fit(times, wave(times, 2.0, 3.0, 1.0, 0.5, 0.2), damped=True)
    assert fit.at(1.234) == pytest.approx(wave([1.234], 2.0, 3.0, 1.0, 0.5, 0.2)[0], abs=1e-9)


def test_few_turns_are_said_so():
    times = [i / 30.0 for i in range(31)]
    fit = sine_fit(times, noisy(wave(times, 1.0, math.tau * 0.8, 0.3, 0.0), 0.01, 3))
    assert codes(fit) == ["few-cycles"]
    assert "span only 0.8" in fit.warnings[0].message
    longer = sine_fit([2.5 * t for t in times], noisy(wave(times, 1.0, math.tau * 2.0, 0.3, 0.0), 0.01, 3))
    assert codes(longer) == []


def test_few_readings_in_a_turn_are_said_so():
    times = [float(i) for i in range(30)]
    assert codes(sine_fit(times, wave(times, 1.0, math.tau * 0.45, 0.3, 0.0))) == ["alias"]


def test_pure_scatter_is_said_so():
    times = [float(i) for i in range(30)]
    warned = ["no-signal" in codes(sine_fit(times, noisy([0.0] * 30, 1.0, seed))) for seed in range(40)]
    assert sum(warned) >= 38
    strong = [
        "no-signal" in codes(sine_fit(times, noisy(wave(times, 2.0, 1.0, 0.0, 0.0), 1.0, seed))) for seed in range(40)
    ]
    assert sum(strong) <= 2


def test_a_rival_frequency_is_named():
    """Readings in two short bursts: how many turns fit between them is anyone's guess."""
    times = [0.05 * i for i in range(6)] + [10.0 + 0.05 * i for i in range(6)]
    fit = sine_fit(times, noisy(wave(times, 1.0, 8.0, 0.3, 0.0), 0.05, 5))
    assert "ambiguous" in codes(fit)
    assert abs(fit.rival - fit.angular_frequency) > 0.3 * math.tau / 10.25


def test_a_decay_that_is_not_there_is_said_so():
    times = [0.1 * i for i in range(60)]
    assert "no-decay" in codes(sine_fit(times, noisy(wave(times, 1.0, 4.0, 0.3, 0.0), 0.1, 6), damped=True))


def test_a_clock_far_from_the_readings_loses_the_phase():
    times = [1e5 + 0.1 * i for i in range(60)]
    fit = sine_fit(times, noisy(wave(times, 1.0, 4.0, 0.3, 0.0), 0.1, 7))
    assert "far-start" in codes(fit)
    assert fit.u_middle_phase < 0.1


def test_a_slow_reader_of_a_long_record_is_told_what_was_not_tried():
    times = [0.0, 1e-7, 2e-7, *(float(i) for i in range(1, 60))]
    times = sorted(times + [t + 1e-7 for t in times[3:]])
    fit = sine_fit(times, wave(times, 1.0, 1.3, 0.3, 0.0))
    assert fit.angular_frequency == pytest.approx(1.3, rel=1e-6)
    assert "search-limited" in codes(fit)


@pytest.mark.parametrize(
    ("times", "values", "message"),
    [
        ([0, 1, 2, 3], [0, 1, 0, 1], "at least 5 complete rows"),
        ([0, 0, 0, 1, 1, 1], [0, 1, 0, 1, 2, 3], "at least 4 different ones"),
        ([0, 1, 2, 3, 4], [0, 1, 0, math.nan, 1], "numbers between"),
        ([], [], "at least 5 complete rows"),
    ],
)
def test_too_little_to_fit_is_refused(times, values, message):
    with pytest.raises(OutOfDomainError, match=message):
        sine_fit(times, values)


def test_equal_readings_hold_no_swing():
    with pytest.raises(AbsentError) as absent:
        sine_fit(list(range(10)), [3.0] * 10)
    assert absent.value.reason == "The readings are all equal, so there is no swing to fit."


def test_a_straight_ramp_holds_no_turn():
    times = [0.1 * i for i in range(30)]
    try:
        fit = sine_fit(times, times)
    except AbsentError as absent:
        assert "No sine wave can be told" in absent.reason
    else:
        assert "few-cycles" in codes(fit)


@pytest.mark.parametrize("bad", [0.0, -1.0, math.nan])
def test_a_known_frequency_must_be_one(bad):
    with pytest.raises(OutOfDomainError):
        sine_fit(list(range(10)), list(range(10)), angular_frequency=bad)


def test_a_decay_far_from_its_start_is_refused():
    times = [1000.0 + 0.02 * i for i in range(60)]
    values = wave([t - 1000.0 for t in times], 1.0, 20.0, 0.3, 0.0, 3.0)
    with pytest.raises(OutOfDomainError, match="counted from near the start of the decay"):
        sine_fit(times, values, damped=True)
