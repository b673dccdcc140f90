"""What a moving picture follows: the path of a turning point and of what goes with it, sampled at equal times.

A scene is declared as a `Calculator` whose picture has the panels of `track_panels`; `tracks` fills them. The page
puts a smooth curve through the samples, and knows no law of motion.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from crankpin.calculator.curves import Axis, Curve, Drawing, Panel, spread
from crankpin.mechanics import circular
from crankpin.mechanics.circular import PlaneMotion

#: So many equal steps of time a turn: a cubic through them is right to about 1e-5 of the radius.
STEPS_A_TURN = 72


@dataclass(frozen=True, kw_only=True)
class Words:
    """How a scene names the position on its line and the angle of its point: TeX symbols, and words."""

    position_symbol: str = "x"
    position: str = "position"
    angle_symbol: str = r"\theta"
    angle: str = "angle"


def track_panels(
    *,
    length_in: str,
    angle_in: str = "deg",
    drive: bool = False,
    exact: bool = False,
    words: Words = Words(),
) -> tuple[Panel, ...]:
    """Return the panels: the point's place, its velocity, its acceleration, and its angle against time.

    Across is the line of motion, up is a quarter of a turn ahead of it. ``length_in`` and ``angle_in`` are a unit, or
    the key of an input whose unit is followed. ``drive`` adds the path of what drives the point, ``exact`` the motion
    that the point on the circle comes near to.
    """
    beside = [Curve(key=key, label=key, role="second") for key, asked in (("drive", drive), ("exact", exact)) if asked]
    places = (Curve(key="pin", label="", role="position"), *beside)
    return (
        _plane(words.position_symbol, words.position, "m", length_in, places),
        _plane("v", "velocity", "m/s", "", (Curve(key="velocity", label="", role="velocity"),)),
        _plane("a", "acceleration", "m/s2", "", (Curve(key="acceleration", label="", role="acceleration"),)),
        Panel(
            horizontal=Axis(symbol="t", meaning="time", unit="s"),
            vertical=Axis(symbol=words.angle_symbol, meaning=words.angle, unit="rad", shown_in=angle_in),
            curves=(Curve(key="angle", label=""),),
        ),
    )


def _plane(symbol: str, meaning: str, unit: str, shown_in: str, curves: tuple[Curve, ...]) -> Panel:
    across = Axis(symbol=symbol, meaning=meaning, unit=unit, shown_in=shown_in)
    up = Axis(symbol=symbol, meaning=f"{meaning} across the line of motion", unit=unit, shown_in=shown_in)
    return Panel(horizontal=across, vertical=up, curves=curves, square=True)


def tracks(
    times: Sequence[float],
    motions: Sequence[PlaneMotion],
    angles: Sequence[float],
    drive: Sequence[PlaneMotion] = (),
    exact: Sequence[float] = (),
) -> Drawing:
    """Return the samples: times in s, equally spaced; the motion in the plane at each; the angles in rad, unreduced.

    ``drive`` and ``exact`` (positions on the line, in m) at the same times, where the scene has them.
    """
    curves = {
        "pin": ([one.x for one in motions], [one.y for one in motions]),
        "velocity": ([one.v_x for one in motions], [one.v_y for one in motions]),
        "acceleration": ([one.a_x for one in motions], [one.a_y for one in motions]),
        "angle": (times, angles),
    }
    if drive:
        curves["drive"] = ([one.x for one in drive], [one.y for one in drive])
    if exact:
        curves["exact"] = (exact, [0.0] * len(exact))
    return Drawing(curves)


def turning(radius: float, angular_frequency: float, phase: float) -> Drawing:
    """Return one turn on a circle (radius in m), at a rate above zero (rad/s), from the angle ``phase`` (rad)."""
    times = spread(0.0, circular.period(angular_frequency), STEPS_A_TURN + 1)
    angles = [circular.angle(angular_frequency, one, phase) for one in times]
    return tracks(times, [circular.plane_motion(radius, angular_frequency, one) for one in angles], angles)
