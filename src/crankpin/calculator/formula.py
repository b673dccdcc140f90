"""Formulas: an arithmetic expression over the keys of a calculator, which can be computed and written.

The same text is computed (to be held against the calculator's function), written with symbols, and
written with the numbers put in, so that a printed formula can not disagree with its result.

What may stand in one: numbers, keys, ``pi``, ``+ - * / **``, brackets, the functions of `FUNCTIONS`, and a
conversion factor with its unit, such as ``quantity(60, "s/min")``. Angles are in radians.
"""

import ast
import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import lru_cache

FUNCTIONS: dict[str, Callable[..., float]] = {
    "sin": math.sin,
    "cos": math.cos,
    "tan": math.tan,
    "arcsin": math.asin,
    "arccos": math.acos,
    "arctan": math.atan,
    "sqrt": math.sqrt,
    "exp": math.exp,
    "ln": math.log,
    "abs": abs,
}


@dataclass(frozen=True, slots=True)
class Number:
    """A plain number, kept as it was written."""

    text: str


@dataclass(frozen=True, slots=True)
class Factor:
    """A conversion factor: a number, kept as it was written, with its unit."""

    text: str
    unit: str


@dataclass(frozen=True, slots=True)
class Name:
    """A quantity of the calculator, or pi."""

    key: str


@dataclass(frozen=True, slots=True)
class Negative:
    """The opposite of a part."""

    part: "Node"


@dataclass(frozen=True, slots=True)
class Pair:
    """Two parts joined by one of ``+ - * / **``."""

    sign: str
    left: "Node"
    right: "Node"


@dataclass(frozen=True, slots=True)
class Call:
    """A function of one or two parts."""

    function: str
    parts: tuple["Node", ...]


Node = Number | Factor | Name | Negative | Pair | Call

_SIGNS: dict[type[ast.operator], str] = {
    ast.Add: "+",
    ast.Sub: "-",
    ast.Mult: "*",
    ast.Div: "/",
    ast.Pow: "**",
}


class FormulaError(ValueError):
    """A formula holds something that formulas may not hold."""


@lru_cache(maxsize=1024)
def read_formula(text: str) -> Node:
    """Return the formula's tree.

    Raises `FormulaError`, which names the part that may not stand there.
    """
    try:
        tree = ast.parse(text.strip(), mode="eval").body
    except SyntaxError as error:
        raise FormulaError(f"the formula {text!r} can not be read: {error.msg}") from None
    return _node(tree, text)


def _joined(sign: str, left: Node, right: Node) -> Node:
    """Join two parts; a minus in front of a product belongs to the whole product."""
    if sign in "*/" and isinstance(left, Negative):
        return Negative(Pair(sign, left.part, right))
    return Pair(sign, left, right)


def _node(part: ast.expr, text: str) -> Node:
    if isinstance(part, ast.Constant) and type(part.value) in (int, float):
        return Number(text.strip()[part.col_offset : part.end_col_offset])
    if isinstance(part, ast.Name):
        return Name(part.id)
    if isinstance(part, ast.UnaryOp) and isinstance(part.op, ast.USub):
        return Negative(_node(part.operand, text))
    if isinstance(part, ast.BinOp) and type(part.op) in _SIGNS:
        return _joined(_SIGNS[type(part.op)], _node(part.left, text), _node(part.right, text))
    if isinstance(part, ast.Call) and isinstance(part.func, ast.Name) and part.func.id in FUNCTIONS:
        return Call(part.func.id, tuple(_node(argument, text) for argument in part.args))
    if isinstance(part, ast.Call) and isinstance(part.func, ast.Name) and part.func.id == "quantity":
        return _factor(part, text)
    raise FormulaError(f"{ast.unparse(part)!r} may not stand in the formula {text!r}")


def _factor(part: ast.Call, text: str) -> Factor:
    match part.args:
        case [ast.Constant(value=int() | float()) as number, ast.Constant(value=str() as unit)]:
            return Factor(text.strip()[number.col_offset : number.end_col_offset], unit)
    raise FormulaError(f'{ast.unparse(part)!r} in the formula {text!r} must read like quantity(60, "s/min")')


def names(node: Node) -> set[str]:
    """Return the keys that a formula uses, without pi."""
    if isinstance(node, Name):
        return {node.key} - {"pi"}
    parts: tuple[Node, ...] = ()
    if isinstance(node, Negative):
        parts = (node.part,)
    elif isinstance(node, Pair):
        parts = (node.left, node.right)
    elif isinstance(node, Call):
        parts = node.parts
    return set().union(*(names(part) for part in parts)) if parts else set()


def compute(node: Node, values: Mapping[str, float]) -> float:
    """Return the formula's value for these values (SI, radians)."""
    if isinstance(node, (Number, Factor)):
        return float(node.text)
    if isinstance(node, Name):
        return math.pi if node.key == "pi" else float(values[node.key])
    if isinstance(node, Negative):
        return -compute(node.part, values)
    if isinstance(node, Call):
        return float(FUNCTIONS[node.function](*(compute(part, values) for part in node.parts)))
    left, right = compute(node.left, values), compute(node.right, values)
    if node.sign == "+":
        return left + right
    if node.sign == "-":
        return left - right
    if node.sign == "*":
        return left * right
    return left / right if node.sign == "/" else float(left**right)
