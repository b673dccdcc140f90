"""Numbers in a problem's text: `{= r =}`, `{= v to 4 in cm/s =}`, `{= 2*r bare =}`, as in a chapter.

    {= EXPRESSION [in UNIT] [to DIGITS] [bare] =}

A quantity by its name needs no unit: it is written as it was declared. `bare` leaves the unit out.
"""

import re
from dataclasses import dataclass

from crankpin.calculator.numbers import MINUS
from crankpin.problems.expressions import read_expression
from crankpin.problems.faults import WordingError
from crankpin.problems.quantities import Form, dimension_of, number_text, quantity_text, unit_of
from crankpin.problems.variants import Variant

PLACEHOLDER = re.compile(r"\{=(?P<asked>[^{}]+?)=\}")
_END = re.compile(
    r"\s+(?:in\s+(?P<unit>\S+(?:\s+(?!(?:to\s+\d|bare\b|in\s|as\s))\S+)*?)(?:\s+as\s+(?P<as>\S+))?|to\s+(?P<digits>\d+)|(?P<bare>bare))$"
)


@dataclass(frozen=True, slots=True)
class Asked:
    """What stands between `{=` and `=}`, or behind a quantity that is worked out."""

    expression: str
    unit: str = ""
    dimension: str = ""
    digits: int = 0
    bare: bool = False


def read_asked(text: str) -> Asked:
    """Return what is asked for. Raises `WordingError`."""
    rest = " ".join(text.split())
    unit, dimension, digits, bare = "", "", 0, False
    while end := _END.search(rest):
        unit, dimension = (end["unit"] or unit, end["as"] or dimension) if end["unit"] else (unit, dimension)
        digits = int(end["digits"]) if end["digits"] else digits
        bare, rest = bare or bool(end["bare"]), rest[: end.start()]
    read_expression(rest)
    if digits > 12:
        raise WordingError(f"{digits} digits are asked for; 1 to 12 are possible")
    return Asked(rest, unit, dimension_of(unit, dimension) if unit else "", digits, bare)


def asked_in(text: str) -> list[str]:
    """Return what stands in the placeholders of a text, in order."""
    return [found["asked"].strip() for found in PLACEHOLDER.finditer(text)]


def answer(asked: str, variant: Variant) -> str:
    """Return what is written in the place of one placeholder. Raises `WordingError` and `NoNumberError`."""
    wanted = read_asked(asked)
    value = variant.quantities.value(wanted.expression)
    if isinstance(value, str):
        return value
    form = _form(wanted, variant)
    text = number_text(float(value), form) if wanted.bare else quantity_text(float(value), form)
    return "0" + text.removeprefix(MINUS + "0") if text.startswith(MINUS + "0 ") else text


def _form(wanted: Asked, variant: Variant) -> Form:
    known = variant.forms.get(wanted.expression)
    if known is None and not wanted.unit:
        raise WordingError(f"{wanted.expression}: say in which unit, such as {{= {wanted.expression} in m/s =}}")
    if known is None:
        return Form(wanted.dimension, wanted.unit, wanted.digits or 3)
    if not wanted.unit:
        return Form(known.dimension, known.unit, wanted.digits, "") if wanted.digits else known
    unit_of(known.dimension, wanted.unit)
    return Form(known.dimension, wanted.unit, wanted.digits or known.digits)


def filled(text: str, variant: Variant) -> str:
    """Return a text with every placeholder answered."""
    return PLACEHOLDER.sub(lambda found: answer(found["asked"].strip(), variant), text)
