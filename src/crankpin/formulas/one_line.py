"""A MathML formula in one line of plain characters, for the search index and for lists of headings."""

from __future__ import annotations

from xml.etree import ElementTree

_RAISED = str.maketrans("0123456789−+n", "⁰¹²³⁴⁵⁶⁷⁸⁹⁻⁺ⁿ")
_SPACED = set("=+−×·±≈<>≤≥→≡∝≠")
_INVISIBLE = str.maketrans("", "", "\u2062\u2063\u2064")


def one_line(mathml: str) -> str:
    """Return the formula as text: `f = 1/T`, `ω = √(k/m)`, `x = A cos(ωt)`, `v²`."""
    return " ".join(_written(ElementTree.fromstring(mathml)).split())


def _written(node: ElementTree.Element) -> str:
    parts = [_written(child) for child in node]
    match node.tag:
        case "mi" | "mn" | "mtext":
            return node.text or ""
        case "mo":
            return _operator(node)
        case "mspace":
            return "" if node.get("class") == "strut" else " "
        case "mfrac":
            return f"{_together(parts[0])}/{_together(parts[1])}"
        case "msqrt":
            return "√" + _together("".join(parts))
        case "mroot":
            return f"{parts[1].translate(_RAISED)}√{_together(parts[0])}"
        case "msup":
            return parts[0] + _raised(parts[1])
        case "msubsup":
            return parts[0] + parts[1] + _raised(parts[2])
        case "mover" | "munder" | "munderover":
            return parts[0]
        case "mtr":
            return " ".join(parts) + " "
        case _:
            return "".join(parts)


def _operator(node: ElementTree.Element) -> str:
    sign = (node.text or "").translate(_INVISIBLE)
    if sign == "\u2061":
        return " "
    return f" {sign} " if sign in _SPACED and node.get("lspace") != "0" else sign


def _together(text: str) -> str:
    """Return the text in brackets unless it is plainly one thing."""
    text = text.strip()
    return text if len(text) < 2 or text.replace(".", "").isalnum() else f"({text})"


def _raised(text: str) -> str:
    raised = text.strip().translate(_RAISED)
    changed = all(old != new for old, new in zip(text.strip(), raised, strict=True)) or text == "′"
    return raised if changed else "^" + _together(text)
