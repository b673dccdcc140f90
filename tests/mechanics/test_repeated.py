"""Repeated readings: mean, scatter and the uncertainty of the mean."""

import math
import statistics

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crankpin.mechanics import repeated
from crankpin.mechanics.errors import AbsentError, OutOfDomainError

READINGS = st.lists(st.floats(-1e6, 1e6), min_size=2, max_size=30)


@given(READINGS)
def test_against_the_standard_library(readings: list[float]) -> None:
    assert repeated.mean(readings) == pytest.approx(statistics.fmean(readings), abs=1e-9)
    assert repeated.standard_deviation(readings) == pytest.approx(statistics.stdev(readings), rel=1e-9, abs=1e-6)


@given(READINGS)
def test_four_times_the_readings_halve_the_uncertainty_but_for_one_degree_of_freedom(readings: list[float]) -> None:
    n = len(readings)
    once, four_times = repeated.uncertainty_of_mean(readings), repeated.uncertainty_of_mean(readings * 4)
    assert four_times == pytest.approx(once / 2.0 * math.sqrt((n - 1) / (n - 0.25)), rel=1e-9, abs=1e-6)


def test_one_reading_has_no_scatter_and_none_no_mean() -> None:
    with pytest.raises(AbsentError, match="single reading"):
        repeated.uncertainty_of_mean([1.0])
    with pytest.raises(OutOfDomainError):
        repeated.mean([])
    with pytest.raises(OutOfDomainError):
        repeated.mean([1.0, math.nan])
