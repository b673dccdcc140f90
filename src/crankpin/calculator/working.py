"""The worked lines of an evaluation: the formula, the numbers put in, the result.

Every line can be followed with a pocket calculator: its numbers have as many digits as it takes for them to give the
printed result, to its last digit.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from crankpin.calculator.declaration import Input, Output
from crankpin.calculator.entries import read_entry
from crankpin.calculator.evaluate import Asked, Evaluation, Found, Step, formula_of, text_of
from crankpin.calculator.formula import Name, Node, compute, names, read_formula
from crankpin.calculator.naming import RECKONED, form_of, name_of
from crankpin.calculator.numbers import GROUP, MINUS, format_number, rounded, trimmed_number
from crankpin.calculator.parsing import ParsedInput
from crankpin.calculator.rendering import MathmlScript, Put, Script, TexScript, WordsScript, write
from crankpin.calculator.symbols import read_symbol
from crankpin.calculator.units import Unit, find_unit, gap, printed_unit

_DIGITS_PUT_IN = 4
_MOST_DIGITS = 12
#: A number that ends within so many digits is put in whole.
_DIGITS_KEPT = 6
#: A result that is zero but for rounding is reproduced where the numbers put in give so little of its scale.
_NEXT_TO_NOTHING = 5e-4

_AS_GIVEN = "As given."


@dataclass(frozen=True, slots=True)
class WorkedLine:
    """The working of one output, or the step from an input as it was typed to the quantity in the formulas.

    ``symbols``, ``numbers`` and ``result`` are equations or their right sides in one script; ``symbols``
    and ``numbers`` are "" where there is no formula, and ``method`` then says how it is found.
    """

    key: str
    symbols: str
    numbers: str
    result: str
    method: str


def working(evaluation: Evaluation, script: Script | None = None) -> list[WorkedLine]:
    """Return the worked lines of every output that exists, in MathML unless another script is given.

    Before them stands the step from each rate that was typed as a period, a frequency or turns per minute.
    """
    script = script or MathmlScript()
    there = [one for one in evaluation.calculator.outputs if evaluation.outputs[one.key].value is not None]
    if evaluation.asked:
        return [*_asked_working(evaluation.asked, evaluation, there, script)]
    return [*_steps(evaluation, there, script), *(_line(one, evaluation, script) for one in there)]


def _line(one: Output, evaluation: Evaluation, script: Script) -> WorkedLine:
    found = evaluation.outputs[one.key]
    left = rendered_symbol(one.symbol, script) if one.symbol else one.meaning
    again = evaluation.calculator.input(one.form_of) if one.form_of else None
    if isinstance(again, Input) and again.unit == one.unit and _step_formula(again, evaluation):
        return _step(again, one.key, evaluation, script, _digits_needed_of({one.key, again.key}, evaluation))
    if _is_as_given(one, evaluation):
        return WorkedLine(one.key, "", "", script.equals(left, _quantity(found.text, script)), _AS_GIVEN)
    text = formula_of(one, evaluation.values)
    if not text or not one.symbol:
        result = _quantity(found.text, script)
        return WorkedLine(one.key, "", "", script.equals(left, result) if one.symbol else "", one.method)
    tree = read_formula(text)
    between = _before_conversion(one, evaluation)
    symbols = write(tree, script, _symbol_table(evaluation, script))
    numbers = ""
    if names(tree):
        digits = _digits_put_in(one, tree, evaluation, between)
        numbers = write(tree, script, _number_table(evaluation, script, names(tree), digits))
    result = _quantity(found.text, script)
    if between:
        result = script.equals(_quantity(between, script), result)
    return WorkedLine(one.key, script.equals(left, symbols), numbers, result, one.method)


# An input that was asked


def _asked_working(asked: Asked, evaluation: Evaluation, there: list[Output], script: Script) -> Iterator[WorkedLine]:
    """Yield the way from the result that was given to the input that was asked, then all that follows."""
    turned = {asked.target, *(step.key for step in asked.steps)} if asked.steps else set()
    used = set().union(*(names(step.formula) for step in asked.steps)) - turned
    yield from (line for line in _steps(evaluation, there, script) if line.key != asked.key)
    yield from (_line(one, evaluation, script) for one in there if one.key in used)
    if asked.steps:
        yield from _turned(asked, evaluation, script)
        if _is_another_quantity(asked.key, evaluation):
            yield WorkedLine(asked.key, "", "", _asked_result(asked.key, evaluation, script), "")
    else:
        yield WorkedLine(asked.key, "", "", _asked_result(asked.key, evaluation, script), asked.method)
    yield from (_line(one, evaluation, script) for one in there if one.key not in used | turned)


def _is_another_quantity(key: str, evaluation: Evaluation) -> bool:
    """Tell whether the unit chosen for an input is that of another quantity, such as a period for a rate."""
    one = evaluation.calculator.input(key)
    return isinstance(one, Input) and name_of(one, evaluation.inputs[key].chosen).symbol != one.symbol


def _asked_result(key: str, evaluation: Evaluation, script: Script) -> str:
    """Return the equation of an asked input and its value, under the symbol of the unit chosen."""
    one, parsed_input = evaluation.calculator.input(key), evaluation.inputs[key]
    symbol = name_of(one, parsed_input.chosen).symbol if isinstance(one, Input) else key
    return script.equals(rendered_symbol(symbol, script), _quantity(parsed_input.text, script))


def _turned(asked: Asked, evaluation: Evaluation, script: Script) -> Iterator[WorkedLine]:
    """Yield each formula turned round: with symbols, with the numbers put in, and what it gives.

    Each result has the digits with which the next formula takes it up; a step that only gives a quantity another name
    is left out.
    """
    steps = [step for step in asked.steps if not isinstance(step.formula, Name)] or [asked.steps[-1]]
    digits, results = _DIGITS_PUT_IN, list[tuple[Step, int, str]]()
    for step in reversed(steps):
        unit = _declared(step.key, evaluation).unit
        result = _put_in(_number(evaluation, step.key), unit, digits)
        digits = _digits_to_reach(step.formula, evaluation, unit, result)
        results.append((step, digits, result))
    for step, digits, result in reversed(results):
        yield _turned_line(step, evaluation, script, digits, result, asked.method if step is steps[-1] else "")


def _declared(key: str, evaluation: Evaluation) -> Input | Output:
    """Return the number that is given or found under a key."""
    calculator = evaluation.calculator
    numbers: list[Input | Output] = [one for one in calculator.inputs if isinstance(one, Input)]
    return next(one for one in [*numbers, *calculator.outputs] if one.key == key)


def _turned_line(
    step: Step, evaluation: Evaluation, script: Script, digits: int, result: str, method: str
) -> WorkedLine:
    one, tree = _declared(step.key, evaluation), step.formula
    symbols = write(tree, script, _symbol_table(evaluation, script))
    numbers = write(tree, script, _number_table(evaluation, script, names(tree), digits)) if names(tree) else ""
    said, parsed_input = _quantity(result, script), evaluation.inputs.get(step.key)
    is_converted = parsed_input is not None and parsed_input.chosen != one.unit
    if parsed_input and is_converted and not _is_another_quantity(step.key, evaluation):
        said = script.equals(said, _quantity(parsed_input.text, script))
    return WorkedLine(step.key, script.equals(rendered_symbol(one.symbol, script), symbols), numbers, said, method)


def _digits_to_reach(tree: Node, evaluation: Evaluation, unit: str, result: str) -> int:
    """Return the least number of digits with which the numbers put in give a result as it is printed."""
    entry = read_entry(result)
    shown = 0.0 if entry is None else entry.number
    for digits in range(_DIGITS_PUT_IN, _MOST_DIGITS):
        values = {key: _rounded(_number(evaluation, key), _digits_of(evaluation, key, digits)) for key in names(tree)}
        if _as_between(compute(tree, values), unit, result) == _as_between(shown, unit, result):
            return digits
    return _MOST_DIGITS


# Inputs as they were typed


def _steps(evaluation: Evaluation, there: list[Output], script: Script) -> Iterator[WorkedLine]:
    """Yield the step from each input typed as another quantity; an output that is that step has its own line."""
    own = {one.form_of for one in there if one.form_of and one.unit == evaluation.inputs[one.form_of].unit}
    for one in evaluation.calculator.inputs:
        if isinstance(one, Input) and one.key not in own and _step_formula(one, evaluation):
            yield _step(one, one.key, evaluation, script, _digits_needed_of({one.key}, evaluation))


def _step_formula(one: Input, evaluation: Evaluation) -> str:
    """Return the formula from an input as typed to the quantity that formulas use, "" where they are the same."""
    chosen = evaluation.inputs[one.key].chosen
    form = form_of(one, chosen)
    return form.formula if form else RECKONED.get((one.unit, chosen), "")


def _step(one: Input, key: str, evaluation: Evaluation, script: Script, digits: int) -> WorkedLine:
    parsed_input = evaluation.inputs[one.key]
    tree, form = read_formula(_step_formula(one, evaluation)), form_of(one, parsed_input.chosen)
    result = _put_in(parsed_input.number, one.unit, digits)
    typed = Put(_quantity(_typed(tree, one, parsed_input, result), script), loose=True)
    left, numbers = rendered_symbol(one.symbol, script), write(tree, script, {"given": typed})
    if form is None:
        return WorkedLine(key, script.equals(left, numbers), "", _quantity(result, script), "")
    symbol = Put(rendered_symbol(name_of(one, parsed_input.chosen).symbol, script))
    symbols = script.equals(left, write(tree, script, {"given": symbol}))
    return WorkedLine(key, symbols, numbers, _quantity(result, script), "")


def _typed(tree: Node, one: Input, parsed_input: ParsedInput, result: str) -> str:
    """Return the number as it was typed, with as many digits as it takes to give the result of the step."""
    unit = find_unit(one.unit, parsed_input.chosen)
    if unit is None:
        return parsed_input.text
    number, text = unit.shown(parsed_input.number), parsed_input.text
    for digits in range(_DIGITS_KEPT + 1, _MOST_DIGITS + 1):
        entry = read_entry(text)
        given = compute(tree, {"given": entry.number}) if entry else 0.0
        if _as_between(given, parsed_input.unit, result) == result:
            break
        text = trimmed_number(number, digits) + gap(unit.symbol) + printed_unit(unit.symbol)
    return text


def _digits_needed_of(keys: set[str], evaluation: Evaluation) -> int:
    """Return the most digits with which a quantity, called by any of the keys, is put into any of the formulas."""
    found = [_DIGITS_PUT_IN]
    for one in evaluation.calculator.outputs:
        there = evaluation.outputs[one.key].value is not None and one.symbol and not _is_as_given(one, evaluation)
        text = formula_of(one, evaluation.values) if there else ""
        if text and keys & names(read_formula(text)):
            tree = read_formula(text)
            found.append(_digits_put_in(one, tree, evaluation, _before_conversion(one, evaluation)))
    return max(found)


def _is_as_given(one: Output, evaluation: Evaluation) -> bool:
    """Return whether this output is an input over again, in the very form in which it was typed."""
    return bool(one.form_of) and evaluation.inputs[one.form_of].chosen == one.unit


# How many digits


def _digits_put_in(one: Output, tree: Node, evaluation: Evaluation, between: str) -> int:
    """Return the least number of digits with which the numbers put in give the result as it is printed."""
    wanted = between or evaluation.outputs[one.key].text
    enough = range(_DIGITS_PUT_IN, _MOST_DIGITS)
    return next((n for n in enough if _gives(one, tree, evaluation, n, wanted, bool(between))), _MOST_DIGITS)


def _gives(one: Output, tree: Node, evaluation: Evaluation, digits: int, wanted: str, is_between: bool) -> bool:
    values = {key: _rounded(_number(evaluation, key), _digits_of(evaluation, key, digits)) for key in names(tree)}
    try:
        value = compute(tree, values)
    except (ArithmeticError, ValueError):
        return False
    scale = evaluation.values.get(one.dust_of, 0.0) if one.dust_of else 0.0
    if _is_nothing(evaluation.outputs[one.key]) and abs(value) <= _NEXT_TO_NOTHING * abs(float(scale)):
        return True
    if is_between:
        return _as_between(value, one.unit, wanted) == wanted
    return text_of(evaluation, one, value) == wanted


def _digits_of(evaluation: Evaluation, key: str, digits: int) -> int:
    """Return with how many digits a quantity is put in, at the least: as many as its own result has."""
    found = evaluation.outputs.get(key)
    return max(digits, found.digits if found else 0)


def _rounded(number: float, digits: int) -> float:
    whole = rounded(number, _DIGITS_KEPT)
    return whole if math.isclose(whole, number, rel_tol=1e-12) else rounded(number, digits)


def _put_in(number: float, unit: str, digits: int) -> str:
    whole = math.isclose(rounded(number, _DIGITS_KEPT), number, rel_tol=1e-12)
    return trimmed_number(number, max(digits, _DIGITS_KEPT) if whole else digits) + gap(unit) + printed_unit(unit)


def _number(evaluation: Evaluation, key: str) -> float:
    """Return the number that is put in for a key, SI."""
    parsed_input, found = evaluation.inputs.get(key), evaluation.outputs.get(key)
    number = parsed_input.number if parsed_input else found.value if found else None
    if not isinstance(number, float):
        raise ValueError(f"the formula needs {key}, which has no number here")
    return 0.0 if found and _is_nothing(found) else number


def _is_nothing(found: Found) -> bool:
    """Return whether a result is printed as zero."""
    return not any(digit in _parts(found.text)[0] for digit in "123456789")


# Results in another unit


def _before_conversion(one: Output, evaluation: Evaluation) -> str:
    """Return the result in the unit that the formula gives, "" where that leads to the printed one in the head.

    It has as many digits as it takes to give the printed result.
    """
    found = evaluation.outputs[one.key]
    unit = find_unit(one.unit, found.chosen)
    if unit is None or not isinstance(found.value, float) or _is_power_of_ten(unit):
        return ""
    value, enough = found.value, range(_DIGITS_PUT_IN, _MOST_DIGITS)
    reached = (digits for digits in enough if text_of(evaluation, one, rounded(value, digits)) == found.text)
    digits = next(reached, _MOST_DIGITS)
    return format_number(found.value, digits) + gap(one.unit) + printed_unit(one.unit)


def _as_between(value: float, unit: str, like: str) -> str:
    """Return a number in the unit of the formula with as many digits as another one has."""
    number = _number_parts(_parts(like)[0])[1]
    digits = len(number.replace(".", "").replace(GROUP, "").lstrip("0")) or 1
    return format_number(value, digits) + gap(unit) + printed_unit(unit)


def _is_power_of_ten(unit: Unit) -> bool:
    power = math.log10(unit.times / unit.over)
    return math.isclose(power, round(power), abs_tol=1e-12)


# Writing


def rendered_symbol(tex: str, script: Script) -> str:
    """Return a declared symbol in one script."""
    symbol = read_symbol(tex)
    if symbol is None or isinstance(script, TexScript):
        return tex
    if isinstance(script, MathmlScript):
        return symbol.mathml()
    return symbol.words() if isinstance(script, WordsScript) else symbol.text()


def _symbol_table(evaluation: Evaluation, script: Script) -> dict[str, Put]:
    calculator = evaluation.calculator
    declared = [(one.key, getattr(one, "symbol", "") or one.key) for one in (*calculator.inputs, *calculator.outputs)]
    return {key: Put(rendered_symbol(tex, script)) for key, tex in declared}


def _number_table(evaluation: Evaluation, script: Script, used: set[str], digits: int) -> dict[str, Put]:
    """Write every number used, in SI with its unit."""
    table: dict[str, Put] = {}
    for key in used:
        parsed_input, found = evaluation.inputs.get(key), evaluation.outputs.get(key)
        unit = parsed_input.unit if parsed_input else found.unit if found else ""
        text = _put_in(_number(evaluation, key), unit, _digits_of(evaluation, key, digits))
        table[key] = Put(_quantity(text, script), loose=True, signed=text.startswith(MINUS))
    return table


def _quantity(text: str, script: Script) -> str:
    """Write a number with its unit, given as text, in one script."""
    if isinstance(script, MathmlScript):
        return quantity_mathml(text)
    if isinstance(script, TexScript):
        return _quantity_tex(text)
    return text


def quantity_mathml(text: str) -> str:
    """Return a quantity written as text as MathML: sign, number, power of ten, unit."""
    number, unit = _parts(text)
    sign, digits, power = _number_parts(number)
    shown = f"<mn>{digits}</mn>"
    if power:
        shown += f"<mo>×</mo><msup><mn>10</mn><mn>{power}</mn></msup>"
    if sign:
        shown = f'<mo form="prefix">{MINUS}</mo>{shown}'
    space = "\u00a0" if unit and not unit.startswith("°") else ""
    return f"<mrow>{shown}<mtext>{space}{unit}</mtext></mrow>" if unit else f"<mrow>{shown}</mrow>"


def _quantity_tex(text: str) -> str:
    number, unit = _parts(text)
    sign, digits, power = _number_parts(number)
    shown = ("-" if sign else "") + digits.replace(GROUP, r"\,")
    shown += rf"\times10^{{{power.replace(MINUS, '-')}}}" if power else ""
    return shown + (rf"\,\text{{{unit}}}" if unit else "")


def _parts(text: str) -> tuple[str, str]:
    for i, sign in enumerate(text):
        if sign == " ":
            return text[:i], text[i + 1 :]
        if sign == "°":
            return text[:i], text[i:]
    return text, ""


_LOWERED = str.maketrans("⁰¹²³⁴⁵⁶⁷⁸⁹⁻", f"0123456789{MINUS}")


def _number_parts(number: str) -> tuple[str, str, str]:
    sign = MINUS if number.startswith(MINUS) else ""
    digits, _, power = number.removeprefix(MINUS).partition("×10")
    return sign, digits, power.translate(_LOWERED)


def formula_gap(evaluation: Evaluation, one: Output) -> float:
    """Return how far a declared formula is from the function's result, relative to the larger of the two.

    0 where there is no formula or no number. The build and the tests hold this under 1e-9.
    """
    found = evaluation.outputs[one.key]
    text = formula_of(one, evaluation.values)
    if not text or not isinstance(found.value, float):
        return 0.0
    tree: Node = read_formula(text)
    by_formula = compute(tree, evaluation.values)
    size = evaluation.values.get(one.dust_of, 0.0) if one.dust_of else 0.0
    scale = max(abs(by_formula), abs(found.value), abs(size) if isinstance(size, float) else 0.0)
    return abs(by_formula - found.value) / scale if scale else 0.0
