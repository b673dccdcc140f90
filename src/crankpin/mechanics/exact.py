"""Differences of products without cancellation.

A regime (swinging, critical, creeping) and a resonance are decided by differences of nearly equal
products; rounding each product first would lose every digit of the difference.
"""

import math


def difference_of_products(first: tuple[float, ...], second: tuple[float, ...]) -> float:
    """Return the product of ``first`` less the product of ``second``, rounded once.

    Every factor is a finite double, taken exactly; the unit is that of the products. The result is
    the double nearest to the true difference (zero only if the products are equal), infinite beyond
    the largest double.

    >>> difference_of_products((0.1, 0.3), (0.3, 0.1))
    0.0
    >>> difference_of_products((1 + 2**-30, 1 - 2**-30), (1.0,)) == -(2.0**-60)
    True
    """
    top_1, bottom_1 = _ratio(first)
    top_2, bottom_2 = _ratio(second)
    top = top_1 * bottom_2 - top_2 * bottom_1
    try:
        return top / (bottom_1 * bottom_2)
    except OverflowError:
        return math.inf if top > 0 else -math.inf


def _ratio(factors: tuple[float, ...]) -> tuple[int, int]:
    ratios = [factor.as_integer_ratio() for factor in map(float, factors)]
    return math.prod(top for top, _ in ratios), math.prod(bottom for _, bottom in ratios)
