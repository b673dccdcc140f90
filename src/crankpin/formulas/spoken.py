"""Formulas as words: MathML read aloud, for the text behind a formula on paper.

The words are plain English and unambiguous where it matters: a fraction or a root that holds more than one thing says
where it ends.
"""

from __future__ import annotations

import html
import re
from xml.etree import ElementTree

from crankpin.calculator.symbols import GREEK

_LETTERS = {letter: "phi" if name == "varphi" else name for name, letter in GREEK.items()} | {
    "Δ": "delta",
    "ϑ": "theta",
    "ϕ": "phi",
    "ϵ": "epsilon",
    "ℓ": "l",
    "∞": "infinity",
}
_SIGNS = {
    "=": "equals",
    "+": "plus",
    "−": "minus",
    "-": "minus",
    "±": "plus or minus",
    "×": "times",
    "·": "times",
    "⋅": "times",
    "/": "over",
    "<": "is less than",
    ">": "is greater than",
    "≤": "is at most",
    "≥": "is at least",
    "≪": "is much less than",
    "≫": "is much greater than",
    "≈": "is about",
    "≠": "is not",
    "∝": "is proportional to",
    "→": "tends to",
    "⇒": "hence",
    "∫": "the integral",
    "∑": "the sum",
    "∂": "partial d",
    "°": "degrees",
    "∘": "degrees",
    "′": "prime",
    "…": "and so on",
    "⋯": "and so on",
    "%": "per cent",
    "|": "bar",
    "(": "open bracket",
    ")": "close bracket",
    "[": "open bracket",
    "]": "close bracket",
    "{": "open brace",
    "}": "close brace",
    ",": ",",
    ";": ";",
    ".": ".",
    ":": ":",
    "\u2061": "of",
    "\u2062": "",
    "\u2063": "",
    "\u00a0": "",
    "!": "factorial",
}
_FUNCTIONS = {
    "sin": "sine",
    "cos": "cosine",
    "tan": "tangent",
    "arcsin": "arc sine",
    "arccos": "arc cosine",
    "arctan": "arc tangent",
    "ln": "natural logarithm",
    "log": "logarithm",
    "exp": "exponential",
    "lim": "the limit",
    "max": "max",
    "min": "min",
}
_SUBSCRIPTS = {"0": "zero", "1": "one", "2": "two", "3": "three", "4": "four"}
_OVER = {
    "→": "vector",
    "¯": "bar",
    "‾": "bar",
    "^": "hat",
    "ˆ": "hat",
    "˙": "dot",
    "¨": "double dot",
    ".": "dot",
    "~": "tilde",
}


# XML knows five names; every other character reference becomes its character.
_NAMED = re.compile(r"&(?!(?:lt|gt|amp|quot|apos);)[#\w]+;")


def spoken(mathml: str) -> str:
    """Return a `<math>` element, given as text, in words.

    >>> spoken("<math><mfrac><mn>1</mn><mrow><mn>2</mn><mi>f</mi></mrow></mfrac></math>")
    '1 over 2 f, end of fraction'
    """
    words = _say(ElementTree.fromstring(_NAMED.sub(lambda name: html.unescape(name[0]), mathml)))
    return re.sub(r"\s+([,;.:])", r"\1", re.sub(r"\s+", " ", words)).strip(" ,")


def _say(part: ElementTree.Element) -> str:
    kind = part.tag.rpartition("}")[2]
    children = list(part)
    if kind in ("mi", "mn", "mo", "mtext"):
        return _leaf(kind, "".join(part.itertext()))
    if kind in ("msub", "munder"):
        return f"{_say(children[0])} {_below(children[1])}"
    if kind in ("msup", "mover"):
        return f"{_say(children[0])} {_above(children[1], kind)}"
    if kind in ("msubsup", "munderover"):
        return _limits(children)
    if kind == "mfrac":
        return _fraction(children)
    if kind in ("msqrt", "mroot"):
        inner = " ".join(map(_say, children if kind == "msqrt" else children[:1]))
        return f"the square root of {inner}" + (", end of root," if _long(part) else "")
    if kind == "mtr":
        return " ".join(map(_say, children)) + ";"
    if kind == "mspace":
        return ""
    return " ".join(map(_say, children))


def _leaf(kind: str, text: str) -> str:
    text = text.strip()
    if kind == "mo":
        return _SIGNS.get(text, text)
    if kind == "mi":
        return _LETTERS.get(text) or _FUNCTIONS.get(text, text)
    return text.replace("\u2009", "").replace("\u202f", "").replace("−", "minus ")


def _below(part: ElementTree.Element) -> str:
    words = _say(part)
    return _SUBSCRIPTS.get(words, words)


def _above(part: ElementTree.Element, kind: str) -> str:
    text = "".join(part.itertext()).strip()
    if kind == "mover":
        return _OVER.get(text, f"with {_say(part)} above")
    if text == "2":
        return "squared"
    if text == "3":
        return "cubed"
    if text in ("′", "∘", "°"):
        return _SIGNS[text]
    return f"to the power {_say(part)}" + ("," if _long(part) else "")


def _limits(children: list[ElementTree.Element]) -> str:
    base = _say(children[0])
    if base in ("the integral", "the sum"):
        return f"{base} from {_say(children[1])} to {_say(children[2])} of"
    return f"{base} {_below(children[1])} {_above(children[2], 'msup')}"


def _fraction(children: list[ElementTree.Element]) -> str:
    upper, lower = children
    start = "the fraction " if _long(upper) else ""
    end = ", end of fraction" if _long(lower) or _long(upper) else ""
    return f"{start}{_say(upper)} over {_say(lower)}{end}"


def _long(part: ElementTree.Element) -> bool:
    """Return whether a part holds more than one thing to say."""
    leaves = [leaf for leaf in part.iter() if leaf.tag.rpartition("}")[2] in ("mi", "mn", "mtext", "msup", "msub")]
    signs = [
        leaf
        for leaf in part.iter()
        if leaf.tag.rpartition("}")[2] == "mo" and (leaf.text or "") not in ("\u2061", "\u2062")
    ]
    return len(leaves) + len(signs) > 1 and not _one_symbol(part)


def _one_symbol(part: ElementTree.Element) -> bool:
    kind = part.tag.rpartition("}")[2]
    children = list(part)
    if kind in ("mrow", "math", "mstyle") and len(children) == 1:
        return _one_symbol(children[0])
    return kind in ("msub", "mi", "mn")
