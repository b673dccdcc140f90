"""The still of a moving picture: the turning point at equal times, its places on the line, and the curves beside it.

Drawn from the same samples and on the same plan as the live picture (`crankpin/browser/static/scene-drawing.mjs`).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from crankpin.calculator.curves import DrawnPicture
from crankpin.calculator.numbers import MINUS, format_number
from crankpin.calculator.tracks import STEPS_A_TURN
from crankpin.calculator.units import gap, printed_unit
from crankpin.figures.plots import INKS, LABEL_INKS, LINE_STYLES, axis_title, inline_svg, tick_text
from crankpin.figures.stage import Dial, Plot, Stage

Point = tuple[float, float]

#: The sample at which the still shows the point: a sixth of a turn.
AT = 12
#: So many samples lie between two of the rings that mark equal times: a twelfth of a turn.
BETWEEN_RINGS = 6
#: The same on a spiral: a quarter of a turn.
BETWEEN_RUN_RINGS = 18
#: The longest arrow, as a share of the radius that stands for the whole scale.
ARROW = 0.62
#: The radius of the arc that shows how far the point is behind its drive, as a share of the circle's.
LAG = 0.5
#: The side of the mark of a right angle, and the shortest length along the line that is named.
CORNER, SHORTEST_NAMED = 5.0, 8.0
_ROUND = (1.0, 1.2, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0)
_ROLES = {"x": "position", "v": "velocity", "a": "acceleration"}
_TRACKS = {"x": "pin", "v": "velocity", "a": "acceleration"}
_STYLES = {"position": "solid", "velocity": "dashes", "acceleration": "dots", "plain": "solid", "second": "solid"}


@dataclass(frozen=True, slots=True)
class Look:
    """What a scene shows: the line of motion, the body on it, arrows and curves of some of x, v, a."""

    line: str
    body: str
    arrows: tuple[str, ...]
    curves: tuple[str, ...]
    #: The letter of the circle's radius, "" where it has none.
    radius: str = ""

    @property
    def quantities(self) -> tuple[str, ...]:
        """Everything of x, v, a that is seen: along the line, or as arrows where there is none."""
        seen = {*self.arrows, *self.curves} | ({"x"} if self.line != "none" else set())
        return tuple(key for key in ("x", "v", "a") if key in seen)


@dataclass(frozen=True, slots=True)
class Readout:
    """A number that follows the motion."""

    key: str
    symbol: str
    meaning: str
    text: str


def full_scale(greatest: float) -> float:
    """Return the round number, at least as great, that the edge of the picture stands for."""
    if greatest == 0.0:
        return 1.0
    power = 10.0 ** math.floor(math.log10(greatest))
    return next(one for one in _ROUND if one * power >= greatest * (1.0 - 1e-6)) * power


class _Samples:
    """The tracks of a picture, in the units shown."""

    def __init__(self, picture: DrawnPicture) -> None:
        self.tracks: dict[str, list[Point]] = {}
        self.panels = {}
        for panel in picture.panels:
            for one in panel.curves:
                self.tracks[one.curve.key] = list(zip(one.xs, one.ys, strict=True))
                self.panels[one.curve.key] = panel
        self.pin = self.tracks["pin"]
        self.times = [t for t, _ in self.tracks["angle"]]
        self.turns = self._comes_back(-1)
        self.closes = self._comes_back(STEPS_A_TURN)
        self.marked = self.pin[:STEPS_A_TURN:BETWEEN_RINGS] if self.closes else self.pin[:-1:BETWEEN_RUN_RINGS]

    def _comes_back(self, index: int) -> bool:
        return math.dist(self.pin[0], self.pin[index]) < 1e-6 * self.greatest("pin")

    def greatest(self, key: str) -> float:
        """Return the greatest distance from the centre."""
        return max(math.hypot(*one) for one in self.tracks[key])

    def full(self, key: str) -> float:
        """Return the whole scale of a track; the drive shares that of the point."""
        sizes = [self.greatest(one) for one in (key, "drive") if one in self.tracks and (key == "pin" or one == key)]
        return full_scale(max(sizes))

    def along(self, key: str) -> tuple[list[float], list[float]]:
        """Return times and values along the line: two turns, or the whole run."""
        values = [one for one, _ in self.tracks[key]]
        if not self.turns:
            return self.times, values
        return self.times + [one + self.times[-1] for one in self.times[1:]], values + values[1:]


def readouts_at(picture: DrawnPicture, look: Look) -> list[Readout]:
    """Return the numbers at the still's instant."""
    samples = _Samples(picture)
    clock = samples.panels["angle"]
    time, angle = samples.tracks["angle"][AT]
    turn = (samples.tracks["angle"][-1][1] - samples.tracks["angle"][0][1]) / (len(samples.times) - 1) * STEPS_A_TURN
    found = [
        ("theta", clock.panel.vertical.symbol, clock.vertical, angle, turn),
        ("t", clock.panel.horizontal.symbol, clock.horizontal, time, samples.along("pin")[0][-1]),
    ]
    for key in look.quantities:
        track = _TRACKS[key]
        panel, vector = samples.panels[track], samples.tracks[track][AT]
        value = math.hypot(*vector) if look.line == "none" else vector[0]
        found.append((key, panel.panel.horizontal.symbol, panel.horizontal, value, samples.greatest(track)))
    return [
        Readout(
            key,
            symbol,
            axis.meaning,
            _steady(value, greatest) + gap(axis.unit.symbol) + printed_unit(axis.unit.symbol),
        )
        for key, symbol, axis, value, greatest in found
    ]


def _steady(value: float, greatest: float) -> str:
    """Return a number with as many decimals as its greatest value has at three digits, as on the live page."""
    size = abs(greatest)
    if size != 0.0 and not 1e-3 <= size < 1e5:
        return format_number(value)
    decimals = max(0, 2 - math.floor(math.log10(size or 1.0)))
    return f"{value:.{decimals}f}".replace("-", MINUS)


def still_svg(picture: DrawnPicture, plan: Stage, look: Look, *, prefix: str) -> str:
    """Return the still as one inline ``<svg>`` element; ``prefix`` begins every id in it."""
    samples = _Samples(picture)

    def draw(figure: Any) -> None:
        axes = figure.add_axes((0.0, 0.0, 1.0, 1.0))
        axes.set_xlim(0.0, plan.width)
        axes.set_ylim(plan.height, 0.0)
        axes.set_axis_off()
        _Still(axes, samples, plan, look).draw()

    times = "twelve equal times in a turn" if samples.closes else "four equal times in every turn"
    words = f"The point at {times}. {_said(picture, look)}"
    return inline_svg(draw, (plan.width, plan.height), title=picture.caption, words=words, prefix=prefix)


def _said(picture: DrawnPicture, look: Look) -> str:
    listed = "; ".join(f"{one.meaning} {one.text}" for one in readouts_at(picture, look))
    return f"One of them is drawn in full: {listed}."


class _Still:
    def __init__(self, axes: Any, samples: _Samples, plan: Stage, look: Look) -> None:
        self.axes, self.samples, self.plan, self.look = axes, samples, plan, look
        self.level = look.line == "horizontal"
        self.scale = plan.wheel.radius / samples.full("pin")

    def draw(self) -> None:
        """Draw everything, what lies behind first."""
        self._circle()
        for plot in self.plan.plots:
            self._plot(plot)
        if self.look.line != "none":
            self._line()
        self._now()

    # Places

    def place(self, point: Point) -> Point:
        """Return where a point of the wheel's plane stands: x upwards beside a vertical line, else to the right."""
        x, y = (one * self.scale for one in point)
        wheel = self.plan.wheel
        return (wheel.x - y, wheel.y - x) if self.look.line == "vertical" else (wheel.x + x, wheel.y - y)

    def direction(self, vector: Point) -> Point:
        """Return a vector's parts on the page, of its own size."""
        x, y = vector
        return (-y, -x) if self.look.line == "vertical" else (x, -y)

    def on_line(self, x: float) -> Point:
        """Return where a value of the position stands on the line of motion."""
        across, down = self.place((x, 0.0))
        if self.plan.thread:
            return across, self.plan.line - self.plan.thread + math.sqrt(self.plan.thread**2 - (x * self.scale) ** 2)
        return (across, self.plan.line) if self.level else (self.plan.line, down)

    def on_plot(self, plot: Plot, time: float, value: float, end: float, full: float) -> Point:
        """Return where an instant of a curve stands."""
        if self.level:
            return plot.left + plot.width * (1 + value / full) / 2, plot.top + plot.height * time / end
        return plot.left + plot.width * time / end, plot.top + plot.height * (1 - value / full) / 2

    # Strokes

    def stroke(self, points: Sequence[Point], role: str, width: float, style: str = "solid", **more: Any) -> None:
        """Draw a line through points."""
        xs, ys = zip(*((round(x, 2), round(y, 2)) for x, y in points), strict=True)
        self.axes.plot(
            xs, ys, color=INKS[role], linewidth=width, linestyle=LINE_STYLES[style], dash_capstyle="butt", **more
        )

    def path(self, points: Sequence[Point], width: float, style: str = "solid") -> None:
        """Draw the way of a point that turns: a circle, or as it is."""
        if not self.samples.closes:
            self.stroke(points, "second", width, style)
            return
        from matplotlib.patches import Circle

        (left, right), (top, bottom) = ((min(row), max(row)) for row in zip(*points, strict=True))
        line = {"linewidth": width, "linestyle": LINE_STYLES[style], "edgecolor": INKS["second"]}
        middle = ((left + right) / 2, (top + bottom) / 2)
        self.axes.add_patch(Circle(middle, (right - left) / 2, fill=False, zorder=2, **line))

    def ring(self, point: Point, role: str, size: float, *, filled: bool = False) -> None:
        """Draw a small ring or a dot."""
        self.rings([point], role, size, filled=filled)

    def rings(self, points: Sequence[Point], role: str, size: float, *, filled: bool = False) -> None:
        """Draw rings or dots of one size."""
        inside = INKS[role] if filled else INKS["ground"]
        xs, ys = zip(*((round(x, 2), round(y, 2)) for x, y in points), strict=True)
        self.axes.plot(xs, ys, "o", markersize=size, color=INKS[role], markerfacecolor=inside, markeredgewidth=1.2)

    def arrow(self, start: Point, along: Point, role: str, label: str = "", width: float = 2.0) -> None:
        """Draw an arrow in the line of its role, with its letter at the tip."""
        size = math.hypot(*along)
        if size < 4.0:
            return
        ux, uy = along[0] / size, along[1] / size
        tip = (start[0] + along[0], start[1] + along[1])
        neck = (tip[0] - 7.0 * ux, tip[1] - 7.0 * uy)
        self.stroke([start, neck], "ground", 4.0)
        self.stroke([start, neck], role, width, _STYLES[role])
        wings = [tip, (neck[0] - 3.2 * uy, neck[1] + 3.2 * ux), (neck[0] + 3.2 * uy, neck[1] - 3.2 * ux)]
        self.axes.fill(*zip(*wings, strict=True), color=INKS[role], linewidth=0, zorder=2)
        if label:
            self.letter((tip[0] + 8.0 * ux, tip[1] + 8.0 * uy), label, role)

    def letter(self, at: Point, text: str, role: str, *, ha: str = "center") -> None:
        """Write a symbol or a formula at a place."""
        self.axes.text(*at, f"${text}$", color=LABEL_INKS[role], fontsize=11.0, ha=ha, va="center")

    def words(self, at: Point, text: str, *, ha: str = "left", va: str = "center", size: float = 9.5) -> None:
        """Write text or a number."""
        self.axes.text(*at, text, color=INKS["text"], fontsize=size, ha=ha, va=va)

    # Parts

    def _circle(self) -> None:
        self.path([self.place(one) for one in self.samples.pin], 1.0)
        self.rings([self.place(one) for one in self.samples.marked], "second", 4.0)
        if "drive" in self.samples.tracks:
            self.path([self.place(one) for one in self.samples.tracks["drive"]], 1.0, "dashes")
        self.stroke([self.place((side * self.samples.full("pin"), 0.0)) for side in (-1.08, 1.08)], "second", 0.6)
        self.ring((self.plan.wheel.x, self.plan.wheel.y), "plain", 2.6, filled=True)

    def _line(self) -> None:
        full = self.samples.full("pin")
        steps = 12 if self.plan.thread else 1
        self.stroke([self.on_line(1.12 * full * i / steps) for i in range(-steps, steps + 1)], "plain", 1.0)
        self.rings([self.on_line(one) for one, _ in self.samples.marked], "second", 3.4)
        title = axis_title(self.samples.panels["pin"].horizontal.title)
        if not self.plan.plots:
            self.words(_sum(self.on_line(1.12 * full), (14.0, 4.0)), title)
        elif self.level:
            plot = self.plan.plots[0]
            self.words((plot.left + plot.width + 14.0, plot.top - 10.0), title)

    def _plot(self, plot: Plot) -> None:
        track = _TRACKS[plot.key]
        full = self.samples.full(track)
        times, values = self.samples.along(track)
        end = times[-1]

        def here(time: float, value: float) -> Point:
            return self.on_plot(plot, time, value, end, full)

        for value in (-full, 0.0, full):
            self.stroke([here(0.0, value), here(end, value)], "axis" if value == 0.0 else "grid", 0.8)
            across, down = here(0.0, value)
            if self.level:
                self.words((across, down - 5.0), tick_text(value), ha="center", va="bottom")
            else:
                self.words((across - 5.0, down), tick_text(value), ha="right")
        self.stroke([here(0.0, -full), here(0.0, full)], "axis", 0.8)
        role = _ROLES[plot.key]
        width = 2.2 if role == "position" else 1.7
        if plot.key == "x" and "exact" in self.samples.tracks:
            exact = [here(time, one) for time, one in zip(*self.samples.along("exact"), strict=True)]
            self.stroke(exact, "plain", 0.8)
            self.words(_sum(exact[-1], (0.0, 10.0)), "exact", ha="center")
        self.stroke([here(*one) for one in zip(times, values, strict=True)], role, width, _STYLES[role])
        title = axis_title(self.samples.panels[track].horizontal.title)
        if not self.level:
            self.words((plot.left, plot.top - 12.0), title)
        self._clock(plot, end)

    def _clock(self, plot: Plot, end: float) -> None:
        title = axis_title(self.samples.panels["angle"].horizontal.title)
        if self.level:
            for time in (0.0, end / 2, end):
                self.words(
                    (plot.left - 8.0, self.on_plot(plot, time, 0.0, end, 1.0)[1]), tick_text(_short(time)), ha="right"
                )
            self.words((plot.left - 34.0, plot.top + plot.height / 4), title, ha="right")
            return
        down = plot.top + plot.height + 10.0
        for time in (0.0, end / 2, end):
            self.words((self.on_plot(plot, time, 0.0, end, 1.0)[0], down), tick_text(_short(time)), ha="center")
        self.words((plot.left + 0.75 * plot.width, down), title, ha="center")

    def _now(self) -> None:
        pin = self.samples.pin[AT]
        at, centre = self.place(pin), (self.plan.wheel.x, self.plan.wheel.y)
        if self.look.line != "none":
            spot = self.on_line(pin[0])
            foot = self.place((pin[0], 0.0))
            self.stroke([max(at, foot, key=lambda one: math.dist(one, spot)), spot], "second", 1.0, "dashes")
            self.stroke([centre, foot], "position", 3.0)
            self._corner(foot, centre, at)
            self._shadow(foot, centre, at)
            if "exact" in self.samples.tracks:
                self._exact(self.on_line(self.samples.tracks["exact"][AT][0]))
            self._body(spot)
        if "drive" in self.samples.tracks:
            self.arrow(centre, _between(centre, self.place(self.samples.tracks["drive"][AT])), "plain")
        self.stroke([centre, at], "plain", 1.6)
        self._angle(centre)
        if self.look.radius:
            share = 0.72 if "drive" in self.samples.tracks else 0.42
            self.letter(self._beside_radius(at, share), self.look.radius, "plain")
        if self.look.line == "none":
            self._others()
        for key in self.look.arrows:
            self._arrows(key, at, pin)
        for dial in self.plan.dials:
            self._dial(dial)
        for plot in self.plan.plots:
            self._carried(plot)
        self.ring(at, "plain", 7.0, filled=True)

    def _beside_radius(self, at: Point, share: float) -> Point:
        """Return a place beside the radius, this share of the way out.

        It is ahead of the radius, or clear of the drive or of the line's diameter.
        """
        centre = (self.plan.wheel.x, self.plan.wheel.y)
        across, down = _between(centre, at)
        far = math.hypot(across, down)
        aside = (9.0 * down / far, -9.0 * across / far)
        outwards = across * aside[0] if self.look.line == "vertical" else down * aside[1]
        if "drive" in self.samples.tracks or (self.look.line != "none" and outwards < 0.0):
            aside = _times(-1.0, aside)
        return _sum(_sum(centre, _times(share, (across, down))), aside)

    def _shadow(self, foot: Point, centre: Point, at: Point) -> None:
        """Write what the radius measures along the line, on the side away from the point."""
        across, down = _between(centre, foot)
        if math.hypot(across, down) < SHORTEST_NAMED:
            return
        words = self.samples.panels["pin"].panel.horizontal.symbol
        if self.look.radius and "drive" not in self.samples.tracks:
            words = rf"{self.look.radius}\,\cos\,{self.samples.panels['angle'].panel.vertical.symbol}"
        if self.level:
            beyond = -10.0 if at[1] > foot[1] else 10.0
            self.letter((centre[0] + across / 2, centre[1] + beyond), words, "position")
            return
        beyond, ha = (-5.0, "right") if at[0] > foot[0] else (5.0, "left")
        middle = math.copysign(max(abs(down) / 2, 17.0), down)
        self.letter((centre[0] + beyond, centre[1] + middle), words, "position", ha=ha)

    def _corner(self, foot: Point, centre: Point, at: Point) -> None:
        """Mark the right angle where the dropped line meets the diameter."""
        if min(math.dist(foot, centre), math.dist(foot, at)) < 2 * CORNER:
            return
        along, across = (_times(CORNER / math.dist(foot, one), _between(foot, one)) for one in (centre, at))
        self.stroke([_sum(foot, along), _sum(_sum(foot, along), across), _sum(foot, across)], "second", 0.8)

    def _angle(self, centre: Point) -> None:
        """Draw the point's angle from the line, or how far it is behind the drive."""
        start, end, size, symbol = 0.0, self._turned("pin"), 15.0, self.samples.panels["angle"].panel.vertical.symbol
        if "drive" in self.samples.tracks:
            start, end = end, self._turned("drive")
            size, symbol = LAG * self.plan.wheel.radius, r"\varphi"
            self.stroke([centre, self._around(end, 1.6 * size)], "second", 0.8, "dashes")
            self.letter(self._around(end, 1.6 * size + 8.0), "F", "plain")
        end += math.tau * (end < start)
        self.stroke([self._around(start + (end - start) * i / 48, size) for i in range(49)], "second", 0.9)
        self.letter(self._around((start + end) / 2, size + 9.0), symbol, "plain")

    def _turned(self, key: str) -> float:
        x, y = self.samples.tracks[key][AT]
        return math.atan2(y, x)

    def _around(self, angle: float, size: float) -> Point:
        across, down = self.direction((size * math.cos(angle), size * math.sin(angle)))
        return self.plan.wheel.x + across, self.plan.wheel.y + down

    def _others(self) -> None:
        """Draw the arrows at three other times of the turn, thin."""
        quarter = STEPS_A_TURN // 4
        for key in self.look.arrows:
            size = ARROW * self.plan.wheel.radius / self.samples.full(_TRACKS[key])
            for i in (AT + quarter, AT + 2 * quarter, AT + 3 * quarter):
                along = _times(size, self.direction(self.samples.tracks[_TRACKS[key]][i]))
                self.arrow(self.place(self.samples.pin[i]), along, _ROLES[key], width=1.0)
                self.ring(self.place(self.samples.pin[i]), "second", 4.0)

    def _dial(self, dial: Dial) -> None:
        """Draw the same arrow from one foot, and where its tip stands at the equal times."""
        if dial.key not in self.look.arrows:
            return
        size = dial.radius / self.samples.full(_TRACKS[dial.key])
        foot = (dial.x, dial.y)
        tips = [_sum(foot, _times(size, self.direction(one))) for one in self.samples.tracks[_TRACKS[dial.key]]]
        self.path(tips, 0.8)
        self.rings(tips[:-1:BETWEEN_RINGS], "second", 3.0)
        self.arrow(foot, _between(foot, tips[AT]), _ROLES[dial.key], dial.key)
        self.ring(foot, "plain", 2.6, filled=True)

    def _exact(self, at: Point) -> None:
        """Draw where the body is by the exact law."""
        for shape in self.plan.body:
            if shape.kind == "thread":
                self.stroke([self._beside(self.on_line(0.0), shape.points[0]), at], "plain", 0.8)
        self.ring(at, "plain", 9.0)

    def _arrows(self, key: str, at: Point, pin: Point) -> None:
        track = _TRACKS[key]
        size = ARROW * self.plan.wheel.radius / self.samples.full(track)
        vector = self.samples.tracks[track][AT]
        along = _times(size, self.direction(vector))
        self.arrow(at, along, _ROLES[key], key if key == "v" else "")
        if key == "a":
            share = math.hypot(*along) / max(math.dist(at, (self.plan.wheel.x, self.plan.wheel.y)), 1.0)
            self.letter(self._beside_radius(at, 1.0 - share / 2), key, _ROLES[key])
        if self.look.line != "none":
            across, down = self.on_line(pin[0])
            aside = 10.0 if key == "v" else -10.0
            start = (across, down + aside) if self.level else (across + aside, down)
            self.arrow(start, _times(size, self.direction((vector[0], 0.0))), _ROLES[key])

    def _carried(self, plot: Plot) -> None:
        """Carry the value from the line of motion, or from its bar, to the curve."""
        track = _TRACKS[plot.key]
        full, end = self.samples.full(track), self.samples.along(track)[0][-1]
        time, value = self.samples.times[AT], self.samples.tracks[track][AT][0]
        point = self.on_plot(plot, time, value, end, full)
        role = _ROLES[plot.key]
        if plot.key == "x":
            start = self.on_line(value)
        else:
            zero = (plot.bar, plot.top + plot.height / 2)
            start = (plot.bar, point[1])
            self.arrow(zero, (0.0, point[1] - zero[1]), role, plot.key)
            self.ring(zero, "plain", 2.6, filled=True)
        self.stroke([start, point], "second", 1.0, "dashes")
        self.ring(point, role, 6.5)

    def _shapes(self, at: Point) -> None:
        """Draw the body on the line: its outlines, and a coil between a fixed place and it."""
        middle = self.on_line(0.0)
        for shape in self.plan.body:
            if shape.kind == "coil":
                (fixed, edge), *turns = shape.points
                start, end = self._beside(middle, (fixed, 0.0)), self._beside(at, (edge, 0.0))
                way = _between(start, end)
                path = [self._beside(_sum(start, _times(share, way)), (0.0, aside)) for share, aside in turns]
            elif shape.kind == "thread":
                path = [self._beside(middle, shape.points[0]), at]
            else:
                path = [self._beside(at if shape.kind == "moves" else middle, one) for one in shape.points]
            if shape.filled:
                self.axes.fill(*zip(*path, strict=True), color=INKS["ground"], linewidth=0, zorder=2)
                path.append(path[0])
            self.stroke(path, "plain", 1.3)

    def _beside(self, origin: Point, offset: Point) -> Point:
        along, aside = offset
        return _sum(origin, (along, aside) if self.level else (aside, -along))

    def _body(self, at: Point) -> None:
        self._shapes(at)
        self.ring(at, "position", 9.0, filled=True)


def _between(start: Point, end: Point) -> Point:
    return end[0] - start[0], end[1] - start[1]


def _sum(one: Point, other: Point) -> Point:
    return one[0] + other[0], one[1] + other[1]


def _times(number: float, point: Point) -> Point:
    return number * point[0], number * point[1]


def _short(time: float) -> float:
    return float(f"{time:.3g}")
