import math
import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from crankpin.mechanics.least_squares import solve
from crankpin.mechanics.spectrum import spectrum


@settings(max_examples=10, deadline=None)
@given(st.integers(0, 10**6))
def test_the_gain_is_that_of_a_fit_at_each_frequency(seed):
    source = random.Random(seed)
    times = sorted(source.uniform(5.0, 8.0) for _ in range(40))
    values = [math.cos(9.0 * t) + source.gauss(0.0, 0.5) for t in times]
    weights = [source.uniform(0.5, 2.0) for _ in times]
    lines = spectrum(times, values, weights)
    roots = [math.sqrt(w) for w in weights]
    rooted = [y * r for y, r in zip(values, roots, strict=True)]
    level = solve(rooted, [roots]).sum_of_squares
    assert len(lines.gains) > 40
    for j in range(2, len(lines.gains), 7):
        omega = math.tau * j * lines.step
        swings = [[r * turn(omega * t) for r, t in zip(roots, times, strict=True)] for turn in (math.cos, math.sin)]
        gain = 1.0 - solve(rooted, [roots, *swings]).sum_of_squares / level
        assert lines.gains[j] == pytest.approx(gain, abs=0.03)


@given(st.floats(1.0, 24.0))
def test_the_best_place_is_next_to_the_true_frequency(cycles):
    times = [i / 50.0 for i in range(51)]
    lines = spectrum(times, [math.cos(math.tau * cycles * t) for t in times], [1.0] * 51)
    best = lines.peaks(least_share=0.5)[0]
    assert abs(best - cycles) <= 0.2
    assert lines.nyquist == pytest.approx(25.0)
    assert lines.fastest == lines.nyquist


def test_peaks_are_local_and_best_first():
    times = [0.02 * i for i in range(200)]
    values = [math.cos(20.0 * t) + 0.8 * math.cos(50.0 * t) for t in times]
    places = spectrum(times, values, [1.0] * 200).peaks(least_share=0.3)
    assert [math.tau * place for place in places] == pytest.approx([20.0, 50.0], abs=0.3)


def test_a_mesh_too_fine_is_limited():
    times = [0.0, 1e-9, *(float(i) for i in range(1, 20))]
    times = sorted([*times, *(t + 1e-9 for t in times[2:])])
    lines = spectrum(times, [math.sin(t) for t in times], [1.0] * len(times))
    assert lines.fastest < lines.nyquist
    assert len(lines.gains) < 20_000
