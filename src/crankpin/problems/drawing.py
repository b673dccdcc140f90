"""Drawing a problem's quantities: how a range is written, and one draw from it.

r = "1.2 to 2.4 m step 0.1"          a range; its digits are those of the range as written
m = "one of 100, 150, 200 g"         one of some numbers
way = "one of clockwise, anticlockwise"   one of some words
g = "9.81 m/s2"                      always the same
"""

import re
from dataclasses import dataclass, replace

from crankpin.calculator.entries import read_entry
from crankpin.calculator.units import plain_unit
from crankpin.problems.faults import WordingError
from crankpin.problems.generator import Generator
from crankpin.problems.quantities import Form, dimension_of, unit_of

#: A value inside, or a word.
Value = float | str

_NUMBER = r"-?\d+(?:\.\d+)?"
_RANGE = re.compile(rf"(?P<low>{_NUMBER}) to (?P<high>{_NUMBER})(?P<unit>.*?)\s+step (?P<step>\d+(?:\.\d+)?)(?P<as>.*)")


@dataclass(frozen=True, slots=True)
class Drawn:
    """One quantity that is drawn: the numbers or words it can be, in the unit shown.

    ``values`` are decimal texts; words where ``unit`` is "". ``written`` is how the declaration says it.
    """

    key: str
    values: tuple[str, ...]
    dimension: str
    unit: str
    written: str = ""

    def draw(self, generator: Generator) -> tuple[Value, Form | None]:
        """Return a value inside with its form, or a word with none; where there is one value, nothing is drawn."""
        text = self.values[generator.below(len(self.values))] if len(self.values) > 1 else self.values[0]
        return self.value(text)

    def value(self, text: str) -> tuple[Value, Form | None]:
        """Return one of the possible texts as a value inside with its form."""
        if not self.unit:
            return text, None
        figures = len(text.lstrip("-0.").replace(".", ""))
        number = unit_of(self.dimension, self.unit).inside(float(text))
        return number, Form(self.dimension, self.unit, max(figures, 1), text)


def read_drawn(key: str, text: str) -> Drawn:
    """Return the quantity that a line of the declaration describes. Raises `WordingError`."""
    words = " ".join(text.split())
    if words.startswith("one of "):
        return replace(_one_of(key, words.removeprefix("one of ")), written=words)
    if found := _RANGE.fullmatch(words):
        unit, dimension = _unit(found["unit"] + found["as"])
        return Drawn(key, _steps(found["low"], found["high"], found["step"]), dimension, unit, words)
    if " to " in words:
        raise WordingError(f'“{text}” is not a range; write, for example, {key} = "1.2 to 2.4 m step 0.1"')
    return replace(_always(key, words), written=words)


def _unit(text: str) -> tuple[str, str]:
    symbol, _, wanted = text.strip().partition("as ")
    unit = plain_unit(symbol.strip() or "1")
    return unit, dimension_of(unit, wanted.strip())


def _always(key: str, text: str) -> Drawn:
    words, _, wanted = text.partition(" as ")
    entry = read_entry(words)
    if entry is None:
        raise WordingError(
            f'“{text}” is none of the ways to give a quantity: {key} = "1.2 to 2.4 m step 0.1", '
            f'"one of 100, 150, 200 g", "9.81 m/s2"'
        )
    unit, dimension = _unit(f"{entry.unit} as {wanted}" if wanted else entry.unit)
    return Drawn(key, (entry.digits.removeprefix("+"),), dimension, unit)


def _one_of(key: str, text: str) -> Drawn:
    parts = [part.strip() for part in text.split(",")]
    last = re.fullmatch(rf"(?P<number>{_NUMBER})(?P<unit>.*)", parts[-1])
    numbers = [*parts[:-1], last["number"] if last else parts[-1]]
    if len(set(numbers)) < 2 or not all(numbers):
        raise WordingError(f'“one of {text}” must name two or more, with commas: {key} = "one of 100, 150, 200 g"')
    if not last or not all(re.fullmatch(_NUMBER, number) for number in numbers):
        return Drawn(key, tuple(parts), "", "")
    unit, dimension = _unit(last["unit"])
    return Drawn(key, tuple(numbers), dimension, unit)


def _steps(low: str, high: str, step: str) -> tuple[str, ...]:
    """Return every number of a range as decimal text; counted in whole numbers, so that no dust comes in."""
    places = max(len(text.partition(".")[2]) for text in (low, high, step))
    first, last, by = (_scaled(text, places) for text in (low, high, step))
    if by == 0 or first >= last or (last - first) % by:
        raise WordingError(
            f"the range {low} to {high} step {step} must go up and its steps meet both ends, as 1.2 to 2.4 step 0.1"
        )
    return tuple(_decimal(number, places) for number in range(first, last + 1, by))


def _scaled(text: str, places: int) -> int:
    whole, _, rest = text.partition(".")
    return int(whole + rest.ljust(places, "0"))


def _decimal(number: int, places: int) -> str:
    if not places:
        return str(number)
    digits = str(abs(number)).rjust(places + 1, "0")
    return f"{'-' if number < 0 else ''}{digits[:-places]}.{digits[-places:]}"
