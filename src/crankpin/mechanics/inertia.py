"""Moments of inertia of simple uniform bodies, in kg m2.

``mass`` in kg and lengths in m are above zero, else OutOfDomainError. Source: from the definition, the
sum of mass times distance squared.
"""

from crankpin.mechanics.domain import not_negative, positive


def disc(mass: float, radius: float) -> float:
    """Return m R^2/2: a flat disc or a solid cylinder about its axis.

    >>> disc(2.0, 0.5)
    0.25
    """
    return positive("mass", mass, "kg") * positive("radius", radius, "m") ** 2 / 2


def sphere(mass: float, radius: float) -> float:
    """Return 2 m R^2/5: a solid sphere about a diameter.

    >>> sphere(5.0, 0.5)
    0.5
    """
    return positive("mass", mass, "kg") * positive("radius", radius, "m") ** 2 * 2 / 5


def rod(mass: float, length: float) -> float:
    """Return m L^2/12: a thin rod about its middle, across its length.

    >>> rod(3.0, 2.0)
    1.0
    """
    return positive("mass", mass, "kg") * positive("length", length, "m") ** 2 / 12


def about_parallel_axis(central_inertia: float, mass: float, distance: float) -> float:
    """Return I_c + m d^2 about an axis ``distance`` m from the parallel one through the centre of mass.

    ``central_inertia`` in kg m2 and ``distance`` zero or above. Source: Huygens and Steiner's theorem.

    >>> about_parallel_axis(1.0, 3.0, 1.0)
    4.0
    """
    central = not_negative("central_inertia", central_inertia, "kg m2")
    return central + positive("mass", mass, "kg") * not_negative("distance", distance, "m") ** 2
