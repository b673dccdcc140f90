import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crankpin.mechanics.errors import AbsentError, OutOfDomainError
from crankpin.mechanics.least_squares import dot, minimise, reduce, solve

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
    assert fit.parameters == (pytest.approx(3.0, rel=1e-15),)
    assert fit.covariance == ((pytest.approx(0.25, rel=1e-15),),)
    assert fit.variance == pytest.approx(14.0 / 3.0, rel=1e-15)
    assert fit.standard_uncertainties() == (pytest.approx(math.sqrt(14.0 / 12.0), rel=1e-15),)


def test_nearly_parallel_columns_keep_their_digits():
    eps = 1e-6
    columns = [[1.0, eps, 0.0], [1.0, 0.0, eps]]
    fit = solve([2.0, eps, eps], columns)
    assert fit.parameters == pytest.approx((1.0, 1.0), rel=1e-9)


def test_parallel_columns_are_absent():
    reduced = reduce([1.0, 2.0, 3.0], [[1.0, 2.0, 3.0], [2.0, 4.0, 6.0]])
    assert reduced.triangle[1][1] == 0.0
    with pytest.raises(AbsentError, match="do not settle all the quantities"):
        solve([1.0, 2.0, 3.0], [[1.0, 2.0, 3.0], [2.0, 4.0, 6.0]])


def test_too_few_readings_are_refused():
    with pytest.raises(OutOfDomainError, match="at least 2 for this fit"):
        solve([1.0], [[1.0], [2.0]])


def test_no_spare_readings_leave_the_scatter_unknown():
    fit = solve([1.0, 3.0], [[1.0, 1.0], [0.0, 1.0]])
    assert fit.parameters == pytest.approx((1.0, 2.0))
    assert fit.variance is None
    with pytest.raises(AbsentError, match="the scatter cannot be judged"):
        fit.standard_uncertainties()


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
    assert fit.parameters == pytest.approx((height, rate), rel=1e-11)


def test_a_start_where_the_model_has_no_value_is_refused():
    with pytest.raises(OutOfDomainError, match="start"):
        minimise(decaying([0.0, 1.0, 2.0], [1.0, 0.5, 0.2]), (1.0, -1e6))


def test_a_parameter_without_effect_is_absent():
    def linearise(parameters):
        return [1.0 - parameters[0], 2.0 - parameters[0], 4.0 - parameters[0]], [[1.0] * 3, [0.0] * 3]

    with pytest.raises(AbsentError, match="do not settle all the quantities"):
        minimise(linearise, (0.0, 0.0))


def test_an_endless_valley_ends_with_a_clear_message():
    def linearise(parameters):
        (x,) = parameters
        value = 1.0 / (1.0 + abs(x)) ** 0.001
        return [value], [[0.001 * value / (1.0 + abs(x)) * (1 if x >= 0 else -1)]]

    with pytest.raises(AbsentError):
        minimise(linearise, (1.0,))
