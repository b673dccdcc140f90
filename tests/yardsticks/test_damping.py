"""The damped motion against its closed form in 60 digits (mpmath) and an integration (scipy)."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from mpmath import mp, mpc, mpf
from scipy.integrate import solve_ivp

from crankpin.mechanics import damping
from tests.strategies import either_sign, masses, spread, stiffnesses

near_one = spread(1e-15, 1e-2).flatmap(lambda gap: st.sampled_from([1.0 - gap, 1.0, 1.0 + gap]))
zetas = st.just(0.0) | spread(1e-12, 1e12) | near_one
starts = either_sign(spread(1e-3, 1e3))


def exact(mass, stiffness, b, x_0, v_0, time):
    """Return position and velocity; doubles taken as exact, split roots by 1e-40 where they meet."""
    with mp.workdps(90):
        mass, stiffness, b, x_0, v_0, time = map(mpf, (mass, stiffness, b, x_0, v_0, time))
        gamma = b / mass / 2
        root = mp.sqrt(mpc(gamma * gamma - stiffness / mass)) or mpf(10) ** -30
        one, other = -gamma + root, -gamma - root
        if abs(one) < abs(other):
            one = stiffness / mass / other
        p, q = (v_0 - other * x_0) / (2 * root), (one * x_0 - v_0) / (2 * root)
        position = p * mp.exp(one * time) + q * mp.exp(other * time)
        velocity = p * one * mp.exp(one * time) + q * other * mp.exp(other * time)
        return float(position.real), float(velocity.real)


@settings(max_examples=300, deadline=None)
@given(masses, stiffnesses, zetas, starts, starts, st.floats(0.0, 20.0))
def test_the_motion_against_sixty_digits(mass, stiffness, zeta, x_0, v_0, radians):
    omega = damping.natural_angular_frequency(mass, stiffness)
    b = zeta * damping.critical_damping(mass, stiffness)
    time, speed = radians / omega, v_0 * omega
    position, velocity = exact(mass, stiffness, b, x_0, speed, time)
    at = damping.damped_motion(mass, stiffness, b, x_0, speed, time)
    size = abs(x_0) + abs(v_0)
    assert at.position == pytest.approx(position, abs=1e-14 * size * (1.0 + radians))
    assert at.velocity == pytest.approx(velocity, abs=1e-14 * size * omega * (1.0 + radians))


@settings(max_examples=200, deadline=None)
@given(spread(1.5, 1e12), spread(1e-6, 1e6), st.sampled_from([(1.0, 0.0), (0.0, 1.0), (2.0, 3.0)]))
def test_a_creeping_return_keeps_relative_digits(zeta, share, start):
    b = 2.0 * zeta
    time = share * b / 1e5
    position, velocity = exact(1.0, 1.0, b, *start, time)
    at = damping.damped_motion(1.0, 1.0, b, *start, time)
    assert at.position == pytest.approx(position, rel=1e-13 * (1.0 + share), abs=0.0)
    if start == (1.0, 0.0):
        assert at.velocity == pytest.approx(velocity, rel=1e-13 * (1.0 + share), abs=0.0)


@given(masses, stiffnesses, near_one)
def test_the_damped_rate_against_sixty_digits(mass, stiffness, zeta):
    b = zeta * damping.critical_damping(mass, stiffness)
    if damping.regime(mass, stiffness, b) is not damping.Regime.UNDERDAMPED:
        return
    with mp.workdps(60):
        exactly = mp.sqrt(mpf(stiffness) / mpf(mass) - (mpf(b) / mpf(mass) / 2) ** 2)
    assert damping.damped_angular_frequency(mass, stiffness, b) == pytest.approx(float(exactly), rel=1e-15, abs=0.0)


@pytest.mark.parametrize("zeta", [0.02, 1.0, 4.0])
def test_the_motion_against_an_integration(zeta):
    mass, stiffness = 0.4, 10.0
    b = zeta * damping.critical_damping(mass, stiffness)
    times = np.linspace(0.0, 5.0, 51)
    solved = solve_ivp(
        lambda _, s: (s[1], -(b * s[1] + stiffness * s[0]) / mass),
        (0.0, 5.0),
        (1.0, -2.0),
        method="DOP853",
        t_eval=times,
        rtol=1e-12,
        atol=1e-13,
    )
    for time, position in zip(times, solved.y[0], strict=True):
        at = damping.damped_motion(mass, stiffness, b, 1.0, -2.0, float(time))
        assert at.position == pytest.approx(position, abs=1e-9)
