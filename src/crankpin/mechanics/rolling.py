"""A wheel that rolls along a level road without slipping.

``radius`` in m is above zero, ``speed`` that of the axle in m/s (either sign), angles in rad; what lies outside raises
OutOfDomainError (see `domain`). The angle of a rim point is what the wheel has turned since the point touched the
road. Source of the formulas: the axle's velocity and that of the circle about it, added.
"""

import math

from crankpin.mechanics.domain import finite, positive


def speed_of_rim_point(speed: float, angle: float) -> float:
    """Return the speed of a point of the rim over the ground, in m/s: 2 |v sin(angle/2)|.

    Zero where it touches the road, twice the axle's speed at the top.

    >>> round(speed_of_rim_point(3.0, math.pi), 12)
    6.0
    """
    return 2.0 * abs(finite("speed", speed) * math.sin(0.5 * finite("angle", angle)))


def place_of_rim_point(radius: float, angle: float) -> tuple[float, float]:
    """Return how far along the road and how high above it a point of the rim is, in m, as (x, y).

    x = r (angle - sin(angle)), y = r (1 - cos(angle)): the cycloid, from the place where the point touched the road.

    >>> x, y = place_of_rim_point(0.5, math.pi)
    >>> round(x, 12), round(y, 12)
    (1.570796326795, 1.0)
    """
    r = positive("radius", radius, "m")
    half_sine = math.sin(0.5 * finite("angle", angle))
    return r * (angle - math.sin(angle)), 2.0 * r * half_sine * half_sine
