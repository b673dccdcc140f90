"""What is asked of a calculator the other way round: an input, with a result given in its place."""

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from crankpin.calculator.curves import shown_unit
from crankpin.calculator.declaration import Calculator, Input, Output
from crankpin.calculator.evaluate import Step
from crankpin.calculator.faults import InputFault, InputFaultsError
from crankpin.calculator.parsing import Given, ParsedInput, parse_input, parse_inputs, quantity_of
from crankpin.calculator.symbols import read_symbol
from crankpin.calculator.units import DIMENSIONS, printed_unit

TOLERANCE = 1e-9


@dataclass(frozen=True)
class Outcome:
    """What a way of answering found: every solution with the steps that lead to it, and how in words.

    ``repeat`` is how far apart the solutions come again without end, 0 where they do not.
    """

    found: Mapping[float, tuple[Step, ...]]
    method: str
    repeat: float = 0.0


@dataclass(frozen=True)
class Question:
    """What is asked of a calculator, with everything that is known."""

    calculator: Calculator
    asked: Input
    target: Output
    wanted: ParsedInput
    parsed: Mapping[str, ParsedInput]
    chosen: str

    @property
    def ends(self) -> tuple[float, float]:
        """Return the least and the greatest value allowed."""
        low, high = (quantity_of(end, self.asked.unit) for end in (self.asked.lowest, self.asked.highest))
        return min(low, high), max(low, high)

    @property
    def bench(self) -> tuple[float, float]:
        """Return the ends of the slider: what a bench has."""
        low, high = (quantity_of(end, self.asked.unit) for end in self.asked.slider)
        return min(low, high), max(low, high)

    def results_at(self, value: float) -> dict[str, Any] | None:
        """Return the function's results for a value of the asked input, None where it refuses it."""
        given = {key: parsed_input.value for key, parsed_input in self.parsed.items()}
        given[self.asked.key] = Fraction(value) if self.asked.exact else value
        try:
            return dict(self.calculator.function(**given))
        except (ValueError, ArithmeticError):
            return None

    def result_at(self, value: float) -> float | None:
        """Return the given result for a value of the asked input, None where there is none."""
        found = (self.results_at(value) or {}).get(self.target.key)
        if not isinstance(found, (int, float)) or not math.isfinite(found):
            return None
        return float(found)

    def name(self, one: Input | Output) -> str:
        """Return a quantity's symbol as text."""
        symbol = read_symbol(one.symbol)
        return symbol.text() if symbol else one.key


def targets(calculator: Calculator) -> tuple[Output, ...]:
    """Return the results that may be given in place of an input: every one that is a number."""
    return tuple(one for one in calculator.outputs if one.unit and not one.whole)


def read_question(calculator: Calculator, given: Mapping[str, Given], key: str) -> Question:
    """Return the question in what is given: ``key`` is asked, and exactly one key is that of a result.

    Raises `InputFaultsError` with everything that can not be used.
    """
    asked = next((one for one in calculator.inputs if one.key == key), None)
    if key not in calculator.askable or not isinstance(asked, Input):
        can = ", ".join(calculator.askable) or "none"
        raise _refused(key, f"{key} can not be asked for here; these inputs can be: {can}.")
    outputs = {one.key: one for one in targets(calculator)}
    named = [one for one in given if one in outputs]
    if len(named) != 1:
        many = f"{len(named)} results are given ({', '.join(named)})" if named else "no result is given"
        raise _refused(
            key, f"To find {key}, give one result: {many}. The results of this calculator: {', '.join(outputs)}."
        )
    target = outputs[named[0]]
    inputs = {one: text for one, text in given.items() if one not in (target.key, key)}
    parsed, faults = parse_inputs(calculator, inputs)
    chosen = parsed[key].chosen if key in parsed else asked.unit
    unit_given = _parsed_or_none(asked, given.get(key))
    chosen = unit_given.chosen if unit_given else chosen
    wanted = _wanted(target, given[target.key], parsed)
    if isinstance(wanted, InputFault):
        faults = [*faults, wanted]
    if faults or isinstance(wanted, InputFault):
        raise InputFaultsError(faults)
    return Question(calculator, asked, target, wanted, parsed, chosen)


def _refused(key: str, message: str) -> InputFaultsError:
    return InputFaultsError([InputFault(key, key, "", message)])


def _parsed_or_none(asked: Input, text: Given | None) -> ParsedInput | None:
    parsed_input = parse_input(asked, text) if text else None
    return parsed_input if isinstance(parsed_input, ParsedInput) else None


def _wanted(target: Output, text: Given, parsed: Mapping[str, ParsedInput]) -> ParsedInput | InputFault:
    """Return the result that is given, read as an input of its dimension would be."""
    chosen = {key: parsed_input.chosen for key, parsed_input in parsed.items() if parsed_input.chosen}
    shown = shown_unit(target.unit, target.shown_in, chosen).symbol if isinstance(text, str) else target.unit
    example = "1" if shown == "1" else f"1 {shown}"
    tail = "" if target.unit == "1" else f" {target.unit}"
    others = tuple(unit for unit in DIMENSIONS[target.unit] if unit != target.unit)
    as_input = Input(
        key=target.key,
        symbol=target.symbol,
        meaning=target.meaning,
        unit=target.unit,
        also=others,
        default=example,
        lowest=f"-1e300{tail}",
        highest=f"1e300{tail}",
        slider=(example, example),
        step=example,
    )
    found = parse_input(as_input, text)
    if isinstance(found, ParsedInput):
        return found
    units = ", ".join(printed_unit(unit) or "no unit" for unit in (target.unit, *others))
    shown_text = f"“{text}” was given" if str(text).strip() else "nothing was given"
    return InputFault(
        target.key,
        str(text),
        units,
        f"{target.key}, {target.meaning}: {shown_text}; type one number with one of these units: {units}.",
    )


def in_order(question: Question, values: Iterable[float]) -> list[float]:
    """Return solutions, those that a bench has first, the nearest to zero before others, plus before minus."""
    low, high = question.bench
    return sorted(values, key=lambda value: (not low <= value <= high, abs(value), value < 0.0))


def keep(
    question: Question, found: dict[float, tuple[Step, ...]], value: float | None, steps: tuple[Step, ...]
) -> None:
    """Keep a solution that lies in the range and gives the wanted result."""
    if value is None or not math.isfinite(value):
        return
    low, high = question.ends
    slack = TOLERANCE * max(abs(low), abs(high) if abs(value) > 1.0 else 0.0, abs(value)) * 1e-3
    if low - slack <= value <= high + slack:
        value = min(max(value, low), high) + 0.0
        is_new = not any(math.isclose(value, other, rel_tol=1e-9, abs_tol=1e-15) for other in found)
        if is_new and gives(question, value):
            found[value] = steps


def gives(question: Question, value: float) -> bool:
    """Tell whether a value of the asked input gives the wanted result, to a billionth."""
    wanted = float(question.wanted.value)
    reached = question.result_at(value)
    if reached is None:
        return False
    size = abs(wanted)
    if question.target.dust_of:
        known = (question.results_at(value) or {}).get(question.target.dust_of)
        parsed_input = question.parsed.get(question.target.dust_of)
        known = parsed_input.value if parsed_input else known
        size = max(size, abs(float(known))) if isinstance(known, (int, float)) else size
    if abs(reached - wanted) <= TOLERANCE * size:
        return True
    step = max(abs(value) * 1e-9, 1e-15)  # steep here: the result crosses within a billionth of the input
    around = [question.result_at(value - step), question.result_at(value + step)]
    nears = [one for one in around if one is not None]
    return len(nears) == 2 and min(nears) <= wanted <= max(nears) and abs(nears[0] - nears[1]) < 1e-3 * (size or 1.0)
