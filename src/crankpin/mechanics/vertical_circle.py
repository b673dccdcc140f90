"""A load carried round an upright circle at a steady rate: what its holder must do on the way.

Angles grow anticlockwise from the horizontal x axis; y is up. ``mass`` in kg and ``gravity`` in m/s2 are above
zero, ``radius`` in m zero or above, else OutOfDomainError (see `domain`).
"""

import math

from crankpin.mechanics.circular import plane_motion
from crankpin.mechanics.domain import finite, positive


def weight(mass: float, gravity: float) -> float:
    """Return the size of the Earth's pull, in N: m g, downwards.

    >>> weight(2.0, 10.0)
    20.0
    """
    return positive("mass", mass, "kg") * positive("gravity", gravity, "m/s2")


def holding_force(
    mass: float, radius: float, angular_velocity: float, angle: float, gravity: float
) -> tuple[float, float]:
    """Return the force of the holder on the load, in N, as (towards +x, up), where the load is at ``angle``.

    Newton's second law with the weight moved across: F = m a + m g up, with a = -omega^2 r. The load is
    small beside the radius and the rate is steady. A negative upward part means that the holder pulls down.

    >>> holding_force(2.0, 1.0, 2.0, 0.0, 10.0)
    (-8.0, 20.0)
    """
    carried = weight(mass, gravity)
    motion = plane_motion(radius, angular_velocity, finite("angle", angle))
    return mass * motion.a_x, mass * motion.a_y + carried


def force_at_top(mass: float, radius: float, angular_velocity: float, gravity: float) -> float:
    """Return the holder's upward force at the top, in N: m (g - r omega^2); negative where it pulls down.

    >>> force_at_top(2.0, 1.0, 2.0, 10.0)
    12.0
    """
    return holding_force(mass, radius, angular_velocity, 0.5 * math.pi, gravity)[1]


def force_at_bottom(mass: float, radius: float, angular_velocity: float, gravity: float) -> float:
    """Return the holder's upward force at the bottom, in N: m (g + r omega^2).

    >>> force_at_bottom(2.0, 1.0, 2.0, 10.0)
    28.0
    """
    return holding_force(mass, radius, angular_velocity, -0.5 * math.pi, gravity)[1]
