"""SymPy reads every declared formula: its value and its slopes must be those of the calculator's function."""

import math
from pathlib import Path

import pytest
import sympy

from crankpin.calculator.catalogue import load_catalogue
from crankpin.calculator.declaration import Calculator, Input, Output
from crankpin.calculator.evaluate import evaluate, formula_of
from crankpin.calculator.faults import InputFaultsError
from tests.calculators.test_all import drawn_inputs

CATALOGUE = load_catalogue(Path(__file__).parents[2] / "calculators")
FORMULAS = [
    pytest.param(name, one, id=f"{name}-{one.key}")
    for name, calculator in CATALOGUE.items()
    for one in calculator.outputs
    if one.formula and one.unit
]
NAMES = {"arctan": sympy.atan, "arcsin": sympy.asin, "arccos": sympy.acos, "ln": sympy.log}
NAMES |= {"abs": sympy.Abs, "pi": sympy.pi, "quantity": lambda number, _: number}
PLACES = 5


def expression(calculator: Calculator, one: Output, values: dict[str, float]) -> sympy.Expr | None:
    """The formula over inputs alone: formulas of outputs above are put in; None where one has no formula."""
    text = formula_of(one, values)
    if not text:
        return None
    keys = {each.key: sympy.Symbol(each.key, real=True) for each in (*calculator.inputs, *calculator.outputs)}
    found = sympy.sympify(text, locals=NAMES | keys)
    for above in calculator.outputs:
        symbol = keys[above.key]
        if symbol in found.free_symbols:
            inner = expression(calculator, above, values)
            if inner is None:
                return None
            found = found.subs(symbol, inner)
    return found


def slope(calculator: Calculator, one: Output, values: dict[str, float], key: str) -> float | None:
    """Slope of the function by central differences of two widths, extrapolated; None at an edge of what is defined."""

    def central(width: float) -> float | None:
        ends = [
            evaluate(calculator, values | {key: values[key] + side * width}).outputs[one.key].value for side in (-1, 1)
        ]
        return (ends[1] - ends[0]) / (2.0 * width) if all(isinstance(end, float) for end in ends) else None

    width = 1e-3 * max(abs(values[key]), 1e-3)
    try:
        narrow, wide = central(width / 2.0), central(width)
    except InputFaultsError:
        return None
    return None if narrow is None or wide is None else (4.0 * narrow - wide) / 3.0


@pytest.mark.parametrize(("name", "one"), FORMULAS)
def test_value_and_slopes(name: str, one: Output) -> None:
    calculator = CATALOGUE[name]
    compared = 0
    for seed in range(PLACES * 4):
        given = drawn_inputs(calculator, seed, bench=True)
        try:
            values = evaluate(calculator, given).values
        except InputFaultsError:
            continue
        if not isinstance(values.get(one.key), float):
            continue
        found = expression(calculator, one, values)
        if found is None:
            continue
        numbers = {
            sympy.Symbol(key, real=True): float(value) for key, value in values.items() if hasattr(value, "real")
        }
        size = abs(values.get(one.dust_of, 0.0)) if one.dust_of else 0.0
        scale = max(abs(values[one.key]), size)
        assert math.isclose(float(found.subs(numbers)), values[one.key], rel_tol=1e-9, abs_tol=1e-9 * size)
        for key in sorted(str(symbol) for symbol in found.free_symbols):
            if not isinstance(calculator.input(key), Input):
                continue
            by_sympy = float(found.diff(sympy.Symbol(key, real=True)).subs(numbers))
            by_function = slope(calculator, one, {**given, key: float(values[key])}, key)
            if by_function is None:
                continue
            room = 1e-6 * scale / max(abs(values[key]), 1e-3)
            assert math.isclose(by_function, by_sympy, rel_tol=1e-4, abs_tol=room), (key, values)
            compared += 1
        if compared >= PLACES:
            return
    if not compared:
        pytest.skip("this formula uses a quantity that has no formula over the inputs")
