"""Expressions in a problem: arithmetic over its quantities, functions of the mechanics, results of calculators.

    2*pi/T                                       arithmetic, SI and radians
    circular.rim_speed(r, omega)                 a function of crankpin.mechanics, by its file and name
    turning_rate(r = r, rate = omega).v          a result of a calculator, by its id with _ for -
    T > 2 and way == "up"                        a condition

Nothing else can stand in one: it is read as a tree and walked, never run as Python.
"""

import ast
import importlib
import math
from collections.abc import Callable, Iterator, Mapping
from functools import lru_cache
from typing import Any

from crankpin.calculator.declaration import Calculator, Input
from crankpin.calculator.evaluate import evaluate
from crankpin.calculator.faults import InputFaultsError
from crankpin.calculator.formula import FUNCTIONS
from crankpin.mechanics.errors import AbsentError, OutOfDomainError
from crankpin.problems.faults import NoNumberError, WordingError
from crankpin.problems.quantities import dimension_of, unit_of

_HIGHEST_POWER = 64


def rounded(x: float, digits: float) -> float:
    """Return x to so many significant digits, half away from zero after a first rounding to twelve.

    >>> rounded(0.62832, 2), rounded(-2.35, 2), rounded(0.0, 2)
    (0.63, -2.4, 0.0)
    """
    if x == 0.0:
        return 0.0
    first, exponent = f"{abs(x):.11e}".split("e")
    figures = int(first.replace(".", ""))
    unit = 10 ** (12 - int(digits))
    kept = (figures + unit // 2) // unit
    return math.copysign(float(f"{kept}e{int(exponent) - int(digits) + 1}"), x)


_FUNCTIONS: dict[str, Callable[..., float]] = {**FUNCTIONS, "rounded": rounded, "min": min, "max": max}


def _power(base: float, exponent: float) -> float:
    if abs(exponent) > _HIGHEST_POWER:
        raise NoNumberError(f"the power {exponent} is too high")
    found = base**exponent
    if isinstance(found, complex):
        raise NoNumberError("a root of a number below zero")
    return float(found) if isinstance(base, float) else found


_BINARY: dict[type[ast.operator], Callable[[Any, Any], Any]] = {
    ast.Add: lambda a, b: a + b,
    ast.Sub: lambda a, b: a - b,
    ast.Mult: lambda a, b: a * b,
    ast.Div: lambda a, b: a / b,
    ast.Pow: _power,
}
_COMPARE: dict[type[ast.cmpop], Callable[[Any, Any], bool]] = {
    ast.Lt: lambda a, b: bool(a < b),
    ast.LtE: lambda a, b: bool(a <= b),
    ast.Gt: lambda a, b: bool(a > b),
    ast.GtE: lambda a, b: bool(a >= b),
    ast.Eq: lambda a, b: bool(a == b),
    ast.NotEq: lambda a, b: bool(a != b),
}


@lru_cache(maxsize=4096)
def read_expression(text: str) -> ast.expr:
    """Return the tree of an expression. Raises `WordingError`, which names what may not stand there."""
    try:
        tree = ast.parse(text.strip(), mode="eval").body
    except (SyntaxError, ValueError):
        raise WordingError(f"“{text}” cannot be read; an expression looks like circular.rim_speed(r, 2*pi/T)") from None
    _check(tree, text)
    return tree


def _check(part: ast.expr, text: str) -> None:
    for child in _children(part, text):
        _check(child, text)


def _children(part: ast.expr, text: str) -> list[ast.expr]:
    """Return the parts of a part. Raises `WordingError` for what may not stand in an expression."""
    if isinstance(part, ast.Constant) and type(part.value) in (int, float, str):
        return []
    if isinstance(part, ast.Name):
        return []
    if isinstance(part, ast.UnaryOp) and isinstance(part.op, (ast.USub, ast.Not)):
        return [part.operand]
    if isinstance(part, ast.BinOp) and type(part.op) in _BINARY:
        return [part.left, part.right]
    if isinstance(part, ast.BoolOp):
        return part.values
    if isinstance(part, ast.Compare) and all(type(sign) in _COMPARE for sign in part.ops):
        return [part.left, *part.comparators]
    if isinstance(part, ast.IfExp):
        return [part.test, part.body, part.orelse]
    if isinstance(part, ast.Attribute) and isinstance(part.value, ast.Call) and not part.attr.startswith("_"):
        return [part.value]
    if isinstance(part, ast.Call) and _callee(part):
        return [*part.args, *(keyword.value for keyword in part.keywords if keyword.arg)]
    raise WordingError(f"“{ast.unparse(part)}” may not stand in the expression “{text}”")


def _callee(call: ast.Call) -> tuple[str, str]:
    """Return what is called: ("circular", "rim_speed"), ("", "sin"), ("", "") for nothing known."""
    if isinstance(call.func, ast.Name):
        return "", call.func.id
    if isinstance(call.func, ast.Attribute) and isinstance(call.func.value, ast.Name):
        return call.func.value.id, call.func.attr
    return "", ""


def names_in(text: str) -> set[str]:
    """Return the quantities that an expression uses, without pi."""
    return set(_names(read_expression(text))) - {"pi"}


def _names(part: ast.expr) -> Iterator[str]:
    if isinstance(part, ast.Name):
        yield part.id
    for child in _children(part, ""):
        yield from _names(child)


def calls_in(text: str) -> list[tuple[str, str]]:
    """Return what an expression calls: (file of the mechanics or "", function or calculator)."""
    return [_callee(part) for part in ast.walk(read_expression(text)) if isinstance(part, ast.Call)]


def mechanics_function(topic: str, name: str) -> Callable[..., Any]:
    """Return a public function of ``crankpin.mechanics``. Raises `WordingError`."""
    try:
        module = importlib.import_module(f"crankpin.mechanics.{topic}") if topic.isidentifier() else None
    except ModuleNotFoundError:
        module = None
    if module is None:
        raise WordingError(f"there is no file {topic}.py in crankpin.mechanics")
    found = getattr(module, name, None)
    if name.startswith("_") or not callable(found) or getattr(found, "__module__", "") != module.__name__:
        raise WordingError(f"crankpin.mechanics.{topic} has no function {name}")
    return found  # type: ignore[no-any-return]


def result_unit(text: str, calculators: Mapping[str, Calculator]) -> tuple[str, str, int] | None:
    """Return (dimension, unit shown, digits) of an expression that is a calculator's result alone, else None."""
    tree = read_expression(text)
    if not isinstance(tree, ast.Attribute) or not isinstance(tree.value, ast.Call):
        return None
    calculator = calculators.get(_callee(tree.value)[1].replace("_", "-"))
    if calculator is None or tree.attr not in [output.key for output in calculator.outputs]:
        return None
    output = calculator.output(tree.attr)
    return (dimension_of(output.unit), output.unit, output.digits) if output.unit else None


def _as_kept(calculator: Calculator, key: str, value: Any) -> Any:
    """Return a number, SI, in the unit in which a calculator keeps this input: a time of 604 800 s as 7 days."""
    one = next((one for one in calculator.inputs if one.key == key), None)
    if not isinstance(one, Input) or isinstance(value, (str, bool)) or not isinstance(value, (int, float)):
        return value
    return unit_of(dimension_of(one.unit), one.unit).shown(value)


def _inside(calculator: Calculator, key: str, value: Any) -> Any:
    """Return a result in SI, whatever the unit in which its calculator keeps it."""
    unit = calculator.output(key).unit
    return unit_of(dimension_of(unit), unit).inside(value) if unit and isinstance(value, float) else value


class Evaluator:
    """Works out expressions over some quantities with the calculators of a course."""

    def __init__(self, values: Mapping[str, Any], calculators: Mapping[str, Calculator]) -> None:
        self._values = values
        self._calculators = calculators

    def value(self, text: str) -> Any:
        """Return what an expression comes to, in SI: a number, a word, or yes or no.

        Raises `WordingError` for a name or function that does not exist, `NoNumberError` where these numbers have no
        such result.
        """
        try:
            found = self._of(read_expression(text))
        except (AbsentError, OutOfDomainError, ArithmeticError, ValueError) as error:
            if isinstance(error, (WordingError, NoNumberError)):
                raise
            raise NoNumberError(f"{text}: {error}") from None
        except TypeError as error:
            raise WordingError(f"{text}: {error}") from None
        if isinstance(found, float) and not math.isfinite(found):
            raise NoNumberError(f"{text} is too large to work out")
        return found

    def _of(self, part: ast.expr) -> Any:
        if isinstance(part, ast.Constant):
            return part.value
        if isinstance(part, ast.Name):
            return math.pi if part.id == "pi" else self._values[part.id]
        if isinstance(part, ast.UnaryOp):
            return not self._of(part.operand) if isinstance(part.op, ast.Not) else -self._of(part.operand)
        if isinstance(part, ast.BinOp):
            return _BINARY[type(part.op)](self._of(part.left), self._of(part.right))
        if isinstance(part, ast.Attribute):
            return self._part_of(part)
        if isinstance(part, ast.Call):
            return self._call(part)
        return self._chosen(part)

    def _chosen(self, part: ast.expr) -> Any:
        """Return what a condition, or an expression with one, comes to."""
        if isinstance(part, ast.IfExp):
            return self._of(part.body if self._of(part.test) else part.orelse)
        if isinstance(part, ast.BoolOp):
            told = (bool(self._of(value)) for value in part.values)
            return all(told) if isinstance(part.op, ast.And) else any(told)
        assert isinstance(part, ast.Compare)
        sides = [self._of(side) for side in (part.left, *part.comparators)]
        return all(_COMPARE[type(sign)](sides[i], sides[i + 1]) for i, sign in enumerate(part.ops))

    def _given(self, call: ast.Call) -> tuple[list[Any], dict[str, Any]]:
        named = {keyword.arg: self._of(keyword.value) for keyword in call.keywords if keyword.arg}
        return [self._of(argument) for argument in call.args], named

    def _call(self, call: ast.Call) -> Any:
        topic, name = _callee(call)
        in_order, named = self._given(call)
        if topic:
            found = mechanics_function(topic, name)(*in_order, **named)
            return float(found) if isinstance(found, (int, float)) else found
        if name in _FUNCTIONS:
            return _FUNCTIONS[name](*in_order, **named)
        calculator = self._calculators.get(name.replace("_", "-"))
        if calculator is None:
            raise WordingError(
                f"there is no calculator or function {name}; functions of the mechanics are written with their file, "
                f"such as circular.rim_speed"
            )
        if in_order:
            raise WordingError(f"what {name} is given must be named, as in {name}({calculator.inputs[0].key} = …)")
        return self._evaluation(calculator, named)

    def _evaluation(self, calculator: Calculator, given: Mapping[str, Any]) -> Any:
        try:
            return evaluate(calculator, {key: _as_kept(calculator, key, value) for key, value in given.items()})
        except InputFaultsError as error:
            raise NoNumberError(" ".join(fault.message for fault in error.faults)) from None

    def _part_of(self, part: ast.Attribute) -> Any:
        whole, name = self._of(part.value), part.attr
        outputs = getattr(whole, "outputs", None)
        if outputs is None:
            if not hasattr(whole, name):
                raise WordingError(f"{ast.unparse(part.value)} has no {name}")
            found = getattr(whole, name)
            return float(found) if isinstance(found, (int, float)) else found
        if name not in outputs:
            raise WordingError(f"{ast.unparse(part.value)} finds no {name}; it finds {', '.join(outputs)}")
        if outputs[name].value is None:
            raise NoNumberError(outputs[name].reason)
        return _inside(whole.calculator, name, outputs[name].value)
