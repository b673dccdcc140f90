"""Lines and springs against numpy's and scipy's fits."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import curve_fit
from scipy.stats import linregress

from crankpin.mechanics.fitting import line_fit, spring_fit

readings = st.integers(4, 30).flatmap(lambda n: st.tuples(st.just(n), st.integers(0, 2**32 - 1)))


@given(readings)
def test_a_plain_line_against_linregress(size_and_seed):
    n, seed = size_and_seed
    source = np.random.default_rng(seed)
    x, y = source.uniform(-5.0, 20.0, n), source.normal(size=n)
    ours, theirs = line_fit(x.tolist(), y.tolist()), linregress(x, y)
    assert ours.slope == pytest.approx(theirs.slope, rel=1e-9, abs=1e-12)
    assert ours.intercept == pytest.approx(theirs.intercept, rel=1e-9, abs=1e-12)
    assert ours.u_slope == pytest.approx(theirs.stderr, rel=1e-9, abs=0.0)
    assert ours.u_intercept == pytest.approx(theirs.intercept_stderr, rel=1e-9, abs=0.0)
    assert ours.r2 == pytest.approx(theirs.rvalue**2, abs=1e-12)


@given(readings)
def test_a_weighted_line_against_curve_fit(size_and_seed):
    n, seed = size_and_seed
    source = np.random.default_rng(seed)
    x, u = source.uniform(-5.0, 20.0, n), source.uniform(0.1, 2.0, n)
    y = 3.0 * x + 2.0 + u * source.normal(size=n)
    ours = line_fit(x.tolist(), y.tolist(), u.tolist())
    values, covariance = np.polyfit(x, y, 1, w=1.0 / u, cov="unscaled")
    assert (ours.slope, ours.intercept) == pytest.approx(tuple(values), rel=1e-9, abs=0.0)
    assert (ours.u_slope, ours.u_intercept) == pytest.approx(tuple(np.sqrt(np.diag(covariance))), rel=1e-9, abs=0.0)


@given(readings)
def test_a_spring_against_a_direct_fit_of_k_and_extra_mass(size_and_seed):
    n, seed = size_and_seed
    source = np.random.default_rng(seed)
    masses = np.linspace(0.1, 0.8, n)
    squares = 4.0 * np.pi**2 * (masses + 0.02) / 20.0 + 0.005 * source.normal(size=n)
    ours = spring_fit(masses.tolist(), squares.tolist())
    values, covariance = curve_fit(
        lambda m, k, extra: 4.0 * np.pi**2 * (m + extra) / k, masses, squares, p0=(20.0, 0.02)
    )
    assert (ours.k, ours.m_extra) == pytest.approx(tuple(values), rel=1e-5, abs=1e-7)
    assert (ours.u_k, ours.u_m_extra) == pytest.approx(tuple(np.sqrt(np.diag(covariance))), rel=1e-3, abs=0.0)
