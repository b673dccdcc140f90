"""How many digits results are printed with, so that printed parts add up to their printed sum.

A result has the digits that its declaration asks for. Where one result is the sum or the difference of others, all of
them are given more digits, one by one, until a reader who adds the printed numbers finds the printed sum.
"""

import math
from collections.abc import Mapping
from functools import lru_cache

from crankpin.calculator.declaration import Calculator, Output
from crankpin.calculator.formula import Name, Negative, Node, Pair, read_formula
from crankpin.calculator.numbers import format_number, rounded
from crankpin.calculator.units import Unit

_MOST_DIGITS = 9

#: A sum by its terms: each key with its sign.
Terms = tuple[tuple[str, float], ...]


@lru_cache(maxsize=512)
def terms_of(formula: str) -> Terms:
    """Return the terms of a formula that only adds and subtracts quantities, () for any other.

    >>> terms_of("E - U"), terms_of("2*A")
    ((('E', 1.0), ('U', -1.0)), ())
    """
    found = _terms(read_formula(formula), 1.0) if formula else []
    return tuple(found) if len(found) > 1 else ()


def _terms(node: Node, sign: float) -> list[tuple[str, float]]:
    if isinstance(node, Name) and node.key != "pi":
        return [(node.key, sign)]
    if isinstance(node, Negative):
        return _terms(node.part, -sign)
    if isinstance(node, Pair) and node.sign in "+-":
        left, right = _terms(node.left, sign), _terms(node.right, sign if node.sign == "+" else -sign)
        return left + right if left and right else []
    return []


def digits_shown(
    calculator: Calculator, formulas: Mapping[str, str], shown: Mapping[str, tuple[float, Unit]]
) -> dict[str, int]:
    """Return the digits of every result that is a plain number.

    ``formulas`` holds the formula that applies to each result, ``shown`` each result as (number, unit) in the unit in
    which it is printed.
    """
    digits = {one.key: one.digits for one in calculator.outputs if _is_plain(one) and one.key in shown}
    sums = [(key, terms) for key in digits if (terms := terms_of(formulas.get(key, ""))) and _all_in(terms, digits)]
    for _ in range(_MOST_DIGITS):
        apart = [[key, *(part for part, _ in terms)] for key, terms in sums if not _add_up(key, terms, digits, shown)]
        if not apart:
            return digits
        for group in apart:
            digits |= dict.fromkeys(group, min(_MOST_DIGITS, 1 + max(digits[key] for key in group)))
    return digits


def _is_plain(one: Output) -> bool:
    return not (one.whole or one.uncertainty) and bool(one.unit)


def _all_in(terms: Terms, digits: Mapping[str, int]) -> bool:
    return all(key in digits for key, _ in terms)


def _add_up(key: str, terms: Terms, digits: Mapping[str, int], shown: Mapping[str, tuple[float, Unit]]) -> bool:
    """Return whether the largest of the numbers, as printed, is what the others as printed make of it."""
    signed = {key: -1.0, **dict(terms)}
    inside = {one: shown[one][1].inside(rounded(shown[one][0], digits[one])) for one in signed}
    largest = max(inside, key=lambda one: abs(inside[one]))
    rest = -math.fsum(sign * inside[one] for one, sign in signed.items() if one != largest) / signed[largest]
    number, unit = shown[largest]
    return format_number(unit.shown(rest), digits[largest]) == format_number(number, digits[largest])
