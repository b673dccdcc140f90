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
        assert path.at(time)[0] == pytest.approx(1.0 + time**3, rel=1e-13, abs=0.0)


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


@pytest.mark.parametrize(("begin", "end"), [(0.0, 1.0), (1.0, 0.0)])
@pytest.mark.parametrize("time", [-0.1, 1.1, math.nan])
def test_outside_the_trajectory_is_refused(begin, end, time):
    path = integrate(spring, (1.0, 0.0), begin, end)
    with pytest.raises(OutOfDomainError) as caught:
        path.at(time)
    assert (caught.value.quantity, caught.value.required) == ("time", "from 0 to 1 s")
    assert caught.value.given is time


# Where the solution is a polynomial, the method is exact and its steps are known.


def powers(t, _):
    return 1.0, 2.0 * t, 3.0 * t**2, 4.0 * t**3, 5.0 * t**4


@pytest.mark.parametrize(("begin", "end"), [(0.0, 4.0), (4.0, 0.0), (-2.0, 3.0)])
def test_powers_up_to_the_fifth_are_integrated_exactly(begin, end):
    start = tuple(begin**n for n in range(1, 6))
    path = integrate(powers, start, begin, end, relative=1.0, absolute=1e3)
    assert len(path.times) <= 9
    for time, state in zip(path.times, path.states, strict=True):
        assert state == pytest.approx([time**n for n in range(1, 6)], rel=1e-13, abs=1e-12)
    for share in (0.1, 0.35, 0.5, 0.9):
        time = begin + share * (end - begin)
        assert path.at(time)[:4] == pytest.approx([time**n for n in range(1, 5)], rel=1e-12, abs=1e-12)


def test_without_an_error_each_step_is_ten_times_as_long():
    path = integrate(lambda t, _: (3.0 * t * t,), (1.0,), 0.0, 10.0)
    assert path.times == pytest.approx([0.0, 1e-5, 11e-5, 111e-5, 1111e-5, 11111e-5, 1.11111, 10.0], rel=1e-12, abs=0.0)
    back = integrate(lambda t, _: (3.0 * t * t,), (1.0,), 0.0, -10.0)
    assert back.times[:6] == pytest.approx([-time for time in path.times[:6]], rel=1e-12, abs=0.0)


def test_the_first_step_is_a_hundredth_of_size_over_speed():
    fall = integrate(lambda _, s: (-4.0 * s[0],), (1.0,), 0.0, 1.0)
    assert fall.times[1] == pytest.approx(0.0025, rel=1e-12, abs=0.0)
    two = integrate(lambda _, s: (-s[0], 4.0), (1.0, 0.5), 0.0, 1.0, relative=1e-6, absolute=1e-6)
    # in units of what is allowed: sizes 1/2 and 1/3, speeds 1/2 and 8/3
    assert two.times[1] == pytest.approx(0.01 * (1.0 / 2.0) / (8.0 / 3.0), rel=1e-12, abs=0.0)
    short = integrate(lambda _, s: (-s[0],), (1.0,), 0.0, 0.002)
    assert short.times == (0.0, 0.002)
    for still in (integrate(lambda _, s: (1.0 - s[0],), (1.0,), 0.0, 5.0), integrate(spring, (0.0, 0.0), 0.0, 5.0)):
        assert still.times[1] == pytest.approx(5e-6, rel=1e-12, abs=0.0)


def test_no_more_steps_are_taken_than_allowed():
    def still(*_):
        return (0.0,)

    assert len(integrate(still, (1.0,), 0.0, 10.0, most_steps=8).times) == 8
    with pytest.raises(OutOfDomainError) as caught:
        integrate(still, (1.0,), 0.0, 10.0, most_steps=7)
    assert caught.value.quantity == "end"
    assert caught.value.required == "reached in 7 steps (it came to 10 s: the motion is too fast or endless)"
    assert caught.value.given == 10.0


def test_the_units_of_state_and_time_do_not_matter():
    """Powers of two change no digit: the steps are the same, scaled."""
    plain = integrate(spring, (1.0, 0.25), 0.0, 8.0, relative=2.0**-30, absolute=2.0**-40)
    larger = integrate(spring, (1024.0, 256.0), 0.0, 8.0, relative=2.0**-30, absolute=2.0**-30)
    assert larger.times == plain.times
    assert larger.states[-1] == tuple(1024.0 * value for value in plain.states[-1])
    slower = integrate(
        lambda _, s: (s[1] / 64.0, -s[0] / 64.0), (1.0, 0.25), 0.0, 512.0, relative=2.0**-30, absolute=2.0**-40
    )
    assert slower.times == tuple(64.0 * time for time in plain.times)


def test_one_digit_more_takes_a_fifth_power_of_the_steps():
    counts = [len(integrate(spring, (1.0, 0.0), 0.0, 50.0, relative=r, absolute=r).times) for r in (1e-6, 1e-8, 1e-10)]
    assert counts[1] / counts[0] == pytest.approx(100.0**0.2, rel=0.08, abs=0.0)
    assert counts[2] / counts[1] == pytest.approx(100.0**0.2, rel=0.08, abs=0.0)
    assert counts[0] < 210


def test_a_step_too_long_is_taken_again_from_the_same_place():
    """The slope jumps in the middle of a long step."""
    path = integrate(lambda t, _: (0.0 if t < 1.0 else 1.0,), (2.0,), 0.0, 3.0, relative=1e-9, absolute=1e-9)
    assert path.states[-1][0] == pytest.approx(4.0, rel=1e-7, abs=0.0)
    assert all(earlier < later for earlier, later in zip(path.times, path.times[1:], strict=False))
    assert len(path.times) < 80


def test_the_component_with_the_largest_error_decides():
    calm = integrate(lambda _, s: (-s[0],), (1.0,), 0.0, 5.0)
    both = integrate(lambda _, s: (-s[0], -50.0 * s[1]), (1.0, 1.0), 0.0, 5.0)
    swapped = integrate(lambda _, s: (-50.0 * s[0], -s[1]), (1.0, 1.0), 0.0, 5.0)
    assert len(both.times) > 2 * len(calm.times)
    assert both.times == swapped.times
    assert both.states[-1][0] == pytest.approx(math.exp(-5.0), rel=1e-8, abs=0.0)


def test_nothing_to_move_is_moved_at_once():
    assert integrate(lambda *_: (), (), 0.0, 1.0).states[-1] == ()


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


@pytest.mark.parametrize(
    ("call", "quantity", "required"),
    [
        (lambda: integrate(spring, (math.nan, 0.0), 0.0, 1.0), "start", "a finite number"),
        (lambda: integrate(spring, (1.0, 0.0), math.nan, 1.0), "begin", "a finite number"),
        (lambda: integrate(spring, (1.0, 0.0), 0.0, math.nan), "end", "a finite number"),
        (lambda: integrate(spring, (1.0, 0.0), 0.0, 1.0, relative=0.0), "relative", "greater than 0"),
        (
            lambda: integrate(spring, (1.0, 0.0), 0.0, 1.0, absolute=0.0),
            "absolute",
            "greater than 0 of the state's unit",
        ),
    ],
)
def test_bad_input_is_refused_by_name(call, quantity, required):
    with pytest.raises(OutOfDomainError) as caught:
        call()
    assert (caught.value.quantity, caught.value.required) == (quantity, required)
