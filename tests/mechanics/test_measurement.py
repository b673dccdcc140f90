import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crankpin.mechanics import measurement
from crankpin.mechanics.errors import AbsentError, OutOfDomainError
from tests.strategies import either_sign, spread


@given(spread(1e-9, 1e9), st.integers(1, 6))
def test_rounding_up_is_never_below_and_keeps_its_figures(uncertainty, figures):
    up = measurement.rounded_up(uncertainty, figures)
    assert uncertainty <= up <= uncertainty * (1.0 + 1.000001 * 10.0 ** (1 - figures))
    assert f"{up:.{figures - 1}e}" == f"{up:.{figures}e}".replace("0e", "e") or figures == 1
    assert measurement.rounded_up(up, figures) == up


@given(either_sign(spread(1e-50, 1e9)), st.integers(1, 12))
def test_rounding_moves_a_value_by_at_most_half_a_unit_of_its_last_place(value, figures):
    again = measurement.rounded_to_figures(value, figures)
    if value == 0.0:
        assert again == 0.0
        return
    half_unit = 0.5 * 10.0 ** measurement.last_place(abs(value), figures)
    assert abs(again - value) <= half_unit * (1.0 + 1e-9) + 1e-15 * abs(value)
    assert again == float(f"{value:.{figures - 1}e}")


def test_the_fewest_figures_decide():
    # OpenStax, University Physics Volume 1, section 1.6, exercise 79b: 55 kg times 0.0255 m/s2 is 1.4 N
    assert measurement.rounded_to_figures(55.0 * 0.0255, measurement.least_figures(2, 3)) == 1.4
    assert measurement.least_figures(1, 5) == 1


def test_the_place_follows_the_figure_after_rounding():
    assert measurement.last_place(0.0996) == -2
    assert measurement.last_place(0.0994) == -3
    assert measurement.rounded_up(0.0994) == 0.1


@given(spread(1e-3, 1e3), st.integers(1, 1000))
def test_counting_swings_shares_out_the_timing_uncertainty(period, count):
    assert measurement.period_of_count(period * count, count) == pytest.approx(period, rel=1e-15, abs=0.0)
    share = measurement.uncertainty_of_period(0.2, count)
    assert measurement.relative_uncertainty(period, share) == pytest.approx(
        measurement.relative_uncertainty(period * count, 0.2), rel=1e-14, abs=0.0
    )


def test_independent_parts_add_in_squares():
    assert measurement.independent(2.0, 3.0, 6.0) == 7.0


def test_what_cannot_be_rounded_is_refused():
    with pytest.raises(AbsentError, match="no relative uncertainty"):
        measurement.relative_uncertainty(0.0, 1.0)
    with pytest.raises(OutOfDomainError, match="number must be greater than 0"):
        measurement.last_place(0.0)
    with pytest.raises(OutOfDomainError, match="figures must be from 1 to 17"):
        measurement.last_place(1.0, 0)
    with pytest.raises(OutOfDomainError):
        measurement.least_figures()
    with pytest.raises(OutOfDomainError):
        measurement.rounded(math.nan, 0)
