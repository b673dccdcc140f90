"""The worked lines of an evaluation: the formula, the numbers put in, the result."""

from collections.abc import Mapping
from dataclasses import dataclass

from crankpin.calculator.declaration import Output
from crankpin.calculator.evaluate import Evaluation, Found
from crankpin.calculator.formula import Node, compute, names, read_formula
from crankpin.calculator.numbers import GROUP, MINUS, trimmed_number
from crankpin.calculator.rendering import MathmlScript, Put, Script, TexScript, WordsScript, write
from crankpin.calculator.symbols import read_symbol
from crankpin.calculator.units import gap, printed_unit

_DIGITS_PUT_IN = 4


@dataclass(frozen=True, slots=True)
class WorkedLine:
    """One output's working.

    ``symbols``, ``numbers`` and ``result`` are equations or their right sides in one script; ``symbols``
    and ``numbers`` are "" where there is no formula, and ``method`` then says how it is found.
    """

    key: str
    symbols: str
    numbers: str
    result: str
    method: str


def formula_of(one: Output, values: Mapping[str, object]) -> str:
    """Return the formula that holds for these values, "" where there is none."""
    return one.formula if isinstance(one.formula, str) else one.formula(values)


def working(evaluation: Evaluation, script: Script | None = None) -> list[WorkedLine]:
    """Return the worked lines of every output that exists, in MathML unless another script is given."""
    script = script or MathmlScript()
    return [
        _line(one, evaluation, script)
        for one in evaluation.calculator.outputs
        if evaluation.outputs[one.key].value is not None
    ]


def _line(one: Output, evaluation: Evaluation, script: Script) -> WorkedLine:
    found = evaluation.outputs[one.key]
    left = rendered_symbol(one.symbol, script) if one.symbol else one.meaning
    result = _quantity(found.text, script)
    text = formula_of(one, evaluation.values)
    if not text or not one.symbol:
        return WorkedLine(one.key, "", "", script.equals(left, result) if one.symbol else "", one.method)
    tree = read_formula(text)
    symbols = write(tree, script, _symbol_table(evaluation, script))
    numbers = write(tree, script, _number_table(evaluation, script, names(tree))) if names(tree) else ""
    return WorkedLine(one.key, script.equals(left, symbols), numbers, result, one.method)


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


def _number_table(evaluation: Evaluation, script: Script, used: set[str]) -> dict[str, Put]:
    """Write every number used, in SI with its unit: to four digits, or as many as its own result has."""
    digits = {one.key: max(_DIGITS_PUT_IN, one.digits) for one in evaluation.calculator.outputs}
    table: dict[str, Put] = {}
    for key in used:
        parsed_input, found = evaluation.inputs.get(key), evaluation.outputs.get(key)
        number = parsed_input.number if parsed_input else found.value if found else None
        if not isinstance(number, float):
            raise ValueError(f"the formula needs {key}, which has no number here")
        unit = parsed_input.unit if parsed_input else found.unit if found else ""
        dusted = 0.0 if isinstance(found, Found) and found.text.startswith("0") and abs(number) < 1e-9 else number
        text = trimmed_number(dusted, digits.get(key, _DIGITS_PUT_IN)) + gap(unit) + printed_unit(unit)
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
