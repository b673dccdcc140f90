"""The integrator beside scipy's of the same pair."""

import math

import pytest
from scipy.integrate import solve_ivp

from crankpin.mechanics.integrate import integrate


def orbit(_, state):
    x, y, vx, vy = state
    cube = math.hypot(x, y) ** 3
    return vx, vy, -x / cube, -y / cube


@pytest.mark.parametrize("allowed", [1e-6, 1e-9])
def test_an_ellipse_comes_round_with_no_more_steps_than_scipy_takes(allowed):
    start = (0.4, 0.0, 0.0, 2.0)  # eccentricity 0.6, one turn in 2 pi
    ours = integrate(orbit, start, 0.0, math.tau, relative=allowed, absolute=allowed)
    theirs = solve_ivp(orbit, (0.0, math.tau), start, method="RK45", rtol=allowed, atol=allowed)
    missed = max(abs(a - b) for a, b in zip(ours.states[-1], start, strict=True))
    assert missed <= max(abs(a - b) for a, b in zip(theirs.y[:, -1], start, strict=True))
    assert missed <= 300.0 * allowed
    assert len(ours.times) < 1.5 * len(theirs.t)
    dense = solve_ivp(orbit, (0.0, math.tau), start, method="DOP853", rtol=1e-13, atol=1e-13, dense_output=True)
    for i in range(101):
        time = math.tau * i / 100.0
        assert ours.at(time) == pytest.approx(tuple(dense.sol(time)), abs=600.0 * allowed)
