import math
from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from crankpin.mechanics.exact import difference_of_products

numbers = st.floats(-1e50, 1e50)


@given(st.lists(numbers, max_size=3), st.lists(numbers, max_size=3))
def test_the_difference_is_rounded_once(first, second):
    exact = math.prod(map(Fraction, first)) - math.prod(map(Fraction, second))
    assert difference_of_products(tuple(first), tuple(second)) == float(exact)


def test_beyond_the_largest_double_it_is_infinite():
    assert difference_of_products((1e200, 1e200), (1.0,)) == math.inf
    assert difference_of_products((1.0,), (1e200, 1e200)) == -math.inf
