"""Harmonic motion against 50-digit arithmetic (mpmath) and a numerical integration (scipy)."""

import math

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from mpmath import mp, mpf
from scipy.integrate import solve_ivp

from crankpin.mechanics import harmonic
from tests.strategies import angular_frequencies, lengths, phases, positions, shares, velocities


@given(angular_frequencies, positions, velocities)
def test_the_start_against_fifty_digits(omega, x0, v0):
    assume(x0 or v0)
    with mp.workdps(50):
        amplitude = mp.hypot(mpf(x0), mpf(v0) / mpf(omega))
        phase = mp.atan2(-mpf(v0) / mpf(omega), mpf(x0))
        speed, acceleration = amplitude * omega, amplitude * mpf(omega) ** 2
    found = harmonic.amplitude_from_start(omega, x0, v0)
    assert found == pytest.approx(float(amplitude), rel=4e-16, abs=0.0)
    assert harmonic.phase_from_start(omega, x0, v0) == pytest.approx(float(phase), rel=4e-16, abs=0.0)
    assert harmonic.greatest_speed(found, omega) == pytest.approx(float(speed), rel=1e-15, abs=0.0)
    assert harmonic.greatest_acceleration(found, omega) == pytest.approx(float(acceleration), rel=1e-15, abs=0.0)


def passings_to_fifty_digits(omega, phase, share, position, amplitude):
    """Both branches of the arc cosine, whole turns added until the time is not negative."""
    with mp.workdps(50):
        angle = mp.acos(mpf(position) / mpf(amplitude))
        ahead = [(branch - mpf(phase)) % (2 * mp.pi) for branch in (angle, -angle)]
        return sorted(float(one / mpf(omega)) for one in ahead)


@given(lengths, angular_frequencies, phases, shares)
def test_passing_times_against_fifty_digits(amplitude, omega, phase, share):
    position = amplitude * share
    assume(abs(share) < 1.0 - 1e-9)
    with mp.workdps(50):
        start = mpf(amplitude) * mp.cos(mpf(phase))
    # a passing at t = 0 to within rounding is one period later for exact arithmetic
    assume(abs(float(start) - position) > 1e-14 * amplitude)
    wanted = passings_to_fifty_digits(omega, phase, share, position, amplitude)
    found = [one.time for one in harmonic.passing_times(amplitude, omega, phase, position)]
    slack = 1e-15 / math.sqrt(1.0 - share * share) / omega
    assert found == pytest.approx(wanted, rel=1e-15, abs=2e-15 / omega + slack)


@settings(max_examples=10, deadline=None)
@given(st.floats(0.3, 30.0), st.floats(-0.5, 0.5), st.floats(-3.0, 3.0))
def test_the_motion_against_an_integration_of_its_law(omega, x0, v0):
    assume(abs(x0) + abs(v0) > 1e-3)
    amplitude = harmonic.amplitude_from_start(omega, x0, v0)
    phase = harmonic.phase_from_start(omega, x0, v0)
    times = np.linspace(0.0, 3.0 * math.tau / omega, 25)
    run = solve_ivp(
        lambda t, y: [y[1], harmonic.acceleration_at(y[0], omega)],
        (0.0, times[-1]), [x0, v0], method="DOP853", t_eval=times, rtol=1e-12, atol=1e-14,
    )  # fmt: skip
    found = [harmonic.position(amplitude, omega, phase, float(t)) for t in times]
    assert found == pytest.approx(run.y[0].tolist(), abs=1e-9 * amplitude)
    moving = [harmonic.velocity(amplitude, omega, phase, float(t)) for t in times]
    assert moving == pytest.approx(run.y[1].tolist(), abs=1e-9 * amplitude * omega)
