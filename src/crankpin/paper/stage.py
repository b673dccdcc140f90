"""Where the parts of a moving picture stand: one plan, which the still on paper and the live drawing both follow."""

from dataclasses import asdict, dataclass
from typing import Any

from crankpin.paper.figures import WIDTH

LINES = ("none", "vertical", "horizontal")
BODIES = ("spot", "rod", "buoy", "spring")
#: What may be drawn against time; acceleration only below velocity, velocity only below position.
CURVES = ((), ("x",), ("x", "v"), ("x", "v", "a"))

_TOP, _BELOW = 26.0, 40.0
_PLOT_LEFT, _PLOT_RIGHT = 212.0, WIDTH - 12.0


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
class Stage:
    """A whole plan in units of 1/72 inch, y downwards. ``line`` is the place of the line of motion across its way."""

    shape: str
    width: float
    height: float
    wheel: Wheel
    line: float
    plots: tuple[Plot, ...]

    def data(self) -> dict[str, Any]:
        """Return the plan as plain data."""
        return asdict(self)


def stage(line: str, curves: tuple[str, ...]) -> Stage:
    """Return the plan for a line of motion (one of `LINES`) and the curves beside it (one of `CURVES`)."""
    if line == "none":
        return Stage("round", WIDTH, 250.0, Wheel(WIDTH / 2, 125.0, 84.0), 0.0, ())
    if line == "horizontal":
        return _level(bool(curves))
    return _upright(curves)


def _upright(curves: tuple[str, ...]) -> Stage:
    """The line stands beside the wheel; time runs to the right."""
    wheel = Wheel(76.0, _TOP + 60.0, 60.0)
    plots, top = [], _TOP
    for key in curves:
        height = 2 * wheel.radius if key == "x" else 84.0
        plots.append(Plot(key, _PLOT_LEFT, top, _PLOT_RIGHT - _PLOT_LEFT, height, 172.0))
        top += height + _BELOW
    height = top if curves else _TOP * 2 + 2 * wheel.radius
    return Stage(f"upright-{len(curves)}", WIDTH, height, wheel, 172.0, tuple(plots))


def _level(curve: bool) -> Stage:
    """The line lies below the wheel; time runs downwards."""
    wheel = Wheel(WIDTH / 2, _TOP + 76.0, 76.0)
    line = _TOP + 2 * wheel.radius + 44.0
    plots = (Plot("x", wheel.x - wheel.radius, line + 44.0, 2 * wheel.radius, 120.0, line),) if curve else ()
    return Stage(f"level-{int(curve)}", WIDTH, line + (44.0 + 120.0 + 16.0 if curve else 32.0), wheel, line, plots)
