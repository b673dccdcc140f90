"""Dimensions: what a formula gives, counted in powers of kilogram, metre, second and kelvin.

An angle is a ratio of two lengths and has no dimension, so a radian per second and a hertz are alike here;
`crankpin.calculator.naming` keeps those apart.
"""

import re
from collections.abc import Mapping
from fractions import Fraction

from crankpin.calculator.formula import Call, Factor, FormulaError, Name, Negative, Node, Number, Pair

#: Powers of kg, m, s and K; None where a quantity has whatever unit was typed.
Dimension = tuple[Fraction, Fraction, Fraction, Fraction] | None


def _powers(kg: int, m: int, s: int, kelvin: int = 0) -> Dimension:
    return Fraction(kg), Fraction(m), Fraction(s), Fraction(kelvin)


_NONE = _powers(0, 0, 0)
#: Source: the SI Brochure, 9th edition, tables 2 and 4; min, h and d from table 8.
_UNITS = {
    **dict.fromkeys(("1", "%", "ppm", "dB", "rad", "deg"), _NONE),
    **dict.fromkeys(("g", "t"), _powers(1, 0, 0)),
    **dict.fromkeys(("m", "au", "ly"), _powers(0, 1, 0)),
    **dict.fromkeys(("s", "min", "h", "d", "yr"), _powers(0, 0, 1)),
    "K": _powers(0, 0, 0, 1),
    **dict.fromkeys(("Hz", "rpm"), _powers(0, 0, -1)),
    "N": _powers(1, 1, -2),
    "J": _powers(1, 2, -2),
    "W": _powers(1, 2, -3),
}
_PREFIXES = "nmckM"
_PART = re.compile(r"([^\d]+|1)(\d?)")


def dimension_of(unit: str) -> Dimension:
    """Return the dimension of a unit such as ``kg m2`` or ``N m/rad``; raises `FormulaError` for an unknown one."""
    upper, _, lower = unit.partition("/")
    found = _product(upper)
    return _times(found, _raised(_product(lower.strip("()")), Fraction(-1))) if lower else found


def _product(unit: str) -> Dimension:
    found = _NONE
    for part in unit.split():
        match = _PART.fullmatch(part)
        known = _known(match[1]) if match else None
        if match is None or known is None:
            raise FormulaError(f"the unit {unit!r} is not made of kg, m, s and their like")
        found = _times(found, _raised(known, Fraction(match[2] or 1)))
    return found


def _known(unit: str) -> Dimension:
    """Return the dimension of one unit, with or without a prefix; None for an unknown one."""
    return _UNITS.get(unit) or (_UNITS.get(unit[1:]) if unit[0] in _PREFIXES else None)


def _times(one: Dimension, other: Dimension) -> Dimension:
    if one is None or other is None:
        return None
    return one[0] + other[0], one[1] + other[1], one[2] + other[2], one[3] + other[3]


def _raised(one: Dimension, power: Fraction) -> Dimension:
    return None if one is None else (one[0] * power, one[1] * power, one[2] * power, one[3] * power)


def formula_dimension(node: Node, of: Mapping[str, Dimension]) -> Dimension:
    """Return the dimension of what a formula gives; ``of`` holds those of its keys.

    Raises `FormulaError` where unlike quantities are added, or where a function or a power is given anything but a
    number.
    """
    if isinstance(node, Number):
        return _NONE
    if isinstance(node, Factor):
        return dimension_of(node.unit)
    if isinstance(node, Name):
        return _NONE if node.key == "pi" else of[node.key]
    if isinstance(node, Negative):
        return formula_dimension(node.part, of)
    if isinstance(node, Call):
        return _call(node, of)
    left, right = formula_dimension(node.left, of), formula_dimension(node.right, of)
    if node.sign in "+-":
        return _alike(left, right)
    if node.sign == "**":
        return _NONE if left == right == _NONE else _raised(left, _whole_power(node))
    return _times(left, right if node.sign == "*" else _raised(right, Fraction(-1)))


def _alike(left: Dimension, right: Dimension) -> Dimension:
    if left is not None and right is not None and left != right:
        raise FormulaError(f"it adds {said(left)} and {said(right)}")
    return right if left is None else left


def _call(node: Call, of: Mapping[str, Dimension]) -> Dimension:
    inside = formula_dimension(node.parts[0], of)
    if node.function == "sqrt":
        return _raised(inside, Fraction(1, 2))
    if node.function == "abs":
        return inside
    if inside not in (None, _NONE):
        raise FormulaError(f"it takes {node.function} of {said(inside)}, not of a number")
    return _NONE


def _whole_power(node: Pair) -> Fraction:
    if isinstance(node.right, Number):
        return Fraction(node.right.text)
    raise FormulaError("it raises to a power that is not written as a number")


def said(one: Dimension) -> str:
    """Return a dimension as units.

    >>> said(dimension_of("N/m")), said(dimension_of("rad"))
    ('kg s^-2', 'a number')
    """
    if one is None:
        return "any unit"
    parts = (
        f"{unit}{'' if power == 1 else f'^{power}'}"
        for unit, power in zip(("kg", "m", "s", "K"), one, strict=True)
        if power
    )
    return " ".join(parts) or "a number"
