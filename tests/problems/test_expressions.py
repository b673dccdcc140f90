import math

import pytest

from crankpin.problems.expressions import Evaluator, names_in, read_expression, rounded
from crankpin.problems.faults import NoNumberError, WordingError


@pytest.fixture
def evaluator(calculators):
    return Evaluator({"r": 2.0, "T": 4.0, "way": "up"}, calculators)


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("2*pi*r/T", math.pi),
        ("-r**2", -4.0),
        ("sqrt(T) + max(r, 7)", 9.0),
        ("circular.rim_speed(r, 3)", 6.0),
        ("circular.plane_motion(r, 1, 0).x", 2.0),
        ("turning_rate(r = r, rate = 2*pi/T).v", math.pi),
        ("thermal_pendulum(days = 604800).error/thermal_pendulum(days = 86400).drift", 7.0),
        ("turning_rate(r = r, rate = 2*pi).n", 2 * math.pi),
        ('1 if way == "up" and r < T else 0', 1),
    ],
)
def test_what_an_expression_comes_to(evaluator, text, value):
    assert evaluator.value(text) == pytest.approx(value, rel=1e-14)


@pytest.mark.parametrize(
    "text",
    [
        "__import__('os').system('true')",
        "r.__class__",
        "circular.__loader__(r)",
        "[r for r in T]",
        "lambda: r",
        "r if T",
        "f'{r}'",
        "circular.math.exit()",
        "r.real",
    ],
)
def test_nothing_else_may_stand_in_an_expression(evaluator, text):
    with pytest.raises(WordingError):
        evaluator.value(text)


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("circular.no_such(r)", "has no function no_such"),
        ("nothing.rim_speed(r)", r"no file nothing\.py"),
        ("wheel(r = r)", "no calculator or function wheel"),
        ("turning_rate(r).v", "must be named"),
        ("turning_rate(r = r).speed", "finds no speed"),
        ("circular.rim_speed(r)", "missing 1 required"),
    ],
)
def test_what_does_not_exist_is_told(evaluator, text, told):
    with pytest.raises(WordingError, match=told):
        evaluator.value(text)


@pytest.mark.parametrize(
    "text", ["1/(r - 2)", "sqrt(-r)", "(-r)**0.5", "r**1000", "exp(1e4)", "turning_rate(r = -r).v"]
)
def test_what_has_no_number_says_so(evaluator, text):
    with pytest.raises(NoNumberError):
        evaluator.value(text)


def test_names_are_quantities_alone():
    assert names_in("circular.rim_speed(r, 2*pi/T)") == {"r", "T"}
    read_expression("turning_rate(r = r, rate = w).v")


def test_rounding_is_half_away_from_zero():
    assert (rounded(0.125, 2), rounded(-0.125, 2), rounded(9.96, 2)) == (0.13, -0.13, 10.0)
