"""Units as they are written in a problem, and numbers written with them.

A unit names its dimension by itself: ``cm`` is a length. Where one symbol serves several dimensions, the one that
problems mean most often is taken: ``rpm`` an angular velocity, ``Hz`` a frequency, ``deg`` an angle, ``h`` a time.
``as``, after a unit, says otherwise: ``60 rpm as Hz`` is a frequency.
"""

import math
from dataclasses import dataclass

from crankpin.calculator.entries import read_entry
from crankpin.calculator.numbers import MINUS, format_number, grouped
from crankpin.calculator.units import DIMENSIONS, Unit, find_unit, gap, plain_unit, printed_unit
from crankpin.problems.faults import WordingError

_NOT_BY_THEIR_OWN_NAME = ("rpm", "h", "deg", "d")


@dataclass(frozen=True, slots=True)
class Form:
    """How a quantity is written: its dimension (named by the unit kept inside), the unit shown, and the digits.

    ``literal`` is the number as it was drawn, in the unit shown, or "" for one that is computed; another value of the
    same form, such as that of a slip, is written with ``digits``.
    """

    dimension: str
    unit: str
    digits: int = 3
    literal: str = ""


def dimension_of(unit: str, wanted: str = "") -> str:
    """Return the dimension that a unit belongs to; ``wanted`` names one where several would do.

    Raises `WordingError`.

    >>> dimension_of("cm"), dimension_of("rpm"), dimension_of("rpm", "Hz"), dimension_of("m/s²")
    ('m', 'rad/s', 'Hz', 'm/s2')
    """
    symbol = plain_unit(unit)
    possible = [dimension for dimension in DIMENSIONS if find_unit(dimension, symbol)]
    if not possible:
        raise WordingError(f"“{unit}” is not a unit known here; units are written as in m/s, rad/s, N/m, kg m2, 1")
    if wanted:
        if wanted not in possible:
            raise WordingError(f"“{unit}” is not a unit of {wanted}; it belongs to {', '.join(possible)}")
        return wanted
    if symbol in possible and symbol not in _NOT_BY_THEIR_OWN_NAME:
        return symbol
    return next(dimension for dimension in possible if dimension not in _NOT_BY_THEIR_OWN_NAME)


def unit_of(dimension: str, symbol: str) -> Unit:
    """Return a unit of a dimension. Raises `WordingError`."""
    unit = find_unit(dimension, symbol)
    if unit is None:
        possible = ", ".join(DIMENSIONS.get(dimension, {}))
        raise WordingError(f"“{symbol}” is not a unit of {dimension}; possible are {possible}")
    return unit


def is_unit(symbol: str) -> bool:
    """Tell whether a unit of any dimension is written so."""
    return any(find_unit(dimension, symbol) for dimension in DIMENSIONS)


def number_text(value: float, form: Form) -> str:
    """Return a value inside as the number shown, without its unit."""
    unit = unit_of(form.dimension, form.unit)
    if form.literal and math.isclose(unit.inside(float(form.literal)), value, rel_tol=1e-12):
        whole, point, rest = form.literal.removeprefix("-").partition(".")
        return (MINUS if form.literal.startswith("-") else "") + grouped(whole) + point + rest
    return format_number(unit.shown(value), form.digits)


def quantity_text(value: float, form: Form) -> str:
    """Return a value inside as number and unit: ``1.70 m``."""
    symbol = unit_of(form.dimension, form.unit).symbol
    return number_text(value, form) + gap(symbol) + printed_unit(symbol)


def plain_quantity(value: float, form: Form) -> str:
    """Return a value inside as a student types it into a field of a calculator: ``1.70 m``, ``90 deg``."""
    unit = unit_of(form.dimension, form.unit)
    number = form.literal or f"{unit.shown(value):.12g}"
    return number if unit.symbol == "1" else f"{number} {unit.symbol}"


def read_quantity(text: str) -> tuple[float, Form]:
    """Return the value inside and the form of a quantity written in a declaration. Raises `WordingError`."""
    words, _, wanted = text.partition(" as ")
    entry = read_entry(words)
    if entry is None:
        raise WordingError(f"“{text}” is not a number with a unit, such as 1.2 m")
    unit = entry.unit or "1"
    form = Form(dimension_of(unit, wanted.strip()), plain_unit(unit), literal=entry.digits.removeprefix("+"))
    return unit_of(form.dimension, form.unit).inside(entry.number), form
