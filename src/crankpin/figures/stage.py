"""Where the parts of a moving picture stand: one plan, which the still on paper and the live drawing both follow."""

import math
from dataclasses import asdict, dataclass, replace
from typing import Any

#: The width of every plan, in its own units.
WIDTH = 360
LINES = ("none", "vertical", "horizontal")
BODIES = ("spot", "rod", "buoy", "spring", "fenders", "pendulum")
#: What may be drawn against time; acceleration only below velocity, velocity only below position.
CURVES = ((), ("x",), ("x", "v"), ("x", "v", "a"))

_TOP, _BELOW = 26.0, 40.0
_LINE = 190.0
_PLOT_LEFT, _PLOT_RIGHT = _LINE + 40.0, WIDTH - 12.0
_THREAD = 132.0


@dataclass(frozen=True, slots=True)
class Wheel:
    """The circle's centre, and the radius that stands for the whole scale."""

    x: float
    y: float
    radius: float


@dataclass(frozen=True, slots=True)
class Plot:
    """The box of one curve, and the place of its bar: an arrow from zero that the curve carries on."""

    key: str
    left: float
    top: float
    width: float
    height: float
    bar: float


@dataclass(frozen=True, slots=True)
class Dial:
    """A circle on which an arrow turns about its own foot, and the radius that stands for the whole scale."""

    key: str
    x: float
    y: float
    radius: float


@dataclass(frozen=True, slots=True)
class Shape:
    """A part of the body on the line, its points as (along the line, aside of it).

    ``kind``: "stays" is seen from the middle of the line, "moves" from the body; of a "coil" the first point holds its
    fixed end from the middle and its other from the body, the others the share of the way between and how far aside; a
    "thread" goes from its one point, seen from the middle, to the body.
    """

    kind: str
    points: tuple[tuple[float, float], ...]
    filled: bool = False


@dataclass(frozen=True, slots=True)
class Stage:
    """A whole plan in units of 1/72 inch, y downwards. ``line`` is the place of the line of motion across its way.

    With a ``thread`` the line is an arc of that radius, and the body hangs from the arc's centre, above.
    """

    shape: str
    width: float
    height: float
    wheel: Wheel
    line: float
    plots: tuple[Plot, ...]
    body: tuple[Shape, ...] = ()
    thread: float = 0.0
    dials: tuple[Dial, ...] = ()

    def data(self) -> dict[str, Any]:
        """Return the plan as plain data."""
        return asdict(self)


def stage(line: str, curves: tuple[str, ...], body: str) -> Stage:
    """Return the plan for one of `LINES`, the curves beside it (one of `CURVES`) and one of `BODIES` on it."""
    if line == "none":
        dials = (Dial("v", 294.0, 62.0, 46.0), Dial("a", 294.0, 174.0, 46.0))
        return Stage("round", WIDTH, 236.0, Wheel(118.0, 118.0, 84.0), 0.0, (), dials=dials)
    if body == "pendulum":
        plan = _hung(bool(curves))
    else:
        plan = _level(bool(curves)) if line == "horizontal" else _upright(curves)
    return replace(plan, body=_shapes(body, plan.wheel.radius))


_ZIGZAG = (
    (0.0, 0.0),
    *((0.08 + 0.84 * i / 16, 7.0 * (i % 4 - 2 if i % 2 else 0)) for i in range(17)),
    (1.0, 0.0),
)


def _shapes(body: str, radius: float) -> tuple[Shape, ...]:
    """Return the body's outlines; it moves within ``radius`` of the middle."""
    if body == "rod":
        return (
            Shape("moves", _box(-32.0, -6.0, 2.5), filled=True),
            Shape("moves", _box(-38.0, -28.0, 8.0), filled=True),
            Shape("moves", _box(-6.0, 6.0, 10.0), filled=True),
        )
    if body == "buoy":
        wave = tuple((1.6 * math.sin(aside / 2.4), float(aside)) for aside in range(-24, 25, 2))
        hull = tuple((-13.0 * math.sin(math.pi * i / 12), 14.0 * math.cos(math.pi * i / 12)) for i in range(13))
        return (
            Shape("stays", wave),
            Shape("moves", hull, filled=True),
            Shape("moves", ((0.0, -9.0), (16.0, -2.0), (16.0, 2.0), (0.0, 9.0))),
        )
    if body in ("spring", "fenders"):
        ends = (radius + 22.0, -radius - 22.0) if body == "fenders" else (radius + 22.0,)
        walls = tuple(Shape("stays", ((end, -14.0), (end, 14.0))) for end in ends)
        coils = tuple(Shape("coil", ((end, math.copysign(7.0, end)), *_ZIGZAG)) for end in ends)
        return (*walls, *coils, Shape("moves", _box(-7.0, 7.0, 11.0), filled=True))
    if body == "pendulum":
        bob = tuple((9.0 * math.cos(math.tau * i / 24), 9.0 * math.sin(math.tau * i / 24)) for i in range(24))
        beam = Shape("stays", ((-18.0, -_THREAD), (18.0, -_THREAD)))
        return (beam, Shape("thread", ((0.0, -_THREAD),)), Shape("moves", bob, filled=True))
    return ()


def _box(low: float, high: float, aside: float) -> tuple[tuple[float, float], ...]:
    return ((low, -aside), (low, aside), (high, aside), (high, -aside))


def _upright(curves: tuple[str, ...]) -> Stage:
    """The line stands beside the wheel; time runs to the right."""
    aside = 0.0 if curves else 40.0
    wheel = Wheel(88.0 + aside, _TOP + 66.0, 66.0)
    plots, top = [], _TOP
    for key in curves:
        height = 2 * wheel.radius if key == "x" else 84.0
        plots.append(Plot(key, _PLOT_LEFT, top, _PLOT_RIGHT - _PLOT_LEFT, height, _LINE))
        top += height + _BELOW
    height = top if curves else _TOP * 2 + 2 * wheel.radius
    return Stage(f"upright-{len(curves)}", WIDTH, height, wheel, _LINE + aside, tuple(plots))


def _level(curve: bool) -> Stage:
    """The line lies below the wheel; time runs downwards."""
    wheel = Wheel(WIDTH / 2, _TOP + 84.0, 84.0)
    line = _TOP + 2 * wheel.radius + 44.0
    plots = (Plot("x", wheel.x - wheel.radius, line + 44.0, 2 * wheel.radius, 120.0, line),) if curve else ()
    return Stage(f"level-{int(curve)}", WIDTH, line + (44.0 + 120.0 + 16.0 if curve else 32.0), wheel, line, plots)


def _hung(curve: bool) -> Stage:
    """A thread hangs down to the line, the wheel is below it; time runs downwards."""
    line = 12.0 + _THREAD
    wheel = Wheel(WIDTH / 2, line + 92.0, 64.0)
    low = wheel.y + wheel.radius
    plots = (Plot("x", wheel.x - wheel.radius, low + 36.0, 2 * wheel.radius, 120.0, line),) if curve else ()
    height = low + (36.0 + 120.0 + 22.0 if curve else 20.0)
    return Stage(f"hung-{int(curve)}", WIDTH, height, wheel, line, plots, thread=_THREAD)
