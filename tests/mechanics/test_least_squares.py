import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crankpin.mechanics.errors import AbsentError, OutOfDomainError
from crankpin.mechanics.least_squares import Fit, _damped_step, dot, minimise, reduce, solve
from tests.strategies import spread

numbers = st.floats(-100.0, 100.0)


@given(st.lists(st.tuples(numbers, numbers), min_size=3, max_size=12))
def test_what_is_left_over_is_square_to_every_column(rows):
    columns = [[1.0] * len(rows), [x for x, _ in rows]]
    readings = [y for _, y in rows]
    if max(columns[1]) - min(columns[1]) < 1e-3:
        return
    fit = solve(readings, columns)
    left = [y - fit.parameters[0] - fit.parameters[1] * x for x, y in rows]
    for column in columns:
        assert dot(left, column) == pytest.approx(0.0, abs=1e-6)
    assert fit.sum_of_squares == pytest.approx(dot(left, left), rel=1e-9, abs=1e-15)


def test_the_covariance_of_a_mean():
    fit = solve([1.0, 2.0, 3.0, 6.0], [[1.0] * 4])
    assert fit.parameters == (pytest.approx(3.0, rel=1e-15, abs=0.0),)
    assert fit.covariance == ((pytest.approx(0.25, rel=1e-15, abs=0.0),),)
    assert fit.variance == pytest.approx(14.0 / 3.0, rel=1e-15, abs=0.0)
    assert fit.standard_uncertainties() == (pytest.approx(math.sqrt(14.0 / 12.0), rel=1e-15, abs=0.0),)


def test_nearly_parallel_columns_keep_their_digits():
    eps = 1e-6
    columns = [[1.0, eps, 0.0], [1.0, 0.0, eps]]
    fit = solve([2.0, eps, eps], columns)
    assert fit.parameters == pytest.approx((1.0, 1.0), rel=1e-9, abs=0.0)


def test_parallel_columns_are_absent():
    reduced = reduce([1.0, 2.0, 3.0], [[1.0, 2.0, 3.0], [2.0, 4.0, 6.0]])
    assert reduced.triangle[1][1] == 0.0
    with pytest.raises(AbsentError) as absent:
        solve([1.0, 2.0, 3.0], [[1.0, 2.0, 3.0], [2.0, 4.0, 6.0]])
    assert absent.value.reason == (
        "The readings do not settle all the quantities of the fit; more varied ones are needed."
    )


def test_too_few_readings_are_refused():
    with pytest.raises(OutOfDomainError) as caught:
        solve([1.0], [[1.0], [2.0]])
    assert (caught.value.quantity, caught.value.required) == ("readings", "at least 2 for this fit")
    assert caught.value.given == 1
    assert solve([1.0, 2.0], [[1.0, 0.0], [0.0, 1.0]]).parameters == (1.0, 2.0)


def test_no_spare_readings_leave_the_scatter_unknown():
    fit = solve([1.0, 3.0], [[1.0, 1.0], [0.0, 1.0]])
    assert fit.parameters == pytest.approx((1.0, 2.0))
    assert fit.variance is None
    with pytest.raises(AbsentError) as absent:
        fit.standard_uncertainties()
    assert absent.value.reason == "With no more readings than quantities the scatter cannot be judged."


def decaying(xs, ys):
    def linearise(parameters):
        height, rate = parameters
        curve = [math.exp(-rate * x) for x in xs]
        return (
            [y - height * c for y, c in zip(ys, curve, strict=True)],
            [curve, [-height * x * c for x, c in zip(xs, curve, strict=True)]],
        )

    return linearise


@given(st.floats(0.1, 100.0), st.floats(0.05, 3.0), st.floats(0.5, 2.0), st.floats(0.3, 3.0))
def test_a_decay_is_found_from_a_distant_start(height, rate, share, faster):
    xs = [0.1 * i for i in range(30)]
    ys = [height * math.exp(-rate * x) for x in xs]
    fit = minimise(decaying(xs, ys), (height * share, rate * faster))
    assert fit.parameters == pytest.approx((height, rate), rel=1e-11, abs=0.0)


def test_a_start_where_the_model_has_no_value_is_refused():
    with pytest.raises(OutOfDomainError) as caught:
        minimise(decaying([0.0, 1.0, 2.0], [1.0, 0.5, 0.2]), (1.0, -1e6))
    assert (caught.value.quantity, caught.value.required) == ("start", "where the model and its slopes are finite")
    assert math.isnan(caught.value.given)


def test_a_parameter_without_effect_is_absent():
    def linearise(parameters):
        return [1.0 - parameters[0], 2.0 - parameters[0], 4.0 - parameters[0]], [[1.0] * 3, [0.0] * 3]

    with pytest.raises(AbsentError, match="do not settle all the quantities"):
        minimise(linearise, (0.0, 0.0))


def test_an_endless_valley_ends_with_a_clear_message():
    """The slope is told a thousandfold, so that each step is a thousandth of what it should be."""

    def crooked(parameters):
        (x,) = parameters
        return [math.exp(-x)], [[math.exp(-x) * 1e3]]

    with pytest.raises(AbsentError) as absent:
        minimise(crooked, (0.0,))
    assert absent.value.reason == "The fit did not settle in 500 steps; start it nearer to the readings."


def test_the_triangle_of_two_columns_by_hand():
    """(3, 4, 0) has length 5; of (1, 2, 2) there lies 11/5 along it, and sqrt(9 - 121/25) across."""
    reduced = reduce([1.0, 1.0, 1.0], [[3.0, 4.0, 0.0], [1.0, 2.0, 2.0]])
    across = math.sqrt(104.0 / 25.0)
    assert reduced.triangle[0] == pytest.approx((5.0, 2.2), rel=1e-15, abs=0.0)
    assert reduced.triangle[1] == pytest.approx((0.0, across), rel=1e-15, abs=0.0)
    # (1, 1, 1) is 7/5 along the first; of what is left, (0.16, -0.12, 1), so much along (-0.32, 0.24, 2)
    second = (-0.16 * 0.32 - 0.12 * 0.24 + 2.0) / across
    assert reduced.projected == pytest.approx((1.4, second), rel=1e-14, abs=0.0)
    assert reduced.outside == pytest.approx(3.0 - 1.4**2 - second**2, rel=1e-13, abs=0.0)


coarse = numbers.map(lambda value: round(value, 3))


@given(st.lists(st.tuples(coarse, coarse, coarse), min_size=3, max_size=6))
def test_the_covariance_is_the_inverse_of_the_normal_equations(rows):
    columns = [[a for a, _, _ in rows], [b for _, b, _ in rows]]
    aa, ab, bb = dot(columns[0], columns[0]), dot(columns[0], columns[1]), dot(columns[1], columns[1])
    determinant = aa * bb - ab * ab
    if determinant < 1e-6 * aa * bb or min(aa, bb) < 1e-6:
        return
    readings = [y for _, _, y in rows]
    ay, by = dot(columns[0], readings), dot(columns[1], readings)
    fit = solve(readings, columns)
    size = math.sqrt(dot(readings, readings))
    assert fit.parameters[0] == pytest.approx((bb * ay - ab * by) / determinant, abs=1e-7 * size / math.sqrt(aa))
    assert fit.parameters[1] == pytest.approx((aa * by - ab * ay) / determinant, abs=1e-7 * size / math.sqrt(bb))
    assert fit.covariance[0] == pytest.approx((bb / determinant, -ab / determinant), rel=1e-7, abs=0.0)
    assert fit.covariance[1] == pytest.approx((-ab / determinant, aa / determinant), rel=1e-7, abs=0.0)
    assert fit.degrees_of_freedom == len(rows) - 2


def test_nearly_dependent_columns_are_told_from_dependent_ones():
    for apart, settled in ((1e-12, True), (1e-14, False)):
        reduced = reduce([1.0, 2.0], [[1.0, 1.0], [1.0, 1.0 + apart]])
        assert (reduced.triangle[1][1] > 0.0) is settled
    assert reduce([1.0, 2.0], [[0.0, 0.0], [1.0, 1.0]]).triangle[0] == (0.0, 0.0)


@given(spread(1e-3, 1e3), st.floats(0.5, 2.0), st.floats(0.5, 2.0))
def test_a_damped_step_solves_its_own_normal_equations(damp, one, other):
    """(R'R + damp S^2) d = R'q, worked out for two parameters."""
    reduced = reduce([3.0, -1.0, 2.0], [[3.0, 4.0, 0.0], [1.0, 2.0, 2.0]])
    (a, b), (_, c) = reduced.triangle
    p, q = reduced.projected
    first, second = a * a + damp * one * one, b * b + c * c + damp * other * other
    right = (a * p, b * p + c * q)
    determinant = first * second - a * b * a * b
    step = _damped_step(reduced, (one, other), damp)
    assert step[0] == pytest.approx((second * right[0] - a * b * right[1]) / determinant, rel=1e-12, abs=1e-13)
    assert step[1] == pytest.approx((first * right[1] - a * b * right[0]) / determinant, rel=1e-12, abs=1e-13)


def test_a_straight_problem_is_minimised_to_the_solution():
    columns = [[1.0] * 5, [0.0, 1.0, 2.0, 3.0, 5.0]]
    readings = [1.0, 2.5, 2.0, 4.5, 6.0]

    def linearise(parameters):
        c, m = parameters
        return [y - c - m * x for y, x in zip(readings, columns[1], strict=True)], columns

    found, solved = minimise(linearise, (100.0, -30.0)), solve(readings, columns)
    assert found.parameters == pytest.approx(solved.parameters, rel=1e-13, abs=0.0)
    assert found.sum_of_squares == pytest.approx(solved.sum_of_squares, rel=1e-13, abs=0.0)
    assert [v for row in found.covariance for v in row] == pytest.approx(
        [v for row in solved.covariance for v in row], rel=1e-13, abs=0.0
    )
    assert found.degrees_of_freedom == 3
    assert found.standard_uncertainties() == pytest.approx(solved.standard_uncertainties(), rel=1e-12, abs=0.0)


def test_scattered_readings_are_fitted_to_the_last_digits():
    """At the least sum of squares what is left over is square to the slopes; polishing brings it there."""
    xs = [0.1 * i for i in range(30)]
    ys = [2.0 * math.exp(-1.3 * x) + 0.05 * math.sin(40.0 * x * x) for x in xs]
    linearise = decaying(xs, ys)
    fit = minimise(linearise, (1.0, 1.0))
    left, columns = linearise(fit.parameters)
    for column in columns:
        assert abs(dot(left, column)) <= 3e-15 * math.sqrt(dot(column, column))
    assert fit.sum_of_squares == dot(left, left)
    assert fit.degrees_of_freedom == 28
    assert fit.variance == fit.sum_of_squares / 28


def test_a_fit_is_found_in_few_looks_at_the_model():
    looks = []

    def counted(linearise):
        def count(parameters):
            looks.append(parameters)
            return linearise(parameters)

        return count

    xs = [0.1 * i for i in range(30)]
    ys = [2.0 * math.exp(-1.3 * x) + 0.05 * math.sin(40.0 * x * x) for x in xs]
    minimise(counted(decaying(xs, ys)), (1.0, 1.0))
    assert len(looks) <= 12
    looks.clear()
    minimise(counted(decaying(xs, [2.0 * math.exp(-1.3 * x) for x in xs])), (20.0, 5.0))
    assert len(looks) <= 13


def test_steps_into_no_value_are_shortened():
    """The logarithm has no value beyond zero, where the first step would lead."""

    def linearise(parameters):
        (x,) = parameters
        if x <= 0.0:
            raise ZeroDivisionError
        return [math.log(x) + 3.0], [[-1.0 / x]]

    assert minimise(linearise, (5.0,)).parameters[0] == pytest.approx(math.exp(-3.0), rel=1e-12, abs=0.0)


def test_without_spare_readings_the_variance_is_unknown():
    assert Fit((1.0,), ((1.0,),), 0.5, 0).variance is None
    assert Fit((1.0,), ((4.0,),), 0.5, 2).variance == 0.25
    assert Fit((1.0,), ((4.0,),), 0.5, 2).standard_uncertainties() == (1.0,)
