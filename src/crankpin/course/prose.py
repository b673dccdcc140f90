"""Computed numbers in prose: `{= pier-wheel.v to 4 in cm/s =}` becomes the number, its unit and the right spaces.

    {= NAME.QUANTITY [to DIGITS] [in UNIT] [bare] [| KEY = VALUE; KEY = VALUE] =}

NAME is a case, or a calculator at its defaults; QUANTITY an input or an output; `bare` leaves the unit out.
"""

from __future__ import annotations

import html
import re
from collections.abc import Mapping
from dataclasses import dataclass, field

from crankpin.calculator.numbers import format_number, format_quantity, tex_number, tex_quantity, tex_unit, tex_written
from crankpin.calculator.units import DIMENSIONS, find_unit, gap, printed_unit
from crankpin.faults import AuthorError
from crankpin.notation.course import Course, Quantity

NO_BREAK = "\u00a0"

_ASKED = re.compile(r"^(?P<name>[a-z][a-z0-9-]*)\.(?P<key>[A-Za-z]\w*)(?P<rest>(?:\s.*)?)$")
_REST = re.compile(
    r"\s+(?:to\s+(?P<digits>\d+)|(?P<bare>bare)|in\s+(?P<unit>\S+(?:\s+(?!(?:to\s+\d|bare\b|in\s))\S+)*))"
)


@dataclass(frozen=True)
class Asked:
    """What stands between `{=` and `=}`."""

    name: str
    key: str
    overrides: Mapping[str, str] = field(default_factory=dict)
    digits: int | None = None
    unit: str = ""
    bare: bool = False


def read_asked(text: str) -> Asked:
    """Return what is asked for. Raises `AuthorError`."""
    wanted, _, given = (part.strip() for part in text.partition("|"))
    head = _ASKED.match(wanted)
    if not head:
        raise AuthorError(
            f'"{wanted}" is not a name and a quantity, such as "edge-on.x" or "pier-wheel.v to 4 in cm/s"'
        )
    digits, unit, bare, at = None, "", False, 0
    rest = head["rest"]
    while at < len(rest):
        part = _REST.match(rest, at)
        if not part:
            raise AuthorError(f'"{rest[at:].strip()}" is not "to" and digits, "in" and a unit, or "bare"')
        digits = int(part["digits"]) if part["digits"] else digits
        unit, bare, at = part["unit"] or unit, bare or bool(part["bare"]), part.end()
    if digits is not None and not 1 <= digits <= 12:
        raise AuthorError(f"{digits} digits are asked for; 1 to 12 are possible")
    return Asked(head["name"], head["key"], _overrides(given), digits, unit, bare)


def _overrides(given: str) -> dict[str, str]:
    pairs = {}
    for part in filter(None, (part.strip() for part in given.split(";"))):
        key, equals, value = (piece.strip() for piece in part.partition("="))
        if not equals or not key or not value:
            raise AuthorError(f'"{part}" is not "key = value", such as "A = 12 cm"')
        pairs[key] = value
    return pairs


def answer_text(course: Course, text: str) -> str:
    """Return the answer as plain text, with a no-break space before the unit. Raises `AuthorError`."""
    asked = read_asked(text)
    found = course.quantity(asked.name, asked.key, asked.overrides)
    if isinstance(found.value, str) or not isinstance(found.value, (int, float)):
        _no_number_forms(asked)
        return found.text
    if asked.bare:
        return format_number(_shown(asked, found), _digits(course, asked))
    if asked.digits is None and not asked.unit:
        return found.text.replace(" ", NO_BREAK)
    written = format_quantity(float(found.value), found.unit, _unit(asked, found), _digits(course, asked))
    return written.replace(" ", NO_BREAK)


def answer_html(course: Course, text: str) -> str:
    """Return the answer as HTML. Raises `AuthorError`."""
    return f'<span class="number">{html.escape(answer_text(course, text), quote=False)}</span>'


def answer_tex(course: Course, text: str) -> str:
    """Return the answer as TeX, its unit upright after a thin space. Raises `AuthorError`."""
    asked = read_asked(text)
    found = course.quantity(asked.name, asked.key, asked.overrides)
    if not isinstance(found.value, (int, float)):
        _no_number_forms(asked)
        return rf"\text{{{found.text}}}"
    if asked.digits is None and not asked.unit and not asked.bare:
        return _tex_as_written(found)
    digits = _digits(course, asked)
    if asked.bare:
        return tex_number(_shown(asked, found), digits)
    return tex_quantity(float(found.value), found.unit, _unit(asked, found), digits)


def _tex_as_written(found: Quantity) -> str:
    """Return a quantity as TeX with the digits of its own text, which may follow an uncertainty or an entry."""
    unit = found.chosen or found.unit
    number = found.text.removesuffix(gap(unit) + printed_unit(unit))
    return tex_written(number) + tex_unit(unit)


def _no_number_forms(asked: Asked) -> None:
    if asked.unit or asked.digits is not None or asked.bare:
        raise AuthorError(f'{asked.name}.{asked.key} is a word, not a number; leave out "to", "in" and "bare"')


def _unit(asked: Asked, found: Quantity) -> str:
    if not asked.unit:
        return found.chosen
    if find_unit(found.unit, asked.unit) is None:
        possible = ", ".join(DIMENSIONS.get(found.unit, {found.unit: None}))
        raise AuthorError(f"{asked.name}.{asked.key} cannot be given in {asked.unit}; possible are {possible}")
    return asked.unit


def _shown(asked: Asked, found: Quantity) -> float:
    unit = find_unit(found.unit, _unit(asked, found) or found.unit)
    value = float(found.value or 0.0)
    return unit.shown(value) if unit else value


def _digits(course: Course, asked: Asked) -> int:
    if asked.digits is not None:
        return asked.digits
    calculator = course.calculators[course.calculator_of(asked.name)]
    return next((one.digits for one in calculator.outputs if one.key == asked.key), 3)
