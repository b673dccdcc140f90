"""Asking a calculator in a terminal: what was given, what was found, and the working."""

from collections.abc import Iterator
from difflib import get_close_matches
from pathlib import Path
from typing import Any

from crankpin.calculator.catalogue import load_one, names_in
from crankpin.calculator.declaration import Calculator, Input, Table
from crankpin.calculator.evaluate import FIND, Asked, Evaluation, evaluate
from crankpin.calculator.faults import DeclarationFaultsError, InputFaultsError
from crankpin.calculator.naming import QuantityName, name_of
from crankpin.calculator.rendering import TextScript
from crankpin.calculator.serialise import result
from crankpin.calculator.symbols import read_symbol
from crankpin.calculator.working import working

#: The ready-made calculators, as they travel inside an installed package.
PACKAGED = Path(__file__).parent / "ready_made"


_UTF_16 = (b"\xff\xfe", b"\xfe\xff")


class AskError(ValueError):
    """Something asked for that can not be answered; the message is the whole story."""


def find_calculators(start: Path) -> Path:
    """Return the folder ``calculators`` of the course that ``start`` lies in, else the harbour course's."""
    for folder in (start, *start.parents):
        if any((folder / "calculators").glob("*.py")):
            return folder / "calculators"
    return PACKAGED


def ask(
    name: str,
    settings: tuple[str, ...],
    table: Path | None,
    folder: Path,
    *,
    columns: str = "",
    find: str | None = None,
    table_option: str = "--table",
) -> Evaluation:
    """Evaluate the calculator called ``name`` with settings such as ``A=12cm``. Raises `AskError`.

    ``columns`` chooses columns of the table, as in ``1,3``; ``find`` names the input that is asked, and one of the
    settings is then a result. ``table_option`` is what the command calls the file of rows.
    """
    calculator = _calculator(name, folder)
    given = dict(map(_setting, settings))
    if find is not None:
        if find in given:
            raise AskError(f"--find {find}: {find} is given by --set as well; leave one of the two out.")
        given[FIND] = find
    if table is not None:
        key = next((one.key for one in calculator.inputs if isinstance(one, Table)), None)
        if key is None:
            raise AskError(f"{table_option}: {name} takes no table; its inputs are {_keys(calculator)}.")
        given[key] = (f"columns: {columns}\n" if columns else "") + _text_of(table, table_option)
    try:
        return evaluate(calculator, given)
    except InputFaultsError as error:
        raise AskError("\n".join(fault.message for fault in error.faults)) from None


def _calculator(name: str, folder: Path) -> Calculator:
    try:
        return load_one(folder, name)
    except KeyError:
        names = names_in(folder)
        near = get_close_matches(name, names, 1)
        hint = f"did you mean {near[0]}? There are" if near else "there are"
        raise AskError(f"There is no calculator called {name!r}; {hint} {', '.join(names)}.") from None
    except DeclarationFaultsError as error:
        raise AskError(str(error)) from None


def _setting(text: str) -> tuple[str, str]:
    key, sign, value = text.partition("=")
    if not sign or not key.strip():
        raise AskError(f"--set {text!r}: write a key, = and a value, for example --set A=12cm.")
    return key.strip(), value.strip()


def _text_of(file: Path, option: str) -> str:
    try:
        found = file.read_bytes()
    except OSError as error:
        raise AskError(f"{option} {file.name}: it can not be read ({error.strerror}).") from None
    if b"\0" in found and not found.startswith(_UTF_16):
        raise AskError(f"{option} {file.name}: this is not a text file; save the table as CSV.")
    for encoding in ("utf-16",) if found.startswith(_UTF_16) else ("utf-8-sig", "cp1252"):
        try:
            return found.decode(encoding)
        except UnicodeDecodeError:
            continue
    raise AskError(f"{option} {file.name}: its letters can not be read; save it as UTF-8.")


def _keys(calculator: Calculator) -> str:
    return ", ".join(one.key for one in calculator.inputs)


def as_data(name: str, evaluation: Evaluation) -> dict[str, Any]:
    """Return the evaluation in the form of ``--json``."""
    return result(name, evaluation)


def notes(evaluation: Evaluation) -> list[str]:
    """Return what was understood of inputs that left something out, a sentence each."""
    return [f"{one.key}: {one.note}." for one in evaluation.inputs.values() if one.note]


def as_text(evaluation: Evaluation) -> str:
    """Return the evaluation as a readable table with the working below."""
    return "\n".join(_lines(evaluation))


def _lines(evaluation: Evaluation) -> Iterator[str]:
    calculator = evaluation.calculator
    yield calculator.title
    yield ""
    asked = evaluation.asked
    yield "Given"
    if asked:
        target = calculator.output(asked.target)
        yield _row(target.key, target.symbol, asked.wanted.text, target.meaning)
    for one in calculator.inputs:
        if asked and one.key == asked.key:
            continue
        parsed_input = evaluation.inputs[one.key]
        name = name_of(one, parsed_input.chosen) if isinstance(one, Input) else QuantityName("", one.meaning)
        yield _row(one.key, name.symbol, parsed_input.text, name.meaning)
    yield "Found"
    if asked:
        yield from _solutions(calculator, asked)
    for found in calculator.outputs:
        outcome = evaluation.outputs[found.key]
        text = outcome.text if outcome.value is not None else "does not exist"
        yield _row(found.key, found.symbol, text, outcome.reason or found.meaning)
    yield from _uncertainties(evaluation)
    yield "Working"
    for line in working(evaluation, TextScript()):
        parts = [part for part in (line.symbols, line.numbers, line.result) if part]
        if line.symbols:
            yield "  " + " = ".join(parts)
        elif asked and line.key == asked.key:
            yield f"  {line.result}"
        if line.method:
            yield f"  {line.key}: {line.method}"
    for caution in evaluation.cautions:
        yield f"Caution: {caution}"


def _solutions(calculator: Calculator, asked: Asked) -> Iterator[str]:
    """Yield a line for every value of the asked input; all other results are those of the first."""
    one = calculator.input(asked.key)
    for solution in asked.solutions:
        name = name_of(one, solution.chosen) if isinstance(one, Input) else QuantityName("", one.meaning)
        yield _row(one.key, name.symbol, solution.text, name.meaning)


def _uncertainties(evaluation: Evaluation) -> Iterator[str]:
    """Say what each uncertain input contributes to the square of each result's standard uncertainty."""
    found = {key: one.uncertainty for key, one in evaluation.outputs.items() if one.uncertainty}
    if found:
        yield "Standard uncertainty (the digits in brackets), and how much of its square comes from which input"
    for key, one in found.items():
        shares = (f"{given} {100.0 * one.share(given):.0f} %" for given in one.parts)
        yield f"  {key:<10} {', '.join(shares)}"


def _row(key: str, tex: str, text: str, meaning: str) -> str:
    symbol = read_symbol(tex) if tex else None
    shown = symbol.text() if symbol and symbol.text() != key else ""
    return f"  {key:<10} {shown:<8} {text:<22} {meaning}"
