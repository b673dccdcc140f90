"""Pendulums against elliptic functions in 40 digits (mpmath) and an integration (scipy)."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from mpmath import mp, mpf
from scipy.integrate import solve_ivp
from scipy.special import ellipk

from crankpin.mechanics import pendulum
from tests.strategies import spread

amplitudes = spread(1e-9, 3.0) | st.floats(0.001, math.radians(179.9))


@given(amplitudes)
def test_ratio_and_excess_against_forty_digits(amplitude):
    with mp.workdps(40):
        ratio = 2 * mp.ellipk(mp.sin(mpf(amplitude) / 2) ** 2) / mp.pi
        excess = float(ratio - 1)
        drift = float(86_400 * (1 / ratio - 1))
    assert pendulum.period_ratio(amplitude) == pytest.approx(float(ratio), rel=5e-16, abs=0.0)
    assert pendulum.period_excess(amplitude) == pytest.approx(excess, rel=1e-15, abs=0.0)
    assert pendulum.daily_drift(amplitude) == pytest.approx(drift, rel=1e-15, abs=0.0)


@given(st.floats(0.0, 0.999999))
def test_the_quarter_period_against_scipy(parameter):
    assert pendulum.quarter_period(parameter) == pytest.approx(ellipk(parameter), rel=1e-14, abs=0.0)


@settings(max_examples=40, deadline=None)
@given(amplitudes, st.floats(-20.0, 20.0))
def test_the_swing_against_forty_digits(amplitude, time):
    with mp.workdps(40):
        k, other = mp.sin(mpf(amplitude) / 2), mp.cos(mpf(amplitude) / 2)
        sn, cn, dn = (mp.ellipfun(name, mpf(time), m=k * k) for name in ("sn", "cn", "dn"))
        angle, rate = float(2 * mp.atan2(k * cn, other)), float(-2 * k * other * sn / dn)
    at = pendulum.swing(1.0, 1.0, amplitude, time)
    tolerance = 1e-14 * amplitude * (1.0 + abs(time)) / math.cos(amplitude / 2.0)
    assert at.angle == pytest.approx(angle, abs=tolerance)
    assert at.angular_velocity == pytest.approx(rate, abs=tolerance)


@pytest.mark.parametrize("amplitude", [0.1, 1.5, 3.0])
def test_the_swing_against_an_integration(amplitude):
    times = np.linspace(0.0, 15.0, 61)
    solved = solve_ivp(
        lambda _, s: (s[1], -9.8 / 1.3 * math.sin(s[0])),
        (0.0, 15.0),
        (amplitude, 0.0),
        method="DOP853",
        t_eval=times,
        rtol=1e-12,
        atol=1e-13,
    )
    for time, angle in zip(times, solved.y[0], strict=True):
        assert pendulum.swing(1.3, 9.8, amplitude, float(time)).angle == pytest.approx(angle, abs=1e-9)
