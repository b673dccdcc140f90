"""High and low water against a dense search (numpy) refined by Brent's method (scipy)."""

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.optimize import brentq

from crankpin.mechanics import tide
from crankpin.mechanics.constants import HOUR
from tests.strategies import spread

# speeds in degrees per hour as NOAA CO-OPS lists them (see tests/authorities/published.json)
SPEEDS = [28.984104, 30.0, 28.43973, 15.041069, 13.943035, 57.96821]
harbours = st.lists(
    st.builds(tide.listed_constituent, spread(1e-2, 3.0), st.sampled_from(SPEEDS), st.floats(0.0, 360.0)),
    min_size=2,
    max_size=6,
)


def turns_by_dense_search(constituents, start, hours):
    """Return (time, is a high) of every change of sign of the rate, sampled each six seconds."""
    times = start + np.arange(0.0, hours * HOUR, 6.0)
    slope = sum(
        -one.amplitude * one.angular_frequency * np.sin(one.angular_frequency * times - one.lag) for one in constituents
    )
    for step in np.flatnonzero(np.sign(slope[:-1]) * np.sign(slope[1:]) < 0):
        root = brentq(lambda t: tide.rate(constituents, t), times[step], times[step + 1], xtol=1e-6)
        yield root, slope[step] > 0.0


@settings(max_examples=25, deadline=None)
@given(harbours, st.floats(0.0, 8760.0))
def test_no_high_or_low_water_is_missed(constituents, hours):
    scale = math.fsum(one.amplitude * one.angular_frequency for one in constituents)
    now = hours * HOUR
    turns = list(turns_by_dense_search(constituents, now, 40.0))
    assume({high for _, high in turns} == {True, False})
    assume(all(b - a > 60.0 for (a, _), (b, _) in pairwise(turns)))
    assume(abs(tide.rate(constituents, now)) > 1e-3 * scale)
    first_high = next(time for time, high in turns if high)
    first_low = next(time for time, high in turns if not high)
    assert tide.next_high(constituents, now) == pytest.approx(first_high, abs=0.01)
    assert tide.next_low(constituents, now) == pytest.approx(first_low, abs=0.01)
