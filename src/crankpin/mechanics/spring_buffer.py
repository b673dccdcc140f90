"""A body that runs or falls onto a spring: how far the spring gives, and how hard it pushes.

``mass`` in kg, ``stiffness`` in N/m are above zero, ``speed`` in m/s at the first touch is zero or above. ``gravity``
is the part of the weight along the spring, per kilogram, in m/s2: zero for a level track, else positive towards
the spring. What lies outside raises OutOfDomainError (see `domain`). The spring obeys Hooke's law and is light; no
energy is lost. Source of the formulas: energy, and the harmonic motion about the place where spring and weight balance.
"""

import math

from crankpin.mechanics.domain import not_negative, positive
from crankpin.mechanics.errors import AbsentError


def speed_after_fall(speed: float, height: float, gravity: float) -> float:
    """Return the speed, in m/s, after a fall by ``height`` (m, zero or above): sqrt(v_0^2 + 2 g h).

    >>> speed_after_fall(3.0, 0.8, 10.0)
    5.0
    """
    v, fall = not_negative("speed", speed, "m/s"), not_negative("height", height, "m")
    return math.hypot(v, math.sqrt(2.0 * fall * not_negative("gravity", gravity, "m/s2")))


def amplitude_on_touch(mass: float, stiffness: float, speed: float, gravity: float) -> float:
    """Return the amplitude, in m, of the motion about the balance: sqrt(s^2 + v^2 m/k) with s = m g / k.

    >>> amplitude_on_touch(1.0, 100.0, 0.3, 4.0)
    0.05
    """
    still = _stretch(mass, stiffness, gravity)
    return math.hypot(still, not_negative("speed", speed, "m/s") * math.sqrt(mass / stiffness))


def greatest_compression(mass: float, stiffness: float, speed: float, gravity: float) -> float:
    """Return how far the spring is compressed at most, in m: s + amplitude.

    >>> greatest_compression(1.0, 100.0, 0.3, 4.0)
    0.09
    """
    return _stretch(mass, stiffness, gravity) + amplitude_on_touch(mass, stiffness, speed, gravity)


def contact_time(mass: float, stiffness: float, speed: float, gravity: float) -> float:
    """Return how long body and spring touch, in s: 2 (pi - arctan(v omega / g)) / omega; half a period for g = 0.

    Raises AbsentError for a body only set on the spring: it never leaves.

    >>> round(contact_time(1.0, 100.0, 0.3, 0.0) * 10.0 / math.pi, 12)
    1.0
    """
    amplitude_on_touch(mass, stiffness, speed, gravity)
    if speed == 0.0:
        raise AbsentError("A body that is only set on the spring does not leave it again.")
    omega = math.sqrt(stiffness / mass)
    return 2.0 * (math.pi - math.atan2(speed * omega, gravity)) / omega


def compression_after(mass: float, stiffness: float, speed: float, gravity: float, time: float) -> float:
    """Return the compression, in m, ``time`` s after the first touch: s (1 - cos) + (v/omega) sin of omega t.

    Holds while body and spring touch.

    >>> round(compression_after(1.0, 100.0, 0.3, 0.0, math.pi / 20.0), 12)
    0.03
    """
    still = _stretch(mass, stiffness, gravity)
    omega = math.sqrt(stiffness / mass)
    angle = omega * not_negative("time", time, "s")
    half_sine = math.sin(0.5 * angle)
    return 2.0 * still * half_sine * half_sine + not_negative("speed", speed, "m/s") / omega * math.sin(angle)


def _stretch(mass: float, stiffness: float, gravity: float) -> float:
    weight = positive("mass", mass, "kg") * not_negative("gravity", gravity, "m/s2")
    return weight / positive("stiffness", stiffness, "N/m")
