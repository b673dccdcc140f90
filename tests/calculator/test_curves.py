"""The points of curves: where they stand, and how far a chord between two keeps from the arc."""

from itertools import pairwise
from math import cos, tau

import pytest

from crankpin.calculator.curves import spread, two_periods


def test_two_periods_begin_and_end_where_they_should_with_every_tenth_point_on_a_twelfth():
    times = two_periods(1.5, 0.3)
    assert (times[0], times[-1]) == (1.5, 1.5 + 0.6)
    assert times[::10] == pytest.approx([1.5 + 0.05 * i for i in range(13)], rel=1e-15)
    assert times[::10] == pytest.approx(spread(1.5, 2.1, 13), rel=1e-15)


def test_a_chord_keeps_within_a_seventh_of_a_percent_of_the_amplitude_of_its_arc():
    times = two_periods(0.0, 1.0)
    farthest = max(abs(cos(tau * (a + b) / 2) - (cos(tau * a) + cos(tau * b)) / 2) for a, b in pairwise(times))
    assert 0.0013 < farthest < 0.0014
