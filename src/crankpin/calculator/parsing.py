"""ParsedInput what is given to a calculator: texts (or SI numbers) into values, with every fault found."""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from crankpin.calculator.declaration import AnyInput, Calculator, Choice, Input, Table
from crankpin.calculator.faults import InputFault
from crankpin.calculator.numbers import (
    format_number,
    format_whole,
    full_number,
    kept_digits,
    read_entry,
    trimmed_quantity,
)
from crankpin.calculator.symbols import read_symbol
from crankpin.calculator.tables import read_table
from crankpin.calculator.units import Unit, find_unit, gap, plain_unit, printed_unit

#: A thing given: text as typed, or a number in SI.
Given = str | float


@dataclass(frozen=True, slots=True)
class ParsedInput:
    """One input as it was understood.

    ``value`` is what the function receives; ``unit`` the unit inside; ``chosen`` the unit it was given in
    (for a table that of its first column); ``typed`` the number in that unit, as typed; ``text`` number and
    unit as written out.
    """

    key: str
    value: Any
    unit: str
    chosen: str
    typed: str
    text: str

    @property
    def number(self) -> Any:
        """Return the value as JSON can hold it."""
        return (
            float(self.value)
            if isinstance(self.value, (int, float)) or hasattr(self.value, "numerator")
            else self.value
        )


def parse_inputs(calculator: Calculator, given: Mapping[str, Given]) -> tuple[dict[str, ParsedInput], list[InputFault]]:
    """Read everything given, taking defaults for the rest; return parsed by key and all faults."""
    parsed: dict[str, ParsedInput] = {}
    known = ", ".join(one.key for one in calculator.inputs)
    faults = [
        InputFault(key, str(text), known, f"There is no input called {key}; there are {known}.")
        for key, text in given.items()
        if all(key != one.key for one in calculator.inputs)
    ]
    for one in calculator.inputs:
        found = parse_input(one, given.get(one.key, one.default))
        if isinstance(found, InputFault):
            faults.append(found)
        else:
            parsed[one.key] = found
    return parsed, faults


def parse_input(one: AnyInput, given: Given) -> ParsedInput | InputFault:
    """Read one thing given."""
    if isinstance(one, Choice):
        return _choice(one, given)
    if isinstance(one, Table):
        return _table(one, given)
    return _quantity(one, given)


def _choice(one: Choice, given: Given) -> ParsedInput | InputFault:
    word = str(given).strip()
    shown = dict(one.options).get(word)
    if shown is None:
        allowed = " or ".join(word for word, _ in one.options)
        return InputFault(one.key, word, allowed, f"{one.key}: “{word}” was given; choose {allowed}.")
    return ParsedInput(one.key, word, "", "", word, shown)


def _table(one: Table, given: Given) -> ParsedInput | InputFault:
    text = str(given)
    found = read_table(text, one)
    if found.trouble:
        return InputFault(one.key, text, found.trouble, f"{one.key}: {found.trouble}")
    units = ", ".join(column.unit for column in one.columns)
    return ParsedInput(one.key, found.rows, units, found.units[0], text, found.understood)


def _quantity(one: Input, given: Given) -> ParsedInput | InputFault:
    if not isinstance(given, str):
        given = f"{float(given)!r} {one.unit if one.unit != '1' else ''}"
    text = given.strip()
    entry = read_entry(text)
    symbol = read_symbol(one.symbol)
    name = symbol.text() if symbol else one.key
    name = one.key if name == one.key else f"{one.key} ({name})"
    if entry is None:
        return InputFault(one.key, text, allowed_text(one, ""), _not_a_number(one, name, text))
    unit = find_unit(one.unit, entry.unit or one.unit)
    offered = (one.unit, *one.also)
    if unit is None or unit.symbol not in offered:
        units = ", ".join(printed_unit(symbol) or "no unit" for symbol in offered)
        return InputFault(
            one.key,
            text,
            units,
            f"{name}, {one.meaning}: the unit “{entry.unit}” is not known here; use {units}.",
        )
    if unit.reciprocal and entry.number == 0.0:
        return _out_of_range(one, name, text, unit)
    value = unit.inside(entry.number)
    if not _ends(one)[0] <= value <= _ends(one)[1]:
        return _out_of_range(one, name, text, unit)
    if one.whole and not value.is_integer():
        allowed = f"a whole number {allowed_text(one, unit.symbol)}"
        return InputFault(one.key, text, allowed, f"{name}, {one.meaning}: {text} was given; it must be {allowed}.")
    exact: Any = value
    if one.exact:
        exact = _fraction(entry.digits, unit)
    typed = text[: len(text) - len(entry.unit)].strip() if entry.unit else text
    number = format_whole(entry.number) if one.whole else format_number(entry.number, kept_digits(entry.digits))
    shown = number + gap(unit.symbol) + printed_unit(unit.symbol)
    return ParsedInput(one.key, exact, one.unit, unit.symbol, typed, shown)


def _fraction(digits: str, unit: Unit) -> Any:
    from fractions import Fraction

    number = Fraction(digits)
    return number * Fraction(unit.times) / Fraction(unit.over)


def _not_a_number(one: Input, name: str, text: str) -> str:
    what = f"“{text}” is not a number" if text else "nothing was given"
    example = one.default.replace(" deg", "°")
    return f"{name}, {one.meaning}: {what}; type a number such as {example}, {allowed_text(one, '')}."


def _out_of_range(one: Input, name: str, text: str, unit: Unit) -> InputFault:
    allowed = allowed_text(one, unit.symbol)
    return InputFault(one.key, text, allowed, f"{name}, {one.meaning}: {text} was given; it must be {allowed}.")


def _ends(one: Input) -> tuple[float, float]:
    return quantity_of(one.lowest, one.unit), quantity_of(one.highest, one.unit)


@lru_cache(maxsize=1024)
def quantity_of(text: str, dimension: str) -> float:
    """Return the inside value of a declared quantity such as ``12 cm``; raises ValueError."""
    entry = read_entry(text)
    unit = find_unit(dimension, plain_unit(entry.unit) or dimension) if entry else None
    if entry is None or unit is None:
        raise ValueError(f"{text!r} is not a quantity with a unit of the dimension {dimension!r}")
    value = unit.inside(entry.number)
    if not math.isfinite(value):
        raise ValueError(f"{text!r} is too large")
    return value


def allowed_text(one: Input, unit: str) -> str:
    """Return the allowed range in words, in that unit (the default's own when none is named)."""
    entry = read_entry(one.default)
    symbol = unit or (plain_unit(entry.unit) if entry and entry.unit else one.unit)
    chosen = find_unit(one.unit, symbol)
    low, high = _ends(one)
    if chosen is not None and chosen.reciprocal:
        if low <= 0.0:
            return f"at least {trimmed_quantity(high, one.unit, symbol)}"
        low, high = high, low
    return f"from {trimmed_quantity(low, one.unit, symbol)} to {trimmed_quantity(high, one.unit, symbol)}"


def number_for_field(value: float, dimension: str, unit: str) -> str:
    """Return a value as a student would type it in that unit: all its digits, without dust."""
    known = find_unit(dimension, unit)
    if known is None:
        raise ValueError(unit)
    return full_number(float(f"{known.shown(value):.12g}"))
