import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crankpin.mechanics import energy, harmonic, springs
from crankpin.mechanics.errors import AbsentError, OutOfDomainError
from tests.strategies import gravities, lengths, masses, phases, shares, spread, stiffnesses


@given(masses, stiffnesses, lengths, shares)
def test_what_the_spring_gives_up_the_mass_carries(mass, stiffness, amplitude, share):
    at = energy.energy_share(mass, stiffness, amplitude, amplitude * share)
    assert at.potential + at.kinetic == pytest.approx(at.total, rel=1e-14, abs=0.0)
    assert energy.kinetic(mass, at.speed) == pytest.approx(at.kinetic, rel=1e-14, abs=0.0)
    assert energy.kinetic_share(amplitude, amplitude * share) == pytest.approx(
        at.kinetic / at.total, rel=1e-12, abs=1e-15
    )


@given(masses, stiffnesses, lengths, phases, st.floats(0.0, 50.0))
def test_the_energy_is_the_same_all_along_the_motion(mass, stiffness, amplitude, phase, turned):
    omega = springs.angular_frequency(stiffness, mass)
    x = harmonic.position(amplitude, omega, phase, turned / omega)
    v = harmonic.velocity(amplitude, omega, phase, turned / omega)
    total = energy.potential(stiffness, x) + energy.kinetic(mass, v)
    assert total == pytest.approx(energy.potential(stiffness, amplitude), rel=1e-14, abs=0.0)


@given(lengths, st.floats(0.0, 1.0))
def test_the_place_of_a_share_has_that_share(amplitude, share):
    x = energy.position_at_kinetic_share(amplitude, share)
    assert energy.kinetic_share(amplitude, x) == pytest.approx(share, rel=1e-9, abs=1e-15)


def test_half_way_out_three_quarters_is_kinetic():
    # common practice, no source
    assert energy.kinetic_share(0.2, -0.1) == 0.75


@given(stiffnesses, lengths)
def test_amplitude_and_energy_are_each_others_inverse(stiffness, amplitude):
    stored = energy.potential(stiffness, amplitude)
    assert energy.amplitude_for_energy(stiffness, stored) == pytest.approx(amplitude, rel=1e-15, abs=0.0)
    assert energy.stiffness_for_energy(stored, amplitude) == pytest.approx(stiffness, rel=1e-15, abs=0.0)
    assert energy.work_to_stretch(stiffness, 0.0, amplitude) == pytest.approx(stored, rel=1e-15, abs=0.0)
    assert energy.work_to_stretch(stiffness, amplitude, -amplitude) == 0.0


@given(masses, gravities, lengths)
def test_lifting_and_falling_back(mass, gravity, height):
    gain = energy.gravitational(mass, gravity, height)
    assert energy.height_from_energy(gain, mass, gravity) == pytest.approx(height, rel=1e-15, abs=0.0)
    assert energy.gravitational(mass, gravity, -height) == -gain


def test_twice_the_amplitude_for_four_times_the_energy():
    assert energy.amplitude_ratio(4.0) == 2.0


def test_beyond_the_amplitude_is_refused():
    with pytest.raises(
        OutOfDomainError, match=r"position must be within the amplitude A, that is from -0\.2 m to 0\.2 m; it was 0\.3"
    ):
        energy.energy_share(1.0, 1.0, 0.2, 0.3)
    with pytest.raises(OutOfDomainError):
        energy.kinetic_share(0.2, math.nan)
    with pytest.raises(OutOfDomainError, match="share must be from 0 to 1"):
        energy.position_at_kinetic_share(0.2, 1.5)


def test_no_amplitude_nothing_to_share():
    with pytest.raises(AbsentError, match="no energy to share"):
        energy.kinetic_share(0.0, 0.0)


@given(spread(1e-6, 1e6))
def test_energy_goes_with_the_square_of_the_amplitude(ratio):
    assert energy.amplitude_ratio(energy.energy_ratio(ratio)) == pytest.approx(ratio, rel=1e-14)
    by_stiffness = energy.potential(50.0, 0.1 * ratio) / energy.potential(50.0, 0.1)
    assert energy.energy_ratio(ratio) == pytest.approx(by_stiffness, rel=1e-13)


@given(spread(1e-6, 1e6), spread(1e-6, 1e6))
def test_levels_add_where_ratios_multiply(first, second):
    both = energy.level_difference(first * second)
    assert both == pytest.approx(energy.level_difference(first) + energy.level_difference(second), abs=1e-12)


def test_ten_times_the_energy_is_a_level_of_ten_decibels():
    assert energy.level_difference(10.0) == 10.0
