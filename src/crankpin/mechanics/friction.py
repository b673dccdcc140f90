"""A mass that slides on a rough level surface, on a spring: dry friction of constant size.

Between two turning points the friction is one constant force, so each half swing is harmonic about a
point shifted by mu_k m g / k, and each turning point lies 2 mu_k m g / k closer in than the one before.
Coefficients are pure numbers, zero or above; what lies outside its range raises OutOfDomainError (see `domain`).
Source of the formulas: from that equation of motion, unless a function says otherwise.
"""

import math
from dataclasses import dataclass

from crankpin.mechanics.domain import not_negative, positive, zero_or_positive
from crankpin.mechanics.errors import AbsentError, OutOfDomainError


@dataclass(frozen=True, slots=True)
class Slide:
    """A slide to rest: half swings made (1), length of the path (m), and resting place (m, signed)."""

    half_swings: int
    path: float
    rest: float


def friction_force(coefficient: float, mass: float, gravity: float) -> float:
    """Return the size of dry friction on a level surface, in N: mu m g.

    >>> friction_force(0.5, 2.0, 10.0)
    10.0
    """
    weight = positive("mass", mass, "kg") * positive("gravity", gravity, "m/s2")
    return not_negative("coefficient", coefficient, "1") * weight


def greatest_held_stretch(coefficient: float, mass: float, stiffness: float, gravity: float) -> float:
    """Return the greatest stretch, in m, at which friction still holds the mass: mu_s m g / k.

    >>> greatest_held_stretch(0.5, 2.0, 100.0, 10.0)
    0.1
    """
    return friction_force(coefficient, mass, gravity) / positive("stiffness", stiffness, "N/m")


def slide_to_rest(start: float, held_stretch: float, sliding_stretch: float) -> Slide:
    """Follow a mass released at rest at ``start`` (m from the natural length, zero or more) to its rest.

    ``held_stretch`` is mu_s m g / k and ``sliding_stretch`` mu_k m g / k, both in m, the first no less
    than the second. The mass rests at the first turning point that static friction can hold.
    Raises AbsentError where no friction ever stops it.

    >>> slide = slide_to_rest(0.25, 0.0625, 0.0625)
    >>> slide.half_swings, slide.path, slide.rest
    (2, 0.5, 0.0)
    """
    not_negative("start", start, "m")
    zero_or_positive("sliding_stretch", sliding_stretch, "m")
    if not held_stretch >= sliding_stretch:
        required = "no less than the stretch for sliding friction"
        raise OutOfDomainError("held_stretch", required, held_stretch)
    if start <= held_stretch:
        return Slide(0, 0.0, start)
    if sliding_stretch == 0.0:
        raise AbsentError("Without sliding friction the mass never comes to rest.")
    n = math.ceil((start - held_stretch) / (2.0 * sliding_stretch))
    turning_point = start - 2.0 * n * sliding_stretch
    path = 2.0 * n * (start - n * sliding_stretch)
    return Slide(n, path, -turning_point if n % 2 else turning_point)


def slide_by_energy(start: float, sliding_stretch: float) -> float:
    """Return the usual estimate of the path, in m: the energy lost, over the friction force.

    Takes the mass to stop where the spring's pull equals the friction: (start^2 - s^2) / 2 s with
    s = mu_k m g / k. Source: OpenStax, College Physics 2e, section 16.7; ``slide_to_rest`` follows the
    motion itself.

    >>> slide_by_energy(1.25, 0.25)
    3.0
    """
    s = positive("sliding_stretch", sliding_stretch, "m")
    if not not_negative("start", start, "m") >= s:
        raise OutOfDomainError("start", "no less than the stretch for sliding friction", start)
    return (start - s) * (start + s) / (2.0 * s)
