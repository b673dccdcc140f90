import math

import pytest
from hypothesis import given

from crankpin.mechanics import inertia
from crankpin.mechanics.errors import OutOfDomainError
from tests.strategies import lengths, masses


@given(masses, lengths)
def test_bodies_cut_in_slices(mass, size):
    """Sums of thin slices come out as the closed forms."""
    slices = 200
    middles = [(i + 0.5) / slices for i in range(slices)]
    rings = math.fsum(2.0 * m * m * m for m in middles) * mass * size * size / slices
    assert inertia.disc(mass, size) == pytest.approx(rings, rel=1e-4, abs=0.0)
    pieces = math.fsum((m - 0.5) ** 2 for m in middles) * mass * size * size / slices
    assert inertia.rod(mass, size) == pytest.approx(pieces, rel=1e-4, abs=0.0)
    # a sphere's discs: radius^2 = 1 - z^2, mass in proportion to it
    discs = math.fsum(0.75 * (1.0 - z * z) ** 2 / 2.0 for z in (2.0 * m - 1.0 for m in middles))
    assert inertia.sphere(mass, size) == pytest.approx(discs * 2.0 / slices * mass * size * size, rel=1e-4, abs=0.0)


@given(masses, lengths)
def test_a_rod_from_its_end(mass, length):
    about_end = inertia.about_parallel_axis(inertia.rod(mass, length), mass, length / 2.0)
    assert about_end == pytest.approx(mass * length * length / 3.0, rel=1e-15, abs=0.0)


@pytest.mark.parametrize("bad", [0.0, -1.0, math.nan, math.inf])
def test_what_is_no_body_is_refused(bad):
    for call in (
        lambda: inertia.disc(bad, 1.0),
        lambda: inertia.sphere(1.0, bad),
        lambda: inertia.rod(1.0, bad),
        lambda: inertia.about_parallel_axis(1.0, bad, 1.0),
    ):
        with pytest.raises(OutOfDomainError):
            call()
