"""Formulas: read, computed, and written in four scripts."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crankpin.calculator.formula import FormulaError, compute, names, read_formula
from crankpin.calculator.rendering import MathmlScript, Put, TexScript, TextScript, WordsScript, write


def text_of(formula: str, **puts: Put) -> str:
    tree = read_formula(formula)
    table = {key: Put(key) for key in names(tree)} | puts
    return write(tree, TextScript(), table)


@pytest.mark.parametrize(
    ("formula", "values", "result"),
    [
        ("A*cos(omega*t + phi)", {"A": 2.0, "omega": 0.0, "t": 1.0, "phi": 0.0}, 2.0),
        ("-A*omega**2", {"A": 3.0, "omega": 2.0}, -12.0),
        ("2*pi*sqrt(m/k)", {"m": 4.0, "k": 1.0}, 4.0 * math.pi),
        ('quantity(60, "s/min")*f', {"f": 0.5}, 30.0),
        ("abs(x) - 1e-3", {"x": -2.0}, 1.999),
        ("exp(ln(x))", {"x": 2.0}, math.exp(math.log(2.0))),
        ("a - (b - c)", {"a": 1.0, "b": 2.0, "c": 3.0}, 2.0),
        ("a/b/c", {"a": 12.0, "b": 2.0, "c": 3.0}, 2.0),
        ("-x**2", {"x": 3.0}, -9.0),
    ],
)
def test_compute(formula: str, values: dict[str, float], result: float) -> None:
    assert compute(read_formula(formula), values) == result


@pytest.mark.parametrize(
    "formula",
    [
        "A +",
        "A if B else C",
        "open('x')",
        "A.real",
        "A[0]",
        "'text'",
        "True",
        "A @ B",
        "quantity(A, 's')",
        "quantity(60)",
        "lambda: 1",
        "A == B",
    ],
)
def test_what_may_not_stand_in_a_formula(formula: str) -> None:
    with pytest.raises(FormulaError, match=r"formula"):
        read_formula(formula)


@pytest.mark.parametrize(
    ("formula", "text"),
    [
        ("A*omega*cos(t)", "A omega cos(t)"),
        ("(A + B)*C", "(A + B) C"),
        ("A*(B + C)", "A (B + C)"),
        ("A - (B - C)", "A − (B − C)"),
        ("A - B - C", "A − B − C"),
        ("-A*B", "−A B"),
        ("A*-B", "A (−B)"),
        ("A + -B", "A + (−B)"),
        ("(-A)**2", "(−A)²"),
        ("A**2*B", "A² B"),
        ("(A*B)**3", "(A B)^3"),
        ("sin(t)**2", "sin²(t)"),
        ("A/(B*C)", "A/(B C)"),
        ("A*2", "A × 2"),
        ("2*pi*f", "2 π f"),
        ('quantity(60, "s/min")*f', "60 s/min × f"),
        ('f/quantity(60, "s/min")', "f/(60 s/min)"),
        ("abs(A - B)", "|A − B|"),
        ("sqrt(k/m)", "√(k/m)"),
    ],
)
def test_text(formula: str, text: str) -> None:
    assert text_of(formula) == text


def test_numbers_put_in_are_kept_apart() -> None:
    two, less = Put("2 m", loose=True), Put("−3 s", loose=True, signed=True)
    assert text_of("A*B", A=two, B=less) == "2 m × (−3 s)"
    assert text_of("A**2", A=two) == "(2 m)²"
    assert text_of("A/B", A=two, B=less) == "(2 m)/(−3 s)"
    assert text_of("-B", B=less) == "−(−3 s)"
    assert text_of("B + A", A=two, B=less) == "−3 s + 2 m"
    assert text_of("A - B", A=two, B=less) == "2 m − (−3 s)"


def test_the_other_scripts() -> None:
    tree = read_formula("-A*sqrt(k/m)**2 + exp(-x)")
    table = {key: Put(key) for key in "Akmx"}
    assert write(tree, TexScript(), table) == r"-A\,\sqrt{\frac{k}{m}}^{2} + \mathrm{e}^{-x}"
    assert write(tree, WordsScript(), table) == (
        "minus A times the square root of k over m squared plus e to the power minus x"
    )
    factor = read_formula('quantity(86400, "s/d")*x')
    assert write(factor, TexScript(), table) == r"86\,400\,\text{s/d} \times x"
    assert write(factor, MathmlScript(), table).startswith("<mrow><mn>86\u202f400</mn><mtext>\u00a0s/d</mtext></mrow>")
    mathml = write(read_formula("A*cos(2*t)"), MathmlScript(), {"A": Put("<mi>A</mi>"), "t": Put("<mi>t</mi>")})
    assert mathml == (
        '<mi>A</mi><mo>&#x2062;</mo><mspace width="0.17em"/><mrow><mi>cos</mi><mo>&#x2061;</mo>'
        '<mrow><mo form="prefix" stretchy="false">(</mo><mn>2</mn><mo>&#x2062;</mo><mi>t</mi>'
        '<mo form="postfix" stretchy="false">)</mo></mrow></mrow>'
    )


EXPRESSIONS = st.recursive(
    st.sampled_from(["a", "b", "c", "2", "pi"]),
    lambda inner: st.one_of(
        st.tuples(inner, st.sampled_from(["+", "-", "*", "/"]), inner).map(lambda p: f"({p[0]}) {p[1]} ({p[2]})"),
        inner.map(lambda e: f"-({e})"),
        inner.map(lambda e: f"cos({e})"),
        inner.map(lambda e: f"({e})**2"),
    ),
    max_leaves=6,
)


@given(EXPRESSIONS)
def test_written_text_says_the_same_as_the_tree(expression: str) -> None:
    """Text turned back into the notation of formulas computes the same: no bracket is lost."""
    tree = read_formula(expression)
    values = {"a": 1.25, "b": -0.75, "c": 0.5}
    table = {key: Put(f"[{key}]", loose=True) for key in values}
    text = write(tree, TextScript(), table)
    for sign, plain in {"−": "-", "×": "*", "²": "**2", "π": "pi", "cos**2(": "cos2("}.items():
        text = text.replace(sign, plain)
    text = text.replace("[", "").replace("]", "")
    code = _juxtaposed(text)
    scope = {"cos": math.cos, "cos2": lambda x: math.cos(x) ** 2, "pi": math.pi, **values}
    try:
        expected = compute(tree, values)
    except ZeroDivisionError:
        return
    assert math.isclose(eval(code, {"__builtins__": {}}, scope), expected, rel_tol=1e-12, abs_tol=1e-12)


def _juxtaposed(text: str) -> str:
    """Put a star where two parts stand side by side."""
    out: list[str] = []
    for word in text.split(" "):
        joined = out and out[-1] not in "+-*/" and word not in "+-*/"
        out += ["*", word] if joined else [word]
    return " ".join(out)
