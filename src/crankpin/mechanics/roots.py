"""Where a function crosses zero, between two places of opposite sign; bounded work, never outside them."""

import math
from collections.abc import Callable, Iterator

from crankpin.mechanics.errors import AbsentError, OutOfDomainError

_MOST_ROUNDS = 2200  # halving alone crosses all doubles in about 2100


def root(function: Callable[[float], float], lower: float, upper: float, tolerance: float = 0.0) -> float:
    """Return a place between ``lower`` and ``upper`` where ``function`` changes sign, to the last bit.

    ``tolerance`` (in the argument's unit) may allow an earlier end. The values at the two ends must have
    opposite signs or be zero, else OutOfDomainError; a value that is not a number raises it too.
    Source: T. R. Chandrupatla, Advances in Engineering Software 28 (1997) 145 (from memory): inverse
    quadratic steps where they are safe, halving elsewhere.

    >>> root(lambda x: x * x - 2, 0.0, 2.0)
    1.4142135623730951
    """
    a, b = float(upper), float(lower)
    f_a, f_b = _value(function, a), _value(function, b)
    if f_a == 0 or f_b == 0:
        return a if f_a == 0 else b
    if (f_a > 0) == (f_b > 0):
        raise OutOfDomainError("function", f"of opposite signs at {lower:g} and {upper:g}", f_b)
    share = 0.5
    for _ in range(_MOST_ROUNDS):
        new = _between(a, b, share)
        f_new = _value(function, new)
        if (f_new > 0) == (f_a > 0):
            c, f_c = a, f_a
        else:
            c, f_c, b, f_b = b, f_b, a, f_a
        a, f_a = new, f_new
        best = a if abs(f_a) < abs(f_b) else b
        width = abs(b - a)
        if f_a == 0 or width <= max(tolerance, math.ulp(best)):
            return best
        share = _share(a, b, c, f_a, f_b, f_c)
        least = max(tolerance, math.ulp(best)) / width / 2
        share = min(max(share, least), 1 - least)
    return best


def sign_changes(
    function: Callable[[float], float], lower: float, upper: float, pieces: int
) -> Iterator[tuple[float, float]]:
    """Yield, left to right, the pieces of an even division at whose ends ``function`` differs in sign.

    ``pieces`` at least 1. A zero at a piece's left end counts for that piece. Two crossings within one piece
    are not seen: choose the pieces shorter than half the fastest turn.

    >>> import math
    >>> [round(root(math.sin, a, b), 6) for a, b in sign_changes(math.sin, 1.0, 10.0, 20)]
    [3.141593, 6.283185, 9.424778]
    """
    if pieces < 1:
        raise OutOfDomainError("pieces", "at least 1", pieces)
    left, f_left = lower, _value(function, lower)
    for i in range(1, pieces + 1):
        right = lower + (upper - lower) * (i / pieces)
        f_right = _value(function, right)
        if f_left == 0 or (f_right != 0 and (f_left > 0) != (f_right > 0)):
            yield left, right
        left, f_left = right, f_right
    if f_left == 0:
        yield left, left


def first_root(function: Callable[[float], float], lower: float, upper: float, pieces: int) -> float:
    """Return the first crossing that `sign_changes` sees; AbsentError if there is none."""
    for left, right in sign_changes(function, lower, upper, pieces):
        return left if function(left) == 0 else root(function, left, right)
    raise AbsentError(f"It never happens between {lower:.6g} and {upper:.6g}.")


def _between(a: float, b: float, share: float) -> float:
    """Return the place ``share`` of the way from a to b; halfway without overflow."""
    return a / 2 + b / 2 if share == 0.5 else a + share * (b - a)


def _share(a: float, b: float, c: float, f_a: float, f_b: float, f_c: float) -> float:
    """Return the inverse quadratic's share of the way from a to b where it is safe, else a half."""
    xi = (a - b) / (c - b)
    phi = (f_a - f_b) / (f_c - f_b)
    if not (phi * phi < xi and (1 - phi) ** 2 < 1 - xi):
        return 0.5
    return f_a / (f_b - f_a) * f_c / (f_b - f_c) + (c - a) / (b - a) * f_a / (f_c - f_a) * f_b / (f_c - f_b)


def _value(function: Callable[[float], float], place: float) -> float:
    value = function(place)
    if math.isnan(value):
        raise OutOfDomainError("function", f"a number at {place:g}", value)
    return value
