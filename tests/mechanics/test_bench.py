import math
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crankpin.mechanics import bench, springs
from crankpin.mechanics.errors import AbsentError, OutOfDomainError
from tests.strategies import angular_frequencies, masses, spread, stiffnesses

spring_shares = st.floats(0.0, 1.0)


@given(stiffnesses, masses, spring_shares)
def test_each_remedy_brings_them_into_step(stiffness, mass, share):
    spring_mass = mass * share
    rate = bench.disc_rate_needed(stiffness, mass, spring_mass)
    assert bench.mass_needed(stiffness, rate, spring_mass) == pytest.approx(mass, rel=1e-14, abs=0.0)
    assert bench.stiffness_needed(mass, rate, spring_mass) == pytest.approx(stiffness, rel=1e-14, abs=0.0)
    assert abs(bench.mismatch(stiffness, mass, rate, spring_mass)) < 1e-15


@given(stiffnesses, masses, st.floats(-0.5, 0.5))
def test_mismatch_is_the_relative_difference_of_the_rates(stiffness, mass, share):
    own = springs.angular_frequency(stiffness, mass)
    assert bench.mismatch(stiffness, mass, own * (1.0 + share)) == pytest.approx(share, abs=1e-15)


def test_no_digits_lost_close_to_step():
    disc = 4.0 + 2.0**-49
    exact = (Fraction(disc) - 4) / 4
    assert bench.mismatch(32.0, 2.0, disc) == pytest.approx(float(exact), rel=1e-15, abs=0.0)


@given(stiffnesses, masses, spread(1e-12, 1e3), spread(1e-3, 3.0))
def test_after_the_slip_time_they_are_apart_by_the_tolerance(stiffness, mass, share, tolerance):
    disc = springs.angular_frequency(stiffness, mass) * (1.0 + share)
    time = bench.slip_time(stiffness, mass, disc, tolerance)
    period = math.tau / springs.angular_frequency(stiffness, mass)
    slipped = bench.slip_per_period(stiffness, mass, disc) * (time / period)
    assert slipped == pytest.approx(tolerance, rel=1e-14, abs=0.0)


def test_behind_is_negative_and_ahead_positive():
    assert bench.slip_per_period(32.0, 2.0, 5.0) == pytest.approx(math.pi / 2.0, rel=1e-15, abs=0.0)
    assert bench.slip_per_period(32.0, 2.0, 3.0) == pytest.approx(-math.pi / 2.0, rel=1e-15, abs=0.0)
    assert bench.slip_time(32.0, 2.0, 3.0, 0.5) == pytest.approx(0.5, rel=1e-15, abs=0.0)


@given(stiffnesses, masses)
def test_in_step_to_the_last_digits_there_is_no_slip_time(stiffness, mass):
    with pytest.raises(AbsentError, match="stay in step"):
        bench.slip_time(stiffness, mass, springs.angular_frequency(stiffness, mass), 0.1)


def test_a_spring_too_slow_for_the_disc():
    assert bench.mass_needed(32.0, 4.0, 5.9) > 0.0
    with pytest.raises(AbsentError, match="Even with nothing hung"):
        bench.mass_needed(32.0, 4.0, 6.0)


@given(angular_frequencies)
def test_a_disc_must_turn(omega):
    with pytest.raises(OutOfDomainError, match="disc_rate must be greater than 0 rad/s"):
        bench.mismatch(32.0, 2.0, -omega)
