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
    assert fit.angular_frequency == pytest.approx(omega, rel=1e-9, abs=0.0)
    assert fit.amplitude == pytest.approx(amplitude, rel=1e-8, abs=0.0)
    assert fit.offset == pytest.approx(amplitude * lift, abs=1e-8 * amplitude)
    assert angle_between(fit.phase, phase) < 1e-7
    assert -math.pi < fit.phase <= math.pi
    assert fit.rms < 1e-8 * amplitude
    assert fit.cycles == pytest.approx(cycles, rel=1e-8, abs=0.0)
    assert fit.frequency * fit.period == pytest.approx(1.0, rel=1e-15, abs=0.0)


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
    assert fit.decay_rate == pytest.approx(decay, rel=1e-8, abs=0.0)
    assert fit.angular_frequency == pytest.approx(math.tau * cycles, rel=1e-9, abs=0.0)
    assert fit.amplitude == pytest.approx(2.0, rel=1e-7, abs=0.0)
    assert angle_between(fit.phase, phase) < 1e-7


@given(st.floats(0.5, 20.0), st.floats(-3.0, 3.0))
def test_a_known_frequency_is_kept(cycles, phase):
    times = [i / 50.0 for i in range(51)]
    omega = math.tau * cycles
    fit = sine_fit(times, wave(times, 2.0, omega, phase, 1.0), angular_frequency=omega)
    assert (fit.angular_frequency, fit.u_angular_frequency) == (omega, 0.0)
    assert fit.amplitude == pytest.approx(2.0, rel=1e-10, abs=0.0)
    assert angle_between(fit.phase, phase) < 1e-10


def test_a_known_frequency_with_decay():
    times = [i / 50.0 for i in range(51)]
    values = wave(times, 2.0, 20.0, 0.5, 1.0, 1.5)
    fit = sine_fit(times, values, angular_frequency=20.0, damped=True)
    assert fit.decay_rate == pytest.approx(1.5, rel=1e-10, abs=0.0)
    assert fit.u_angular_frequency == 0.0


def test_uncertainties_of_many_readings_are_those_of_theory():
    """sigma_A = sqrt(2/N) sigma, sigma_f = sqrt(6/N) sigma/(pi T A), phase at the middle sqrt(2/N) sigma/A.

    Montgomery and O'Donoghue, Communications in Asteroseismology (1999), from memory.
    """
    n, sigma, amplitude = 400, 0.2, 2.0
    times = [10.0 * i / n for i in range(n)]
    values = noisy(wave(times, amplitude, math.tau * 2.03, 1.0, 3.0), sigma, 4)
    fit = sine_fit(times, values, [sigma] * n)
    assert fit.u_amplitude == pytest.approx(math.sqrt(2.0 / n) * sigma, rel=0.02, abs=0.0)
    assert fit.u_frequency == pytest.approx(
        math.sqrt(6.0 / n) * sigma / (math.pi * 10.0 * amplitude), rel=0.02, abs=0.0
    )
    assert fit.u_middle_phase == pytest.approx(math.sqrt(2.0 / n) * sigma / amplitude, rel=0.02, abs=0.0)
    assert fit.u_phase == pytest.approx(2.0 * fit.u_middle_phase, rel=0.02, abs=0.0)
    assert fit.u_offset == pytest.approx(sigma / math.sqrt(n), rel=0.02, abs=0.0)
    assert fit.u_period == pytest.approx(fit.period * fit.u_frequency / fit.frequency, rel=1e-14, abs=0.0)
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
    warned = ["no-signal" in codes(sine_fit(times, noisy([0.0] * 30, 1.0, seed))) for seed in range(20)]
    assert sum(warned) >= 19
    strong = [
        "no-signal" in codes(sine_fit(times, noisy(wave(times, 2.0, 1.0, 0.0, 0.0), 1.0, seed))) for seed in range(20)
    ]
    assert sum(strong) <= 1


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
    assert fit.angular_frequency == pytest.approx(1.3, rel=1e-6, abs=0.0)
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
    with pytest.raises(AbsentError) as absent:
        sine_fit(times, times)
    assert absent.value.reason == "No sine wave can be told from these readings; take more, over more turns."


@pytest.mark.parametrize("bad", [0.0, -1.0, math.nan])
def test_a_known_frequency_must_be_one(bad):
    with pytest.raises(OutOfDomainError):
        sine_fit(list(range(10)), list(range(10)), angular_frequency=bad)


def test_a_decay_far_from_its_start_is_refused():
    times = [1000.0 + 0.02 * i for i in range(60)]
    values = wave([t - 1000.0 for t in times], 1.0, 20.0, 0.3, 0.0, 3.0)
    with pytest.raises(OutOfDomainError) as caught:
        sine_fit(times, values, damped=True)
    assert (caught.value.quantity, caught.value.required) == ("times", "counted from near the start of the decay")
    assert caught.value.given == pytest.approx(1000.59)
    nearer = sine_fit([t - 950.0 for t in times], values, damped=True)
    assert nearer.amplitude == pytest.approx(math.exp(150.0), rel=1e-6, abs=0.0)


# The parts, on small records


def test_every_number_of_a_fit_belongs_to_its_wave():
    """A record of small scatter: each number against the wave it was made of, the rest against each other."""
    times = [2.0 + 0.05 * i for i in range(100)]
    values = [v + 0.01 * math.sin(1000.0 * i * i) for i, v in enumerate(wave(times, 3.0, 4.0, 0.8, -1.5, 0.3))]
    fit = sine_fit(times, values, damped=True)
    assert fit.middle == pytest.approx(2.0 + 0.05 * 99 / 2, rel=1e-15, abs=0.0)
    assert fit.amplitude == pytest.approx(3.0, rel=5e-3, abs=0.0)
    assert fit.angular_frequency == pytest.approx(4.0, rel=1e-3, abs=0.0)
    assert fit.decay_rate == pytest.approx(0.3, rel=1e-2, abs=0.0)
    assert fit.offset == pytest.approx(-1.5, rel=3e-3, abs=0.0)
    assert fit.middle_amplitude == pytest.approx(
        fit.amplitude * math.exp(-fit.decay_rate * fit.middle), rel=1e-13, abs=0.0
    )
    assert angle_between(fit.middle_phase, fit.phase + fit.angular_frequency * fit.middle) < 1e-12
    assert angle_between(fit.phase, 0.8) < 0.02
    assert fit.cycles == pytest.approx(fit.angular_frequency * 0.05 * 99 / math.tau, rel=1e-14, abs=0.0)
    left = [y - fit.at(t) for t, y in zip(times, values, strict=True)]
    squares = math.fsum(one * one for one in left)
    assert fit.rms == pytest.approx(math.sqrt(squares / 100), rel=1e-9, abs=0.0)
    assert fit.scatter == pytest.approx(math.sqrt(squares / 95), rel=1e-9, abs=0.0)
    assert (fit.n, fit.missing, fit.chi2, fit.rival, fit.warnings) == (100, 0, None, None, ())
    assert fit.u_frequency == fit.u_angular_frequency / math.tau
    assert fit.u_period == pytest.approx(fit.period**2 * fit.u_frequency, rel=1e-14, abs=0.0)


@pytest.mark.parametrize("damped", [False, True])
@pytest.mark.parametrize("stated", [False, True])
def test_the_uncertainties_are_the_spread_of_many_like_records(damped, stated):
    """Each reading alone is moved a little: the root of the squares of a number's changes is its uncertainty."""
    times = [1.0 + 0.1 * i for i in range(24)]
    sigmas = [0.01 * (1.0 + i % 3) for i in range(24)] if stated else [0.01] * 24
    clean = wave(times, 2.0, 5.0, 0.4, 1.0, 0.5 if damped else 0.0)
    keys = ["amplitude", "angular_frequency", "phase", "offset", "middle_amplitude", "middle_phase"]
    keys += ["decay_rate"] if damped else []
    given_u = sigmas if stated else None
    first = sine_fit(times, clean, given_u, damped=damped)
    squares = dict.fromkeys(keys, 0.0)
    for i, sigma in enumerate(sigmas):
        moved = [*clean[:i], clean[i] + 0.1 * sigma, *clean[i + 1 :]]
        fit = sine_fit(times, moved, given_u, damped=damped)
        for key in keys:
            squares[key] += ((getattr(fit, key) - getattr(first, key)) / 0.1) ** 2
    if not stated:  # then the scatter of this record sets the scale
        values = [v + 0.01 * (-1) ** (i // 3) for i, v in enumerate(clean)]
        first = sine_fit(times, values, damped=damped)
        squares = {key: square * (first.scatter / 0.01) ** 2 for key, square in squares.items()}
    for key in keys:
        assert getattr(first, "u_" + key) == pytest.approx(math.sqrt(squares[key]), rel=0.02, abs=0.0)
    assert (first.u_decay_rate > 0.0) is damped
    assert (first.chi2 is not None) is stated


def test_a_given_frequency_leaves_a_straight_fit():
    """Four readings a quarter turn apart: offset, cosine and sine are means, by hand."""
    fit = sine_fit([0.0, 1.0, 2.0, 3.0], [5.0, 2.0, 1.0, 4.0], angular_frequency=math.pi / 2.0)
    # offset 3; the cosine's share (5 - 1)/2 = 2, the sine's (2 - 4)/2 = -1; nothing left over
    assert fit.offset == pytest.approx(3.0, rel=1e-14, abs=0.0)
    assert fit.amplitude == pytest.approx(math.sqrt(5.0), rel=1e-14, abs=0.0)
    assert fit.phase == pytest.approx(math.atan2(1.0, 2.0), rel=1e-13, abs=0.0)
    assert fit.rms == pytest.approx(0.0, abs=1e-14)
    assert fit.cycles == pytest.approx(0.75, rel=1e-14, abs=0.0)
    assert (fit.u_angular_frequency, fit.decay_rate, fit.u_decay_rate, fit.rival) == (0.0, 0.0, 0.0, None)


def test_weights_decide_between_two_halves_that_disagree():
    times = [0.2 * i for i in range(20)]
    values = [v + (0.5 if i % 2 else 0.0) for i, v in enumerate(wave(times, 1.0, 2.0, 0.0, 0.0))]
    low = sine_fit(times, values, [0.01 if i % 2 == 0 else 10.0 for i in range(20)], angular_frequency=2.0)
    high = sine_fit(times, values, [10.0 if i % 2 == 0 else 0.01 for i in range(20)], angular_frequency=2.0)
    assert (low.offset, high.offset) == (pytest.approx(0.0, abs=1e-5), pytest.approx(0.5, abs=1e-5))


@pytest.mark.parametrize("turns", [0.3, 1.0])
def test_no_wave_slower_than_a_fifth_of_a_turn_is_found(turns):
    times = [i / 40.0 for i in range(41)]
    fit = sine_fit(times, wave(times, 1.0, math.tau * turns, 0.3, 2.0))
    assert fit.cycles == pytest.approx(turns, rel=1e-6, abs=0.0)
    with pytest.raises(AbsentError):
        sine_fit(times, [0.001 * t * t for t in times])


def said(fit):
    return {warning.code: warning.message for warning in fit.warnings}


def test_the_warnings_and_their_words():
    times = [float(i) for i in range(30)]
    alias = said(sine_fit(times, wave(times, 1.0, math.tau * 0.45, 0.3, 0.0)))
    assert alias == {
        "alias": "There are only 2.2 readings in a turn, so a faster wave may look just like this one; read more often."
    }
    assert said(sine_fit(times, wave(times, 1.0, math.tau * 0.34, 0.3, 0.0))).keys() == {"alias"}
    assert said(sine_fit(times, wave(times, 1.0, math.tau * 0.32, 0.3, 0.0))) == {}
    short = [i / 30.0 for i in range(31)]
    few = said(sine_fit(short, noisy(wave(short, 1.0, math.tau * 1.45, 0.3, 0.0), 0.01, 3)))
    assert few.keys() == {"few-cycles"}
    assert few["few-cycles"].startswith("The readings span only 1.4")
    assert few["few-cycles"].endswith(
        " turns, too few to tell swing, offset and frequency well apart; record for longer."
    )
    assert said(sine_fit(short, noisy(wave(short, 1.0, math.tau * 1.55, 0.3, 0.0), 0.01, 3))) == {}
    known = sine_fit(
        short, noisy(wave(short, 1.0, math.tau * 0.8, 0.3, 0.0), 0.01, 3), angular_frequency=math.tau * 0.8
    )
    assert said(known) == {}
    scatter = said(sine_fit(times, noisy([0.0] * 30, 1.0, 1)))
    assert scatter["no-signal"] == "Scatter alone could give such a wave: these readings do not prove a swing."
    still = said(sine_fit(times, noisy(wave(times, 1.0, 1.0, 0.3, 0.0), 0.1, 6), damped=True))
    assert still == {"no-decay": "The decay is within its uncertainty: these readings do not prove one."}
    far = said(sine_fit([1e5 + 0.1 * t for t in times], noisy(wave(times, 1.0, 0.5, 0.3, 0.0), 0.1, 7)))
    assert far == {"far-start": "The phase at t = 0 is lost: start the clock within or just before the readings."}
    bursts = [0.05 * i for i in range(6)] + [10.0 + 0.05 * i for i in range(6)]
    fit = sine_fit(bursts, noisy(wave(bursts, 1.0, 8.0, 0.3, 0.0), 0.05, 5))
    assert said(fit)["ambiguous"] == (
        f"A wave of {fit.rival / math.tau:.4g} Hz fits almost as well as this one; more readings would tell them apart."
    )


def test_a_fit_that_is_as_good_by_chance_is_no_proof():
    """With a known frequency one trial is made: the chance is (rest/all) to the power (n - 3)/2."""
    times = [float(i) for i in range(11)]
    swing, noise = wave(times, 1.0, 1.0, 0.0, 0.0), noisy([0.0] * 11, 1.0, 12)

    def fitted(share):
        values = [share * s + n for s, n in zip(swing, noise, strict=True)]
        fit = sine_fit(times, values, angular_frequency=1.0)
        mean = math.fsum(values) / 11.0
        everything = math.fsum((v - mean) ** 2 for v in values)
        return (11.0 * fit.rms**2 / everything) ** 4.0, "no-signal" in said(fit)

    tried = [fitted(0.05 * i) for i in range(80)]
    assert all(told is (chance > 0.01) for chance, told in tried)
    assert {told for _, told in tried} == {True, False}


@pytest.mark.parametrize(
    ("times", "values", "known", "quantity", "required", "given"),
    [
        ([0, 1, 2, 3], [0, 1, 0, 1], None, "readings", "at least 5 complete rows for this fit", 4),
        ([0, 1, 2], [0, 1, 0], 1.0, "readings", "at least 4 complete rows for this fit", 3),
        ([0, 0, 0, 1, 1, 1], [0, 1, 0, 1, 2, 3], None, "times", "at least 4 different ones for this fit", 2),
        ([0, 0, 1, 1], [0, 1, 0, 1], 1.0, "times", "at least 3 different ones for this fit", 2),
    ],
)
def test_refusals_name_what_was_given(times, values, known, quantity, required, given):
    with pytest.raises(OutOfDomainError) as caught:
        sine_fit(times, values, angular_frequency=known)
    assert (caught.value.quantity, caught.value.required, caught.value.given) == (quantity, required, given)


def test_just_enough_readings_are_fitted():
    times = [0.0, 1.0, 2.0, 3.0, 4.5]
    assert sine_fit(times, wave(times, 1.0, 1.6, 0.2, 0.0)).rms < 1e-6
    with pytest.raises(OutOfDomainError, match="at least 6 complete rows"):
        sine_fit(times, wave(times, 1.0, 1.6, 0.2, 0.0), damped=True)


def test_readings_that_average_out_hold_no_swing_of_that_frequency():
    with pytest.raises(AbsentError) as absent:
        sine_fit([0.0, 0.0, 1.0, 1.0, 2.0, 2.0], [1.0, -1.0, 1.0, -1.0, 1.0, -1.0], angular_frequency=1.0)
    assert absent.value.reason == "There is no swing of this frequency in the readings."
