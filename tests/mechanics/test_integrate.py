import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from crankpin.mechanics.errors import OutOfDomainError
from crankpin.mechanics.integrate import integrate


def spring(_, state):
    return state[1], -state[0]


@pytest.mark.parametrize("allowed", [1e-6, 1e-9, 1e-12])
def test_the_error_follows_what_is_allowed(allowed):
    path = integrate(spring, (1.0, 0.0), 0.0, 20.0, relative=allowed, absolute=allowed)
    worst = max(abs(state[0] - math.cos(t)) for t, state in zip(path.times, path.states, strict=True))
    assert worst < 60.0 * allowed
    tenth = [abs(path.at(0.1 * i)[0] - math.cos(0.1 * i)) for i in range(201)]
    assert max(tenth) < 100.0 * allowed


def test_a_cubic_is_integrated_exactly_and_read_between_the_steps():
    path = integrate(lambda t, _: (3.0 * t * t,), (1.0,), 0.0, 10.0)
    for time in (0.0, 0.001, 0.5, math.pi, 9.999, 10.0):
        assert path.at(time)[0] == pytest.approx(1.0 + time**3, rel=1e-13)


@settings(max_examples=20)
@given(st.floats(-5.0, 5.0), st.floats(-5.0, 5.0))
def test_there_and_back(begin, end):
    out = integrate(spring, (1.0, 0.5), begin, end)
    back = integrate(spring, out.states[-1], end, begin)
    assert out.times[-1] == end
    assert back.states[-1] == pytest.approx((1.0, 0.5), abs=1e-8)
    assert out.at(begin) == (1.0, 0.5)
    assert out.at(end) == pytest.approx(out.states[-1], abs=1e-15)


def test_no_time_at_all_leaves_the_start():
    path = integrate(spring, (1.0, 0.5), 2.0, 2.0)
    assert path.times == (2.0,)
    assert path.at(2.0) == (1.0, 0.5)


def test_energy_of_a_long_swing_is_kept():
    path = integrate(lambda _, s: (s[1], -math.sin(s[0])), (2.0, 0.0), 0.0, 200.0, relative=1e-11)
    energies = [0.5 * rate**2 - math.cos(angle) for angle, rate in path.states]
    assert max(energies) - min(energies) < 1e-8


def test_a_motion_that_runs_off_ends_with_a_clear_message():
    with pytest.raises(OutOfDomainError, match=r"^end must be reached in 2000 steps \(it came to 1 s"):
        integrate(lambda _, s: (s[0] ** 2,), (1.0,), 0.0, 2.0, most_steps=2000)


def test_too_many_steps_end_with_a_clear_message():
    with pytest.raises(OutOfDomainError, match=r"^end must be reached in 50 steps"):
        integrate(spring, (1.0, 0.0), 0.0, 1e6, most_steps=50)


def test_a_slope_that_is_no_number_ends_with_a_clear_message():
    with pytest.raises(OutOfDomainError, match=r"^end must be reached"):
        integrate(lambda t, _: (math.nan if t > 1.0 else 1.0,), (0.0,), 0.0, 2.0)


def test_outside_the_trajectory_is_refused():
    path = integrate(spring, (1.0, 0.0), 0.0, 1.0)
    for time in (-0.1, 1.1, math.nan):
        with pytest.raises(OutOfDomainError, match="from 0 to 1 s"):
            path.at(time)


@pytest.mark.parametrize("bad", [math.nan, math.inf])
def test_bad_input_is_refused(bad):
    for call in (
        lambda: integrate(spring, (bad, 0.0), 0.0, 1.0),
        lambda: integrate(spring, (1.0, 0.0), bad, 1.0),
        lambda: integrate(spring, (1.0, 0.0), 0.0, bad),
        lambda: integrate(spring, (1.0, 0.0), 0.0, 1.0, relative=bad),
        lambda: integrate(spring, (1.0, 0.0), 0.0, 1.0, absolute=0.0),
    ):
        with pytest.raises(OutOfDomainError):
            call()
