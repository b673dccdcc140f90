import math
from itertools import pairwise

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from crankpin.mechanics import friction
from crankpin.mechanics.errors import AbsentError, OutOfDomainError


def follow(start, held, sliding):
    """Half swing by half swing: each turning point is 2 s closer in, until static friction holds it."""
    turning_points = [start]
    while abs(turning_points[-1]) > held:
        last = turning_points[-1]
        turning_points.append(math.copysign(2.0 * sliding, last) - last)
    path = math.fsum(abs(b - a) for a, b in pairwise(turning_points))
    return len(turning_points) - 1, path, turning_points[-1]


@given(st.floats(0.0, 10.0), st.floats(0.01, 1.0), st.floats(0.3, 1.0))
def test_the_sum_is_the_motion_followed_swing_by_swing(start, held, share):
    sliding = held * share
    steps = (start - held) / (2.0 * sliding)
    assume(abs(steps - round(steps)) > 1e-9)
    half_swings, path, rest = follow(start, held, sliding)
    slide = friction.slide_to_rest(start, held, sliding)
    assert slide.half_swings == half_swings
    assert slide.path == pytest.approx(path, rel=1e-12, abs=1e-12)
    assert slide.rest == pytest.approx(rest, rel=1e-9, abs=1e-12)


@given(st.floats(1.0, 100.0), st.floats(0.001, 1.0))
def test_the_energy_lost_is_the_friction_times_the_path(start, sliding):
    slide = friction.slide_to_rest(start, sliding, sliding)
    assert 0.5 * (start**2 - slide.rest**2) == pytest.approx(sliding * slide.path, rel=1e-9, abs=1e-9)
    assert friction.slide_by_energy(start, sliding) <= slide.path * (1.0 + 1e-12)


def test_held_from_the_start():
    assert friction.slide_to_rest(0.1, 0.1, 0.05) == friction.Slide(0, 0.0, 0.1)


def test_the_force_and_the_stretch_it_holds():
    assert friction.friction_force(0.4, 2.0, 10.0) == pytest.approx(8.0, rel=1e-15, abs=0.0)
    assert friction.greatest_held_stretch(0.4, 2.0, 80.0, 10.0) == pytest.approx(0.1, rel=1e-15, abs=0.0)


def test_without_friction_it_never_stops():
    with pytest.raises(AbsentError, match="never comes to rest"):
        friction.slide_to_rest(0.1, 0.0, 0.0)


def test_static_friction_is_no_less_than_sliding_friction():
    with pytest.raises(OutOfDomainError, match="held_stretch must be no less than"):
        friction.slide_to_rest(0.1, 0.01, 0.02)
    with pytest.raises(OutOfDomainError, match="start must be no less than"):
        friction.slide_by_energy(0.01, 0.02)
