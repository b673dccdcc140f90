"""The course's readings of Europa (harbour.toml) against PyEphem, and what the page says of them."""

import math
import tomllib
from pathlib import Path

import ephem
import pytest

from crankpin.mechanics.sine_fitting import sine_fit

CASE = tomllib.loads((Path(__file__).parents[2] / "harbour.toml").read_text())["europa"]
ROWS = [tuple(map(float, line.split(";"))) for line in CASE["data"].strip().splitlines()[1:]]
START = ephem.Date("2024/12/01 00:00")
PUBLISHED_HOURS = 3.551181 * 24.0  # NASA Jovian Satellite Fact Sheet, seen in a transcription
PUBLISHED_RADII = 671.1 / 71.492  # the same sheet; Jupiter's equatorial radius in Mm, IAU 2015 (from memory)


def test_every_reading_is_what_pyephem_gives():
    europa = ephem.Europa()
    for hours, radii in ROWS:
        europa.compute(START + hours / 24.0)
        assert radii == pytest.approx(float(europa.x), abs=0.005 + 1e-9), hours


def _turn_of_our_direction():
    """How far the direction from the Earth to Jupiter turns in the record, in radians: backwards near opposition."""
    jupiter = ephem.Jupiter()
    ends = []
    for hours in (ROWS[0][0], ROWS[-1][0]):
        jupiter.compute(START + hours / 24.0)
        ends.append(float(ephem.Ecliptic(jupiter).lon))
    return ends[1] - ends[0]


def test_radius_and_period_are_those_of_the_published_orbit():
    fit = sine_fit([hours for hours, _ in ROWS], [radii for _, radii in ROWS])
    turn, span = _turn_of_our_direction(), ROWS[-1][0] - ROWS[0][0]
    period = math.tau / (math.tau / fit.period + turn / span)
    assert fit.amplitude == pytest.approx(PUBLISHED_RADII, rel=0.003, abs=0.0)
    assert PUBLISHED_HOURS - fit.period > 3.0 * fit.u_period  # as seen from here it is shorter
    assert abs(period - PUBLISHED_HOURS) < 2.0 * fit.u_period
    assert (round(math.degrees(turn), 2), round(period, 2)) == (-1.63, 85.24)  # the page's two figures
