"""Formulas written out: MathML for the page, TeX for a source, text for a terminal, words for the ear.

One walk over the tree serves all four; a `Script` says how each kind of part looks.
"""

from collections.abc import Mapping

from crankpin.calculator.formula import Call, Factor, Name, Negative, Node, Number, Pair
from crankpin.calculator.numbers import GROUP, MINUS, grouped
from crankpin.calculator.units import gap, printed_unit

_RANK = {"+": 1, "-": 1, "*": 2, "/": 2, "**": 4}
_NEGATIVE_RANK = 1
_WHOLE = 9
_SAID_SIGN = {"+": "plus", "-": "minus", "*": "times", "/": "over"}
_SAID_FUNCTION = {
    "sin": "sine of",
    "cos": "cosine of",
    "tan": "tangent of",
    "arcsin": "arc sine of",
    "arccos": "arc cosine of",
    "arctan": "arc tangent of",
    "sqrt": "the square root of",
    "exp": "e to the power",
    "ln": "the natural logarithm of",
    "abs": "the size of",
}


class Script:
    """How the parts of a formula look; subclasses give the four ways of writing."""

    #: True where a division is drawn with its own bar, which needs no brackets.
    stacked = True

    def number(self, text: str) -> str:
        """Write a plain number."""
        return text

    def factor(self, number: str, unit: str) -> str:
        """Write a number with its unit."""
        return number + gap(unit) + printed_unit(unit)

    def name(self, key: str) -> str:
        """Write pi; other names come from the table given to `write`."""
        return "π"

    def negative(self, part: str) -> str:
        """Write the opposite."""
        return MINUS + part

    def pair(self, sign: str, left: str, right: str, *, cross: bool) -> str:
        """Write two parts joined; ``cross`` asks for a visible times sign."""
        raise NotImplementedError

    def call(self, function: str, parts: list[str], power: str = "") -> str:
        """Write a function, raised to a power where one is given."""
        raise NotImplementedError

    def brackets(self, part: str) -> str:
        """Write a part in brackets."""
        return f"({part})"

    def equals(self, left: str, right: str) -> str:
        """Write an equation; the left side may be empty."""
        return f"{left} = {right}".strip()


class TextScript(Script):
    """Plain text, for a terminal."""

    stacked = False

    def pair(self, sign: str, left: str, right: str, *, cross: bool) -> str:
        """Write two parts joined."""
        if sign == "*":
            return f"{left} × {right}" if cross else f"{left} {right}"
        if sign == "**":
            return f"{left}²" if right == "2" else f"{left}^{right}"
        shown = {"+": "+", "-": MINUS, "/": "/"}[sign]
        return f"{left} {shown} {right}" if sign != "/" else f"{left}/{right}"

    def call(self, function: str, parts: list[str], power: str = "") -> str:
        """Write a function."""
        inner = ", ".join(parts)
        if function == "abs":
            return f"|{inner}|"
        if function == "sqrt":
            return f"√({inner})"
        return f"{function}{'²' if power == '2' else ('^' + power if power else '')}({inner})"


class WordsScript(Script):
    """Words, for a screen reader and for the text behind a formula on paper."""

    stacked = False

    def number(self, text: str) -> str:
        """Say a plain number."""
        return text.replace(GROUP, "")

    def factor(self, number: str, unit: str) -> str:
        """Say a number with its unit."""
        return f"{self.number(number)} {unit.replace('/', ' per ')}"

    def name(self, key: str) -> str:
        """Say pi."""
        return "pi"

    def negative(self, part: str) -> str:
        """Say the opposite."""
        return f"minus {part}"

    def pair(self, sign: str, left: str, right: str, *, cross: bool) -> str:
        """Say two parts joined."""
        if sign == "**":
            return f"{left} squared" if right == "2" else f"{left} to the power {right}"
        return f"{left} {_SAID_SIGN[sign]} {right}"

    def call(self, function: str, parts: list[str], power: str = "") -> str:
        """Say a function."""
        raised = f", to the power {power}" if power else ""
        return f"{_SAID_FUNCTION[function]} {' and '.join(parts)}{raised}"

    def brackets(self, part: str) -> str:
        """Say a bracketed part with its bounds."""
        return f"open bracket {part} close bracket"

    def equals(self, left: str, right: str) -> str:
        """Say an equation."""
        return f"{left} equals {right}".strip()


class TexScript(Script):
    """TeX."""

    def number(self, text: str) -> str:
        """Write a plain number."""
        return text.replace(GROUP, r"\,")

    def factor(self, number: str, unit: str) -> str:
        """Write a number with its unit."""
        return rf"{self.number(number)}\,\text{{{printed_unit(unit)}}}"

    def name(self, key: str) -> str:
        """Write pi."""
        return r"\pi"

    def negative(self, part: str) -> str:
        """Write the opposite."""
        return "-" + part

    def pair(self, sign: str, left: str, right: str, *, cross: bool) -> str:
        """Write two parts joined."""
        if sign == "/":
            return rf"\frac{{{left}}}{{{right}}}"
        if sign == "**":
            return f"{left}^{{{right}}}"
        if sign == "*":
            return rf"{left} \times {right}" if cross else rf"{left}\,{right}"
        return f"{left} {sign} {right}"

    def call(self, function: str, parts: list[str], power: str = "") -> str:
        """Write a function."""
        inner = ", ".join(parts)
        if function == "sqrt":
            return rf"\sqrt{{{inner}}}"
        if function == "exp":
            return rf"\mathrm{{e}}^{{{inner}}}"
        if function == "abs":
            return rf"\left|{inner}\right|"
        return rf"\{function}{'^{' + power + '}' if power else ''}\left({inner}\right)"

    def brackets(self, part: str) -> str:
        """Write a part in brackets."""
        return rf"\left({part}\right)"


_FUNCTION_STARTS = tuple(
    start + name
    for start in ("<mrow><mi>", "<mrow><msup><mi>")
    for name in ("sin", "cos", "tan", "arcsin", "arccos", "arctan", "ln")
)


#: Stands first below a root sign: the sign over a low letter is then as tall as over any other, and keeps clear of it.
STRUT = '<mspace class="strut" height="0.72em" depth="0.2em"/>'


class MathmlScript(Script):
    """MathML Core; every part is one element or one row."""

    def number(self, text: str) -> str:
        """Write a plain number."""
        return f"<mn>{text}</mn>"

    def factor(self, number: str, unit: str) -> str:
        """Write a number with its unit."""
        space = "\u00a0" if gap(unit) else ""
        return f"<mrow><mn>{number}</mn><mtext>{space}{printed_unit(unit)}</mtext></mrow>"

    def name(self, key: str) -> str:
        """Write pi."""
        return '<mi mathvariant="normal">π</mi>'

    def negative(self, part: str) -> str:
        """Write the opposite."""
        return f'<mo form="prefix">{MINUS}</mo>{part}'

    def pair(self, sign: str, left: str, right: str, *, cross: bool) -> str:
        """Write two parts joined."""
        if sign == "/":
            return f"<mfrac><mrow>{left}</mrow><mrow>{right}</mrow></mfrac>"
        if sign == "**":
            return f"<msup><mrow>{left}</mrow><mrow>{right}</mrow></msup>"
        shown = {"+": "<mo>+</mo>", "-": f"<mo>{MINUS}</mo>"}.get(sign)
        if shown is None:
            shown = "<mo>×</mo>" if cross else "<mo>&#x2062;</mo>"
            if not cross and right.startswith(_FUNCTION_STARTS):
                shown += '<mspace width="0.17em"/>'
        return left + shown + right

    def call(self, function: str, parts: list[str], power: str = "") -> str:
        """Write a function."""
        inner = "<mo>,</mo>".join(parts)
        if function == "sqrt":
            return f"<msqrt>{STRUT}<mrow>{inner}</mrow></msqrt>"
        if function == "exp":
            return f'<msup><mi mathvariant="normal">e</mi><mrow>{inner}</mrow></msup>'
        if function == "abs":
            return f"<mrow><mo>|</mo>{inner}<mo>|</mo></mrow>"
        name = f"<mi>{function}</mi>"
        if power:
            name = f"<msup>{name}<mrow>{power}</mrow></msup>"
        return f"<mrow>{name}<mo>&#x2061;</mo>{self.brackets(inner)}</mrow>"

    def brackets(self, part: str) -> str:
        """Write a part in brackets, which grow with a tall part."""
        tall = "" if "<mfrac>" in part or "<msqrt>" in part else ' stretchy="false"'
        return f'<mrow><mo form="prefix"{tall}>(</mo>{part}<mo form="postfix"{tall}>)</mo></mrow>'

    def equals(self, left: str, right: str) -> str:
        """Write an equation."""
        return f"{left}<mo>=</mo>{right}"


class Put(str):
    """A quantity written out in a formula, with how tightly it holds together.

    ``loose`` is True for a number with its unit, which wants brackets before a power and a visible
    times sign beside it; ``signed`` is True where it begins with a minus sign.
    """

    loose: bool
    signed: bool

    def __new__(cls, text: str, *, loose: bool = False, signed: bool = False) -> "Put":
        """Make the written quantity."""
        put = super().__new__(cls, text)
        put.loose = loose
        put.signed = signed
        return put


def write(node: Node, script: Script, table: Mapping[str, Put]) -> str:
    """Return the formula in one script, each key written as the table has it."""
    return _Walk(script, table).write(node, 0)


class _Walk:
    def __init__(self, script: Script, table: Mapping[str, Put]) -> None:
        self.script = script
        self.table = table

    def write(self, node: Node, least: float, *, first: bool = True) -> str:
        """Write a part; brackets go round it when it binds less tightly than ``least``."""
        text, rank, signed = self._part(node)
        if rank < least or (signed and not first):
            return self.script.brackets(text)
        return text

    def _part(self, node: Node) -> tuple[str, int, bool]:
        if isinstance(node, Number):
            return self.script.number(grouped(node.text)), _WHOLE, False
        if isinstance(node, Factor):
            return self.script.factor(grouped(node.text), node.unit), 3, False
        if isinstance(node, Name):
            if node.key == "pi":
                return self.script.name("pi"), _WHOLE, False
            put = self.table[node.key]
            return str(put), 3 if put.loose else _WHOLE, put.signed
        if isinstance(node, Negative):
            return self.script.negative(self.write(node.part, 2, first=False)), _NEGATIVE_RANK, True
        if isinstance(node, Call):
            return self._call(node)
        return self._pair(node)

    def _call(self, node: Call) -> tuple[str, int, bool]:
        return self.script.call(node.function, [self.write(part, 0) for part in node.parts]), _WHOLE, False

    def _pair(self, node: Pair) -> tuple[str, int, bool]:
        script, rank = self.script, _RANK[node.sign]
        if node.sign == "**":
            if isinstance(node.left, Call) and node.left.function in ("sin", "cos", "tan"):
                inner = [self.write(part, 0) for part in node.left.parts]
                return script.call(node.left.function, inner, self.write(node.right, 0)), _WHOLE, False
            left = self.write(node.left, 5, first=False)
            return (
                script.pair("**", left, self.write(node.right, 0 if script.stacked else 5), cross=False),
                4,
                False,
            )
        if node.sign == "/" and script.stacked:
            return (
                script.pair("/", self.write(node.left, 0), self.write(node.right, 0), cross=False),
                3,
                False,
            )
        left = self.write(node.left, 3.5 if node.sign == "/" and self._ends_loose(node.left) else rank)
        least = {"/": 3.5, "-": rank + 1}.get(node.sign, rank)
        right = self.write(node.right, least, first=False)
        signed = self._part(node.left)[2]
        return script.pair(node.sign, left, right, cross=self._cross(node)), rank, signed

    def _cross(self, node: Pair) -> bool:
        """Return whether the product needs a visible times sign: wherever a number stands on its right."""
        return node.sign == "*" and (self._ends_loose(node.left) or self._starts_number(node.right))

    def _ends_loose(self, node: Node) -> bool:
        if isinstance(node, Pair):
            return self._ends_loose(node.right) or self._ends_loose(node.left)
        if isinstance(node, Factor):
            return True
        return isinstance(node, Name) and node.key != "pi" and self.table[node.key].loose

    def _starts_number(self, node: Node) -> bool:
        if isinstance(node, Pair):
            return self._starts_number(node.left)
        if isinstance(node, Name):
            return node.key != "pi" and self.table[node.key].loose
        return isinstance(node, (Number, Factor))
