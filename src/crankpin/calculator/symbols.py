"""Symbols of quantities: declared as TeX, written as MathML, text or words.

The part of TeX understood: one letter or one Greek command, then at most one subscript, which is a
letter, digits, ``\\max`` and its like, or ``\\mathrm{word}``, and a square; ``\\Delta`` before it; or two such with a
stroke between.
Quantities are italic, descriptive subscripts upright (ISO 80000-1, from memory; NIST SP 811, section 10.2).
"""

import re
from dataclasses import dataclass, replace
from functools import lru_cache

GREEK = {
    "alpha": "α",
    "beta": "β",
    "gamma": "γ",
    "delta": "δ",
    "Delta": "Δ",
    "epsilon": "ε",
    "zeta": "ζ",
    "eta": "η",
    "theta": "θ",
    "Theta": "Θ",
    "vartheta": "ϑ",
    "kappa": "κ",
    "lambda": "λ",
    "Lambda": "Λ",
    "mu": "μ",
    "nu": "ν",
    "pi": "π",
    "rho": "ρ",
    "sigma": "σ",
    "tau": "τ",
    "phi": "φ",
    "varphi": "φ",
    "Phi": "Φ",
    "psi": "ψ",
    "omega": "ω",
    "Omega": "Ω",
}
_SYMBOL = re.compile(
    r"(?P<change>\\Delta(?: (?=[A-Za-z])|(?=\\)))?(?P<head>[A-Za-z]|\\[A-Za-z]+)"
    r"(?:_(?:(?P<one>[A-Za-z0-9]|\\[A-Za-z]+)|\{(?P<many>[A-Za-z0-9]+|\\[A-Za-z]+|[0-9]+/[0-9]+|\\mathrm\{[^{}]+\}(?:,[0-9A-Za-z])?)\}))?"
    r"(?P<squared>\^2)?"
)
_DIGIT_WORDS = {"0": "zero", "1": "one", "2": "two", "3": "three", "4": "four"}


@dataclass(frozen=True, slots=True)
class Symbol:
    """A symbol taken apart: its letter, and its subscript with how that is set."""

    head: str
    below: str = ""
    upright: bool = False
    #: True for a square that has a name of its own, such as R^2.
    squared: bool = False
    #: The lower symbol of a quotient such as a/g.
    over: "Symbol | None" = None
    #: True for the change of a quantity, with an upright Δ before it.
    change: bool = False

    def mathml(self) -> str:
        """Return the symbol as MathML Core."""
        if self.over:
            return f"<mrow>{self._mathml()}<mo>/</mo>{self.over._mathml()}</mrow>"
        return self._mathml()

    def _mathml(self) -> str:
        if self.squared:
            return f"<msup>{replace(self, squared=False)._mathml()}<mn>2</mn></msup>"
        letter = f"<mi>{self.head}</mi>"
        written = f"<msub>{letter}{self._below_mathml()}</msub>" if self.below else letter
        return f'<mrow><mi mathvariant="normal">Δ</mi>{written}</mrow>' if self.change else written

    def _below_mathml(self) -> str:
        if self.below.isdigit():
            return f"<mn>{self.below}</mn>"
        if len(self.below) > 1:
            return f"<mtext>{self.below}</mtext>"
        return f'<mi mathvariant="normal">{self.below}</mi>' if self.upright else f"<mi>{self.below}</mi>"

    def text(self) -> str:
        """Return the symbol as plain text: ``v_max``."""
        own = "Δ" * self.change + (f"{self.head}_{self.below}" if self.below else self.head) + "²" * self.squared
        return f"{own}/{self.over.text()}" if self.over else own

    def words(self) -> str:
        """Return the symbol as it is said: ``v max``, ``omega zero``."""
        head = next((name for name, letter in GREEK.items() if letter == self.head), self.head)
        head = "phi" if head == "varphi" else head
        own = "change in " * self.change + f"{head} {_DIGIT_WORDS.get(self.below, self.below)}".strip()
        own += " squared" * self.squared
        return f"{own} over {self.over.words()}" if self.over else own


@lru_cache(maxsize=1024)
def read_symbol(tex: str) -> Symbol | None:
    """Return the symbol that a piece of TeX stands for, or None when it is none this part of TeX knows.

    >>> read_symbol(r"v_{\\max}").text(), read_symbol(r"\\omega_0").words()
    ('v_max', 'omega zero')
    """
    upper, lower = _quotient(tex)
    if lower:
        first, second = read_symbol(upper), read_symbol(lower)
        return replace(first, over=second) if first and second else None
    match = _SYMBOL.fullmatch(tex)
    if match is None:
        return None
    head = match["head"]
    if head.startswith("\\"):
        head = GREEK.get(head[1:], "")
    below = match["one"] or match["many"] or ""
    upright = below.startswith("\\") and below[1:] not in GREEK
    if below.startswith("\\mathrm{"):
        below = below[8:].replace("}", "")
    elif below.startswith("\\"):
        below = GREEK.get(below[1:], below[1:])
    squared, change = bool(match["squared"]), bool(match["change"])
    return Symbol(head, below, upright, squared=squared, change=change) if head else None


def _quotient(tex: str) -> tuple[str, str]:
    """Split at a stroke that stands outside braces; the second part is "" where there is none."""
    depth = 0
    for i, sign in enumerate(tex):
        depth += (sign == "{") - (sign == "}")
        if sign == "/" and depth == 0:
            return tex[:i], tex[i + 1 :]
    return tex, ""
