"""What is given to a calculator: texts (or SI numbers) into values, with every fault found.

A number typed without a unit has the unit of the default, which is what a page shows beside the field; a number given
as a float is in SI.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Any

from crankpin.calculator.declaration import AnyInput, Calculator, Choice, Input, Table
from crankpin.calculator.entries import NO_NUMBER, Entry, Unread, read, read_entry
from crankpin.calculator.faults import InputFault
from crankpin.calculator.naming import name_of
from crankpin.calculator.numbers import (
    format_concise,
    format_number,
    format_whole,
    full_number,
    kept_digits,
    trimmed_number,
    trimmed_quantity,
    uncertainty_digits,
)
from crankpin.calculator.symbols import read_symbol
from crankpin.calculator.tables import read_table
from crankpin.calculator.typed_units import meant_unit, typed_unit
from crankpin.calculator.units import Unit, find_unit, gap, plain_unit, printed_unit

#: A thing given: text as typed, or a number in SI.
Given = str | float


@dataclass(frozen=True, slots=True)
class ParsedInput:
    """One input as it was understood.

    ``value`` is what the function receives; ``unit`` the unit inside; ``chosen`` the unit it was given in
    (for a table that of its first column); ``typed`` the number in that unit, as typed; ``text`` number and
    unit as written out. ``uncertainty`` is the standard uncertainty inside, 0 where none was given; ``note`` says
    what was understood of a number that left something out.
    """

    key: str
    value: Any
    unit: str
    chosen: str
    typed: str
    text: str
    uncertainty: float = 0.0
    note: str = ""

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
        given_here = given.get(one.key, one.default)
        found = parse_input(_as_chosen(one, parsed) if isinstance(one, Table) else one, given_here)
        if isinstance(found, InputFault):
            faults.append(found)
        else:
            parsed[one.key] = found
    return parsed, faults


def _as_chosen(one: Table, parsed: Mapping[str, ParsedInput]) -> Table:
    """Return a table with the columns that a choice above it asks for."""
    chosen = parsed.get(one.by)
    columns = dict(one.variants).get(chosen.value) if chosen else None
    return replace(one, columns=columns) if columns else one


def parse_input(one: AnyInput, given: Given) -> ParsedInput | InputFault:
    """Read one thing given."""
    if isinstance(one, Choice):
        return _choice(one, given)
    if isinstance(one, Table):
        return _table(one, given)
    return _quantity(one, given)


def _choice(one: Choice, given: Given) -> ParsedInput | InputFault:
    word = _meant_word(one, str(given).strip())
    shown = dict(one.options).get(word)
    if shown is None:
        allowed = " or ".join(word for word, _ in one.options)
        told = f"“{word}” was given" if word else "nothing was given"
        return InputFault(one.key, word, allowed, f"{one.key}: {told}; choose {allowed}.")
    return ParsedInput(one.key, word, "", "", word, shown)


def _meant_word(one: Choice, typed: str) -> str:
    """Return the word of the case typed, in any case, in its shown form or by another name; what was typed if none."""
    shown = [(words, word) for word, words in one.options]
    known = {name.casefold(): word for name, word in (*shown, *((word, word) for word, _ in one.options), *one.also)}
    return known.get(typed.casefold(), typed)


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
    entry = read(text)
    if isinstance(entry, Unread):
        return InputFault(one.key, text, allowed_text(one, ""), _not_a_number(one, text, entry.reason))
    own = _own_unit(one)
    unit = typed_unit(one.unit, entry.unit) if entry.unit else own
    if unit is None:
        return _unknown_unit(one, text, entry.unit)
    if unit.reciprocal and entry.number == 0.0:
        return _out_of_range(one, text, None, unit)
    value = unit.inside(entry.number)
    if not _ends(one)[0] <= value <= _ends(one)[1]:
        return _out_of_range(one, text, value, unit)
    if one.whole and not value.is_integer():
        return _told_range(one, text, f"a whole number {allowed_text(one, _offered(one, unit).symbol)}", unit)
    uncertainty = _uncertainty(one, text, entry, unit)
    if isinstance(uncertainty, InputFault):
        return uncertainty
    exact = _fraction(entry.ratio or entry.digits, unit) if one.exact else value
    note = "" if entry.unit or unit.symbol == "1" else f"no unit was given; {_shown(text, unit)} was understood"
    return _parsed(one, entry, _Read(exact, value, uncertainty, unit), note, text)


@dataclass(frozen=True, slots=True)
class _Read:
    """A quantity as read: what the function gets, its value and standard uncertainty inside, its unit."""

    exact: Any
    value: float
    uncertainty: float
    unit: Unit


def _parsed(one: Input, entry: Entry, read: _Read, note: str, text: str) -> ParsedInput:
    """Return the input in the unit typed where that one is offered, else in the offered one that is nearest to it."""
    unit = _offered(one, read.unit)
    same = unit.symbol == read.unit.symbol
    number = entry.number if same else float(f"{unit.shown(read.value):.12g}")
    typed = _typed(entry, text) if same else number_for_field(read.value, one.unit, unit.symbol).removesuffix(".0")
    shown = format_whole(number) if one.whole else format_number(number, kept_digits(entry.digits))
    if read.uncertainty:
        size = uncertainty_in(unit, read.value, read.uncertainty)
        shown = format_concise(number, size, uncertainty_digits(size))
        typed = f"{full_number(number).removesuffix('.0') if not same else entry.digits} ± {plain_number(size)}"
    shown = shown + gap(unit.symbol) + printed_unit(unit.symbol)
    return ParsedInput(one.key, read.exact, one.unit, unit.symbol, typed, shown, read.uncertainty, note)


def _typed(entry: Entry, text: str) -> str:
    """Return the number as it was typed, without its unit: degrees and minutes as degrees."""
    if not entry.unit:
        return text
    return text[: -len(entry.unit)].strip() if text.endswith(entry.unit) else entry.digits


def _offered(one: Input, unit: Unit) -> Unit:
    offered = [known for symbol in (one.unit, *one.also) if (known := find_unit(one.unit, symbol))]
    same = [known for known in offered if known.symbol == unit.symbol]
    alike = [known for known in offered if known.reciprocal == unit.reciprocal] or offered
    return same[0] if same else min(alike, key=lambda known: abs(math.log(_size(known) / _size(unit))))


def _size(unit: Unit) -> float:
    return unit.times / unit.over


def _own_unit(one: Input) -> Unit:
    """Return the unit that a bare number has: that of the default, which is what a page shows beside the field."""
    entry = read_entry(one.default)
    unit = find_unit(one.unit, plain_unit(entry.unit) if entry and entry.unit else one.unit)
    if unit is None:
        raise ValueError(f"the default {one.default!r} has no unit of the dimension {one.unit!r}")
    return unit


# The standard uncertainty


def _uncertainty(one: Input, text: str, entry: Entry, unit: Unit) -> float | InputFault:
    """Return the standard uncertainty inside, 0 where none was typed."""
    if not entry.uncertainty:
        return 0.0
    if one.whole or one.exact:
        return _told(one, text, "this number is counted or exact, so it has no uncertainty; type it alone")
    if entry.uncertainty_unit == "%":
        if one.unit == "1":
            return _told(one, text, "an uncertainty in % of a number without a unit has two readings; type it plainly")
        return abs(unit.inside(entry.number)) * entry.uncertainty / 100.0
    other = typed_unit(one.unit, entry.uncertainty_unit) if entry.uncertainty_unit else unit
    if other is None or other.reciprocal != unit.reciprocal:
        return _told(one, text, f"the uncertainty must be in the unit of the number, {_spelt(unit)}")
    ratio = _size(unit) / _size(other) if unit.reciprocal else _size(other) / _size(unit)
    size = entry.uncertainty * ratio
    if unit.reciprocal:
        return abs(unit.inside(entry.number)) * size / abs(entry.number)
    return size * unit.times / unit.over


def uncertainty_in(unit: Unit, value: float, uncertainty: float) -> float:
    """Return an uncertainty inside as that of the number shown in a unit, to first order.

    >>> uncertainty_in(Unit("cm", over=100.0), 0.12, 0.001)
    0.1
    """
    if unit.reciprocal:
        return abs(unit.shown(value)) * uncertainty / abs(value) if value else math.inf
    return uncertainty * unit.over / unit.times


def plain_number(x: float) -> str:
    """Return a number as it is typed, without dust."""
    return f"{x:.12g}"


def _told(one: Input, text: str, what: str) -> InputFault:
    return InputFault(one.key, text, what, f"{_named(one)}: “{text}” was given; {what}.")


def _shown(text: str, unit: Unit) -> str:
    return f"{text}{gap(unit.symbol)}{printed_unit(unit.symbol)}"


def _spelt(unit: Unit) -> str:
    return printed_unit(unit.symbol) or "no unit"


def _fraction(digits: str, unit: Unit) -> Any:
    from fractions import Fraction

    number = Fraction(digits)
    return number * Fraction(unit.times) / Fraction(unit.over)


def _named(one: Input, unit: str = "") -> str:
    """Return key, symbol and name of an input, as they are for the unit in which it is given."""
    called = name_of(one, unit)
    symbol = read_symbol(called.symbol)
    name = symbol.text() if symbol else one.key
    return f"{one.key if name == one.key else f'{one.key} ({name})'}, {called.meaning}"


def _not_a_number(one: Input, text: str, reason: str) -> str:
    what = f"“{text}” {reason}" if text else "nothing was given"
    example = one.default.replace(" deg", "°")
    if reason != NO_NUMBER.reason:
        return f"{_named(one)}: {what}."
    return f"{_named(one)}: {what}; type a number such as {example}, {allowed_text(one, '')}."


def _unknown_unit(one: Input, text: str, unit: str) -> InputFault:
    units = ", ".join(printed_unit(symbol) or "no unit" for symbol in (one.unit, *one.also))
    meant = meant_unit(one.unit, unit)
    if meant:
        told = f"the capital M of “{unit}” stands for a million; if {meant} is meant, type {meant}"
    else:
        told = f"the unit “{unit}” is not known here; use {units}"
    return InputFault(one.key, text, units, f"{_named(one)}: {told}.")


def _out_of_range(one: Input, text: str, value: float | None, unit: Unit) -> InputFault:
    """Return the fault of a value beyond one end of the allowed range; None is a period or such of zero."""
    low, high = _ends(one)
    offered = _offered(one, unit)
    if value is None or value <= 0.0 < low:
        allowed = "greater than zero"
    elif (value < low) != unit.reciprocal:
        allowed = f"at least {_limit(one, low if value < low else high, value, offered)}"
    else:
        allowed = f"at most {_limit(one, low if value < low else high, value, offered)}"
    return _told_range(one, text, allowed, unit)


def _told_range(one: Input, text: str, allowed: str, unit: Unit) -> InputFault:
    message = f"{_named(one, unit.symbol)}: {text} was given; it must be {allowed}."
    return InputFault(one.key, text, allowed, message)


def _limit(one: Input, end: float, value: float, unit: Unit) -> str:
    """Return an end of the range with as many digits as set it apart from the value given."""
    if unit.reciprocal and end == 0.0:
        return "any length"
    shown, given = unit.shown(end), unit.shown(value) if value or not unit.reciprocal else math.inf
    for digits in (4, 8, 12):
        entry = read_entry(trimmed_number(shown, digits))
        if entry is None or ((entry.number < given) == (shown < given) and entry.number != given):
            break
    return trimmed_quantity(end, one.unit, unit.symbol, digits)


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
