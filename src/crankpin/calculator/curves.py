"""The picture of a calculator as data: panels, axes, curves and marks.

The numbers are sampled by the calculator's own function in SI units; `drawn` brings them into the units
shown. What ink they get is decided elsewhere: matplotlib on paper, `course.charts` in the page as
built, the chart in a live page.
"""

import math
import sys
from array import array
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from crankpin.calculator.naming import name_of
from crankpin.calculator.numbers import format_number
from crankpin.calculator.symbols import read_symbol
from crankpin.calculator.units import Unit, find_unit, gap, printed_unit

#: Roles that carry one colour, line and arrow everywhere; the others are plain ink.
ROLES = ("position", "velocity", "acceleration", "plain", "second", "third")
LINES = ("solid", "dashes", "dots", "points", "area")
#: How many points a curve has unless its function says otherwise.
SAMPLES = 240
#: How many points a period of a sinusoid has: a chord between two keeps within 0.14 % of the amplitude of its arc.
A_PERIOD = 60


@dataclass(frozen=True, kw_only=True)
class Axis:
    """One axis: the quantity, as TeX symbol and words, its unit, and the unit shown.

    ``shown_in`` is a unit or the key of an input whose chosen unit is followed.
    """

    symbol: str
    meaning: str
    unit: str
    shown_in: str = ""


@dataclass(frozen=True, kw_only=True)
class Curve:
    """One curve; ``role`` gives its colour, ``line`` how it is drawn ("" = as the role has it)."""

    key: str
    label: str
    role: str = "plain"
    line: str = ""


@dataclass(frozen=True, kw_only=True)
class Mark:
    """One marked point, with the label that stands at it."""

    key: str
    label: str
    role: str = "plain"


@dataclass(frozen=True, kw_only=True)
class Panel:
    """Curves on one pair of axes; ``square`` gives both axes the same scale."""

    horizontal: Axis
    vertical: Axis
    curves: tuple[Curve, ...]
    marks: tuple[Mark, ...] = ()
    square: bool = False


@dataclass(frozen=True)
class Drawing:
    """Sampled numbers, SI: for each curve key (horizontal, vertical), for each mark key a point or None."""

    curves: Mapping[str, tuple[Sequence[float], Sequence[float]]]
    marks: Mapping[str, tuple[float, float] | None] = field(default_factory=dict)


@dataclass(frozen=True, kw_only=True)
class Picture:
    """The figure of a calculator: panels one below the other, and the function that samples them.

    Panels with the same horizontal axis share it. ``draw`` receives every input and output by key and
    returns a `Drawing`; ``words`` may replace the text alternative made from the numbers.
    """

    caption: str
    panels: tuple[Panel, ...]
    draw: Callable[[Mapping[str, Any]], Drawing]
    words: Callable[[Mapping[str, Any]], str] | None = None
    line: int = field(default_factory=lambda: sys._getframe(2).f_lineno, compare=False, repr=False)


def spread(start: float, end: float, count: int = SAMPLES) -> list[float]:
    """Return ``count`` equally spaced values from start to end, both included."""
    step = (end - start) / (count - 1)
    return [start + i * step for i in range(count - 1)] + [end]


def two_periods(start: float, period: float) -> list[float]:
    """Return equally spaced values over two periods of a sinusoid: fewer than `spread`, as many as are seen.

    Every tenth stands on a twelfth of the whole, so that a table of 13 rows meets ends, middles and quarters.
    """
    return spread(start, start + 2.0 * period, 2 * A_PERIOD + 1)


@dataclass(frozen=True, slots=True)
class DrawnCurve:
    """A curve in the units shown."""

    curve: Curve
    xs: "array[float]"
    ys: "array[float]"


@dataclass(frozen=True, slots=True)
class DrawnAxis:
    """An axis in the unit shown: ``title`` is the quantity over its unit, ``plain`` the same in text."""

    title: str
    unit: Unit
    meaning: str


@dataclass(frozen=True, slots=True)
class DrawnPanel:
    """A panel in the units shown."""

    panel: Panel
    horizontal: DrawnAxis
    vertical: DrawnAxis
    curves: tuple[DrawnCurve, ...]
    marks: tuple[tuple[Mark, float, float], ...]


@dataclass(frozen=True, slots=True)
class DrawnPicture:
    """A whole picture in the units shown, with its text alternative."""

    caption: str
    words: str
    panels: tuple[DrawnPanel, ...]


def drawn(picture: Picture, values: Mapping[str, Any], chosen: Mapping[str, str]) -> DrawnPicture:
    """Sample a picture for these values and bring it into the units shown.

    ``chosen`` gives the unit chosen for each input. A curve that meets a value that is not finite, or a
    curve or mark that the picture's function leaves out, is left out of the picture.
    """
    drawing = picture.draw(values)
    panels = tuple(_panel(panel, drawing, chosen) for panel in picture.panels)
    words = picture.words(values) if picture.words else " ".join(map(_panel_words, panels))
    return DrawnPicture(picture.caption, words, panels)


def _axis(axis: Axis, chosen: Mapping[str, str]) -> DrawnAxis:
    unit = shown_unit(axis.unit, axis.shown_in, chosen)
    name = name_of(axis, unit.symbol)
    symbol = read_symbol(name.symbol)
    text = symbol.text() if symbol else name.symbol
    printed = printed_unit(unit.symbol)
    return DrawnAxis(f"{text} / {printed}" if printed else text, unit, name.meaning)


def shown_unit(dimension: str, shown_in: str, chosen: Mapping[str, str]) -> Unit:
    """Return the unit to show: that of the input named, or the unit named, or the dimension's own."""
    named = find_unit(dimension, chosen.get(shown_in, shown_in)) if shown_in else None
    unit = named if named and not named.reciprocal else find_unit(dimension, dimension)
    if unit is None:
        raise ValueError(f"{dimension!r} is not a dimension")
    return unit


def _panel(panel: Panel, drawing: Drawing, chosen: Mapping[str, str]) -> DrawnPanel:
    across, up = _axis(panel.horizontal, chosen), _axis(panel.vertical, chosen)
    curves = []
    for curve in panel.curves:
        if curve.key not in drawing.curves:
            continue
        xs, ys = drawing.curves[curve.key]
        shown = DrawnCurve(curve, array("d", map(across.unit.shown, xs)), array("d", map(up.unit.shown, ys)))
        if all(map(math.isfinite, shown.xs)) and all(map(math.isfinite, shown.ys)):
            curves.append(shown)
    marks = []
    for mark in panel.marks:
        point = drawing.marks.get(mark.key)
        if point is not None and all(map(math.isfinite, point)):
            marks.append((mark, across.unit.shown(point[0]), up.unit.shown(point[1])))
    return DrawnPanel(panel, across, up, tuple(curves), tuple(marks))


def _panel_words(panel: DrawnPanel) -> str:
    parts = [_curve_words(panel, curve) for curve in panel.curves if len(curve.xs)]
    parts += [
        f"{mark.label}: {_said(x, panel.horizontal.unit)}, {_said(y, panel.vertical.unit)}."
        for mark, x, y in panel.marks
    ]
    return " ".join(parts)


def _curve_words(panel: DrawnPanel, curve: DrawnCurve) -> str:
    across, up = panel.horizontal, panel.vertical
    name = f"{curve.curve.label}: " if curve.curve.label else ""
    if panel.panel.square:
        return f"{name}from {_span(curve.xs, across.unit)} across and from {_span(curve.ys, up.unit)} up."
    size = max(map(abs, curve.ys))
    start, end = (0.0 if abs(y) < 1e-9 * size else y for y in (curve.ys[0], curve.ys[-1]))
    return (
        f"{name}{up.meaning} against {across.meaning} from {_said(curve.xs[0], across.unit)} "
        f"to {_said(curve.xs[-1], across.unit)}; begins at {_said(start, up.unit)}, "
        f"highest {_said(max(curve.ys), up.unit)}, lowest {_said(min(curve.ys), up.unit)}, "
        f"ends at {_said(end, up.unit)}."
    )


def _span(numbers: Sequence[float], unit: Unit) -> str:
    return f"{_said(min(numbers), unit)} to {_said(max(numbers), unit)}"


def _said(number: float, unit: Unit) -> str:
    return format_number(number) + gap(unit.symbol) + printed_unit(unit.symbol)
