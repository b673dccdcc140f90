"""The turning circle seen edge-on, and its shadow cast by a lamp.

The circle's centre is the origin. Seen from far away along y, only x = A cos(theta) is left. A lamp at
the distance D from the centre, on the positive y axis, throws the pin's shadow on a screen at the
distance S from the lamp, beyond the circle, at right angles to the axis. Lengths are in m, angles in rad; what lies
outside its range raises OutOfDomainError (see `domain`). Source of the formulas: from similar triangles.
"""

import math
from dataclasses import dataclass

from crankpin.mechanics.domain import finite, not_negative, positive
from crankpin.mechanics.errors import OutOfDomainError


@dataclass(frozen=True, slots=True)
class LampShadow:
    """The shadow's scale and reach.

    ``magnification``: S/D, the scale of the shadow for a pin level with the centre (1).
    ``extreme``: the shadow's greatest distance from the axis, X_max (m).
    ``excess``: X_max / (magnification A) - 1, how far beyond the plain scale the shadow reaches (1).
    ``extreme_angle``: the pin's angle at that moment, in (0, pi/2), measured so that the sine is
    towards the lamp (rad).
    """

    magnification: float
    extreme: float
    excess: float
    extreme_angle: float


def edge_on(radius: float, angle: float) -> float:
    """Return x = A cos(theta), in m: the pin's place as seen from far away in the plane of the circle.

    >>> edge_on(0.3, 0.0)
    0.3
    """
    return not_negative("radius", radius, "m") * math.cos(finite("angle", angle))


def shadow(radius: float, lamp_distance: float, screen_distance: float, angle: float) -> float:
    """Return the shadow's distance from the axis, in m: X = S A cos(theta) / (D - A sin(theta)).

    From similar triangles; the sine is towards the lamp. For a lamp far away (D much above A) this is
    S/D times the edge-on view. Raises OutOfDomainError unless 0 < A < D and D + A < S.

    >>> shadow(0.1, 1.0, 3.0, 0.0) == 3.0 * 0.1
    True
    """
    _check(radius, lamp_distance, screen_distance)
    s = math.sin(finite("angle", angle))
    return screen_distance * (radius * math.cos(angle) / (lamp_distance - radius * s))


def shadow_departure(radius: float, lamp_distance: float, angle: float) -> float:
    """Return X/magnification - A cos(theta), in m: by how much the lamp's shadow misses the edge-on view.

    A^2 sin(theta) cos(theta) / (D - A sin(theta)), on the scale of the circle; zero for a lamp far away.

    >>> shadow_departure(0.1, 1.0, 0.0)
    0.0
    """
    _check_lamp(radius, lamp_distance)
    s = math.sin(finite("angle", angle))
    return radius * math.cos(angle) * (radius * s / (lamp_distance - radius * s))


def lamp_shadow(radius: float, lamp_distance: float, screen_distance: float) -> LampShadow:
    """Return the scale, the extreme and the angle of the extreme of the shadow.

    The extreme is where the ray just touches the circle: sin(theta) = A/D, X_max = S A / sqrt(D^2 - A^2).
    Raises OutOfDomainError unless 0 < A < D and D + A < S.

    >>> one = lamp_shadow(0.6, 1.0, 2.0)
    >>> one.magnification, round(one.extreme, 12), round(one.excess, 12)
    (2.0, 1.5, 0.25)
    """
    _check(radius, lamp_distance, screen_distance)
    tangent = math.sqrt(lamp_distance - radius) * math.sqrt(lamp_distance + radius)
    return LampShadow(
        magnification=screen_distance / lamp_distance,
        extreme=screen_distance * (radius / tangent),
        excess=(radius / tangent) * (radius / (lamp_distance + tangent)),
        extreme_angle=math.atan2(radius, tangent),
    )


def _check_lamp(radius: float, lamp_distance: float) -> None:
    positive("radius", radius, "m")
    if not (math.isfinite(lamp_distance) and lamp_distance > radius):
        raise OutOfDomainError("lamp_distance", f"greater than the radius, {radius!r} m", lamp_distance)
    positive("lamp_distance", lamp_distance, "m")


def _check(radius: float, lamp_distance: float, screen_distance: float) -> None:
    _check_lamp(radius, lamp_distance)
    nearest = lamp_distance + radius
    if not (math.isfinite(screen_distance) and screen_distance > nearest):
        required = f"greater than the lamp distance and the radius together, {nearest!r} m"
        raise OutOfDomainError("screen_distance", required, screen_distance)
    positive("screen_distance", screen_distance, "m")
