import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crankpin.mechanics.errors import AbsentError, OutOfDomainError
from crankpin.mechanics.fitting import line_fit, spring_fit
from tests.strategies import either_sign, spread

slopes = either_sign(spread(1e-6, 100.0))
NOISE = (0.3, -0.5, 0.1, 0.4, -0.2, -0.6, 0.5, 0.2, -0.1, -0.1)


def codes(fit):
    return [warning.code for warning in fit.warnings]


@given(slopes, slopes, st.floats(-1e6, 1e6), spread(1e-6, 1e6))
def test_readings_on_a_line_give_it_back(slope, intercept, away, apart):
    x = [away + apart * i for i in range(8)]
    fit = line_fit(x, [slope * v + intercept for v in x])
    size = abs(slope) * (abs(away) + 8.0 * apart) + abs(intercept)
    assert fit.slope == pytest.approx(slope, abs=1e-14 * size / apart)
    assert fit.intercept == pytest.approx(intercept, abs=1e-13 * size * (1.0 + abs(away) / apart))
    assert 0.0 <= fit.r2 <= 1.0


def test_a_line_by_hand():
    """x 1 2 3 4, y 2 3 5 6: Sxx = 5, Sxy = 7, residuals 0.1 -0.3 0.3 -0.1."""
    fit = line_fit([1, 2, 3, 4], [2, 3, 5, 6])
    assert fit.slope == pytest.approx(1.4, rel=1e-15, abs=0.0)
    assert fit.intercept == pytest.approx(0.5, rel=1e-14, abs=0.0)
    assert fit.scatter == pytest.approx(math.sqrt(0.2 / 2.0), rel=1e-14, abs=0.0)
    assert fit.u_slope == pytest.approx(math.sqrt(0.1 / 5.0), rel=1e-14, abs=0.0)
    assert fit.u_intercept == pytest.approx(math.sqrt(0.1 * (0.25 + 6.25 / 5.0)), rel=1e-14, abs=0.0)
    assert fit.r2 == pytest.approx(0.98, rel=1e-14, abs=0.0)
    assert (fit.x_mean, fit.y_mean, fit.n, fit.missing, fit.chi2) == (2.5, pytest.approx(4.0), 4, 0, None)
    assert codes(fit) == ["few-readings"]


def test_stated_uncertainties_weigh_and_are_taken_at_their_word():
    """Two groups at x = 0 and 1: the line joins their weighted means."""
    fit = line_fit([0, 0, 1, 1], [1.0, 2.0, 5.0, 5.0], [1.0, 0.5, 1.0, 1.0])
    low, high = (1.0 + 4.0 * 2.0) / 5.0, 5.0
    assert fit.slope == pytest.approx(high - low, rel=1e-14, abs=0.0)
    assert fit.intercept == pytest.approx(low, rel=1e-14, abs=0.0)
    assert fit.u_intercept == pytest.approx(math.sqrt(1.0 / 5.0), rel=1e-14, abs=0.0)
    assert fit.u_slope == pytest.approx(math.sqrt(1.0 / 5.0 + 1.0 / 2.0), rel=1e-14, abs=0.0)
    assert fit.chi2 == pytest.approx(0.8 / 2.0, rel=1e-13, abs=0.0)


@given(spread(1e-3, 1e3))
def test_equal_stated_uncertainties_leave_the_line_alone(u):
    x = list(range(10))
    y = [2.0 * v + n for v, n in zip(x, NOISE, strict=True)]
    plain, stated = line_fit(x, y), line_fit(x, y, [u] * 10)
    assert stated.slope == pytest.approx(plain.slope, rel=1e-13, abs=0.0)
    assert stated.scatter == pytest.approx(plain.scatter, rel=1e-12, abs=0.0)
    assert stated.u_slope == pytest.approx(plain.u_slope * u / plain.scatter, rel=1e-12, abs=0.0)
    assert ("stated" in codes(stated)) == (not 0.2 < (plain.scatter / u) ** 2 < 3.0)


def test_a_row_with_a_missing_reading_is_left_out_and_said_so():
    full = line_fit([1, 2, 4, 5, 7, 8, 9], [2.1, 3.9, 8.2, 9.8, 14.1, 16.2, 17.9])
    holed = line_fit([1, 2, 3, 4, 5, None, 7, 8, 9], [2.1, 3.9, None, 8.2, 9.8, 12.0, 14.1, 16.2, 17.9])
    assert (holed.slope, holed.intercept, holed.n) == (full.slope, full.intercept, full.n)
    assert holed.missing == 2
    assert codes(holed) == ["missing"]
    assert holed.warnings[0].message == "2 incomplete rows were left out."
    one = line_fit([1, 2, 3, None], [1, 2, 4, 5])
    assert one.warnings[0].message == "1 incomplete row was left out."


def test_two_readings_make_a_line_but_no_uncertainty():
    fit = line_fit([1, 2], [3, 5])
    assert (fit.slope, fit.intercept) == (pytest.approx(2.0), pytest.approx(1.0))
    assert (fit.u_slope, fit.u_intercept, fit.scatter) == (None, None, None)
    assert line_fit([1, 2], [3, 5], [0.1, 0.1]).u_slope == pytest.approx(0.1 * math.sqrt(2.0))


def test_a_level_line_explains_all_of_nothing():
    fit = line_fit([1, 2, 3], [4, 4, 4])
    assert (fit.slope, fit.r2) == (0.0, 1.0)


@pytest.mark.parametrize(
    ("x", "y", "u", "message"),
    [
        ([1, 2], [1], None, "columns of equal length"),
        ([1, 1], [1, 2], None, "at least two with different x"),
        ([], [], None, "at least two with different x"),
        ([1, None], [1, 2], None, "at least two with different x"),
        ([1, math.nan], [1, 2], None, "numbers between -1e50 and 1e50"),
        ([1, 2], [1, math.inf], None, "numbers between -1e50 and 1e50"),
        ([1, -1.1e50], [1, 2], None, "numbers between -1e50 and 1e50"),
        ([1, 2], [1, 2], [0.0, 1.0], r"numbers above zero \(1e-50 to 1e50\)"),
        ([1, 2], [1, 2], [1.0, 0.9e-50], "numbers above zero"),
        ([1, 2], [1, 2], [1.0, 1.1e50], "numbers above zero"),
        ([1, 2], [1, 2], [1.0], "columns of equal length"),
    ],
)
def test_readings_that_make_no_line_are_refused(x, y, u, message):
    with pytest.raises(OutOfDomainError, match=message):
        line_fit(x, y, u)


def test_a_reading_too_small_to_measure_counts_as_zero():
    assert line_fit([0.9e-50, 1, 2], [1e-300, 1, 2]) == line_fit([0, 1, 2], [0, 1, 2])
    assert line_fit([1e-50, 2e-50], [1e50, -1e50]).slope == pytest.approx(-2e100, rel=1e-14, abs=0.0)


@given(spread(0.1, 1e4), spread(1e-4, 0.1))
def test_a_spring_gives_its_stiffness_and_its_swinging_mass_back(k, m_extra):
    masses = [0.1, 0.2, 0.3, 0.4, 0.5, 0.6]
    squares = [4.0 * math.pi**2 * (m + m_extra) / k for m in masses]
    fit = spring_fit(masses, squares)
    assert fit.k == pytest.approx(k, rel=1e-13, abs=0.0)
    assert fit.m_extra == pytest.approx(m_extra, abs=1e-14)


def test_the_spring_s_uncertainties_carry_the_correlation():
    """Against the change of k and m_extra as the line turns about its centre and shifts."""
    masses = [0.1 * i for i in range(1, 11)]
    squares = [4.0 * math.pi**2 * (m + 0.02) / 20.0 + 0.01 * n for m, n in zip(masses, NOISE, strict=True)]
    fit = spring_fit(masses, squares)
    line = fit.line

    def m_extra(turned, shifted):
        slope = line.slope + turned * line.u_slope
        return (line.y_mean + shifted * line.u_y_mean) / slope - line.x_mean

    tiny = 1e-5
    by_turn, by_shift = ((m_extra(*way) - m_extra(0, 0)) / tiny for way in ((tiny, 0), (0, tiny)))
    assert fit.u_m_extra == pytest.approx(math.hypot(by_turn, by_shift), rel=1e-4, abs=0.0)
    assert fit.u_k == pytest.approx(fit.k * line.u_slope / line.slope, rel=1e-15, abs=0.0)
    assert codes(fit) == []


def test_a_mass_left_out_shows_as_a_negative_share():
    masses = [0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8]  # the hanger of 50 g counted twice
    fit = spring_fit(masses, [4.0 * math.pi**2 * (m - 0.05) / 20.0 for m in masses])
    assert fit.m_extra == pytest.approx(-0.05)
    assert codes(fit) == ["negative-extra"]
    assert fit.warnings[-1].message == (
        "The fitted share of the spring's mass is below zero: look for a mass left out or misread."
    )


def test_a_negative_share_within_its_uncertainty_is_no_warning():
    masses = [0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8]
    squares = [2.0 * (m - 0.05) for m in masses]
    stated = [0.1] * 7
    u_m = spring_fit(masses, squares, stated).u_m_extra
    for share, told in ((1.9, []), (2.1, ["negative-extra"])):
        shrunk = [u * 0.05 / (share * u_m) for u in stated]
        fit = spring_fit(masses, [2.0 * (m - 0.05) for m in masses], shrunk)
        assert fit.u_m_extra == pytest.approx(0.05 / share, rel=1e-3, abs=0.0)
        assert [code for code in codes(fit) if code == "negative-extra"] == told


def test_two_masses_make_a_spring_without_uncertainty():
    fit = spring_fit([0.1, 0.2], [0.3, 0.5])
    assert fit.k == pytest.approx(2.0 * math.pi**2, rel=1e-13, abs=0.0)
    assert fit.m_extra == pytest.approx(0.05, rel=1e-13, abs=0.0)
    assert (fit.u_k, fit.u_m_extra) == (None, None)
    assert codes(spring_fit([0.1, 0.2], [0.1, 0.3])) == ["few-readings", "negative-extra"]


def test_stated_uncertainties_of_the_squares_are_taken_at_their_word():
    masses, squares = [0.1, 0.2, 0.3, 0.4, 0.5, 0.6], [0.31, 0.5, 0.69, 0.9, 1.1, 1.31]
    fit = spring_fit(masses, squares, [0.02] * 6)
    assert fit.line.u_slope == pytest.approx(0.02 / math.sqrt(0.175), rel=1e-13, abs=0.0)
    assert fit.line.u_y_mean == pytest.approx(0.02 / math.sqrt(6.0), rel=1e-13, abs=0.0)
    assert fit.u_k == pytest.approx(fit.k * fit.line.u_slope / fit.line.slope, rel=1e-14, abs=0.0)


@pytest.mark.parametrize("squares", [[3, 2, 1], [2, 2, 2]])
def test_a_period_that_does_not_grow_fits_no_spring(squares):
    with pytest.raises(AbsentError) as absent:
        spring_fit([1, 2, 3], squares)
    assert absent.value.reason == ("The period does not grow with the mass in these readings, so no spring fits them.")


def test_a_line_away_from_its_centre_is_less_sure():
    """By hand: x 1 2 3 4, y 2 3 5 6 has the variance 0.1, Sxx = 5, the centre at 2.5 and 4."""
    fit = line_fit([1, 2, 3, 4], [2, 3, 5, 6])
    assert fit.u_y_mean == pytest.approx(math.sqrt(0.1 / 4.0), rel=1e-13, abs=0.0)
    shifted = line_fit([-4, -3, -2, -1], [2, 3, 5, 6])
    assert shifted.u_intercept == pytest.approx(fit.u_intercept, rel=1e-13, abs=0.0)
    assert shifted.intercept == pytest.approx(4.0 + 1.4 * 2.5, rel=1e-14, abs=0.0)


def test_the_warnings_and_their_words():
    few = line_fit([1, 2, 3, 4], [1.0, 2.1, 2.9, 4.2])
    assert [w.message for w in few.warnings] == [
        "Readings to spare for judging the scatter: 2, so the uncertainties are rough themselves."
    ]
    assert codes(line_fit(list(range(5)), [0.0, 1.1, 2.0, 2.9, 4.1])) == ["few-readings"]
    assert codes(line_fit(list(range(6)), [0.0, 1.1, 2.0, 2.9, 4.1, 5.0])) == []
    x, y = list(range(10)), [float(v) + n for v, n in zip(range(10), NOISE, strict=True)]
    spread_of = line_fit(x, y).scatter
    for chi2, word in ((3.1, "more"), (2.9, None), (0.21, None), (0.19, "less")):
        fit = line_fit(x, y, [spread_of / math.sqrt(chi2)] * 10)
        assert fit.chi2 == pytest.approx(chi2, rel=1e-12, abs=0.0)
        said = [w.message for w in fit.warnings]
        expected = f"The readings scatter {word} than their stated uncertainties allow."
        assert said == ([expected] if word else [])
    assert codes(line_fit([0, 1, 2, 3, 4], [0, 9, 0, 9, 0], [0.1] * 5)) == []  # three to spare: no judgement


@pytest.mark.parametrize(
    ("x", "y", "u", "quantity", "required", "given"),
    [
        ([1, 2, 3], [1], None, "readings", "columns of equal length", 1),
        ([1, 2], [1, 2, 3], [1.0], "readings", "columns of equal length", 1),
        ([1], [1, 2], None, "readings", "columns of equal length", 1),
        ([1, 1], [1, 2], None, "readings", "at least two with different x", 2),
        ([1, 2e50], [1, 2], None, "readings", "numbers between -1e50 and 1e50", 2e50),
        ([1, 2], [1, 2], [-1.0, 1.0], "uncertainties", "numbers above zero (1e-50 to 1e50)", -1.0),
    ],
)
def test_refusals_name_what_was_given(x, y, u, quantity, required, given):
    with pytest.raises(OutOfDomainError) as caught:
        line_fit(x, y, u)
    assert (caught.value.quantity, caught.value.required, caught.value.given) == (quantity, required, given)


def test_the_share_explained():
    assert line_fit([0, 1, 2, 3], [0, 1, 0, 1]).r2 == pytest.approx(0.2, rel=1e-13, abs=0.0)
    weighted = line_fit([0, 1, 2], [0, 2, 1], [1.0, 1.0, 0.5])
    assert weighted.r2 == pytest.approx(weighted_share(weighted), rel=1e-12, abs=0.0)


def weighted_share(fit):
    rows = ((0, 0, 1.0), (1, 2, 1.0), (2, 1, 4.0))
    mean = sum(w * y for _, y, w in rows) / 6.0
    left = sum(w * (y - fit.slope * x - fit.intercept) ** 2 for x, y, w in rows)
    return 1.0 - left / sum(w * (y - mean) ** 2 for _, y, w in rows)
