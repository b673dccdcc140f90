"""Holding a declaration against itself and against what is printed elsewhere."""

import re
from collections.abc import Iterator
from typing import Any

from crankpin.calculator import curves, units
from crankpin.calculator.declaration import Calculator, Choice, Input, Output, PublishedCheck, Table
from crankpin.calculator.dimensions import dimension_of, formula_dimension, said
from crankpin.calculator.entries import read_entry
from crankpin.calculator.evaluate import Evaluation, evaluate, formula_of
from crankpin.calculator.faults import DeclarationFault, InputFaultsError
from crankpin.calculator.formula import FormulaError, names, read_formula
from crankpin.calculator.naming import form_of
from crankpin.calculator.parsing import quantity_of
from crankpin.calculator.symbols import read_symbol
from crankpin.calculator.units import find_unit, plain_unit
from crankpin.calculator.working import formula_gap, working

_KEY = re.compile(r"[A-Za-z][A-Za-z0-9_]*")
_FORMULA_TOLERANCE = 1e-9

Told = Iterator[tuple[int, str]]


def faults_of(calculator: Calculator, file: str) -> list[DeclarationFault]:
    """Return every mistake in a declaration, in the order of its lines."""
    told = [*_keys(calculator), *_inputs(calculator), *_outputs(calculator), *_picture(calculator)]
    told += list(_checks(calculator))
    if not told:
        told = [*_at_defaults(calculator)] or [*_differing(calculator)]
    return [DeclarationFault(file, line, message) for line, message in sorted(told)]


def _keys(calculator: Calculator) -> Told:
    seen: set[str] = set()
    for one in (*calculator.inputs, *calculator.outputs):
        if not _KEY.fullmatch(one.key):
            yield one.line, f"the key {one.key!r} must be letters, digits and _ and begin with a letter"
        if one.key in seen or one.key == "pi":
            yield one.line, f"the key {one.key!r} is used twice or kept for the number pi"
        seen.add(one.key)
    if not calculator.outputs:
        yield calculator.line, "a calculator needs at least one output"
    if not calculator.checks:
        yield calculator.line, "a calculator needs at least one check with its source"
    for name in ("title", "purpose"):
        if not getattr(calculator, name).strip():
            yield calculator.line, f"the {name} is empty"


def _inputs(calculator: Calculator) -> Told:
    for one in calculator.inputs:
        if isinstance(one, Choice):
            if one.default not in dict(one.options):
                yield one.line, f"{one.key}: the default {one.default!r} is none of the options"
            for name, word in one.also:
                if word not in dict(one.options):
                    yield one.line, f"{one.key}: {name!r} stands for {word!r}, which is none of the options"
        elif isinstance(one, Table):
            yield from _table(one)
        else:
            yield from _input(one)


def _table(one: Table) -> Told:
    for column in (*one.columns, *(column for _, columns in one.variants for column in columns)):
        yield from ((one.line, f"{one.key}.{column.key}: {text}") for text in _symbol_and_unit(column))


def _input(one: Input) -> Told:
    yield from ((one.line, f"{one.key}: {text}") for text in _symbol_and_unit(one))
    if one.unit not in units.DIMENSIONS:
        return
    numbers: dict[str, float] = {}
    ends = {"slider from": one.slider[0], "slider to": one.slider[1]}
    for name, text in {"default": one.default, "lowest": one.lowest, "highest": one.highest, **ends}.items():
        try:
            numbers[name] = quantity_of(text, one.unit)
        except (ValueError, ZeroDivisionError) as error:
            yield one.line, f"{one.key}: {name}: {error}"
    if len(numbers) < 5:
        return
    for name in ("default", "slider from", "slider to"):
        if not numbers["lowest"] <= numbers[name] <= numbers["highest"]:
            yield one.line, f"{one.key}: the {name} lies outside the allowed range"
    entry, step = read_entry(one.default), read_entry(one.step)
    if step is None or not step.number > 0:
        yield one.line, f"{one.key}: the step {one.step!r} must be a quantity above 0"
    elif entry and plain_unit(step.unit) != plain_unit(entry.unit):
        yield one.line, f"{one.key}: the step must be in the unit of the default ({entry.unit!r})"


def _symbol_and_unit(one: Any) -> Iterator[str]:
    if read_symbol(one.symbol) is None:
        yield f"the symbol {one.symbol!r} is not a letter or Greek command with at most one subscript"
    if one.unit not in units.DIMENSIONS:
        yield f"the unit {one.unit!r} is unknown; there are {', '.join(units.DIMENSIONS)}"
    for symbol in getattr(one, "also", ()):
        if find_unit(one.unit, symbol) is None:
            yield f"the unit {symbol!r} does not belong to {one.unit!r}"
    if not one.meaning.strip():
        yield "the meaning is empty"


def _outputs(calculator: Calculator) -> Told:
    above = {one.key for one in calculator.inputs}
    everything = above | {one.key for one in calculator.outputs}
    for one in calculator.outputs:
        if one.unit or one.symbol:
            yield from ((one.line, f"{one.key}: {text}") for text in _symbol_and_unit(one))
        if isinstance(one.formula, str) and one.formula:
            yield from _formula(one, above)
        if not one.formula and not one.method:
            yield one.line, f"{one.key}: give a formula, or say in method how it is found"
        yield from _borrowed_unit(calculator, one)
        if one.dust_of and one.dust_of not in everything:
            yield one.line, f"{one.key}: dust_of names {one.dust_of!r}, which is no input and no output"
        if one.shown_in and one.shown_in not in above and find_unit(one.unit, one.shown_in) is None:
            yield one.line, f"{one.key}: shown_in is neither an input above nor a unit of {one.unit!r}"
        above.add(one.key)


def _borrowed_unit(calculator: Calculator, one: Output) -> Told:
    """Tell where a result would stand under its symbol with the unit of another quantity: ω in Hz."""
    followed = [each for each in calculator.inputs if isinstance(each, Input) and each.key == one.shown_in]
    possible = [unit for each in followed for unit in (each.unit, *each.also)] or [one.shown_in]
    wrong = [unit for unit in possible if form_of(one, unit)]
    if wrong:
        yield one.line, f"{one.key}: shown_in leads to {', '.join(wrong)}, the unit of another quantity"


def dimension_fault(calculator: Calculator, one: Output, formula: str) -> str:
    """Return what is wrong with the dimension of a formula, "" for nothing."""
    declared = [each for each in (*calculator.inputs, *calculator.outputs) if isinstance(each, (Input, Output))]
    of = {
        each.key: None if getattr(each, "any_unit", False) else dimension_of(each.unit)
        for each in declared
        if each.unit
    }
    try:
        found = formula_dimension(read_formula(formula), of)
    except FormulaError as error:
        return f"{one.key}: the formula does not go with the units: {error}"
    wanted = of[one.key]
    if found is None or wanted is None or found == wanted:
        return ""
    return f"{one.key}: the formula gives {said(found)}, and the unit is {one.unit!r}"


def _formula(one: Output, above: set[str]) -> Told:
    try:
        unknown = names(read_formula(str(one.formula))) - above
    except FormulaError as error:
        yield one.line, f"{one.key}: {error}"
        return
    if unknown:
        yield (
            one.line,
            f"{one.key}: the formula uses {', '.join(sorted(unknown))}, which is not known above it",
        )


def _picture(calculator: Calculator) -> Told:
    picture = calculator.picture
    if picture is None:
        return
    for panel in picture.panels:
        for axis in (panel.horizontal, panel.vertical):
            yield from ((picture.line, f"axis {axis.meaning!r}: {text}") for text in _symbol_and_unit(axis))
        inked: tuple[curves.Curve | curves.Mark, ...] = (*panel.curves, *panel.marks)
        for each in inked:
            if each.role not in curves.ROLES:
                yield (
                    picture.line,
                    f"{each.key}: the role {each.role!r} is none of {', '.join(curves.ROLES)}",
                )
        for curve in panel.curves:
            if curve.line and curve.line not in curves.LINES:
                yield (
                    picture.line,
                    f"{curve.key}: the line {curve.line!r} is none of {', '.join(curves.LINES)}",
                )


def _checks(calculator: Calculator) -> Told:
    outputs = {one.key: one for one in calculator.outputs}
    inputs = {one.key for one in calculator.inputs}
    for check in calculator.checks:
        if not check.source.strip():
            yield check.line, "a check names its source, or says: common practice, no source"
        for key in check.given.keys() - inputs:
            yield check.line, f"the check gives {key!r}, which is no input"
        for key, text in check.expect.items():
            if key not in outputs:
                yield check.line, f"the check expects {key!r}, which is no output"
            elif outputs[key].unit and not _printed(outputs[key], text):
                yield (
                    check.line,
                    f"the check expects {key} = {text!r}, which is no quantity in {outputs[key].unit}",
                )


def _printed(one: Output, text: str) -> bool:
    entry = read_entry(text)
    return entry is not None and find_unit(one.unit, entry.unit or one.unit) is not None


def _at_defaults(calculator: Calculator) -> Told:
    """Evaluate at the defaults: the function must give every output, and formulas must agree with it."""
    try:
        evaluation = evaluate(calculator)
    except InputFaultsError as error:
        yield calculator.line, f"the defaults do not work: {error}"
        return
    except Exception as error:  # a mistake in the author's own function, told at its declaration
        yield calculator.line, f"the function failed at the defaults: {type(error).__name__}: {error}"
        return
    try:
        working(evaluation)
        evaluation.picture()
    except Exception as error:  # the same, for the picture's function and formulas chosen by one
        yield calculator.line, f"working or picture failed at the defaults: {type(error).__name__}: {error}"
        return
    for one in calculator.outputs:
        formula = formula_of(one, evaluation.values) if isinstance(evaluation.outputs[one.key].value, float) else ""
        wrong = dimension_fault(calculator, one, formula) if formula else ""
        if wrong:
            yield one.line, wrong
        gap = formula_gap(evaluation, one)
        if gap > _FORMULA_TOLERANCE:
            yield (
                one.line,
                f"{one.key}: formula and function differ by {gap:.1e} of the value at the defaults",
            )


def _differing(calculator: Calculator) -> Told:
    for check in calculator.checks:
        try:
            wrong = check_differences(calculator, check)
        except InputFaultsError as error:
            yield check.line, f"what the check gives cannot be used: {error}"
            continue
        yield from ((check.line, f"the check of {key}: {told}") for key, told in wrong.items())


def check_differences(calculator: Calculator, check: PublishedCheck) -> dict[str, str]:
    """Return what a published check finds wrong: key to a sentence; empty when all agree.

    A number agrees within half a unit of its last printed digit, ties included.
    """
    evaluation = evaluate(calculator, check.given)
    wrong: dict[str, str] = {}
    for key, text in check.expect.items():
        told = _difference(evaluation, key, text)
        if told:
            wrong[key] = told
    return wrong


def _difference(evaluation: Evaluation, key: str, text: str) -> str:
    found, one = evaluation.outputs[key], evaluation.calculator.output(key)
    if not isinstance(found.value, float):
        return "" if found.value == text else f"expected {text}, found {found.value or found.reason}"
    entry = read_entry(text)
    unit = find_unit(one.unit, (entry.unit if entry else "") or one.unit)
    if entry is None or unit is None:
        return f"{text!r} is no quantity"
    shown = unit.shown(found.value)
    slack = 0.5 * 10.0 ** last_place(entry.digits)
    if abs(shown - entry.number) <= slack * (1.0 + 1e-9):
        return ""
    return f"expected {text}, found {shown!r}"


def last_place(digits: str) -> int:
    """Return the power of ten of the last digit of a plain decimal number: "0.12" gives -2."""
    number, _, power = digits.lower().partition("e")
    return int(power or 0) - len(number.partition(".")[2])
