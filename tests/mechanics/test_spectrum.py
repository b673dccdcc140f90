import cmath
import math
import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from crankpin.mechanics.least_squares import solve
from crankpin.mechanics.spectrum import Spectrum, _mesh, _transform, spectrum


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


def fitted_gain(times, values, weights, omega):
    """The share of the weighted scatter that a sinusoid and a constant take away, by a fit."""
    roots = [math.sqrt(w) for w in weights]
    rooted = [y * r for y, r in zip(values, roots, strict=True)]
    swings = [[r * turn(omega * t) for r, t in zip(roots, times, strict=True)] for turn in (math.cos, math.sin)]
    return 1.0 - solve(rooted, [roots, *swings]).sum_of_squares / solve(rooted, [roots]).sum_of_squares


def test_readings_on_the_mesh_have_exact_gains():
    """Of 69 even readings each falls on a mesh point: 2048 points, 8 of them kept free, 6 from one to the next."""
    times = [3.0 + 0.25 * i for i in range(69)]
    values = [
        2.0 + math.cos(1.7 * t + 0.4) + 0.3 * math.sin(9.0 * t) + 0.01 * ((7 * i) % 11) for i, t in enumerate(times)
    ]
    weights = [1.0 + (i % 5) for i in range(69)]
    lines = spectrum(times, values, weights)
    assert lines.step == pytest.approx(1.0 / (2048 * 0.25 / 6.0), rel=1e-14, abs=0.0)
    assert (lines.fastest, lines.nyquist) == (2.0, 2.0)
    assert len(lines.gains) == 1 + math.floor(2.0 / lines.step)
    assert lines.gains[:2] == (0.0, 0.0)
    for j in range(2, len(lines.gains) - 3, 5):
        gain = fitted_gain(times, values, weights, math.tau * j * lines.step)
        assert lines.gains[j] == pytest.approx(gain, rel=1e-7, abs=1e-10)


def test_slow_waves_keep_their_gains_between_the_mesh_points():
    source = random.Random(3)
    times = sorted(source.uniform(0.0, 30.0) for _ in range(60))
    values = [math.cos(0.5 * t + 1.0) + source.gauss(0.0, 0.3) for t in times]
    weights = [source.uniform(0.5, 2.0) for _ in times]
    lines = spectrum(times, values, weights)
    for j in range(2, 20):
        gain = fitted_gain(times, values, weights, math.tau * j * lines.step)
        assert lines.gains[j] == pytest.approx(gain, abs=2e-6)


def test_the_sums_of_waves_on_the_mesh_are_those_of_the_readings():
    """The cubic through four points keeps a sum of weights, of moments, and of slow waves."""
    times, values, weights = [0.0, 0.37, 1.91, 2.5], [1.0, 4.0, -2.0, 0.5], [1.0, 2.0, 0.5, 1.5]
    mesh = _mesh(times, values, weights, 0.25, 16)
    total = math.fsum(weights)
    mean = math.fsum(w * y for w, y in zip(weights, values, strict=True)) / total
    for power in range(4):
        moment = sum(z * (0.25 * (n - 1)) ** power for n, z in enumerate(mesh))
        shares = [w / total * t**power for t, w in zip(times, weights, strict=True)]
        of_values = math.fsum(share * (y - mean) for share, y in zip(shares, values, strict=True))
        assert moment == pytest.approx(complex(of_values, math.fsum(shares)), rel=1e-13, abs=1e-14)
    assert all(point == 0 for point in mesh[13:])


@pytest.mark.parametrize("size", [1, 2, 8, 32])
def test_the_transform_is_its_defining_sum(size):
    source = random.Random(size)
    mesh = [complex(source.gauss(0.0, 1.0), source.gauss(0.0, 1.0)) for _ in range(size)]
    for k, line in enumerate(_transform(mesh)):
        by_sum = sum(z * cmath.exp(-2j * math.pi * n * k / size) for n, z in enumerate(mesh))
        assert line == pytest.approx(by_sum, rel=1e-12, abs=1e-12)


def test_peaks_of_gains_by_hand():
    lines = Spectrum(0.5, (0.0, 0.1, 0.9, 0.2, 0.4, 0.4, 0.1, 0.5), 3.5, 3.5)
    assert lines.peaks(least_share=0.0) == [1.0, 3.5, 2.5]
    assert lines.peaks(least_share=0.5) == [1.0, 3.5]
    assert lines.peaks(least_share=0.5 / 0.9) == [1.0, 3.5]
    assert lines.peaks(least_share=0.6) == [1.0]
    assert Spectrum(2.0, (0.3, 0.2, 0.1), 4.0, 4.0).peaks(least_share=0.9) == [0.0]


def test_the_reading_rate_is_that_of_the_median_step():
    """Steps of 1, 1, 2 and 4 s, and one time read twice."""
    lines = spectrum([0.0, 1.0, 1.0, 2.0, 4.0, 8.0], [0.0, 1.0, 1.5, -1.0, 0.5, 2.0], [1.0] * 6)
    assert lines.nyquist == 0.25
    assert lines.fastest == 0.25
    even = spectrum([0.0, 1.0, 3.0], [0.0, 1.0, 0.5], [1.0] * 3)
    assert even.nyquist == 0.25


def test_the_mesh_sets_the_fastest_wave_that_is_tried():
    """131072 points, eight in a turn, five times the span."""
    times = [*(1e-9 * i for i in range(30)), 10.0]
    lines = spectrum(times, [float(i % 3) for i in range(31)], [1.0] * 31)
    assert lines.nyquist == pytest.approx(0.5e9, rel=1e-6, abs=0.0)
    assert lines.fastest == pytest.approx(2**17 / 8 / 5 / 10.0, rel=1e-14, abs=0.0)
    assert len(lines.gains) == pytest.approx(lines.fastest / lines.step + 1, abs=1.0)
    assert lines.step == pytest.approx(1.0 / 50.0, rel=1e-3, abs=0.0)
