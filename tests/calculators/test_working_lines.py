"""What stands on paper follows from what stands beside it: every printed line of working, recomputed from its text.

The lines are read as a student with a pocket calculator reads them: only the printed digits count.
"""

import itertools
import math
import random
import re
from collections.abc import Iterator

import pytest

from crankpin.calculator.declaration import Calculator, Choice, Input
from crankpin.calculator.entries import read_entry
from crankpin.calculator.evaluate import Evaluation, evaluate
from crankpin.calculator.faults import InputFaultsError
from crankpin.calculator.rendering import TextScript
from crankpin.calculator.rounding import terms_of
from crankpin.calculator.units import DIMENSIONS, find_unit, printed_unit
from crankpin.calculator.working import WorkedLine, working
from tests.calculators.test_all import CATALOGUE, TRIALS, drawn_inputs

UNITS = sorted({printed_unit(unit) for units in DIMENSIONS.values() for unit in (*units, "s/min")} - {""}, key=len)
UNIT = re.compile(r"(?<=[0-9⁰¹²³⁴⁵⁶⁷⁸⁹]) ?(" + "|".join(map(re.escape, reversed(UNITS))) + r")(?![\w/²⁻])")
POWER = re.compile(r"×10([⁻⁰¹²³⁴⁵⁶⁷⁸⁹]+)")
LOWERED = str.maketrans("⁰¹²³⁴⁵⁶⁷⁸⁹⁻", "0123456789-")
SCOPE = {
    "sin2": lambda x: math.sin(x) ** 2,
    "cos2": lambda x: math.cos(x) ** 2,
    **{name: getattr(math, name) for name in ("sin", "cos", "tan", "exp", "sqrt", "pi")},
    "arctan": math.atan,
    "arcsin": math.asin,
    "arccos": math.acos,
    "ln": math.log,
    "abs": abs,
}


def as_code(text: str) -> str:
    """Turn a printed right side into Python: units off, powers of ten and signs as a keyboard has them."""
    text = UNIT.sub("", text.replace("\u00a0", " "))
    text = POWER.sub(lambda found: "e" + found[1].translate(LOWERED), text).replace("\u202f", "")
    text = re.sub(r"\|([^|]+)\|", r"abs(\1)", text)
    for sign, plain in {"−": "-", "×": "*", "sin²": "sin2", "cos²": "cos2", "²": "**2", "^": "**"}.items():
        text = text.replace(sign, plain)
    text = text.replace("π", "pi").replace("√", "sqrt")
    return re.sub(r"(?<=[\w)]) (?=[\w(])", " * ", text)


def value_of(text: str) -> float:
    return float(eval(as_code(text), {"__builtins__": {}}, SCOPE))


def is_printed_as(value: float, text: str, measure: str) -> bool:
    """Return whether a value in the measure's own unit rounds to what is printed, half a unit of the last digit off."""
    entry = read_entry(text)
    assert entry is not None, text
    unit = find_unit(measure, entry.unit or measure)
    assert unit is not None, text
    number, _, power = entry.digits.partition("e")
    last = 10.0 ** (int(power or 0) - len(number.partition(".")[2]) + filling_zeros(number))
    return abs(unit.shown(value) - entry.number) <= 0.5 * last * (1.0 + 1e-6) + 1e-12 * abs(entry.number)


def filling_zeros(number: str) -> int:
    """Return how many zeros of a whole number only fill its places: those behind its first three digits."""
    digits = number.lstrip("-")
    return 0 if "." in digits else min(len(digits) - len(digits.rstrip("0")), max(0, len(digits) - 3))


def drawn(calculator: Calculator, seed: int) -> dict[str, str]:
    """Draw what a student may type: four digits, in any of the units offered."""
    dice = random.Random(seed)
    given = {}
    for key, value in drawn_inputs(calculator, seed, bench=True).items():
        one = calculator.input(key)
        if isinstance(one, Choice):
            given[key] = str(value)
        elif isinstance(one, Input):
            unit = find_unit(one.unit, dice.choice((one.unit, *one.also)))
            assert unit is not None
            if not (unit.reciprocal and value == 0.0):
                text = f"{value:.0f}" if one.whole else f"{unit.shown(float(value)):.4g}"
                given[key] = f"{text} {unit.symbol}" if unit.symbol != "1" else text
    return given


def evaluations(name: str) -> Iterator[Evaluation]:
    calculator = CATALOGUE[name]
    yield evaluate(calculator)
    for seed in range(TRIALS):
        try:
            yield evaluate(calculator, drawn(calculator, seed))
        except InputFaultsError:
            continue


def trouble(evaluation: Evaluation, line: WorkedLine) -> str:
    """Return what a student would find wrong with a line, "" for nothing."""
    if not line.symbols:
        return ""
    declared = evaluation.calculator
    one = next(each for each in (*declared.inputs, *declared.outputs) if each.key == line.key)
    chain = [line.numbers or line.symbols.partition(" = ")[2], *line.result.split(" = ")]
    scale = float(evaluation.values.get(getattr(one, "dust_of", ""), 0.0))
    for before, after in itertools.pairwise(chain):
        value = value_of(before) if before is chain[0] else inside(before, one.unit)
        nothing = read_entry(after).number == 0.0 and abs(value) < 5e-4 * abs(scale)
        if not nothing and not is_printed_as(value, after, one.unit):
            return f"{line.key}: {before} makes {value:.12g}, not {after}"
    return ""


def inside(text: str, measure: str) -> float:
    entry = read_entry(text)
    unit = find_unit(measure, entry.unit or measure)
    return float(unit.inside(entry.number))


@pytest.mark.parametrize("name", CATALOGUE)
def test_every_printed_line_gives_its_printed_result(name: str) -> None:
    for evaluation in evaluations(name):
        for line in working(evaluation, TextScript()):
            assert not trouble(evaluation, line), {key: one.text for key, one in evaluation.inputs.items()}


@pytest.mark.parametrize("name", CATALOGUE)
def test_printed_parts_add_up_to_their_printed_sum(name: str) -> None:
    """The largest number is what the others make of it: a reader who adds or subtracts them finds what is printed."""
    for evaluation in evaluations(name):
        outputs = evaluation.outputs
        for line in working(evaluation, TextScript()):
            terms = terms_of(formula(evaluation, line.key))
            if not terms or any(key not in outputs for key, _ in terms):
                continue
            signed = {line.key: -1.0, **dict(terms)}
            printed = {key: inside(outputs[key].text, outputs[key].unit) for key in signed}
            largest = max(printed, key=lambda key: abs(printed[key]))
            rest = -math.fsum(signed[key] * printed[key] for key in signed if key != largest) / signed[largest]
            assert is_printed_as(rest, outputs[largest].text, outputs[largest].unit), {
                k: outputs[k].text for k in signed
            }


def formula(evaluation: Evaluation, key: str) -> str:
    declared = next((one for one in evaluation.calculator.outputs if one.key == key), None)
    if declared is None:
        return ""
    return declared.formula if isinstance(declared.formula, str) else declared.formula(evaluation.values)
