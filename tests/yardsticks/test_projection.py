"""The lamp's shadow against algebra (sympy), 50 digits (mpmath) and a search (scipy)."""

import math

import pytest
import sympy
from hypothesis import given
from hypothesis import strategies as st
from mpmath import mp, mpf
from scipy.optimize import minimize_scalar

from crankpin.mechanics import projection
from tests.strategies import spread


def test_the_extreme_is_where_the_slope_of_the_shadow_is_zero():
    A, D, S, theta = sympy.symbols("A D S theta", positive=True)
    shadow = S * A * sympy.cos(theta) / (D - A * sympy.sin(theta))
    slope = sympy.diff(shadow, theta).subs(theta, sympy.asin(A / D))
    assert sympy.simplify(slope) == 0
    extreme = shadow.subs(theta, sympy.asin(A / D))
    assert sympy.simplify(extreme - S * A / sympy.sqrt(D**2 - A**2)) == 0
    numbers = {A: 0.2, D: 0.7, S: 1.9, theta: 1.1}
    assert projection.shadow(0.2, 0.7, 1.9, 1.1) == pytest.approx(float(shadow.subs(numbers)), rel=1e-15, abs=0.0)


@given(st.floats(0.01, 0.999), st.floats(1.01, 100.0))
def test_the_extreme_against_a_search(share, screen):
    lamp = 1.0 / share
    one = projection.lamp_shadow(1.0, lamp, lamp * screen + 1.0)
    best = minimize_scalar(
        lambda angle: -projection.shadow(1.0, lamp, lamp * screen + 1.0, angle),
        bounds=(0.0, 0.5 * math.pi), method="bounded", options={"xatol": 1e-10},
    )  # fmt: skip
    assert one.extreme == pytest.approx(-best.fun, rel=1e-12, abs=0.0)
    assert one.extreme_angle == pytest.approx(best.x, abs=1e-6)


@given(spread(1e-9, 1e9), spread(1e-12, 1e12))
def test_scale_excess_and_angle_against_fifty_digits(radius, gap):
    lamp = radius + radius * gap
    if not radius < lamp < 1e15:
        return
    screen = 3.0 * (lamp + radius)
    one = projection.lamp_shadow(radius, lamp, screen)
    with mp.workdps(50):
        ratio = mpf(radius) / mpf(lamp)
        excess = 1 / mp.sqrt(1 - ratio**2) - 1
        extreme = mpf(screen) * mpf(radius) / mp.sqrt(mpf(lamp) ** 2 - mpf(radius) ** 2)
        angle = mp.asin(ratio)
    assert one.excess == pytest.approx(float(excess), rel=2e-15, abs=0.0)
    assert one.extreme == pytest.approx(float(extreme), rel=2e-15, abs=0.0)
    assert one.extreme_angle == pytest.approx(float(angle), rel=1e-15, abs=0.0)
    assert one.magnification == screen / lamp
