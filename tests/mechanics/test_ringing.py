import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crankpin.mechanics import damping, ringing
from crankpin.mechanics.errors import OutOfDomainError
from tests.strategies import spread

qualities = spread(0.55, 1e4)
turns = st.floats(0.0, 50.0)


@given(qualities)
def test_the_decrement_is_that_of_the_damped_swing(quality):
    by_motion = damping.log_decrement(1.0, 1.0, 1.0 / quality)
    assert ringing.decrement(quality) == pytest.approx(by_motion, rel=1e-11)


@given(spread(0.7, 1e3), st.integers(0, 8))
def test_the_shares_are_those_of_the_motion_itself(quality, count):
    """A mass of 1 kg on 1 N/m, let go at 1 m: position and energy after so many whole periods."""
    b = 1.0 / quality
    time = count * damping.damped_period(1.0, 1.0, b)
    there = damping.damped_motion(1.0, 1.0, b, 1.0, 0.0, time)
    assert ringing.amplitude_left(quality, count) == pytest.approx(there.position, rel=1e-9, abs=1e-15)
    by_motion = there.position**2 + there.velocity**2
    assert ringing.energy_left(quality, count) == pytest.approx(by_motion, rel=1e-9, abs=1e-15)


@given(spread(100.0, 1e5), turns)
def test_the_short_rule_is_good_for_light_damping(quality, count):
    exact = ringing.energy_left(quality, count)
    assert ringing.energy_left_short(quality, count) == pytest.approx(exact, rel=1e-4)
    assert ringing.energy_left_short(quality, count) == pytest.approx(1.0 / damping.energy_fall_factor(quality, count))


@pytest.mark.parametrize("bad", [0.5, 0.1, math.nan])
def test_what_does_not_swing_has_no_decrement(bad):
    with pytest.raises(OutOfDomainError):
        ringing.decrement(bad)
