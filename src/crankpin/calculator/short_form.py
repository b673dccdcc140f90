"""A calculator from lines of text: what is given, what is found, and one value to hold it against.

    calculator = calculator_from(
        title="A rope on a drum",
        purpose="How fast the rope runs off a drum that turns steadily.",
        given=["d = 40 cm, from 10 cm to 120 cm: diameter of the drum",
               "T = 2.0 s, from 0.5 s to 10 s: time for one turn"],
        found=["v = pi*d/T in m/s: speed of the rope"],
        check="d = 40 cm, T = 2.0 s gives v = 0.628 m/s",
    )

A formula uses the keys above it (see `crankpin.calculator.formula`); values are in SI and radians inside. `rpm` counts
as an angular velocity, `Hz` as a frequency, `h` as a time, `deg` as an angle. The slider has the range; the symbol
follows from the key (`omega`, `v_max`, `x_0`), the picture shows the last result against the first quantity given.
"""

import math
import re
import sys
from collections.abc import Callable, Mapping, Sequence
from typing import Any

from crankpin.calculator.curves import Axis, Curve, Drawing, Mark, Panel, Picture, spread
from crankpin.calculator.declaration import Calculator, Caution, Input, Output, PublishedCheck, Values
from crankpin.calculator.entries import Entry, read_entry
from crankpin.calculator.faults import Absent
from crankpin.calculator.formula import FormulaError, Node, compute, names, read_formula
from crankpin.calculator.parsing import quantity_of
from crankpin.calculator.symbols import GREEK
from crankpin.calculator.units import DIMENSIONS, find_unit, plain_unit

_GIVEN = re.compile(
    r"(?P<key>\w+)\s*=\s*(?P<default>[^:]+?),?\s+from\s+(?P<low>[^:]+?)\s+to\s+(?P<high>[^:]+?)\s*:(?P<words>.+)"
)
_FOUND = re.compile(
    r"(?P<key>\w+)\s*=\s*(?P<formula>[^:]+?)\s+in\s+(?P<unit>[^:]+?)(?:\s+to\s+(?P<digits>\d+))?\s*:(?P<words>.+)"
)
_GIVEN_LIKE = "d = 40 cm, from 10 cm to 120 cm: diameter of the drum"
_FOUND_LIKE = "v = pi*d/T in m/s: speed of the rope"
_CHECK_LIKE = "d = 40 cm, T = 2.0 s gives v = 0.628 m/s"
#: Units that are also the name of a dimension of their own, where another one is meant.
_MEANS = {"rpm": "rad/s", "h": "s", "deg": "rad"}


class ShortFormError(ValueError):
    """A line that cannot be read; `written` is its text, by which it is found in the file."""

    def __init__(self, written: str, message: str) -> None:
        self.written = written
        super().__init__(f"“{written}”: {message}")


def calculator_from(
    *,
    title: str,
    purpose: str,
    given: Sequence[str],
    found: Sequence[str],
    check: str | Sequence[str],
    source: str = "worked out by hand",
    cautions: Sequence[str] = (),
) -> Calculator:
    """Return the calculator; ``source`` says where the values of ``check`` come from.

    Raises `ShortFormError` for a line that cannot be read.
    """
    line = sys._getframe(1).f_lineno
    inputs = tuple(_input(text, line) for text in given)
    outputs = tuple(_output(text, line) for text in found)
    checks = (check,) if isinstance(check, str) else check
    return Calculator(
        title=title,
        purpose=purpose,
        inputs=inputs,
        outputs=outputs,
        function=_function(outputs),
        picture=_picture(inputs[0], outputs[-1], _function(outputs), line) if inputs and outputs else None,
        cautions=tuple(Caution(text=text, line=line) for text in cautions),
        checks=tuple(_check(text, source, line) for text in checks),
        line=line,
    )


def _input(text: str, line: int) -> Input:
    read = _GIVEN.fullmatch(text.strip())
    if not read:
        raise ShortFormError(text, f"write key = value, from lowest to highest: meaning, such as “{_GIVEN_LIKE}”")
    entries = [_entry(text, read[part]) for part in ("default", "low", "high")]
    dimension = _dimension(text, entries[0].unit or "1")
    for entry in entries[1:]:
        if find_unit(dimension, entry.unit or "1") is None:
            raise ShortFormError(text, f"{entry.unit or 'a plain number'} does not go with {entries[0].unit or '1'}")
    units = dict.fromkeys(plain_unit(entry.unit or "1") for entry in entries)
    low, high = (quantity_of(read[part], dimension) for part in ("low", "high"))
    return Input(
        key=read["key"],
        symbol=_symbol(text, read["key"]),
        meaning=read["words"].strip(),
        unit=dimension,
        also=tuple(unit for unit in units if unit != dimension),
        default=read["default"],
        lowest=read["low"],
        highest=read["high"],
        slider=(read["low"], read["high"]),
        step=_step(high - low, dimension, plain_unit(entries[0].unit or "1")),
        line=line,
    )


def _entry(text: str, written: str) -> Entry:
    entry = read_entry(written)
    if entry is None:
        raise ShortFormError(text, f"“{written}” is no number with a unit; write it like “40 cm”")
    return entry


def _dimension(text: str, unit: str) -> str:
    plain = plain_unit(unit)
    own = _MEANS.get(plain, plain)
    if own in DIMENSIONS:
        return own
    for name, units in DIMENSIONS.items():
        if plain in units:
            return name
    known = ", ".join(dict.fromkeys(symbol for units in DIMENSIONS.values() for symbol in units))
    raise ShortFormError(text, f"the unit {unit} is unknown; there are {known}")


def _symbol(text: str, key: str) -> str:
    head, _, below = key.partition("_")
    if not below and len(key) > 1 and key[1:].isdigit():
        head, below = key[0], key[1:]
    if head not in GREEK and len(head) != 1:
        raise ShortFormError(text, f"{key} is no symbol; use a letter or a Greek name, such as d, x_0, v_max, omega")
    head = f"\\{head}" if head in GREEK else head
    if not below:
        return head
    if below in ("max", "min"):
        return f"{head}_{{\\{below}}}"
    return f"{head}_{below}" if below.isdigit() and len(below) == 1 else f"{head}_{{\\mathrm{{{below}}}}}"


def _step(span: float, dimension: str, symbol: str) -> str:
    """Return a step of 1, 2 or 5 times a power of ten in the unit of the default, about a fiftieth of the range."""
    unit = find_unit(dimension, symbol)
    shown = abs(unit.shown(span)) / 50.0 if unit else 0.0
    if shown == 0.0:
        return f"1 {symbol}"
    ten = 10.0 ** math.floor(math.log10(shown))
    step = next(times * ten for times in (1.0, 2.0, 5.0, 10.0) if times * ten >= shown * (1.0 - 1e-9))
    return f"{step:.12g} {symbol}" if symbol != "1" else f"{step:.12g}"


def _output(text: str, line: int) -> Output:
    read = _FOUND.fullmatch(text.strip())
    if not read:
        raise ShortFormError(text, f"write key = formula in unit: meaning, such as “{_FOUND_LIKE}”")
    try:
        read_formula(read["formula"])
    except FormulaError as error:
        raise ShortFormError(text, str(error)) from None
    dimension, unit = _dimension(text, read["unit"]), plain_unit(read["unit"])
    return Output(
        key=read["key"],
        symbol=_symbol(text, read["key"]),
        meaning=read["words"].strip(),
        unit=dimension,
        formula=read["formula"],
        shown_in="" if unit == dimension else unit,
        digits=int(read["digits"] or 3),
        line=line,
    )


def _function(outputs: Sequence[Output]) -> Callable[..., Mapping[str, Any]]:
    """Return the function that computes each formula with what is given and what was found above it."""
    formulas = {one.key: read_formula(str(one.formula)) for one in outputs}

    def find(**given: float) -> dict[str, Any]:
        values: dict[str, Any] = dict(given)
        for key, formula in formulas.items():
            values[key] = _value(formula, values)
        return {key: values[key] for key in formulas}

    return find


def _value(formula: Node, values: Mapping[str, Any]) -> float | Absent:
    for key in sorted(names(formula)):
        above = values[key]
        if isinstance(above, Absent):
            return above
    try:
        return compute(formula, values)
    except (ValueError, TypeError):  # the root or logarithm of a negative number
        return Absent("The formula has no value for these numbers.")


def _check(text: str, source: str, line: int) -> PublishedCheck:
    before, gives, after = text.partition(" gives ")
    if not gives:
        raise ShortFormError(text, f"write what is given, “gives”, and what comes out, such as “{_CHECK_LIKE}”")
    return PublishedCheck(source=source, given=_pairs(text, before), expect=_pairs(text, after), line=line)


def _pairs(text: str, written: str) -> dict[str, str]:
    pairs = [part.partition("=") for part in written.split(",")]
    if not all(equals and key.strip() and value.strip() for key, equals, value in pairs):
        raise ShortFormError(text, f"“{written.strip()}” must be key = value, such as “{_CHECK_LIKE}”")
    return {key.strip(): value.strip() for key, _, value in pairs}


def _picture(across: Input, up: Output, find: Callable[..., Mapping[str, Any]], line: int) -> Picture:
    """Return the last result against the first quantity given, the present value marked."""
    start, end = (quantity_of(text, across.unit) for text in across.slider)

    def draw(values: Values) -> Drawing:
        given = {key: value for key, value in values.items() if key != across.key}
        here = values[across.key]
        low, high = min(start, here), max(end, here)
        points = [(x, find(**{**given, across.key: x})[up.key]) for x in _inside(low, high)]
        there = [(x, y) for x, y in points if isinstance(y, float)]
        mark = (here, values[up.key]) if isinstance(values.get(up.key), float) else None
        return Drawing({"curve": ([x for x, _ in there], [y for _, y in there])} if there else {}, {"here": mark})

    return Picture(
        caption=f"{_capital(up.meaning)} against {across.meaning}",
        panels=(
            Panel(
                horizontal=Axis(symbol=across.symbol, meaning=across.meaning, unit=across.unit, shown_in=across.key),
                vertical=Axis(symbol=up.symbol, meaning=up.meaning, unit=up.unit, shown_in=up.shown_in),
                curves=(Curve(key="curve", label=""),),
                marks=(Mark(key="here", label="here"),),
            ),
        ),
        draw=draw,
        line=line,
    )


def _inside(low: float, high: float) -> list[float]:
    """Return points over a range without its zero, where a formula may have no value."""
    return [x for x in spread(low, high) if x != 0.0]


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]
