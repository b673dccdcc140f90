"""Results over a range of one input: the small table for a reader without a phone."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from html import escape

from crankpin.calculator.declaration import Calculator, Input, Output, Table
from crankpin.calculator.evaluate import Evaluation, evaluate, text_of
from crankpin.calculator.faults import InputFaultsError
from crankpin.calculator.naming import name_of
from crankpin.calculator.numbers import format_number
from crankpin.calculator.rendering import MathmlScript
from crankpin.calculator.units import find_unit, gap, over_unit, printed_unit
from crankpin.calculator.working import rendered_symbol

ROWS = 8
#: So many characters stand side by side on the sheet.
WIDTH = 72
_LEAST_ROWS = 4


@dataclass(frozen=True)
class _Row:
    typed: str
    evaluation: Evaluation
    given: Evaluation
    """The row of the value given: all rows have as many digits as it has."""
    here: bool


def range_html(calculator: Calculator, given: Mapping[str, str]) -> str:
    """Return results over a range of one input as a table, "" where no input can be varied.

    Varied is the input that is declared for it, else the one that the picture is drawn against, else the first that
    moves most results; its values lie at round steps about the one given, and the given one is set in bold. Where
    readings are given, no input is varied: they belong to the others as they stand. Texts in ``given`` are as typed,
    with units.
    """
    if any(isinstance(one, Table) for one in calculator.inputs):
        return ""
    here = evaluate(calculator, given)
    inputs = [one for one in calculator.inputs if isinstance(one, Input) and not one.whole]
    inputs = [one for one in inputs if one.tabulate] or inputs
    tables = [(one, _rows(calculator, one, given, here)) for one in inputs]
    tables = [(one, rows) for one, rows in tables if len(rows) >= _LEAST_ROWS and _moved(calculator, rows)]
    if not tables:
        return ""
    drawn = {panel.horizontal.symbol for panel in calculator.picture.panels} if calculator.picture else set()
    enough = 0.75 * max(len(_moved(calculator, rows)) for _, rows in tables)
    chosen = [pair for pair in tables if pair[0].symbol in drawn]
    one, rows = (chosen or [pair for pair in tables if len(_moved(calculator, pair[1])) >= enough])[0]
    return _table(one, rows, _that_fit(_moved(calculator, rows), rows))


def _rows(calculator: Calculator, one: Input, given: Mapping[str, str], here: Evaluation) -> list[_Row]:
    """Return the rows for values about the one given; a value that the calculator refuses has no row."""
    parsed_input = here.inputs[one.key]
    shown = float(parsed_input.typed.replace("−", "-")) if _is_plain(parsed_input.typed) else 0.0
    if not shown:
        return []
    rows = []
    for value in values_about(shown, _step(one, parsed_input.chosen)):
        typed = f"{value:.12g}"
        text = f"{typed} {parsed_input.chosen}" if parsed_input.chosen not in ("", "1") else typed
        try:
            found = evaluate(calculator, {**given, one.key: text})
            rows.append(_Row(typed, found, here, math.isclose(value, shown)))
        except InputFaultsError:
            continue
    return rows


def _is_plain(typed: str) -> bool:
    try:
        return math.isfinite(float(typed.replace("−", "-")))
    except ValueError:
        return False


def _step(one: Input, chosen: str) -> float | None:
    """Return the step that an input is declared with, in the unit chosen; None for a round share of its value."""
    if not one.tabulate:
        return None
    number, _, symbol = one.tabulate.partition(" ")
    declared, wanted = find_unit(one.unit, symbol), find_unit(one.unit, chosen)
    return wanted.shown(declared.inside(float(number))) if declared and wanted and not wanted.reciprocal else None


def values_about(given: float, step: float | None = None) -> list[float]:
    """Return round values near the given one, which is among them.

    >>> values_about(0.8)
    [0.5, 0.6, 0.7, 0.8, 0.9, 1.0, 1.1, 1.2]
    """
    size = abs(given)
    step = step or _round_step(size / 8.0)
    first = step * max(1, round(size / step) - ROWS // 2 + 1)
    values = [float(f"{first + i * step:.9g}") for i in range(ROWS)]
    if not any(math.isclose(value, size) for value in values):
        values = sorted([*values, size])
    return [math.copysign(value, given) for value in values]


def _round_step(rough: float) -> float:
    power = 10.0 ** math.floor(math.log10(rough) + 1e-9)
    return next(times for times in (5.0, 2.0, 1.0) if times * power <= rough * (1.0 + 1e-9)) * power


def _moved(calculator: Calculator, rows: list[_Row]) -> list[Output]:
    return [one for one in calculator.outputs if len({_cell(row, one, with_unit=True) for row in rows}) > 1]


def _that_fit(columns: list[Output], rows: list[_Row]) -> list[Output]:
    """Return as many of the first columns as the sheet has room for."""
    kept: list[Output] = []
    room = WIDTH
    for one in columns:
        room -= 4 + max(8, *(len(_cell(row, one)) for row in rows))
        if room < 0 and kept:
            break
        kept.append(one)
    return kept


def _cell(row: _Row, one: Output, *, with_unit: bool = False) -> str:
    found = row.evaluation.outputs[one.key]
    if found.value is None:
        return "–"
    if not isinstance(found.value, float):
        return found.text
    text = text_of(row.evaluation, one, found.value, row.given.outputs[one.key].digits)
    return text if with_unit else text.removesuffix(gap(found.chosen) + printed_unit(found.chosen))


def _table(one: Input, rows: list[_Row], columns: list[Output]) -> str:
    chosen = rows[0].evaluation.inputs[one.key].chosen
    name = name_of(one, chosen)
    heads = [_head(name.symbol, name.meaning, chosen)]
    heads += [_head(out.symbol, out.meaning, _unit_of(rows, out)) for out in columns]
    places = max(_places(row.typed) for row in rows)
    body = "".join(_row(row, columns, places) for row in rows)
    return (
        f'<table class="ruled range"><caption>Other values of {escape(name.meaning)}, all else as given'
        f"</caption><thead><tr>{''.join(heads)}</tr></thead><tbody>{body}</tbody></table>"
    )


def _row(row: _Row, columns: list[Output], places: int) -> str:
    first = format_number(float(row.typed), _digits(row.typed, places))
    cells = "".join(f"<td>{escape(_cell(row, out))}</td>" for out in columns)
    return f'<tr{" class=here" if row.here else ""}><th scope="row">{first}</th>{cells}</tr>'


def _places(typed: str) -> int:
    """Return how many decimal places a number has as typed."""
    return 0 if "e" in typed else len(typed.partition(".")[2])


def _digits(typed: str, places: int) -> int:
    """Return how many significant digits give a number so many decimal places."""
    if "e" in typed:
        return len(typed.partition("e")[0].strip("-").replace(".", ""))
    whole, _, below = typed.strip("-").partition(".")
    leading = len(below) - len(below.lstrip("0"))
    return max(1, len(whole) + places if int(whole) else places - leading)


def _unit_of(rows: list[_Row], one: Output) -> str:
    return next((found.chosen for row in rows if (found := row.evaluation.outputs[one.key]).value is not None), "")


def _head(symbol: str, meaning: str, unit: str) -> str:
    name = f"<math>{rendered_symbol(symbol, MathmlScript())}</math>" if symbol else escape(meaning)
    return f'<th scope="col">{name}{over_unit(printed_unit(unit))}</th>'
