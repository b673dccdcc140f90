import math
import random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crankpin.mechanics import measurement, propagation
from crankpin.mechanics.errors import AbsentError, OutOfDomainError
from tests.strategies import spread

values = spread(1e-3, 1e3)
powers = st.floats(-3.0, 3.0)
small = st.floats(0.0, 1e-3)


@given(values, values, powers, powers)
def test_the_relative_parts_are_the_slopes(first, second, first_power, second_power):
    """Each value moved by a millionth of itself moves the product by its power's worth of a millionth."""
    step = 1e-6
    parts = propagation.relative_parts(first, step * first, first_power, second, step * second, second_power)
    whole = propagation.power_product(first, first_power, second, second_power)
    moved = (
        propagation.power_product(first * (1.0 + step), first_power, second, second_power),
        propagation.power_product(first, first_power, second * (1.0 + step), second_power),
    )
    for part, other in zip(parts, moved, strict=True):
        assert abs(other / whole - 1.0) == pytest.approx(part, abs=1e-11)


def test_against_many_draws():
    """Normal draws of both values scatter the result as the rule says, after JCGM 101."""
    dice = random.Random(7)
    parts = propagation.relative_parts(4.0, 0.02, 1.0, 9.0, 0.09, -2.0)
    said = measurement.independent(*parts)
    whole = propagation.power_product(4.0, 1.0, 9.0, -2.0)
    drawn = [
        propagation.power_product(dice.gauss(4.0, 0.02), 1.0, dice.gauss(9.0, 0.09), -2.0) / whole - 1.0
        for _ in range(20_000)
    ]
    mean = math.fsum(drawn) / len(drawn)
    scatter = math.sqrt(math.fsum((one - mean) ** 2 for one in drawn) / len(drawn))
    assert scatter == pytest.approx(said, rel=0.02)


@given(values, small, values, small)
def test_a_sum_passes_each_uncertainty_on_by_its_factor(first, u_first, second, u_second):
    assert propagation.sum_parts(first, u_first, -second, u_second) == (first * u_first, second * u_second)


def test_what_the_rule_for_products_cannot_do():
    with pytest.raises(AbsentError, match="zero"):
        propagation.relative_parts(0.0, 0.1, 1.0, 1.0, 0.1, 1.0)
    with pytest.raises(OutOfDomainError, match="whole number"):
        propagation.power_product(-4.0, 0.5, 1.0, 1.0)
    with pytest.raises(OutOfDomainError, match="negative power"):
        propagation.power_product(0.0, -1.0, 1.0, 1.0)
    assert propagation.power_product(-2.0, 3.0, 1.0, 1.0) == -8.0
