"""The other way round: a result is given, and an input is asked.

Where the declared formulas lead from the asked input to the given result, each holding it once, they are rearranged
step by step; else the range allowed is searched and each crossing closed in on. Either way every solution is put back
into the calculator's own function before it counts.
"""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from fractions import Fraction
from typing import Any

from crankpin.calculator.declaration import Calculator, Input
from crankpin.calculator.evaluate import Asked, Evaluation, Solution, evaluate_parsed
from crankpin.calculator.faults import InputFault, InputFaultsError
from crankpin.calculator.numbers import format_number, trimmed_quantity
from crankpin.calculator.parsing import Given, ParsedInput, number_for_field
from crankpin.calculator.question import Question, in_order, read_question, targets
from crankpin.calculator.rearranging import by_formulas
from crankpin.calculator.searching import Scanned, by_search, is_constant, level_places, moved_by, sample, scan
from crankpin.calculator.units import DIMENSIONS, find_unit, gap, printed_unit

#: So many solutions are listed; of more it is said how they go on.
MOST = 24
_DIGITS = 4


def evaluate_asked(calculator: Calculator, given: Mapping[str, Given], key: str) -> Evaluation:
    """Evaluate a calculator with the input ``key`` asked and one of its results among what is given.

    Of the asked input itself only the unit counts, in which the answer is written. The evaluation is that of the first
    solution; ``asked`` holds all of them. Raises `InputFaultsError`, also where nothing gives the wanted result, and
    then says which results can be reached.
    """
    question = read_question(calculator, given, key)
    if is_constant(sample(question)) and is_constant(scanned := scan(question)):
        raise InputFaultsError([_none(question, scanned)])
    outcome = by_formulas(question)
    if not outcome or not outcome.found:
        scanned = scan(question)
        if level := level_places(question, scanned):
            raise InputFaultsError([_level(question, level)])
        outcome = by_search(question, scanned)
    if not outcome.found:
        raise InputFaultsError([_none(question, scanned)])
    values = in_order(question, outcome.found)
    evaluation = evaluate_parsed(calculator, {**question.parsed, key: _as_parsed(question, values[0])})
    solutions = tuple(_solution(question, value) for value in values[:MOST])
    method = outcome.method
    if len(values) > MOST:
        method += f" {len(values)} were found; {MOST} of them are listed."
    target, steps = question.target.key, outcome.found[values[0]]
    return replace(evaluation, asked=Asked(key, target, question.wanted, solutions, steps, method, outcome.repeat))


def found_from(evaluation: Evaluation, key: str) -> list[str]:
    """Return the results that may be given when the input ``key`` is asked: those that hang on it."""
    calculator = evaluation.calculator
    asked = calculator.input(key)
    if key not in calculator.askable or not isinstance(asked, Input):
        return []
    parsed = evaluation.inputs
    there = [one for one in targets(calculator) if evaluation.outputs[one.key].value is not None]
    questions = [Question(calculator, asked, one, parsed[key], parsed, asked.unit) for one in there]
    return [question.target.key for question in questions if moved_by(question)]


def _none(question: Question, scanned: Scanned) -> InputFault:
    """Say why no value of the asked input gives the wanted result, and which results can be reached."""
    asked, target = question.name(question.asked), question.name(question.target)
    reached = [value for _, value in scanned if value is not None]
    if not reached:
        message = f"{target} does not exist for any {asked} with the other numbers as given."
        return InputFault(question.target.key, question.wanted.text, "", message)
    unit = question.wanted.chosen
    low, high = (trimmed_quantity(end, question.target.unit, unit) for end in _ordered(question, reached))
    if is_constant(scanned):
        message = f"{target} does not depend on {asked}: it is {low} whatever {asked} is. Ask for another quantity."
        return InputFault(question.target.key, question.wanted.text, low, message)
    ends = [trimmed_quantity(end, question.asked.unit, question.chosen) for end in question.ends]
    message = (
        f"No {asked} from {ends[0]} to {ends[1]} gives {target} = {question.wanted.text} with the other numbers as "
        f"given; {target} can be from {low} to {high}."
    )
    return InputFault(question.target.key, question.wanted.text, f"from {low} to {high}", message)


def _level(question: Question, places: Sequence[float]) -> InputFault:
    """Say that the given result does not tell values of the asked input apart."""
    asked, target = question.name(question.asked), question.name(question.target)
    low, high = (trimmed_quantity(end, question.asked.unit, question.chosen) for end in (min(places), max(places)))
    message = (
        f"{target} = {question.wanted.text} does not tell the values of {asked} apart: all from {low} to {high} "
        "give it to within a billionth."
    )
    return InputFault(question.target.key, question.wanted.text, "", message)


def _ordered(question: Question, reached: Sequence[float]) -> tuple[float, float]:
    unit = find_unit(question.target.unit, question.wanted.chosen)
    low, high = min(reached), max(reached)
    return (high, low) if unit and unit.reciprocal else (low, high)


def _solution(question: Question, value: float) -> Solution:
    parsed_input = _as_parsed(question, value)
    return Solution(value, parsed_input.unit, parsed_input.chosen, parsed_input.typed, parsed_input.text)


def _as_parsed(question: Question, value: float) -> ParsedInput:
    """Return a solution as if it had been typed with all its digits."""
    asked = question.asked
    unit = find_unit(asked.unit, question.chosen)
    if unit is None or (unit.reciprocal and value == 0.0):
        unit = DIMENSIONS[asked.unit][asked.unit]
    text = format_number(unit.shown(value), _DIGITS) + gap(unit.symbol) + printed_unit(unit.symbol)
    typed = number_for_field(value, asked.unit, unit.symbol).removesuffix(".0")
    inside: Any = Fraction(value) if asked.exact else value
    return ParsedInput(asked.key, inside, asked.unit, unit.symbol, typed, text)
