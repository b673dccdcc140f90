import math

import pytest
from hypothesis import given

from crankpin.mechanics import circular, orbits
from crankpin.mechanics.errors import OutOfDomainError
from tests.strategies import spread

parameters = spread(1e3, 1e25)
radii = spread(1e3, 1e13)


@given(parameters, radii)
def test_gravity_is_the_centripetal_acceleration(gm, radius):
    omega = orbits.orbital_angular_frequency(gm, radius)
    assert circular.centripetal_acceleration(radius, omega) == pytest.approx(gm / radius**2, rel=1e-14, abs=0.0)
    assert circular.rim_speed(radius, omega) == pytest.approx(orbits.orbital_speed(gm, radius), rel=1e-14, abs=0.0)


@given(parameters, radii)
def test_period_and_radius_lead_back_to_each_other_and_to_the_mass(gm, radius):
    period = orbits.orbital_period(gm, radius)
    assert orbits.orbital_radius(gm, period) == pytest.approx(radius, rel=1e-14, abs=0.0)
    assert orbits.gravitational_parameter(radius, period) == pytest.approx(gm, rel=1e-13, abs=0.0)


@given(parameters, radii, spread(1e-3, 1e3))
def test_scaling_follows_the_third_law(gm, radius, ratio):
    period = orbits.orbital_period(gm, radius)
    wider = orbits.orbital_period(gm, radius * ratio)
    assert orbits.scaled_period(period, ratio) == pytest.approx(wider, rel=1e-13, abs=0.0)
    assert orbits.scaled_radius(radius, wider / period) == pytest.approx(radius * ratio, rel=1e-13, abs=0.0)
    assert orbits.kepler_ratio(radius, period) == pytest.approx(
        orbits.kepler_ratio(radius * ratio, wider), rel=1e-13, abs=0.0
    )


@given(parameters, radii, spread(1e-2, 1e2))
def test_a_faster_orbit_is_closer_in(gm, radius, ratio):
    closer = radius * orbits.radius_ratio_for_speed(ratio)
    assert orbits.orbital_speed(gm, closer) == pytest.approx(
        ratio * orbits.orbital_speed(gm, radius), rel=1e-13, abs=0.0
    )


@pytest.mark.parametrize("bad", [0.0, -1.0, math.nan, math.inf])
def test_no_orbit_without_a_radius_or_a_mass(bad):
    with pytest.raises(OutOfDomainError):
        orbits.orbital_period(bad, 1.0)
    with pytest.raises(OutOfDomainError):
        orbits.orbital_speed(1.0, bad)


@given(spread(1e3, 1e40), radii)
def test_a_mass_pulls_as_its_parameter_does(mass, radius):
    gm = orbits.parameter_of_mass(mass)
    assert orbits.mass_of_parameter(gm) == pytest.approx(mass, rel=1e-14, abs=0.0)
    omega = orbits.orbital_angular_frequency(gm, radius)
    by_turning = circular.centripetal_acceleration(radius, omega)
    assert orbits.orbital_acceleration(gm, radius) == pytest.approx(by_turning, rel=1e-13, abs=0.0)
