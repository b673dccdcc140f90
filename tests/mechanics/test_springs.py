import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crankpin.mechanics import springs
from crankpin.mechanics.errors import OutOfDomainError
from tests.strategies import angular_frequencies, gravities, lengths, masses, stiffnesses


def test_a_third_of_the_spring_swings_with_the_mass():
    assert springs.effective_mass(0.25, 0.06) == pytest.approx(0.27, rel=1e-15, abs=0.0)
    assert springs.angular_frequency(27.0, springs.effective_mass(0.25, 0.15)) == pytest.approx(
        math.sqrt(90.0), rel=1e-15, abs=0.0
    )


@given(masses, angular_frequencies)
def test_mass_and_stiffness_for_a_rate_lead_back_to_it(mass, omega):
    stiffness = springs.stiffness_for_rate(mass, omega)
    assert springs.angular_frequency(stiffness, mass) == pytest.approx(omega, rel=4e-16, abs=0.0)
    assert springs.mass_for_rate(stiffness, omega) == pytest.approx(mass, rel=1e-15, abs=0.0)


@given(masses, stiffnesses, gravities)
def test_the_static_stretch_alone_gives_the_rate(mass, stiffness, gravity):
    stretch = springs.static_stretch(mass, stiffness, gravity)
    assert springs.angular_frequency_from_stretch(stretch, gravity) == pytest.approx(
        springs.angular_frequency(stiffness, mass), rel=1e-15, abs=0.0
    )
    assert springs.force(stiffness, -stretch) == pytest.approx(mass * gravity, rel=1e-15, abs=0.0)
    assert springs.stiffness_from_stretch(mass, stretch, gravity) == pytest.approx(stiffness, rel=1e-15, abs=0.0)
    assert springs.mass_from_stretch(stiffness, stretch, gravity) == pytest.approx(mass, rel=1e-15, abs=0.0)


@given(stiffnesses, stiffnesses)
def test_side_by_side_is_stiffer_and_end_to_end_softer_than_either(k_1, k_2):
    together, in_a_row = springs.side_by_side(k_1, k_2), springs.end_to_end(k_1, k_2)
    assert together >= max(k_1, k_2)
    assert in_a_row <= min(k_1, k_2) * (1.0 + 4e-16)
    assert in_a_row / k_1 == pytest.approx(k_2 / together, rel=1e-15, abs=0.0)


@given(stiffnesses, st.integers(1, 20))
def test_a_spring_cut_in_equal_pieces(stiffness, pieces):
    piece = springs.stiffness_of_length(stiffness, 1.0 / pieces)
    assert springs.end_to_end(*[piece] * pieces) == pytest.approx(stiffness, rel=1e-14, abs=0.0)


@given(masses, stiffnesses, gravities, lengths)
def test_after_a_fall_the_spring_holds_what_the_weight_gave(mass, stiffness, gravity, height):
    stretch = springs.stretch_after_fall(mass, stiffness, gravity, height)
    assert 0.5 * stiffness * stretch * stretch == pytest.approx(mass * gravity * (height + stretch), rel=1e-14, abs=0.0)


@pytest.mark.parametrize("bad", [0.0, -1.0, math.nan, math.inf])
def test_what_is_no_spring_or_mass_is_refused(bad):
    for call in (
        lambda: springs.angular_frequency(bad, 1.0),
        lambda: springs.angular_frequency(1.0, bad),
        lambda: springs.static_stretch(1.0, 1.0, bad),
        lambda: springs.end_to_end(1.0, bad),
        lambda: springs.side_by_side(bad, 1.0),
        lambda: springs.mass_for_rate(1.0, bad),
    ):
        with pytest.raises(OutOfDomainError, match="must be greater than 0"):
            call()


def test_no_springs_at_all():
    with pytest.raises(OutOfDomainError, match="at least one spring"):
        springs.side_by_side()
