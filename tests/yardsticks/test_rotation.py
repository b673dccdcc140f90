"""Turning with constant angular acceleration against algebra (sympy) and 50 digits (mpmath)."""

import pytest
import sympy
from hypothesis import given
from mpmath import mp, mpf

from crankpin.mechanics import rotation
from tests.strategies import spread


def test_the_angle_is_the_integral_of_the_rate():
    omega_0, alpha, t = sympy.symbols("omega_0 alpha t")
    angle = sympy.integrate(omega_0 + alpha * t, (t, 0, t))
    numbers = {omega_0: 2.5, alpha: -0.75, t: 3.25}
    assert rotation.angle_after(2.5, -0.75, 3.25) == pytest.approx(float(angle.subs(numbers)), rel=1e-15, abs=0.0)
    squared = sympy.expand((omega_0 + alpha * t) ** 2 - omega_0**2 - 2 * alpha * angle)
    assert squared == 0


@given(spread(1e-6, 1e6), spread(1e-6, 1e6), spread(1e-6, 1e6))
def test_time_through_an_angle_against_fifty_digits(start, alpha, angle):
    with mp.workdps(60):
        rate = mp.sqrt(mpf(start) ** 2 + 2 * mpf(alpha) * mpf(angle))
        time = (rate - mpf(start)) / mpf(alpha)
    assert rotation.rate_through(start, alpha, angle) == pytest.approx(float(rate), rel=4e-16, abs=0.0)
    assert rotation.time_through(start, alpha, angle) == pytest.approx(float(time), rel=1e-15, abs=0.0)
