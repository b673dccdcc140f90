"""SciPy follows the motion: where a body leaves a circle or turns back, and how long a spring is touched."""

import math

import pytest
from scipy.integrate import solve_ivp

from crankpin.mechanics import spring_buffer, vertical_circle

GRAVITY = 9.81
FINE = {"rtol": 1e-11, "atol": 1e-13}


def stopped(motion, event, start, longest):
    """Follow a motion until an event that comes from above or below; return the state there and the time."""
    event.terminal = True
    found = solve_ivp(motion, (0.0, longest), start, events=event, **FINE)
    assert len(found.t_events[0]) == 1
    return found.y_events[0][0], found.t_events[0][0]


def round_circle(radius):
    return lambda time, state: (state[1], -GRAVITY / radius * math.sin(state[0]))


@pytest.mark.parametrize("ratio", [2.2, 3.0, 3.5, 4.2, 4.9])
def test_where_the_thread_goes_slack(ratio):
    radius, speed = 0.8, math.sqrt(ratio * GRAVITY * 0.8)

    def slack(time, state):
        return radius * state[1] ** 2 + GRAVITY * math.cos(state[0])

    there, _ = stopped(round_circle(radius), slack, (0.0, speed / radius), 5.0)
    assert there[0] == pytest.approx(vertical_circle.leaving_angle(speed, radius, GRAVITY), rel=1e-9)
    by_energy = vertical_circle.speed_round_circle(speed, radius, there[0], GRAVITY)
    assert radius * there[1] == pytest.approx(by_energy, rel=1e-9)


@pytest.mark.parametrize("ratio", [0.1, 1.0, 2.0, 3.0, 3.9])
def test_where_a_body_on_a_rod_turns_back(ratio):
    radius, speed = 2.5, math.sqrt(ratio * GRAVITY * 2.5)
    there, _ = stopped(round_circle(radius), lambda time, state: state[1], (0.0, speed / radius), 20.0)
    assert there[0] == pytest.approx(vertical_circle.turning_angle(speed, radius, GRAVITY), rel=1e-8)


@pytest.mark.parametrize("gravity", [0.0, 1.6, GRAVITY])
@pytest.mark.parametrize("speed", [0.3, 3.0])
def test_how_long_and_how_far_a_buffer_is_pressed(gravity, speed):
    mass, stiffness = 20.0, 8000.0

    def motion(time, state):
        return state[1], gravity - stiffness / mass * state[0]

    def off_again(time, state):
        return state[0] if time > 1e-6 else 1.0

    deepest, _ = stopped(motion, lambda time, state: state[1], (0.0, speed), 1.0)
    _, end = stopped(motion, off_again, (0.0, speed), 1.0)
    assert deepest[0] == pytest.approx(spring_buffer.greatest_compression(mass, stiffness, speed, gravity), rel=1e-8)
    assert end == pytest.approx(spring_buffer.contact_time(mass, stiffness, speed, gravity), rel=1e-7)
