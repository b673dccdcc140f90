"""Formulas turned round: putting the answer back gives the value again, for every operation a formula may hold."""

import math

import pytest

from crankpin.calculator.formula import Name, compute, read_formula
from crankpin.calculator.inverses import isolate, occurrences

KNOWN = {"a": 1.7, "b": 0.6}


@pytest.mark.parametrize(
    "formula",
    [
        *("a + x", "x - b", "a - x", "a*x", "x/a", "a/x", "-x", "x**2", "x**3", "x**0.5", "2**x", "a*x**2/2"),
        *("sqrt(x)", "exp(x)", "ln(x)", "abs(x)", "sin(x)", "cos(x)", "tan(x)", "arcsin(x)", "arccos(x)", "arctan(x)"),
        *("a*sin(b*x + 0.3)", "2*pi*sqrt(x/a)", "1/sqrt(a + x)", "-a*b*cos(x)"),
    ],
)
@pytest.mark.parametrize("x", [0.35, 0.8])
@pytest.mark.parametrize("turns", [0, 3, -2])
def test_putting_the_answer_back_gives_the_value_again(formula: str, x: float, turns: int) -> None:
    tree = read_formula(formula)
    value = compute(tree, {**KNOWN, "x": x})
    found = []
    for branch in isolate(tree, "x", Name("y"), turns):
        answer = compute(branch.node, {**KNOWN, "y": value})
        found.append(answer)
        assert compute(tree, {**KNOWN, "x": answer}) == pytest.approx(value, rel=1e-12)
    if turns == 0:
        assert any(math.isclose(answer, x, rel_tol=1e-9) for answer in found)


def test_how_often_a_quantity_stands_in_a_formula() -> None:
    tree = read_formula("a*x**2 + sin(x) - b")
    assert [occurrences(tree, key) for key in ("x", "a", "b", "y")] == [2, 1, 1, 0]
