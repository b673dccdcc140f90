"""Roots beside Brent's method (scipy)."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from crankpin.mechanics.roots import root


@given(st.floats(0.01, 3.0), st.floats(0.0, 0.99))
def test_kepler_s_equation_against_brent(mean, eccentricity):
    def kepler(angle):
        return angle - eccentricity * math.sin(angle) - mean

    ours = root(kepler, 0.0, 4.0)
    assert ours == pytest.approx(brentq(kepler, 0.0, 4.0, xtol=1e-15, rtol=1e-15), abs=1e-13)
    assert abs(kepler(ours)) < 2e-15
