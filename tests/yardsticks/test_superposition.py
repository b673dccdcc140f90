"""Sums of two motions against 50 digits (mpmath), the analytic signal (scipy) and exact fractions."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from mpmath import mp, mpf
from scipy.signal import hilbert

from crankpin.mechanics import superposition
from crankpin.mechanics.superposition import Phasor
from tests.strategies import phases, spread


@given(spread(1e-3, 1e3), phases, spread(1e-3, 1e3), phases)
def test_the_resultant_against_fifty_digits(a_1, phi_1, a_2, phi_2):
    with mp.workdps(50):
        x = mpf(a_1) * mp.cos(mpf(phi_1)) + mpf(a_2) * mp.cos(mpf(phi_2))
        y = mpf(a_1) * mp.sin(mpf(phi_1)) + mpf(a_2) * mp.sin(mpf(phi_2))
        amplitude, phase = float(mp.hypot(x, y)), float(mp.atan2(y, x))
    # half the difference of the phases is rounded once: that much of the longer arrow may be turned
    turned = 4e-16 * (1.0 + abs(phi_1 - phi_2)) * min(a_1, a_2)
    found = superposition.resultant_amplitude(a_1, a_2, phi_2 - phi_1)
    assert found == pytest.approx(amplitude, rel=1e-15, abs=2.0 * turned)
    if amplitude > 1e-6 * (a_1 + a_2):
        _, direction = superposition.resultant(a_1, phi_1, a_2, phi_2)
        assert math.remainder(direction - phase, math.tau) == pytest.approx(0.0, abs=2e-15 + 4.0 * turned / amplitude)


def test_the_envelope_is_the_size_of_the_analytic_signal():
    first, second = Phasor(0.3, 40.0, 0.4), Phasor(0.2, 44.0, -1.1)
    times = np.arange(4096) / 4096.0
    total = np.array([superposition.together(first, second, float(t)) for t in times])
    found = [superposition.envelope(first, second, float(t)) for t in times]
    assert found == pytest.approx(np.abs(hilbert(total)).tolist(), abs=1e-9)
    assert max(found) == pytest.approx(superposition.greatest_amplitude(first, second), rel=1e-4, abs=0.0)
    assert min(found) == pytest.approx(superposition.least_amplitude(first, second), rel=1e-3, abs=0.0)
    swells = np.count_nonzero(np.diff(np.sign(np.diff(found))) < 0)
    assert swells == superposition.beat_frequency(first.frequency, second.frequency)


@given(st.integers(1, 60), st.integers(1, 60), spread(1e-3, 1e3))
def test_rates_with_a_common_unit_have_its_whole_numbers(p, q, unit):
    common = math.gcd(p, q)
    assert superposition.whole_ratio(p * unit, q * unit) == (p // common, q // common)
