"""Disc and oscillator in step against 50 digits (mpmath) and against their motions run side by side."""

import math

import pytest
from hypothesis import assume, given
from mpmath import mp, mpf

from crankpin.mechanics import bench, harmonic
from tests.strategies import masses, spread, stiffnesses


@given(stiffnesses, masses, spread(1e-15, 10.0))
def test_the_mismatch_against_fifty_digits(stiffness, mass, share):
    disc = math.sqrt(stiffness / mass) * (1.0 + share)
    with mp.workdps(50):
        own = mp.sqrt(mpf(stiffness) / mpf(mass))
        wanted = (mpf(disc) - own) / own
        seconds = mpf("0.1") / abs(mpf(disc) - own) if disc != own else None
    assume(abs(wanted) > 1e-15)
    assert bench.mismatch(stiffness, mass, disc) == pytest.approx(float(wanted), rel=2e-15, abs=0.0)
    assert bench.slip_time(stiffness, mass, disc, 0.1) == pytest.approx(float(seconds), rel=4e-15, abs=0.0)


def test_the_two_motions_part_by_the_tolerance_at_the_slip_time():
    stiffness, mass, spring_mass, disc = 24.0, 0.35, 0.06, 8.1
    time = bench.slip_time(stiffness, mass, disc, 0.2, spring_mass)
    own = bench.disc_rate_needed(stiffness, mass, spring_mass)
    pin = harmonic.phase_angle(disc, 0.0, time)
    hung = harmonic.phase_angle(own, 0.0, time)
    assert abs(pin - hung) == pytest.approx(0.2, rel=1e-12, abs=0.0)
