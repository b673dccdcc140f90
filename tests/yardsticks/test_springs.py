"""The spring's own mass against the wave equation of a uniform spring (mpmath); energy as work (scipy)."""

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from mpmath import mp
from scipy.integrate import quad, solve_ivp

from crankpin.mechanics import energy, friction, springs
from tests.strategies import spread


def exact_share(mass_ratio):
    """The spring's share of its own mass, from u tan(u) = m_s/m with u = omega sqrt(m_s/k)."""
    with mp.workdps(30):
        u = mp.findroot(lambda u: u * mp.sin(u) - mass_ratio * mp.cos(u), mp.sqrt(mass_ratio / (1 + mass_ratio / 3)))
        # k/omega^2 = m + share m_s, so share = 1/u^2 - m/m_s
        return float(1 / u**2 - 1 / mp.mpf(mass_ratio))


@pytest.mark.parametrize("mass_ratio", [0.01, 0.1, 0.3, 1.0])
def test_a_third_holds_for_a_spring_no_heavier_than_the_mass(mass_ratio):
    share = exact_share(mass_ratio)
    assert 1.0 / 3.0 < share < 1.0 / 3.0 + 0.025 * mass_ratio
    exact = math.sqrt(1.0 / (1.0 + share * mass_ratio))
    rule = springs.angular_frequency(1.0, springs.effective_mass(1.0, mass_ratio))
    assert 1.0 < rule / exact < 1.0 + 0.012 * mass_ratio**2


def test_with_little_hung_the_share_nears_four_over_pi_squared():
    assert exact_share(1e4) == pytest.approx(4.0 / math.pi**2, rel=1e-3, abs=0.0)


@given(spread(1e-3, 1e6), st.floats(-2.0, 2.0), st.floats(-2.0, 2.0))
def test_energy_is_the_work_against_the_spring(stiffness, start, end):
    work, _ = quad(lambda x: -springs.force(stiffness, x), start, end)
    assert energy.work_to_stretch(stiffness, start, end) == pytest.approx(work, abs=1e-12 * stiffness)
    assert energy.potential(stiffness, end) - energy.potential(stiffness, start) == pytest.approx(
        work, abs=1e-12 * stiffness
    )


def test_over_a_period_half_the_energy_is_kinetic():
    mean, _ = quad(lambda turned: energy.kinetic_share(0.2, 0.2 * math.cos(turned)), 0.0, math.tau)
    assert mean / math.tau == pytest.approx(0.5, rel=1e-12, abs=0.0)


def half_swing(start, sliding):
    """Integrate x'' = -x -+ s from rest until the velocity is zero again, for k = m = 1."""
    pull = math.copysign(sliding, start)

    def stopped(t, y):
        return y[1]

    stopped.terminal = True
    stopped.direction = math.copysign(1.0, start)
    run = solve_ivp(
        lambda t, y: [y[1], -y[0] + pull], (0.0, 10.0), [start, -math.copysign(1e-14, start)],
        events=stopped, rtol=1e-11, atol=1e-13, method="DOP853",
    )  # fmt: skip
    return float(run.y_events[0][0][0])


@pytest.mark.parametrize(
    ("start", "held", "sliding"), [(0.98, 0.49, 0.4165), (1.0, 0.05, 0.03), (0.73, 0.2, 0.11), (0.3, 0.2, 0.2)]
)
def test_the_slide_against_an_integration_of_the_motion(start, held, sliding):
    places = [start]
    while abs(places[-1]) > held:
        places.append(half_swing(places[-1], sliding))
    slide = friction.slide_to_rest(start, held, sliding)
    assert slide.half_swings == len(places) - 1
    assert slide.rest == pytest.approx(places[-1], abs=1e-8)
    path = math.fsum(abs(b - a) for a, b in pairwise(places))
    assert slide.path == pytest.approx(path, rel=1e-8, abs=0.0)
