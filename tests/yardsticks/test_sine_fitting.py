"""Sine fits against scipy's curve fit started at the truth."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import curve_fit

from crankpin.mechanics.sine_fitting import sine_fit


def wave(t, amplitude, omega, phase, offset, gamma=0.0):
    return offset + amplitude * np.exp(-gamma * t) * np.cos(omega * t + phase)


@settings(max_examples=30, deadline=None)
@given(st.integers(0, 2**32 - 1), st.booleans(), st.booleans())
def test_values_and_uncertainties_against_curve_fit(seed, damped, stated):
    source = np.random.default_rng(seed)
    t = np.sort(source.uniform(0.0, 4.0, 80))
    truth = [2.0, 2.0 * np.pi * source.uniform(0.6, 5.0), source.uniform(-2.5, 2.5), 1.0]
    truth += [0.3] if damped else []
    u = source.uniform(0.05, 0.2, 80)
    x = wave(t, *truth) + u * source.normal(size=80)
    values, covariance = curve_fit(
        wave, t, x, p0=truth, sigma=u if stated else None, absolute_sigma=stated, ftol=1e-14, xtol=1e-14
    )
    fit = sine_fit(t.tolist(), x.tolist(), u.tolist() if stated else None, damped=damped)
    names = ["amplitude", "angular_frequency", "phase", "offset", "decay_rate"][: len(truth)]
    for name, value, deviation in zip(names, values, np.sqrt(np.diag(covariance)), strict=True):
        assert getattr(fit, name) == pytest.approx(value, abs=1e-3 * deviation)
        assert getattr(fit, f"u_{name}") == pytest.approx(deviation, rel=1e-3, abs=0.0)
