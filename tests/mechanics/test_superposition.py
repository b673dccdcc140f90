import cmath
import math
from fractions import Fraction

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from crankpin.mechanics import superposition
from crankpin.mechanics.errors import AbsentError, OutOfDomainError
from crankpin.mechanics.superposition import Phasor
from tests.strategies import lengths, phases, spread

near_lengths = spread(1e-3, 1e3)
wheels = st.builds(Phasor, near_lengths, spread(1e-2, 1e2), phases)


@given(near_lengths, phases, near_lengths, phases)
def test_two_motions_of_one_rate_are_one_arrow(a_1, phi_1, a_2, phi_2):
    total = cmath.rect(a_1, phi_1) + cmath.rect(a_2, phi_2)
    assert superposition.resultant_amplitude(a_1, a_2, phi_2 - phi_1) == pytest.approx(
        abs(total), rel=1e-12, abs=1e-14 * (a_1 + a_2)
    )
    if abs(total) > 1e-6 * (a_1 + a_2):
        amplitude, phase = superposition.resultant(a_1, phi_1, a_2, phi_2)
        assert -math.pi < phase <= math.pi
        again = cmath.rect(amplitude, phase)
        assert abs(again - total) <= 1e-14 * (a_1 + a_2)


def test_near_opposition_keeps_its_digits():
    # exact: 2 A sin(d/2) for two equal arrows that miss opposition by d
    assert superposition.resultant_amplitude(1.0, 1.0, math.pi - 1e-9) == pytest.approx(1e-9, rel=1e-6, abs=0.0)
    assert superposition.resultant_amplitude(1.0 + 2.0**-50, 1.0, math.pi) == pytest.approx(2.0**-50, rel=0.2, abs=0.0)


def test_the_cancelled_pair_has_no_phase():
    with pytest.raises(AbsentError, match="cancel"):
        superposition.resultant(0.0, 0.0, 0.0, 1.0)


@given(near_lengths, near_lengths, st.floats(0.01, 3.13))
def test_the_phase_between_two_is_found_from_their_sum(a_1, a_2, difference):
    total = superposition.resultant_amplitude(a_1, a_2, difference)
    least, most = abs(a_1 - a_2), a_1 + a_2
    conditioned = min(a_1, a_2) / max(a_1, a_2)
    assert least <= total <= most
    assert superposition.phase_difference(a_1, a_2, total) == pytest.approx(difference, abs=1e-12 / conditioned)


def test_a_resultant_out_of_range_is_refused():
    with pytest.raises(OutOfDomainError, match=r"resultant must be from 1\.0 m to 5\.0 m; it was 6\.0"):
        superposition.phase_difference(2.0, 3.0, 6.0)


@given(wheels, wheels, st.floats(0.0, 100.0))
def test_the_sum_never_leaves_its_envelope(first, second, time):
    now = superposition.envelope(first, second, time)
    most = superposition.greatest_amplitude(first, second)
    assert abs(superposition.together(first, second, time)) <= now + 1e-9 * most
    assert superposition.least_amplitude(first, second) <= now + 1e-12 * most
    assert now <= most * (1.0 + 1e-15)


@given(near_lengths, spread(1.0, 100.0), spread(1e-3, 1.0), st.floats(0.0, 10.0))
def test_equal_wheels_swing_at_the_mean_within_the_beat(amplitude, frequency, beat, time):
    high, low = superposition.frequencies_from_beat(frequency, beat)
    total = superposition.together(Phasor(amplitude, high), Phasor(amplitude, low), time)
    mean = superposition.mean_frequency(high, low)
    slow = math.cos(math.pi * superposition.beat_frequency(high, low) * time)
    fast = math.cos(math.tau * mean * time)
    assert total == pytest.approx(2.0 * amplitude * slow * fast, abs=1e-10 * amplitude)


def test_the_ends_of_what_is_allowed_are_allowed():
    assert superposition.phase_difference(2.0, 3.0, 5.0) == 0.0
    assert superposition.phase_difference(2.0, 3.0, 1.0) == pytest.approx(math.pi, rel=1e-15, abs=0.0)
    assert superposition.frequencies_from_beat(1.0, 2.0) == (2.0, 0.0)
    assert superposition.resultant(1.0, -math.pi, 1.0, -math.pi) == (2.0, math.pi)


def test_a_beat_too_quick_for_its_mean_is_refused():
    with pytest.raises(OutOfDomainError, match="mean_frequency must be at least half the beat"):
        superposition.frequencies_from_beat(1.0, 3.0)


@given(st.integers(1, 999), st.integers(1, 999), st.fractions(Fraction(1, 1000), 1000))
@example(3, 1, Fraction(1, 3))
def test_the_whole_numbers_are_the_smallest(p, q, unit):
    expected = Fraction(p, q)
    wanted = (expected.numerator, expected.denominator)
    assert superposition.whole_ratio(p * unit, q * unit) == wanted
    assert superposition.whole_ratio(float(p * unit), float(q * unit)) == wanted


@given(st.integers(1, 30), st.integers(1, 30), spread(1e-2, 1e2), phases)
def test_the_pattern_closes_after_its_period_and_not_before(p, q, unit, phase):
    f_x, f_y = p * unit, q * unit
    period = superposition.pattern_period(f_x, f_y)
    assert period * f_x == pytest.approx(p // math.gcd(p, q), rel=1e-12, abs=0.0)
    assert period * f_y == pytest.approx(q // math.gcd(p, q), rel=1e-12, abs=0.0)
    start = superposition.crossed(Phasor(1.0, f_x), Phasor(1.0, f_y, phase), 0.0)
    again = superposition.crossed(Phasor(1.0, f_x), Phasor(1.0, f_y, phase), period)
    assert again == pytest.approx(start, abs=1e-9)


def test_decimal_numbers_are_taken_as_written():
    assert superposition.whole_ratio(0.1, 0.3) == (1, 3)
    assert superposition.whole_ratio(1.2345678, 2.0) == (6172839, 10_000_000)


def test_rates_in_no_ratio_never_close():
    with pytest.raises(AbsentError, match="does not close"):
        superposition.whole_ratio(1.0, math.sqrt(2.0))


@given(lengths, lengths)
def test_extreme_lengths_stay_finite(a_1, a_2):
    amplitude, phase = superposition.resultant(a_1, 0.0, a_2, 0.5 * math.pi)
    assert amplitude == pytest.approx(math.hypot(a_1, a_2), rel=1e-14, abs=0.0)
    assert phase == pytest.approx(math.atan2(a_2, a_1), rel=1e-9, abs=1e-15)
