import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crankpin.mechanics import pendulum, warm_clock
from crankpin.mechanics.errors import OutOfDomainError
from tests.strategies import gravities, spread

rods = spread(1e-2, 1e2)
expansions = spread(1e-8, 1e-4)
rises = st.floats(-90.0, 500.0)


@given(rods, expansions, rises, gravities)
def test_the_period_is_that_of_the_longer_pendulum(length, expansion, rise, gravity):
    warm = pendulum.small_swing_period(warm_clock.warmed_length(length, expansion, rise), gravity)
    cold = pendulum.small_swing_period(length, gravity)
    assert warm / cold - 1.0 == pytest.approx(warm_clock.period_growth(expansion, rise), abs=1e-15)


@given(expansions, rises)
def test_the_clock_counts_as_many_swings_as_fit_into_a_day(expansion, rise):
    shown = 86_400.0 / (1.0 + warm_clock.period_growth(expansion, rise))
    assert shown - 86_400.0 == pytest.approx(warm_clock.daily_drift(expansion, rise), abs=3e-11)


@given(expansions, rises)
def test_it_loses_when_warm_and_gains_when_cold_by_half_of_the_growth(expansion, rise):
    drift = warm_clock.daily_drift(expansion, rise)
    assert drift * rise <= 0.0
    assert drift == pytest.approx(-43_200.0 * expansion * rise, rel=1e-1, abs=1e-12)


def test_a_rod_keeps_a_length():
    with pytest.raises(OutOfDomainError, match="leave the rod a length"):
        warm_clock.warmed_length(1.0, 0.01, -100.0)
    assert math.isclose(warm_clock.warmed_length(1.0, 0.01, -99.0), 0.01)
