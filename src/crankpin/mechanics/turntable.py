"""A small body that lies on a level turntable: when does friction no longer hold it?

Static friction is at most ``coefficient`` times the weight. ``radius`` from the axle to the body in m,
``gravity`` in m/s2 and ``coefficient`` (a pure number) are above zero, else OutOfDomainError (see `domain`).
``angular_acceleration`` in rad/s2, of either sign, is that of a table that speeds up or slows down.
Source of the formulas: Newton's second law with friction alone along the table.
"""

import math

from crankpin.mechanics.domain import finite, positive
from crankpin.mechanics.errors import AbsentError


def greatest_acceleration(coefficient: float, gravity: float) -> float:
    """Return the greatest acceleration that friction can give, in m/s2: mu g.

    >>> greatest_acceleration(0.5, 10.0)
    5.0
    """
    return positive("coefficient", coefficient, "1") * positive("gravity", gravity, "m/s2")


def slipping_rate(coefficient: float, radius: float, gravity: float, angular_acceleration: float) -> float:
    """Return the rate, in rad/s, at which the body slips: r omega^2 = sqrt((mu g)^2 - (r alpha)^2).

    Raises AbsentError where the table changes its rate so suddenly that the body slips at any rate.

    >>> round(slipping_rate(0.5, 1.25, 10.0, 0.0), 12)
    2.0
    >>> round(slipping_rate(0.5, 1.0, 10.0, 3.0), 12)
    2.0
    """
    most = greatest_acceleration(coefficient, gravity)
    along = positive("radius", radius, "m") * abs(finite("angular_acceleration", angular_acceleration))
    if along >= most:
        raise AbsentError("The table changes its rate so quickly that the body slips at once, at any rate.")
    return math.sqrt(math.sqrt((most - along) * (most + along)) / radius)


def slipping_radius(coefficient: float, angular_velocity: float, gravity: float, angular_acceleration: float) -> float:
    """Return the distance from the axle, in m, beyond which a body slips: mu g / sqrt(omega^4 + alpha^2).

    >>> slipping_radius(0.5, 2.0, 10.0, 0.0)
    1.25
    """
    most = greatest_acceleration(coefficient, gravity)
    omega = positive("angular_velocity", angular_velocity, "rad/s")
    return most / math.hypot(omega * omega, finite("angular_acceleration", angular_acceleration))


def acceleration_on_table(radius: float, angular_velocity: float, angular_acceleration: float) -> float:
    """Return the acceleration of a body that stays in place, in m/s2: r sqrt(omega^4 + alpha^2).

    >>> acceleration_on_table(0.5, 2.0, 3.0)
    2.5
    """
    omega = finite("angular_velocity", angular_velocity)
    alpha = finite("angular_acceleration", angular_acceleration)
    return positive("radius", radius, "m") * math.hypot(omega * omega, alpha)
