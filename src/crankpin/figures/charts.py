"""The picture of a calculator as built into a page: the same drawing as the live chart's, as a light SVG.

Measures, ticks, lines and the places of words are those of `chart.mjs`, which draws in this very figure when it is
live. Words are text in the page's own letters; every ink is a class, never a fixed colour, so that the drawing follows
light and dark. On paper pictures are drawn by `crankpin.figures.plots`. The same picture gives the same bytes.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from html import escape
from itertools import pairwise
from typing import Any

from crankpin.calculator.numbers import MINUS
from crankpin.calculator.units import over_unit
from crankpin.figures.plots import line_of

#: In units of the drawing's own: its width, and the height of a panel.
WIDTH = 360
PANEL_HEIGHT = 138
SQUARE_HEIGHT = 300
TALL_HEIGHT = 236
"""That of a graph to read values off."""
_LEFT, _RIGHT, _TOP, _BOTTOM = 52, 12, 20, 36
#: The least distance between ticks, across and up.
_TICK_SPACE = (46, 19)
_DASHES = {"dashes": "12 5", "dots": "2 4"}
_HEAVY, _PLAIN = 2.2, 1.7
#: How far a thinned curve may be from its points.
_TOLERANCE = 0.08
_RAISED = str.maketrans("-0123456789", "⁻⁰¹²³⁴⁵⁶⁷⁸⁹")

Point = tuple[float, float]
Range = tuple[float, float]


def chart_svg(picture: Mapping[str, Any], numbers: Sequence[float], *, prefix: str) -> str:
    """Return the picture as one inline ``<svg>`` element.

    ``picture`` and the ``numbers`` of its curves are what a live page gets, from `crankpin.calculator.serialise`.
    ``prefix`` begins every id in it and must be unique on the page. Inks are the classes ``ink-position``,
    ``ink-velocity`` and so on; the text alternative is the picture's own.
    """
    drawn, top = [], 0
    caption, words = escape(picture["caption"]), escape(picture["words"])
    for panel in picture["panels"]:
        height = SQUARE_HEIGHT if panel["square"] else TALL_HEIGHT if panel.get("tall") else PANEL_HEIGHT
        drawn.append(_Panel(panel, numbers, top, height).drawn())
        top += height
    return (
        f'<svg class="figure" xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH} {top}" role="img" '
        f'aria-labelledby="{prefix}-title {prefix}-words"><title id="{prefix}-title">{caption}</title>'
        f'<desc id="{prefix}-words">{words}</desc>{"".join(drawn)}</svg>'
    )


@dataclass(frozen=True)
class _Curve:
    """One curve: its label, role and line, and its points."""

    label: str
    role: str
    line: str
    xs: Sequence[float]
    ys: Sequence[float]


class _Panel:
    """One panel, at its place in the drawing."""

    def __init__(self, panel: Mapping[str, Any], numbers: Sequence[float], top: int, height: int) -> None:
        self._panel, self._square, self._marks = panel, panel["square"], panel["marks"]
        self._curves = [_curve(one, numbers) for one in panel["curves"]]
        self._left, self._right = float(_LEFT), float(WIDTH - _RIGHT)
        self._top, self._bottom = float(top + _TOP), float(top + height - _BOTTOM)
        self._across, self._up = _ranges(self._curves, self._marks, square=self._square)

    def drawn(self) -> str:
        marks = "".join(self._mark(one) for one in self._marks)
        curves = "".join(self._curve(one) for one in self._curves)
        names = "" if self._square or len(self._curves) < 2 else self._names()
        return self._axes() + curves + self._titles() + names + marks

    def _x(self, value: float) -> float:
        low, high = self._across
        return self._left + (value - low) / (high - low) * (self._right - self._left)

    def _y(self, value: float) -> float:
        low, high = self._up
        return self._bottom - (value - low) / (high - low) * (self._bottom - self._top)

    def _axes(self) -> str:
        xs = [(self._x(one), _tick(one)) for one in _ticks(self._across, self._right - self._left, _TICK_SPACE[0])]
        ys = [(self._y(one), _tick(one)) for one in _ticks(self._up, self._bottom - self._top, _TICK_SPACE[1])]
        left, top, bottom = (_short(one) for one in (self._left, self._top, self._bottom))
        down, along = _short(self._bottom - self._top), _short(self._right - self._left)
        grid = "".join(f"M{_short(x)} {top}v{down}" for x, _ in xs) + "".join(
            f"M{left} {_short(y)}h{along}" for y, _ in ys
        )
        axis = f"M{left} {top}v{down}h{along}" + "".join(f"M{_short(x)} {bottom}v3.5" for x, _ in xs)
        axis += "".join(f"M{left} {_short(y)}h-3.5" for y, _ in ys)
        if not self._square and self._up[0] < 0.0 < self._up[1]:
            axis += f"M{left} {_short(self._y(0.0))}h{along}"
        words = "".join(f'<text x="{_short(x)}" y="{_short(self._bottom + 15)}">{text}</text>' for x, text in xs)
        sides = "".join(f'<text x="{_short(self._left - 7)}" y="{_short(y + 3.5)}">{text}</text>' for y, text in ys)
        return (
            f'<path class="ink-grid" stroke-width=".6" d="{grid}"/>'
            f'<path class="ink-axis" stroke-width=".8" fill="none" d="{axis}"/>'
            f'<g class="chart-ticks chart-middle">{words}</g><g class="chart-ticks chart-end">{sides}</g>'
        )

    def _titles(self) -> str:
        across, up = (_title(self._panel[one]["title"]) for one in ("horizontal", "vertical"))
        return (
            f'<text class="chart-title" x="0" y="{_short(self._top - 6)}">{up}</text>'
            f'<text class="chart-title chart-end" x="{_short(self._right)}" y="{_short(self._bottom + 33)}">'
            f"{across}</text>"
        )

    def _curve(self, one: _Curve) -> str:
        role, line = one.role, line_of(one.role, one.line)
        points = self._points(one)
        if line == "points":
            dots = "".join(f"M{_short(x)} {_short(y)}h0" for x, y in points)
            return f'<path class="ink-{role}" stroke-width="4.2" stroke-linecap="round" d="{dots}"/>'
        path = _path(_thinned(points))
        width = _HEAVY if role == "position" else _PLAIN
        dashes = f' stroke-dasharray="{_DASHES[line]}"' if line in _DASHES else ""
        drawn = f'<path class="ink-{role}" fill="none" stroke-width="{width}"{dashes} d="{path}"/>'
        if line != "area" or not points:
            return drawn
        floor = _short(self._y(0.0))
        filled = f"{path}L{_short(points[-1][0])} {floor}L{_short(points[0][0])} {floor}z"
        return f'<path class="fill-{role}" fill-opacity=".18" d="{filled}"/>{drawn}'

    def _points(self, one: _Curve) -> list[Point]:
        """Return where a curve's points are, as `_x` and `_y` place each."""
        (left, right), (low_x, high_x) = (self._left, self._right), self._across
        (top, bottom), (low_y, high_y) = (self._top, self._bottom), self._up
        across, up = right - left, bottom - top
        return [
            (left + (x - low_x) / (high_x - low_x) * across, bottom - (y - low_y) / (high_y - low_y) * up)
            for x, y in zip(one.xs, one.ys, strict=True)
        ]

    def _names(self) -> str:
        """Write each curve's label where it ends, clear of the others."""
        taken: list[float] = []
        drawn = []
        top, bottom = self._top + 4, self._bottom - 2
        for one in self._curves:
            if not one.label or one.line == "points":
                continue
            end = min(max(self._y(one.ys[-1]) - 4, top), bottom)
            places = [end + off for off in (0, -12, 12, -24, 24, -36, 36)]
            free = [y for y in places if top <= y <= bottom and all(abs(y - other) >= 12 for other in taken)]
            taken.append(free[0] if free else end)
            drawn.append(_label(one.label, one.role, self._right - 2, taken[-1], end=True))
        return "".join(drawn)

    def _mark(self, mark: Mapping[str, Any]) -> str:
        at, role = (self._x(mark["x"]), self._y(mark["y"])), mark["role"]
        end = (at[0] - self._left) / (self._right - self._left) > 0.8
        ring = (
            f'<circle class="ink-{role} fill-ground" stroke-width="1.6" r="3.25" '
            f'cx="{_short(at[0])}" cy="{_short(at[1])}"/>'
        )
        return ring + _label(mark["label"], role, at[0] + (-7 if end else 7), max(at[1] - 6, self._top + 4), end=end)


def _label(text: str, role: str, x: float, y: float, *, end: bool) -> str:
    """Return words over curves; they have a rim of paper."""
    classes = f"chart-label fill-{role}{' chart-end' if end else ''}{' chart-symbol' if len(text) == 1 else ''}"
    return f'<text class="{classes}" x="{_short(x)}" y="{_short(y)}">{escape(text)}</text>' if text else ""


def _title(title: str) -> str:
    """Return an axis title: its symbol italic with a subscript, its unit upright."""
    symbol, _, unit = title.partition(" / ")
    head, _, below = symbol.partition("_")
    lower = f'<tspan class="chart-below" dy="2.4">{escape(below)}</tspan>' if below else ""
    back = ' dy="-2.4"' if below else ""
    rest = f"<tspan{back}>{escape(over_unit(unit))}</tspan>" if unit else ""
    return f'<tspan class="chart-symbol">{escape(head)}</tspan>{lower}{rest}'


def _curve(one: Mapping[str, Any], numbers: Sequence[float]) -> _Curve:
    start, middle, end = (one["start"] + times * one["count"] for times in range(3))
    return _Curve(one["label"], one["role"], one["line"], numbers[start:middle], numbers[middle:end])


def _ranges(curves: Sequence[_Curve], marks: Sequence[Mapping[str, Any]], *, square: bool) -> tuple[Range, Range]:
    """Return the ends of both axes: the curves, the marks, and room above and below; equal scales where square."""
    across = _ends([*(one.xs for one in curves), [one["x"] for one in marks]])
    up = _ends([*(one.ys for one in curves), [one["y"] for one in marks]])
    if not square:
        return _widened(across, 0.0), _widened(up, 0.12)
    wide, high = _widened(across, 0.05), _widened(up, 0.05)
    room = (WIDTH - _LEFT - _RIGHT, SQUARE_HEIGHT - _TOP - _BOTTOM)
    per_unit = max((wide[1] - wide[0]) / room[0], (high[1] - high[0]) / room[1])
    return _centred(wide, per_unit * room[0]), _centred(high, per_unit * room[1])


def _ends(lists: Iterable[Sequence[float]]) -> Range:
    every = [one for some in lists for one in some]
    return (min(every), max(every)) if every else (0.0, 1.0)


def _widened(ends: Range, share: float) -> Range:
    low, high = ends
    room = 0.5 * (abs(high) or 1.0) if high == low else share * (high - low)
    return low - room, high + room


def _centred(ends: Range, extent: float) -> Range:
    middle = (ends[0] + ends[1]) / 2
    return middle - extent / 2, middle + extent / 2


def _ticks(ends: Range, length: float, space: float) -> list[float]:
    """Return round values between the ends, the closest together that leave so much space."""
    low, high = ends
    least = (high - low) * space / length
    power = 10.0 ** math.floor(math.log10(least))
    step = next(one * power for one in (1.0, 2.0, 2.5, 5.0, 10.0) if one * power >= least * (1 - 1e-12))
    first, last = math.ceil(low / step - 1e-9), math.floor(high / step + 1e-9)
    return [i * step for i in range(first, last + 1)]


def _tick(value: float) -> str:
    size = float(f"{value:.9g}")
    if size == 0.0:
        return "0"
    if 1e-3 <= abs(size) < 1e5:
        return repr(size).removesuffix(".0").replace("-", MINUS)
    figures, _, power = f"{size:.8e}".partition("e")
    figures = figures.rstrip("0").rstrip(".").replace("-", MINUS)
    return f"{figures}×10{str(int(power)).translate(_RAISED)}"


def _thinned(points: list[Point]) -> list[Point]:
    """Leave out points so near to the line between others that nobody sees it (Douglas and Peucker, 1973)."""
    kept = {0, len(points) - 1}
    waiting = [(0, len(points) - 1)]
    while waiting:
        first, last = waiting.pop()
        if last - first < 2:
            continue
        (x0, y0), (x1, y1) = points[first], points[last]
        dx, dy = x1 - x0, y1 - y0
        length = math.hypot(dx, dy)
        between = points[first + 1 : last]
        if length:
            off = [abs((x - x0) * dy - (y - y0) * dx) / length for x, y in between]
        else:
            off = [math.hypot(x - x0, y - y0) for x, y in between]
        most = max(off)
        if most > _TOLERANCE:
            far = first + 1 + off.index(most)
            kept.add(far)
            waiting += [(first, far), (far, last)]
    return [points[i] for i in sorted(kept)] if points else []


def _path(points: list[Point]) -> str:
    """Return a line through the points, to a tenth of a unit, each from the one before."""
    if not points:
        return ""
    tenths = [(round(10 * x), round(10 * y)) for x, y in points]
    steps = pairwise(tenths)
    moves = (_short((b[0] - a[0]) / 10) + _next((b[1] - a[1]) / 10) for a, b in steps)
    start = f"M{_short(tenths[0][0] / 10)} {_short(tenths[0][1] / 10)}"
    drawn = start + "l"
    for i, move in enumerate(moves):
        drawn += move if i == 0 or move.startswith("-") else " " + move
    return drawn if len(tenths) > 1 else start + "h0"


@lru_cache(maxsize=8192)
def _short(value: float) -> str:
    """Return a number to a tenth, in as few letters as SVG allows."""
    text = f"{value:.1f}".removesuffix(".0")
    text = text.replace("0.", ".", 1) if text.startswith(("0.", "-0.")) else text
    return "0" if text == "-0" else text


def _next(value: float) -> str:
    text = _short(value)
    return text if text.startswith("-") else " " + text
