"""Constants of the field and of units, each with its unit and its source."""

import math

STANDARD_GRAVITY = 9.80665
"""Standard acceleration of free fall, m/s2, exact: 3rd CGPM (1901), second declaration."""

GRAVITATIONAL_CONSTANT = 6.67430e-11
"""Newtonian constant of gravitation, m3 kg-1 s-2: CODATA 2018, u = 0.00015e-11 (from memory)."""

ASTRONOMICAL_UNIT = 149_597_870_700.0
"""Astronomical unit, m, exact: IAU 2012 resolution B2 (from memory)."""

DEGREE = math.pi / 180.0
"""One degree, rad: 1° = pi/180 rad, SI Brochure, 9th edition, table 8."""

MINUTE = 60.0
"""One minute, s, exact."""

HOUR = 3600.0
"""One hour, s, exact."""

DAY = 86_400.0
"""One day, s, exact."""

SIDEREAL_DAY = 86_164.0905
"""One turn of the Earth against the stars, s: mean sidereal day (from memory)."""

JULIAN_YEAR = 365.25 * DAY
"""One Julian year, s, exact."""
