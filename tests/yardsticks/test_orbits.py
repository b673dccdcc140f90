"""Orbits against an integration of the inverse-square law (scipy), and Jupiter's moons (PyEphem).

The moons' places are computed by a general ephemeris library; what their swings must give is published:
periods and radii of the orbits (the NASA fact sheet quoted in tests/authorities/published.json for Europa
and Callisto; Io and Ganymede from memory).
"""

import math

import ephem
import numpy as np
import pytest
from scipy.integrate import solve_ivp
from scipy.optimize import curve_fit

from crankpin.mechanics import circular, harmonic, orbits
from crankpin.mechanics.constants import DAY

GM_JUPITER = 1.2668653e17  # m3/s2, nominal value, IAU 2015
JUPITER_RADIUS = 71.492e6  # m, equatorial, nominal value, IAU 2015 (from memory)
# period in days, radius in Mm
PUBLISHED = {
    "Io": (1.769138, 421.8),
    "Europa": (3.551181, 671.1),
    "Ganymede": (7.154553, 1070.4),
    "Callisto": (16.689017, 1882.7),
}
START = ephem.Date("2024/12/01 00:00")
HOURS = np.arange(0.0, 34.0 * 24.0, 3.0)


def test_a_circular_orbit_closes_after_its_period():
    gm, radius = GM_JUPITER, 671.1e6
    speed, period = orbits.orbital_speed(gm, radius), orbits.orbital_period(gm, radius)

    def law(t, y):
        pull = -gm / math.hypot(y[0], y[1]) ** 3
        return [y[2], y[3], pull * y[0], pull * y[1]]

    times = np.linspace(0.0, period, 13)
    run = solve_ivp(law, (0.0, period), [radius, 0.0, 0.0, speed], "DOP853", times, rtol=1e-12, atol=1e-6)
    omega = orbits.orbital_angular_frequency(gm, radius)
    for t, x, y in zip(times, run.y[0], run.y[1], strict=True):
        at = circular.plane_motion(radius, omega, circular.angle(omega, float(t)))
        assert (at.x, at.y) == pytest.approx((x, y), abs=1e-8 * radius)


@pytest.fixture(scope="module")
def sight_line_rate():
    """How fast the direction from the Earth to Jupiter turns, in rad/s; backwards near opposition."""
    jupiter = ephem.Jupiter()
    longitudes = []
    for hours in HOURS:
        jupiter.compute(START + hours / 24.0)
        longitudes.append(float(ephem.Ecliptic(jupiter).lon))
    return np.polyfit(HOURS * 3600.0, np.unwrap(longitudes), 1)[0]


@pytest.fixture(scope="module")
def swings():
    """The four moons' offsets along Jupiter's equator (m) at each moment, and the fitted A, omega, phi, offset."""
    fitted = {}
    for name, (days, megametres) in PUBLISHED.items():
        moon = getattr(ephem, name)()
        offsets = []
        for hours in HOURS:
            moon.compute(START + hours / 24.0)
            offsets.append(float(moon.x) * JUPITER_RADIUS)
        fitted[name] = np.array(offsets), _fit(np.array(offsets), megametres * 1e6, math.tau / (days * DAY))
    return fitted


def _swing(t, amplitude, omega, phase, offset):
    return amplitude * np.cos(omega * t + phase) + offset


def _fit(offsets, radius, omega):
    seconds = HOURS * 3600.0
    cosine, sine = np.linalg.lstsq(
        np.column_stack([np.cos(omega * seconds), np.sin(omega * seconds)]), offsets, rcond=None
    )[0]
    start = [math.hypot(cosine, sine), omega, math.atan2(-sine, cosine), 0.0]
    return curve_fit(_swing, seconds, offsets, start, x_scale=[radius, omega, 1.0, radius], method="trf")[0]


@pytest.mark.parametrize("name", PUBLISHED)
def test_a_moon_seen_edge_on_is_in_harmonic_motion(name, swings):
    offsets, (amplitude, omega, phase, offset) = swings[name]
    computed = [
        harmonic.position(float(amplitude), float(omega), float(phase), float(hours * 3600.0)) + offset
        for hours in HOURS
    ]
    missed = math.sqrt(np.mean((offsets - computed) ** 2))
    assert missed < 0.004 * amplitude


@pytest.mark.parametrize("name", PUBLISHED)
def test_its_period_and_radius_are_the_published_ones(name, swings, sight_line_rate):
    # 34 days are two turns of Callisto only, and its orbit is not quite a circle
    days, megametres = PUBLISHED[name]
    amplitude, omega, *_ = swings[name][1]
    assert circular.period(float(omega + sight_line_rate)) / DAY == pytest.approx(days, rel=5e-4, abs=0.0)
    assert amplitude == pytest.approx(megametres * 1e6, rel=0.01, abs=0.0)


@pytest.mark.parametrize("name", PUBLISHED)
def test_the_third_law_weighs_jupiter(name, swings, sight_line_rate):
    amplitude, omega, *_ = swings[name][1]
    period = circular.period(float(omega + sight_line_rate))
    assert orbits.gravitational_parameter(float(amplitude), period) == pytest.approx(GM_JUPITER, rel=0.02, abs=0.0)
    _, megametres = PUBLISHED[name]
    assert orbits.orbital_period(GM_JUPITER, megametres * 1e6) == pytest.approx(period, rel=2e-3, abs=0.0)
