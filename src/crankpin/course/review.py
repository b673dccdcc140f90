"""What a reviewer of a page would point out: typed numbers, pictures without words, long-winded instructions.

Nothing here is certain to be wrong, so that everything is advice; each comes with its line.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from crankpin.calculator.declaration import Input
from crankpin.calculator.entries import read_entry
from crankpin.calculator.units import DIMENSIONS, find_unit, plain_unit, printed_unit
from crankpin.faults import AuthorError, CourseFault, Place
from crankpin.notation.course import Course, Quantity
from crankpin.notation.passages import fences

#: Instructions that ask for more years at school than this are pointed out (automated readability index, from memory).
HARDEST = 12.0
#: So many words are needed before the index means anything.
_FEWEST_WORDS = 40
_IMAGE = re.compile(r"!\[(?P<alt>[^\]]*)\]\(|<img\b(?P<attributes>[^>]*)>")
_HIDDEN = re.compile(r"<!--.*?-->|(`+)(?!`).+?(?<!`)\1(?!`)|\{=.*?=\}|\]\([^)]*\)", re.DOTALL)
#: Numbers that are what they are: one of something, a right angle, a full turn.
_SELF_EVIDENT = {("1", ""), ("0", ""), *((turn, "deg") for turn in ("45", "90", "180", "270", "360"))}


def _units() -> str:
    symbols = {symbol for units in DIMENSIONS.values() for symbol in units if symbol != "1"}
    spelt = {
        shown
        for symbol in symbols
        for shown in (symbol, printed_unit(symbol), printed_unit(symbol).replace("⁻¹", "^-1"))
    }
    return "|".join(sorted(map(re.escape, spelt), key=len, reverse=True))


_TYPED = re.compile(
    r"(?<![\w.,\\^])(?P<number>\d+(?:\.\d+)?)(?:[ \u00a0\u202f~]|\\,|\\unit\{|(?=[°%]))"
    rf"(?P<unit>{_units()})(?![\w/])"
)


@dataclass(frozen=True)
class Values:
    """Every value that the course computes or is given, by dimension, in SI."""

    by_dimension: Mapping[str, list[float]] = field(default_factory=dict)

    def hold(self, number: str, unit: str) -> bool:
        """Tell whether some value, rounded to the digits typed, is this number."""
        slack = 0.5 * 10.0 ** -len(number.partition(".")[2])
        for dimension, values in self.by_dimension.items():
            shown = find_unit(dimension, unit)
            if shown and any(value and abs(abs(shown.shown(value)) - float(number)) <= slack for value in values):
                return True
        return False


def values_of(course: Course) -> Values:
    """Return the values of all cases, and of all calculators at their defaults."""
    found: dict[str, list[float]] = {}
    for name in (*course.cases, *course.calculators):
        try:
            evaluation = course.evaluation(name)
        except AuthorError:  # told when the page is built
            continue
        quantities: list[Quantity] = [*evaluation.inputs.values(), *evaluation.outputs.values()]
        for one in quantities:
            if isinstance(one.value, float) and one.unit:
                found.setdefault(one.unit, []).append(one.value)
    return Values(found)


def review_page(text: str, start: Place, values: Values) -> list[CourseFault]:
    """Return what to look at in a page or a card; `start` is the place of its first line."""
    lines = _prose(text)
    told = [*_typed_numbers(lines, values), *_pictures(lines)]
    return [CourseFault(start.below(number), message) for number, message in sorted(told)]


def reading_level(text: str) -> float | None:
    """Return the automated readability index of instructions (years at school), None for a text too short."""
    plain = re.sub(r"\$[^$]*\$|[*_#>|]", " ", "\n".join(_prose(text)))
    sentences = [part for part in re.split(r"[.!?:;]\s|\n\s*(?:\d+\.|-)\s|\n\s*\n", plain) if part.strip()]
    words = re.findall(r"[^\W\d_][\w’'-]*", plain)
    if len(words) < _FEWEST_WORDS or not sentences:
        return None
    letters = len("".join(words))
    return 4.71 * letters / len(words) + 0.5 * len(words) / len(sentences) - 21.43


def review_case(course: Course, name: str) -> Iterator[CourseFault]:
    """Yield the inputs of a case that were typed without the unit that they need."""
    case = course.cases[name]
    calculator = course.calculators.get(case.calculator)
    for key, text in case.given.items() if calculator else ():
        one = next((one for one in calculator.inputs if one.key == key), None) if calculator else None
        entry = read_entry(text) if isinstance(one, Input) and not text.startswith("=") else None
        if isinstance(one, Input) and entry and not entry.unit and one.unit != "1":
            yield CourseFault(case.place_of(key), f"{key} = {text} has no unit and is read in {printed_unit(one.unit)}")


def _prose(text: str) -> list[str]:
    """Return the lines of a text with everything blanked that is no prose: fences, code, comments, notation."""
    lines = text.split("\n")
    for fence in list(fences(lines)):
        for number in range(fence.first, fence.last + 1):
            lines[number] = ""
    whole = "\n".join(lines)
    return _HIDDEN.sub(lambda found: re.sub(r"[^\n]", " ", found[0]) if found[0][0] != "]" else found[0], whole).split(
        "\n"
    )


def _typed_numbers(lines: list[str], values: Values) -> Iterator[tuple[int, str]]:
    for number, line in enumerate(lines):
        for found in _TYPED.finditer(line):
            unit = plain_unit(found["unit"])
            plain = (found["number"], "deg" if unit == "deg" else "")
            if plain not in _SELF_EVIDENT and not values.hold(found["number"], unit):
                yield number, f"“{found[0]}” is typed and equals no value of the course; is it still right?"


def _pictures(lines: list[str]) -> Iterator[tuple[int, str]]:
    for number, line in enumerate(lines):
        for found in _IMAGE.finditer(line):
            given = found["alt"] if found["attributes"] is None else " ".join(re.findall(r'alt="([^"]*)"', found[0]))
            if not (given or "").strip():
                yield number, "a picture has no words for those who cannot see it: ![what it shows](file)"
