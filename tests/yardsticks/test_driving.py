"""The driven motion against its Laplace inverse in 90 digits (mpmath) and an integration (scipy)."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from mpmath import mp, mpc, mpf
from scipy.integrate import solve_ivp

from crankpin.mechanics import damping, driving
from tests.strategies import spread

near_one = spread(1e-15, 1e-2).flatmap(lambda gap: st.sampled_from([1.0 - gap, 1.0, 1.0 + gap]))
zetas = st.just(0.0) | spread(1e-12, 1e12) | near_one
ratios = spread(1e-9, 1e3) | near_one


def from_rest(b, omega, time):
    """Return position and velocity for unit mass, stiffness and force; meeting roots split by 1e-30."""
    with mp.workdps(120):
        b, omega, time = map(mpf, (b, omega, time))
        root = mp.sqrt(mpc(b * b / 4 - 1)) or mpf(10) ** -30
        poles = [-b / 2 + root, -b / 2 - root, mpc(0, omega)]
        if min(abs(poles[2] - poles[0]), abs(poles[2] - poles[1])) == 0:
            poles[2] += mpc(0, mpf(10) ** -30)
        position = velocity = mpc(0)
        for i, pole in enumerate(poles):
            others = poles[:i] + poles[i + 1 :]
            part = mp.exp(pole * time) / ((pole - others[0]) * (pole - others[1]))
            position += part
            velocity += pole * part
        return float(position.real), float(velocity.real)


@settings(max_examples=300, deadline=None)
@given(zetas, ratios, spread(1e-6, 100.0))
def test_the_motion_from_rest_against_ninety_digits(zeta, ratio, time):
    position, velocity = from_rest(2.0 * zeta, ratio, time)
    at = driving.driven_motion(1.0, 1.0, 2.0 * zeta, 1.0, ratio, time)
    size = driving_size(zeta, ratio, time)
    digits = 2e-15 * (1.0 + time * (1.0 + ratio))
    assert at.position == pytest.approx(position, abs=digits * min(time * time / 2.0, size))
    assert at.velocity == pytest.approx(velocity, abs=digits * min(time, size * (1.0 + ratio)))


def driving_size(zeta, ratio, time):
    """Return how far the motion can have come: the steady amplitude, or its growth until now."""
    grown = time / max(ratio, 1.0)
    if zeta == 0.0 and ratio == 1.0:
        return grown
    return max(min(2.0 * driving.amplitude(1.0, 1.0, 2.0 * zeta, 1.0, ratio), grown), 1e-30)


@settings(max_examples=200, deadline=None)
@given(spread(1e-12, 1e12), spread(1e-9, 1e9) | near_one)
def test_amplitude_and_lag_against_fifty_digits(zeta, ratio):
    b = 2.0 * zeta
    with mp.workdps(80):
        across, along = mpf(b) * mpf(ratio), 1 - mpf(ratio) ** 2
        swing, lag = float(1 / mp.hypot(across, along)), float(mp.atan2(across, along))
        ahead = float(mp.atan2(-along, across))
    assert driving.amplitude(1.0, 1.0, b, 1.0, ratio) == pytest.approx(swing, rel=1e-15, abs=0.0)
    assert driving.phase_lag(1.0, 1.0, b, ratio) == pytest.approx(lag, rel=1e-15, abs=0.0)
    assert driving.velocity_phase_lag(1.0, 1.0, b, ratio) == pytest.approx(ahead, rel=1e-15, abs=0.0)


@pytest.mark.parametrize(("zeta", "ratio"), [(0.02, 1.0), (0.3, 0.7), (1.0, 1.0), (3.0, 2.0), (0.0, 1.0)])
def test_the_motion_against_an_integration(zeta, ratio):
    mass, stiffness, force = 0.4, 10.0, 3.0
    b = zeta * damping.critical_damping(mass, stiffness)
    omega = ratio * damping.natural_angular_frequency(mass, stiffness)
    times = np.linspace(0.0, 6.0, 61)
    solved = solve_ivp(
        lambda t, s: (s[1], (force * math.cos(omega * t) - b * s[1] - stiffness * s[0]) / mass),
        (0.0, 6.0),
        (0.2, -1.0),
        method="DOP853",
        t_eval=times,
        rtol=1e-12,
        atol=1e-13,
    )
    for time, position in zip(times, solved.y[0], strict=True):
        at = driving.driven_motion(mass, stiffness, b, force, omega, float(time), 0.2, -1.0)
        assert at.position == pytest.approx(position, abs=2e-9)
