"""Each closed form against its equation of motion, integrated in small steps; and what holds over the whole range.

The integrator knows no formula of the mechanics: it is given forces and masses only. Agreement is to 1e-9 of the
motion's size.
"""

import math
from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crankpin.mechanics import (
    circular,
    damping,
    driving,
    energy,
    friction,
    harmonic,
    orbits,
    pendulum,
    rotation,
    springs,
    superposition,
    vertical_circle,
)
from crankpin.mechanics.damping import Motion, damped_motion
from crankpin.mechanics.integrate import integrate
from crankpin.mechanics.superposition import Phasor
from tests.strategies import (
    angular_frequencies,
    any_phases,
    either_sign,
    gravities,
    lengths,
    masses,
    phases,
    spread,
    stiffnesses,
)

State = tuple[float, ...]


def agree(slope: Callable[[float, State], State], closed: Callable[[float], State], end: float) -> None:
    """Integrate from the closed form's own start and compare all along, each component by its greatest size."""
    path = integrate(slope, closed(0.0), 0.0, end, relative=1e-12, absolute=1e-14)
    sizes = [max(map(abs, of_one)) for of_one in zip(*path.states, strict=True)]
    assert len(path.times) > 5
    for time, state in zip(path.times, path.states, strict=True):
        for found, integrated, size in zip(closed(time), state, sizes, strict=True):
            assert found == pytest.approx(integrated, rel=0.0, abs=1e-9 * size)


def test_turning_on_a_circle_needs_a_pull_to_its_centre() -> None:
    omega = -2.5

    def closed(time: float) -> State:
        at = circular.plane_motion(0.3, omega, circular.angle(omega, time, 0.4))
        return at.x, at.y, at.v_x, at.v_y

    agree(lambda _, s: (s[2], s[3], -omega * omega * s[0], -omega * omega * s[1]), closed, 5.0)


def test_the_pull_of_a_planet_keeps_a_moon_on_its_circle() -> None:
    gm, radius = 400.0, 4.0
    omega = orbits.orbital_angular_frequency(gm, radius)

    def closed(time: float) -> State:
        at = circular.plane_motion(radius, omega, omega * time)
        return at.x, at.y, at.v_x, at.v_y

    def slope(_: float, s: State) -> State:
        cube = math.hypot(s[0], s[1]) ** 3
        return s[2], s[3], -gm * s[0] / cube, -gm * s[1] / cube

    agree(slope, closed, orbits.orbital_period(gm, radius))


def test_the_holder_s_force_and_the_weight_carry_a_load_round_an_upright_circle() -> None:
    mass, radius, omega, gravity = 2.0, 0.8, 3.0, 9.8

    def closed(time: float) -> State:
        at = circular.plane_motion(radius, omega, omega * time)
        return at.x, at.y, at.v_x, at.v_y

    def slope(time: float, s: State) -> State:
        across, up = vertical_circle.holding_force(mass, radius, omega, omega * time, gravity)
        return s[2], s[3], across / mass, (up - mass * gravity) / mass

    agree(slope, closed, 3.0)


def test_a_steady_angular_acceleration() -> None:
    agree(
        lambda t, s: (s[1], -0.7),
        lambda t: (rotation.angle_after(2.0, -0.7, t), rotation.rate_after(2.0, -0.7, t)),
        6.0,
    )


def test_a_mass_on_a_spring() -> None:
    mass, stiffness, amplitude, phase = 0.4, 12.0, 0.15, 0.7
    omega = springs.angular_frequency(stiffness, mass)

    def closed(time: float) -> State:
        where = amplitude, omega, phase, time
        return harmonic.position(*where), harmonic.velocity(*where)

    agree(lambda _, s: (s[1], springs.force(stiffness, s[0]) / mass), closed, 6.0)
    for time in (0.0, 0.3, 2.0):
        x, _ = closed(time)
        assert harmonic.acceleration(amplitude, omega, phase, time) == pytest.approx(
            -stiffness * x / mass, rel=1e-13, abs=0.0
        )


def test_a_mass_that_hangs_swings_about_its_static_stretch() -> None:
    mass, stiffness, gravity = 0.5, 40.0, 9.8
    omega, still = springs.angular_frequency(stiffness, mass), springs.static_stretch(mass, stiffness, gravity)

    def closed(time: float) -> State:  # downwards from the natural length
        where = 0.03, omega, 1.0, time
        return still + harmonic.position(*where), harmonic.velocity(*where)

    agree(lambda _, s: (s[1], gravity - stiffness * s[0] / mass), closed, 4.0)


def test_a_mass_that_falls_onto_its_spring_stretches_it_so_far() -> None:
    mass, stiffness, gravity, height = 0.5, 50.0, 9.8, 0.2
    most = springs.stretch_after_fall(mass, stiffness, gravity, height)
    start = 0.0, math.sqrt(2.0 * gravity * height)
    path = integrate(lambda _, s: (s[1], gravity - stiffness * s[0] / mass), start, 0.0, 0.5, relative=1e-12)
    reached = max(path.at(1e-5 * i)[0] for i in range(50_001))
    assert reached == pytest.approx(most, rel=1e-9, abs=0.0)


def test_a_body_on_a_twisted_wire() -> None:
    inertia, stiffness = 0.02, 0.5
    omega = pendulum.torsion_angular_frequency(stiffness, inertia)
    agree(
        lambda _, s: (s[1], -stiffness * s[0] / inertia),
        lambda t: (harmonic.position(2.0, omega, 0.3, t), harmonic.velocity(2.0, omega, 0.3, t)),
        3.0 * pendulum.torsion_period(stiffness, inertia),
    )


@pytest.mark.parametrize("degrees", [1.0, 90.0, 170.0])
def test_a_rigid_body_swings_as_its_thread_pendulum(degrees: float) -> None:
    inertia, mass, distance, gravity = 0.3, 1.5, 0.35, 9.8
    length = pendulum.equivalent_length(inertia, mass, distance)

    def closed(time: float) -> State:
        at = pendulum.swing(length, gravity, math.radians(degrees), time)
        return at.angle, at.angular_velocity

    period = pendulum.rigid_pendulum_period(inertia, mass, distance, gravity)
    whole = period * pendulum.period_ratio(math.radians(degrees))
    agree(lambda _, s: (s[1], -mass * gravity * distance * math.sin(s[0]) / inertia), closed, whole)
    assert closed(whole)[0] == pytest.approx(math.radians(degrees), rel=1e-12, abs=0.0)


@pytest.mark.parametrize("zeta", [0.0, 0.05, 1.0, 4.0])
def test_a_damped_return_in_each_regime(zeta: float) -> None:
    mass, stiffness = 0.4, 10.0
    b = zeta * damping.critical_damping(mass, stiffness)

    def closed(time: float) -> State:
        at = damped_motion(mass, stiffness, b, 0.1, -0.8, time)
        return at.position, at.velocity

    agree(lambda _, s: (s[1], -(b * s[1] + stiffness * s[0]) / mass), closed, 4.0)


@pytest.mark.parametrize("zeta", [0.0, 0.05, 1.0, 4.0])
@pytest.mark.parametrize("ratio", [0.4, 1.0, 2.5])
def test_a_mass_whose_spring_is_moved_by_a_crank(zeta: float, ratio: float) -> None:
    """The far end moves as a cos(omega t), so the spring pulls with k (a cos(omega t) - x)."""
    mass, stiffness, moved = 0.4, 10.0, 0.02
    b = zeta * damping.critical_damping(mass, stiffness)
    omega = ratio * damping.natural_angular_frequency(mass, stiffness)
    push = driving.support_force(stiffness, moved)

    def closed(time: float) -> State:
        at = driving.driven_motion(mass, stiffness, b, push, omega, time, 0.01, -0.05)
        return at.position, at.velocity

    def slope(time: float, s: State) -> State:
        return s[1], (stiffness * (moved * math.cos(omega * time) - s[0]) - b * s[1]) / mass

    agree(slope, closed, 4.0)


@pytest.mark.parametrize("zeta", [0.02, 0.7, 3.0])
def test_the_steady_state_needs_no_start(zeta: float) -> None:
    mass, stiffness, force, omega = 0.4, 10.0, 2.0, 4.0
    b = zeta * damping.critical_damping(mass, stiffness)

    def closed(time: float) -> State:
        at = driving.steady_motion(mass, stiffness, b, force, omega, time)
        return at.position, at.velocity

    agree(lambda t, s: (s[1], (force * math.cos(omega * t) - b * s[1] - stiffness * s[0]) / mass), closed, 5.0)


def test_a_slide_on_a_rough_surface_swing_by_swing() -> None:
    """From one turning point to the next friction is one force against the motion."""
    mass, stiffness, gravity, mu_s, mu_k, start = 0.5, 20.0, 9.8, 0.12, 0.1, 0.3
    sliding = friction.greatest_held_stretch(mu_k, mass, stiffness, gravity)
    held = friction.greatest_held_stretch(mu_s, mass, stiffness, gravity)
    half = math.pi * math.sqrt(mass / stiffness)
    place, path_length, halves = start, 0.0, 0
    while abs(place) > held:
        against = math.copysign(friction.friction_force(mu_k, mass, gravity), place)
        swing = integrate(
            lambda _, s, against=against: (s[1], (against - stiffness * s[0]) / mass),
            (place, 0.0),
            0.0,
            half,
            relative=1e-12,
        )
        assert swing.states[-1][1] == pytest.approx(0.0, abs=1e-9)
        path_length += abs(swing.states[-1][0] - place)
        place, halves = swing.states[-1][0], halves + 1
    slide = friction.slide_to_rest(start, held, sliding)
    assert slide.half_swings == halves > 3
    assert slide.path == pytest.approx(path_length, rel=1e-9, abs=0.0)
    assert slide.rest == pytest.approx(place, rel=0.0, abs=1e-9 * start)


def test_two_motions_of_two_rates_at_once() -> None:
    """A mass free of springs, pushed by two forces, moves as the two together."""
    first, second = Phasor(0.3, 1.1, 0.4), Phasor(0.2, 1.3, -1.0)

    def closed(time: float) -> State:
        v = [harmonic.velocity(w.amplitude, math.tau * w.frequency, w.phase, time) for w in (first, second)]
        return superposition.together(first, second, time), math.fsum(v)

    def slope(time: float, s: State) -> State:
        parts = [(math.tau * w.frequency) ** 2 * superposition.displacement(w, time) for w in (first, second)]
        return s[1], -math.fsum(parts)

    agree(slope, closed, 6.0)


# Over the whole range of the course

turned = st.floats(0.0, 40.0)
zetas = st.just(0.0) | spread(1e-12, 1e12) | st.floats(0.9, 1.1)
starts = either_sign(spread(1e-3, 1e3))


def is_slope(position: Callable[[float], float], velocity: float, time: float, scale: float, size: float) -> None:
    """Whether ``velocity`` is the slope of ``position``: five readings, ``scale`` the time of a radian or decay."""
    h = 1e-3 * scale
    a, b, c, d = (position(time + n * h) for n in (-2, -1, 1, 2))
    assert (a - 8.0 * b + 8.0 * c - d) / (12.0 * h) == pytest.approx(velocity, rel=0.0, abs=2e-10 * size / scale)


@given(lengths, angular_frequencies, phases, turned)
def test_velocity_is_the_slope_of_position_and_acceleration_that_of_velocity(
    amplitude: float, omega: float, phase: float, angle: float
) -> None:
    time, where = angle / omega, (amplitude, omega, phase)
    is_slope(lambda t: harmonic.position(*where, t), harmonic.velocity(*where, time), time, 1.0 / omega, amplitude)
    is_slope(
        lambda t: harmonic.velocity(*where, t),
        harmonic.acceleration(*where, time),
        time,
        1.0 / omega,
        amplitude * omega,
    )


@given(lengths, angular_frequencies, either_sign(st.just(1.0)), any_phases, turned)
def test_on_the_circle_too(radius: float, omega: float, way: float, angle: float, since: float) -> None:
    time = since / omega

    def at(t: float) -> circular.PlaneMotion:
        return circular.plane_motion(radius, way * omega, circular.angle(way * omega, t, angle))

    here = at(time)
    speed = radius * omega
    assert math.hypot(here.v_x, here.v_y) == pytest.approx(abs(way) * speed, rel=1e-14, abs=0.0)
    for place, rate, size in (("x", "v_x", radius), ("y", "v_y", radius), ("v_x", "a_x", speed), ("v_y", "a_y", speed)):
        is_slope(lambda t, place=place: getattr(at(t), place), getattr(here, rate), time, 1.0 / omega, size)


@given(masses, stiffnesses, zetas, starts, starts, st.floats(0.01, 20.0))
def test_when_damped_too(mass: float, stiffness: float, zeta: float, x_0: float, v_0: float, radians: float) -> None:
    omega = damping.natural_angular_frequency(mass, stiffness)
    b = zeta * damping.critical_damping(mass, stiffness)
    fastest = omega * max(1.0, 2.0 * zeta)
    time = max(radians / omega, 0.01 / fastest)

    def at(t: float) -> Motion:
        return damped_motion(mass, stiffness, b, x_0, v_0 * omega, t)

    size = abs(x_0) + abs(v_0)
    is_slope(lambda t: at(t).position, at(time).velocity, time, 1.0 / fastest, size)
    force = -b * at(time).velocity - stiffness * at(time).position
    assert abs(at(0.0).position - x_0) <= 1e-15 * size
    is_slope(lambda t: at(t).velocity, force / mass, time, 1.0 / fastest, size * fastest)


@given(masses, stiffnesses, st.just(0.0) | spread(1e-6, 1e3), spread(1e-3, 1e3), st.floats(0.1, 20.0))
def test_when_driven_too(mass: float, stiffness: float, zeta: float, ratio: float, radians: float) -> None:
    omega_0 = damping.natural_angular_frequency(mass, stiffness)
    b, omega = zeta * damping.critical_damping(mass, stiffness), ratio * omega_0
    fastest = omega_0 * max(1.0, 2.0 * zeta, ratio)
    time = radians / fastest

    def at(t: float) -> Motion:
        return driving.driven_motion(mass, stiffness, b, stiffness, omega, t, 0.5, -0.5 * omega_0)

    is_slope(lambda t: at(t).position, at(time).velocity, time, 1.0 / fastest, 4.0 + radians)
    here = at(time)
    force = stiffness * math.cos(omega * time) - b * here.velocity - stiffness * here.position
    is_slope(lambda t: at(t).velocity, force / mass, time, 1.0 / fastest, (4.0 + radians) * fastest)


@given(lengths, gravities, spread(1e-9, math.radians(179.9)), turned)
def test_and_in_a_swing_of_any_width(length: float, gravity: float, amplitude: float, radians: float) -> None:
    rate = math.sqrt(gravity / length)
    time = radians / rate

    def at(t: float) -> pendulum.Swing:
        return pendulum.swing(length, gravity, amplitude, t)

    is_slope(lambda t: at(t).angle, at(time).angular_velocity, time, 1.0 / rate, amplitude)
    pull = -gravity / length * math.sin(at(time).angle)
    is_slope(lambda t: at(t).angular_velocity, pull, time, 1.0 / rate, 2.0 * amplitude * rate)


def stored(mass: float, stiffness: float, at: Motion) -> float:
    return energy.kinetic(mass, at.velocity) + energy.potential(stiffness, at.position)


@given(masses, stiffnesses, starts, starts, turned)
def test_without_damping_the_energy_stays(mass: float, stiffness: float, x_0: float, v_0: float, angle: float) -> None:
    omega = damping.natural_angular_frequency(mass, stiffness)
    start = Motion(x_0, v_0 * omega)
    later = damped_motion(mass, stiffness, 0.0, start.position, start.velocity, angle / omega)
    assert stored(mass, stiffness, later) == pytest.approx(stored(mass, stiffness, start), rel=1e-13, abs=0.0)


@given(masses, stiffnesses, spread(1e-6, 1e6), starts, starts, turned)
def test_with_damping_it_falls_by_the_work_of_the_resistance(
    mass: float, stiffness: float, zeta: float, x_0: float, v_0: float, angle: float
) -> None:
    omega = damping.natural_angular_frequency(mass, stiffness)
    b = zeta * damping.critical_damping(mass, stiffness)
    first = damped_motion(mass, stiffness, b, x_0, v_0 * omega, angle / omega)
    start, now = stored(mass, stiffness, Motion(x_0, v_0 * omega)), stored(mass, stiffness, first)
    assert now <= start * (1.0 + 1e-13)
    step = 0.01 / (omega * max(1.0, 2.0 * zeta))  # Simpson's rule over a hundredth of the fastest change
    between = [damped_motion(mass, stiffness, b, first.position, first.velocity, n * step / 8.0) for n in range(9)]
    powers = [b * at.velocity**2 for at in between]
    work = step / 24.0 * math.fsum(w * p for w, p in zip((1, 4, 2, 4, 2, 4, 2, 4, 1), powers, strict=True))
    assert stored(mass, stiffness, between[-1]) == pytest.approx(now - work, rel=1e-11, abs=1e-300)


@given(masses, stiffnesses, zetas, starts, starts, st.floats(0.0, 20.0), st.integers(-20, 20))
def test_twice_the_start_is_twice_the_motion_at_any_time(
    mass: float, stiffness: float, zeta: float, x_0: float, v_0: float, radians: float, doublings: int
) -> None:
    """So no period, no decay and no lag depends on the amplitude."""
    omega = damping.natural_angular_frequency(mass, stiffness)
    constants = mass, stiffness, zeta * damping.critical_damping(mass, stiffness)
    times = 2.0**doublings
    one = damped_motion(*constants, x_0, v_0 * omega, radians / omega)
    more = damped_motion(*constants, times * x_0, times * v_0 * omega, radians / omega)
    assert (more.position, more.velocity) == (times * one.position, times * one.velocity)


@given(masses, stiffnesses, lengths, phases)
def test_the_period_is_the_same_at_any_amplitude(mass: float, stiffness: float, amplitude: float, phase: float) -> None:
    omega = springs.angular_frequency(stiffness, mass)
    first, second = harmonic.passing_times(amplitude, omega, phase, amplitude)
    assert second.time - first.time == pytest.approx(circular.period(omega), rel=1e-12, abs=0.0)
    v_0 = harmonic.velocity(amplitude, omega, phase, 0.0)
    x_0 = harmonic.position(amplitude, omega, phase, 0.0)
    again = damped_motion(mass, stiffness, 0.0, x_0, v_0, damping.damped_period(mass, stiffness, 0.0))
    assert again.position == pytest.approx(x_0, rel=0.0, abs=1e-14 * amplitude)


@given(masses, stiffnesses, lengths, phases, turned)
def test_no_damping_is_the_limit_of_little(
    mass: float, stiffness: float, amplitude: float, phase: float, angle: float
) -> None:
    omega = springs.angular_frequency(stiffness, mass)
    time, where = angle / omega, (amplitude, omega, phase)
    x_0, v_0 = harmonic.position(*where, 0.0), harmonic.velocity(*where, 0.0)
    for zeta in (0.0, 1e-12):
        b = zeta * damping.critical_damping(mass, stiffness)
        at = damped_motion(mass, stiffness, b, x_0, v_0, time)
        assert at.position == pytest.approx(harmonic.position(*where, time), rel=0.0, abs=2e-10 * amplitude)
        assert at.velocity == pytest.approx(harmonic.velocity(*where, time), rel=0.0, abs=2e-10 * amplitude * omega)


@given(lengths, gravities, spread(1e-9, 1e-5), turned)
def test_a_narrow_swing_is_the_limit_of_a_wide_one(
    length: float, gravity: float, amplitude: float, radians: float
) -> None:
    rate = math.sqrt(gravity / length)
    at = pendulum.swing(length, gravity, amplitude, radians / rate)
    assert at.angle == pytest.approx(amplitude * math.cos(radians), rel=0.0, abs=1e-9 * amplitude)
    assert at.angular_velocity == pytest.approx(
        -amplitude * rate * math.sin(radians), rel=0.0, abs=1e-9 * amplitude * rate
    )
