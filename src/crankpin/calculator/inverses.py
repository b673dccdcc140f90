"""Formulas turned round: what a quantity inside one must be, for the whole to have a given value.

A quantity that stands in a formula once can always be isolated, step by step, with the inverse of each operation.
Squares, sines and cosines have more than one inverse: each is a `Branch`, and those of a sine come again every turn.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from crankpin.calculator.formula import Call, Name, Negative, Node, Number, Pair, names


@dataclass(frozen=True, slots=True)
class Branch:
    """One way to isolate a quantity: ``node`` gives it; with ``turns`` added, an angle grows by so many turns."""

    node: Node
    is_periodic: bool = False


def occurrences(node: Node, key: str) -> int:
    """Return how often a quantity stands in a formula."""
    if isinstance(node, Name):
        return 1 if node.key == key else 0
    if isinstance(node, Negative):
        return occurrences(node.part, key)
    if isinstance(node, Pair):
        return occurrences(node.left, key) + occurrences(node.right, key)
    parts = node.parts if isinstance(node, Call) else ()
    counted = 0
    for part in parts:
        counted += occurrences(part, key)
    return counted


def isolate(whole: Node, key: str, value: Node, turns: int = 0) -> list[Branch]:
    """Return every way to write ``key`` such that ``whole`` has the value ``value``; [] where there is none known.

    ``key`` must stand in ``whole`` once. Angles of a sine, cosine or tangent have ``turns`` whole turns added.

    >>> from crankpin.calculator.formula import read_formula
    >>> [branch.node for branch in isolate(read_formula("2*k"), "k", Name("F"))]
    [Pair(sign='/', left=Name(key='F'), right=Number(text='2'))]
    """
    if isinstance(whole, Name):
        return [Branch(value)]
    if isinstance(whole, Negative):
        return isolate(whole.part, key, negative(value), turns)
    if isinstance(whole, Pair):
        part = whole.left if key in names(whole.left) else whole.right
        return [
            Branch(inner.node, inner.is_periodic)
            for other in _of_pair(whole, key, value)
            for inner in isolate(part, key, other, turns)
        ]
    if isinstance(whole, Call) and len(whole.parts) == 1:
        return [
            Branch(inner.node, inner.is_periodic or other.is_periodic)
            for other in _of_call(whole.function, value, turns)
            for inner in isolate(whole.parts[0], key, other.node, turns)
        ]
    return []


def negative(node: Node) -> Node:
    """Return the opposite of a formula, without two signs in a row."""
    return node.part if isinstance(node, Negative) else Negative(node)


def _of_pair(whole: Pair, key: str, value: Node) -> Iterator[Node]:
    is_left = key in names(whole.left)
    other = whole.right if is_left else whole.left
    if whole.sign == "+":
        yield Pair("-", value, other)
    elif whole.sign == "-":
        yield Pair("+", value, other) if is_left else Pair("-", other, value)
    elif whole.sign == "*":
        yield _over(value, other)
    elif whole.sign == "/":
        yield _times(value, other) if is_left else _over(other, value)
    elif is_left:
        yield from _roots(value, other)
    else:
        yield _over(Call("ln", (value,)), Call("ln", (other,)))


def _times(left: Node, right: Node) -> Node:
    if left == Number("1"):
        return right
    if right == Number("1"):
        return left
    if isinstance(left, Negative):
        return Negative(_times(left.part, right))
    return Pair("*", left, right) if names(right) else Pair("*", right, left)


def _over(above: Node, below: Node) -> Node:
    """Return a quotient; of two fractions one above the other, one is made."""
    if isinstance(above, Negative):
        return Negative(_over(above.part, below))
    if isinstance(below, Pair) and below.sign == "/":
        return _over(_times(above, below.right), below.left)
    if isinstance(above, Pair) and above.sign == "/":
        return Pair("/", above.left, _times(above.right, below))
    return above if below == Number("1") else Pair("/", above, below)


def _roots(value: Node, exponent: Node) -> Iterator[Node]:
    """Yield what a base must be for its power to have a value."""
    if not isinstance(exponent, Number):
        yield Pair("**", value, _over(Number("1"), exponent))
    elif exponent.text == "2":
        yield Call("sqrt", (value,))
        yield Negative(Call("sqrt", (value,)))
    else:
        yield Pair("**", value, Pair("/", Number("1"), exponent))
        if float(exponent.text) % 2.0 == 0.0:
            yield Negative(Pair("**", value, Pair("/", Number("1"), exponent)))


def _of_call(function: str, value: Node, turns: int) -> Iterator[Branch]:
    inverse = {"arcsin": "sin", "arccos": "cos", "arctan": "tan", "exp": "ln", "ln": "exp"}.get(function)
    if inverse:
        yield Branch(Call(inverse, (value,)))
    elif function == "sqrt":
        yield Branch(Pair("**", value, Number("2")))
    elif function == "abs":
        yield from (Branch(value), Branch(negative(value)))
    elif function == "sin":
        angle = Call("arcsin", (value,))
        yield from (Branch(_turned(angle, turns), True), Branch(_turned(Pair("-", Name("pi"), angle), turns), True))
    elif function == "cos":
        angle = Call("arccos", (value,))
        yield from (Branch(_turned(angle, turns), True), Branch(_turned(Negative(angle), turns), True))
    elif function == "tan":
        angle = Call("arctan", (value,))
        yield from (Branch(_turned(angle, turns), True), Branch(_turned(Pair("+", Name("pi"), angle), turns), True))


def _turned(angle: Node, turns: int) -> Node:
    """Return an angle with whole turns added."""
    if not turns:
        return angle
    added = Pair("*", Number(str(2 * abs(turns))), Name("pi"))
    return Pair("+" if turns > 0 else "-", angle, added)
