import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crankpin.mechanics.errors import AbsentError, OutOfDomainError
from crankpin.mechanics.roots import first_root, root, sign_changes


def counted(function, most):
    """Fail if the function is asked more than ``most`` times."""
    asked = 0

    def ask(x):
        nonlocal asked
        asked += 1
        assert asked <= most
        return function(x)

    return ask


@given(st.floats(-1e6, 1e6), st.floats(1e-9, 1e6), st.floats(1e-9, 1e6), st.sampled_from([1, 3, 5]))
def test_an_odd_power_is_found_to_the_last_bit(place, left, right, power):
    lower, upper = place - left, place + right
    found = root(counted(lambda x: (x - place) ** power, 2300), lower, upper)
    assert found == place or abs(found - place) ** power == 0.0 or abs(found - place) <= math.ulp(place)


@pytest.mark.parametrize(
    ("function", "lower", "upper", "expected", "most"),
    [
        (lambda x: math.cos(x) - x, 0.0, 1.0, 0.7390851332151607, 10),
        (lambda x: math.exp(x) - 1e-300, -800.0, 5.0, -300.0 * math.log(10.0), 19),
        (lambda x: math.atan(1e10 * x - 3.0), -1e5, 2e9, 3e-10, 74),
        (lambda x: 1.0 if x > 1.0 else -1.0, -1e300, 1e300, 1.0, 1052),
        (lambda x: x - 1.0, -1.7e308, 1.7e308, 1.0, 1947),
        (lambda x: x**3 - 2.0, 0.0, 2.0, 2.0 ** (1.0 / 3.0), 9),
        (lambda x: math.tan(x) - 1.0, 0.0, 1.5, 0.25 * math.pi, 12),
        (lambda x: 1.0 / (x - 0.3) - 6.0, 0.31, 100.0, 7.0 / 15.0, 28),
        (lambda x: math.copysign(math.sqrt(abs(x - 1.0)), x - 1.0), 0.0, 3.0, 1.0, 48),
        (lambda x: x, -1.0, 1.0, 0.0, 3),
        (lambda x: x, 0.0, 1.0, 0.0, 2),
        (lambda x: x - 1.0, 0.0, 1.0, 1.0, 2),
    ],
)
def test_where_it_crosses(function, lower, upper, expected, most):
    assert root(counted(function, most), lower, upper) == pytest.approx(expected, rel=4e-16, abs=0.0)


def test_a_tolerance_ends_it_early():
    found = root(counted(math.sin, 8), 2.0, 4.0, tolerance=1e-3)
    assert found == pytest.approx(math.pi, abs=1e-3)


def refused(act):
    with pytest.raises(OutOfDomainError) as caught:
        act()
    return caught.value.quantity, caught.value.required, caught.value.given


def test_equal_signs_are_refused():
    assert refused(lambda: root(lambda x: x, 1.0, 2.0)) == ("function", "of opposite signs at 1 and 2", 1.0)
    assert refused(lambda: root(lambda x: -x, 1.0, 2.0)) == ("function", "of opposite signs at 1 and 2", -1.0)


def test_no_number_is_refused():
    quantity, required, given = refused(lambda: root(lambda x: math.nan if x == 0.0 else x, -1.0, 1.0))
    assert (quantity, required, math.isnan(given)) == ("function", "a number at 0", True)


def test_all_crossings_left_to_right():
    found = [root(math.sin, a, b) for a, b in sign_changes(math.sin, 1.0, 20.0, 40)]
    assert found == pytest.approx([math.pi * n for n in range(1, 7)], rel=1e-15, abs=0.0)


def test_a_zero_at_an_end_is_found_once():
    assert list(sign_changes(lambda x: x - 1.0, 0.0, 2.0, 2)) == [(1.0, 2.0)]
    assert list(sign_changes(lambda x: x, 0.0, 2.0, 2)) == [(0.0, 1.0)]
    assert list(sign_changes(lambda x: x - 2.0, 0.0, 2.0, 2)) == [(2.0, 2.0)]
    assert first_root(lambda x: x - 2.0, 0.0, 2.0, 2) == 2.0
    assert first_root(lambda x: x - 1.0, 0.0, 2.0, 2) == 1.0


def test_one_piece_is_enough_and_a_falling_function_crosses_too():
    assert list(sign_changes(lambda x: x, -1.0, 1.0, 1)) == [(-1.0, 1.0)]
    assert list(sign_changes(lambda x: 1.0 - x, 0.0, 2.0, 2)) == [(1.0, 2.0)]
    assert list(sign_changes(lambda x: 3.0 - x, 0.0, 4.0, 2)) == [(2.0, 4.0)]


def test_the_first_of_several_crossings_is_found():
    assert first_root(math.sin, 1.0, 20.0, 40) == pytest.approx(math.pi, rel=1e-15, abs=0.0)
    assert first_root(lambda x: 1.0 - x, 0.0, 4.0, 4) == 1.0


def test_what_never_happens_is_absent():
    with pytest.raises(AbsentError) as absent:
        first_root(math.exp, 0.0, 1.0, 5)
    assert absent.value.reason == "It never happens between 0 and 1."


def test_no_pieces_are_refused():
    assert refused(lambda: list(sign_changes(math.sin, 0.0, 1.0, 0))) == ("pieces", "at least 1", 0)
