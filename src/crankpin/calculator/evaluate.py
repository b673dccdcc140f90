"""One evaluation of a calculator: what was given, what was found, the working, the cautions, the picture."""

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from crankpin.calculator.curves import DrawnPicture, drawn, shown_unit
from crankpin.calculator.declaration import Calculator, Output, Table
from crankpin.calculator.faults import Absent, InputFault, InputFaultsError, RefusedError
from crankpin.calculator.formula import Node
from crankpin.calculator.numbers import (
    format_concise,
    format_number,
    format_whole,
    format_with_uncertainty,
    full_number,
    trimmed_quantity,
)
from crankpin.calculator.parsing import Given, ParsedInput, parse_inputs, uncertainty_in
from crankpin.calculator.rounding import digits_shown
from crankpin.calculator.symbols import read_symbol
from crankpin.calculator.uncertainty import Uncertainty, propagated
from crankpin.calculator.units import Unit, find_unit, gap, printed_unit
from crankpin.mechanics.errors import AbsentError, OutOfDomainError

_DUST = 1e-12
#: Among what is given, the word that names the input that is asked.
FIND = "find"


@dataclass(frozen=True, slots=True)
class Found:
    """One output: its value inside (None when absent), and how it is written.

    ``text`` has sensible digits (``digits`` of them) and the unit, ``full`` every digit; ``reason`` says why it is
    absent. ``uncertainty`` is what follows from those of the inputs, None where they are given none.
    """

    key: str
    value: float | str | None
    unit: str
    chosen: str
    text: str
    full: str
    reason: str = ""
    digits: int = 3
    uncertainty: Uncertainty | None = None


@dataclass(frozen=True, slots=True)
class Step:
    """One formula turned round: ``formula`` gives the quantity ``key``."""

    key: str
    formula: Node


@dataclass(frozen=True, slots=True)
class Solution:
    """One value of an asked input: inside, and as it would be typed and is written in the unit chosen."""

    value: float
    unit: str
    chosen: str
    typed: str
    text: str


@dataclass(frozen=True, slots=True)
class Asked:
    """An input that was asked, from a result that was given.

    ``solutions`` are those in range, first those that a bench has and the nearest to zero; ``steps`` lead from the
    result ``target`` to the first of them by rearranged formulas, and are empty where it was searched for; ``method``
    says in words how it was found.
    """

    key: str
    target: str
    wanted: ParsedInput
    solutions: tuple[Solution, ...]
    steps: tuple[Step, ...]
    method: str
    #: How far apart the solutions come again without end, 0 where they do not.
    repeat: float = 0.0


@dataclass(frozen=True)
class Evaluation:
    """Everything that follows from one set of inputs."""

    calculator: Calculator
    inputs: Mapping[str, ParsedInput]
    outputs: Mapping[str, Found]
    cautions: tuple[str, ...]
    #: How the value of one input was found, where a result was given in its place.
    asked: Asked | None = None

    @property
    def values(self) -> dict[str, Any]:
        """Return every input and every output that exists, by key (SI)."""
        known: dict[str, Any] = {key: parsed_input.value for key, parsed_input in self.inputs.items()}
        known.update({key: found.value for key, found in self.outputs.items() if found.value is not None})
        return known

    def picture(self) -> DrawnPicture | None:
        """Return the picture in the units shown, or None where the calculator has none."""
        picture = self.calculator.picture
        return drawn(picture, self.values, self.chosen) if picture else None

    @property
    def chosen(self) -> dict[str, str]:
        """Return the unit in which each input was given."""
        return {key: parsed_input.chosen for key, parsed_input in self.inputs.items() if parsed_input.chosen}


def evaluate(calculator: Calculator, given: Mapping[str, Given] | None = None) -> Evaluation:
    """Evaluate a calculator.

    ``given`` holds texts as typed (``"12 cm"``) or numbers in SI; inputs left out take their defaults. With
    ``find`` among them, that names an input that is asked from a result that is given: ``{"find": "k", "T": "0.8 s"}``.
    Raises `InputFaultsError` with every fault; never returns a value that is not finite.
    """
    given = dict(given or {})
    if FIND in given:
        from crankpin.calculator.solving import evaluate_asked  # fetched by a phone only when it is needed

        return evaluate_asked(calculator, given, str(given.pop(FIND)))
    parsed, faults = parse_inputs(calculator, given)
    if faults:
        raise InputFaultsError(faults)
    return evaluate_parsed(calculator, parsed)


def evaluate_parsed(calculator: Calculator, parsed: Mapping[str, ParsedInput]) -> Evaluation:
    """Evaluate a calculator at inputs that are parsed already. Raises `InputFaultsError`."""
    results = _results(calculator, parsed)
    chosen = {key: parsed_input.chosen for key, parsed_input in parsed.items() if parsed_input.chosen}
    known = {key: float(r.value) for key, r in parsed.items() if isinstance(r.number, float)}
    known.update({key: value for key, value in results.items() if isinstance(value, float)})
    values: dict[str, Any] = {key: parsed_input.value for key, parsed_input in parsed.items()}
    values.update({key: value for key, value in results.items() if not isinstance(value, Absent)})
    digits = _digits(calculator, values, known, chosen)
    outputs = {
        one.key: _found(one, results[one.key], known, chosen, digits.get(one.key, one.digits))
        for one in calculator.outputs
    }
    outputs |= _with_uncertainties(calculator, parsed, outputs)
    cautions = tuple(one.text for one in calculator.cautions if one.when is None or one.when(values))
    return Evaluation(calculator, parsed, outputs, cautions + rough_uncertainties(calculator, outputs))


def _results(calculator: Calculator, parsed: Mapping[str, ParsedInput]) -> dict[str, Any]:
    """Call the calculator's function; every error becomes a fault that a student can act on."""
    try:
        results = dict(calculator.function(**{key: parsed_input.value for key, parsed_input in parsed.items()}))
    except RefusedError as error:
        raise _fault(calculator, parsed, error.key, error.allowed + _ends(parsed[error.key], error)) from None
    except OutOfDomainError as error:
        key = next((one.key for one in calculator.inputs if getattr(one, "parameter", "") == error.quantity), "")
        raise _fault(calculator, parsed, key, error.required, error.quantity.replace("_", " ")) from None
    except AbsentError as error:
        raise InputFaultsError([InputFault("", "", "", error.reason)]) from None
    except ArithmeticError:
        raise InputFaultsError([InputFault("", "", "", _TOO_FAR)]) from None
    for key, value in results.items():
        if isinstance(value, (int, float)):
            results[key] = float(value)
            if not math.isfinite(value):
                raise InputFaultsError([InputFault("", "", "", _TOO_FAR)])
    return results


def _with_uncertainties(
    calculator: Calculator, parsed: Mapping[str, ParsedInput], outputs: Mapping[str, Found]
) -> dict[str, Found]:
    """Return the outputs that have an uncertainty from those of the inputs, rounded together with it."""
    given = {key: one.uncertainty for key, one in parsed.items() if one.uncertainty}
    if not given:
        return {}
    values = {key: float(one.value) for key, one in parsed.items() if key in given}

    def model(at: Mapping[str, float]) -> dict[str, float] | None:
        try:
            changed = {key: replace(one, value=at[key]) if key in at else one for key, one in parsed.items()}
            return {key: value for key, value in _results(calculator, changed).items() if isinstance(value, float)}
        except InputFaultsError:
            return None

    sizes = propagated(model, values, given)
    return {
        key: _uncertain(one, outputs[key], sizes[key])
        for one in calculator.outputs
        if (key := one.key) in sizes and not one.whole and not one.uncertainty
    }


def _uncertain(one: Output, found: Found, uncertainty: Uncertainty) -> Found:
    unit = find_unit(one.unit, found.chosen)
    if unit is None or not isinstance(found.value, float) or not uncertainty.size:
        return replace(found, uncertainty=uncertainty)
    size = uncertainty_in(unit, found.value, uncertainty.size)
    text = format_concise(unit.shown(found.value), size) + gap(unit.symbol) + printed_unit(unit.symbol)
    return replace(found, text=text, uncertainty=uncertainty)


def rough_uncertainties(calculator: Calculator, outputs: Mapping[str, Found]) -> tuple[str, ...]:
    """Return what is said of uncertainties for which first order is not good enough."""
    said = []
    for one in calculator.outputs:
        found = outputs[one.key]
        if found.uncertainty is None or found.uncertainty.is_good_enough:
            continue
        symbol = read_symbol(one.symbol)
        name = f"{one.meaning}, {symbol.text()}" if symbol else one.meaning
        second = found.uncertainty.second
        if second is None:
            told = "within it an input leaves the range allowed"
        else:
            unit = find_unit(one.unit, found.chosen) or find_unit(one.unit, one.unit)
            assert unit
            shown = format_number(uncertainty_in(unit, float(found.value or 0.0), second), 2)
            told = f"with the curvature it is nearer {shown}{gap(unit.symbol)}{printed_unit(unit.symbol)}"
        said.append(f"The uncertainty of the {name} is a rough one: {told}.")
    return tuple(said)


def _fault(
    calculator: Calculator, parsed: Mapping[str, ParsedInput], key: str, allowed: str, name: str = ""
) -> InputFaultsError:
    """Return the fault of one input that does not go with the others."""
    parsed_input = parsed.get(key)
    if parsed_input is None:
        return InputFaultsError([InputFault("", "", allowed, f"The {name} must be {allowed}.")])
    one = calculator.input(key)
    if isinstance(one, Table):
        return InputFaultsError([InputFault(key, parsed_input.text, allowed, f"{key}: {allowed}.")])
    message = f"{key}, {one.meaning}: {parsed_input.text} was given; it must be {allowed}."
    return InputFaultsError([InputFault(key, parsed_input.text, allowed, message)])


def _ends(parsed_input: ParsedInput, error: RefusedError) -> str:
    """Return the refused input's bounds in the unit in which it was given."""
    low, high, above = (
        None if end is None else trimmed_quantity(end, parsed_input.unit, parsed_input.chosen)
        for end in (error.lowest, error.highest, error.above)
    )
    if above:
        return f", more than {above}"
    if low and high:
        return f", from {low} to {high}"
    return f", at least {low}" if low else f", at most {high}" if high else ""


_TOO_FAR = (
    "These numbers together give a result too large or too small to compute; bring one of them nearer to the others."
)


def formula_of(one: Output, values: Mapping[str, object]) -> str:
    """Return the formula that holds for these values, "" where there is none."""
    return one.formula if isinstance(one.formula, str) else one.formula(values)


def _digits(
    calculator: Calculator, values: Mapping[str, Any], known: Mapping[str, float], chosen: Mapping[str, str]
) -> dict[str, int]:
    there = [one for one in calculator.outputs if one.unit and isinstance(values.get(one.key), float)]
    shown = {one.key: _shown(one, values[one.key], known, chosen) for one in there}
    return digits_shown(calculator, {one.key: formula_of(one, values) for one in there}, shown)


def _shown(one: Output, value: float, known: Mapping[str, float], chosen: Mapping[str, str]) -> tuple[float, Unit]:
    """Return the number to write and its unit; what is only the dust of a larger number counts as zero."""
    unit = shown_unit(one.unit, one.shown_in, chosen)
    dust = abs(value) < _DUST * abs(known.get(one.dust_of, 0.0))
    return (0.0 if dust else unit.shown(value)), unit


def _written(one: Output, number: float, known: Mapping[str, float], unit: Unit, digits: int) -> str:
    if one.whole:
        return format_whole(number)
    uncertainty = abs(unit.shown(known.get(one.uncertainty, 0.0)))
    return format_with_uncertainty(number, uncertainty) if uncertainty else format_number(number, digits)


def _found(one: Output, value: Any, known: Mapping[str, float], chosen: Mapping[str, str], digits: int) -> Found:
    if isinstance(value, Absent):
        return Found(one.key, None, one.unit, "", "", "", value.reason)
    if not isinstance(value, float):
        return Found(one.key, str(value), one.unit, "", str(value), str(value))
    number, unit = _shown(one, value, known, chosen)
    tail = gap(unit.symbol) + printed_unit(unit.symbol)
    text = _written(one, number, known, unit, digits) + tail
    return Found(one.key, value, one.unit, unit.symbol, text, full_number(unit.shown(value)) + tail, digits=digits)


def text_of(evaluation: Evaluation, one: Output, value: float, digits: int | None = None) -> str:
    """Return how another value of this output would be written beside the one that was found, or with other digits."""
    known = {key: value for key, value in evaluation.values.items() if isinstance(value, float)}
    here = evaluation.outputs[one.key]
    found = _found(one, value, known, evaluation.chosen, digits or here.digits)
    return (_uncertain(one, found, here.uncertainty) if here.uncertainty else found).text
