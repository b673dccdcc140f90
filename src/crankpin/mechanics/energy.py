"""Energy in simple harmonic motion: what the spring stores, what the mass carries, and their shares.

``mass`` in kg, ``stiffness`` in N/m and ``gravity`` in m/s2 are above zero, ``amplitude`` in m and ``energy`` in J zero
or above; any other value raises OutOfDomainError (see `domain`). Springs obey Hooke's law; nothing is lost.
Source of the formulas: from the work of the force, unless a function says otherwise.
"""

import math
from dataclasses import dataclass

from crankpin.mechanics.domain import finite, not_negative, positive
from crankpin.mechanics.errors import AbsentError, OutOfDomainError


@dataclass(frozen=True, slots=True)
class EnergyShare:
    """Energies at one position: potential U, kinetic K and their sum E (J), and the speed (m/s)."""

    potential: float
    kinetic: float
    total: float
    speed: float


def potential(stiffness: float, displacement: float) -> float:
    """Return what a spring stores, in J: U = k x^2 / 2, with x from its natural length.

    For a hung mass with x from equilibrium it is the spring's and gravity's together.

    >>> potential(50.0, -0.2)
    1.0
    """
    x = finite("displacement", displacement)
    return 0.5 * _k(stiffness) * x * x


def kinetic(mass: float, speed: float) -> float:
    """Return what a moving mass carries, in J: K = m v^2 / 2.

    >>> kinetic(2.0, 3.0)
    9.0
    """
    v = finite("speed", speed)
    return 0.5 * _m(mass) * v * v


def gravitational(mass: float, gravity: float, height: float) -> float:
    """Return m g h, in J: the gain in going up by ``height`` (m), negative in going down.

    >>> gravitational(0.5, 10.0, -2.0)
    -10.0
    """
    return _m(mass) * positive("gravity", gravity, "m/s2") * finite("height", height)


def height_from_energy(energy: float, mass: float, gravity: float) -> float:
    """Return the height, in m, to which this energy lifts the mass: h = E / m g.

    >>> height_from_energy(10.0, 0.5, 10.0)
    2.0
    """
    return not_negative("energy", energy, "J") / (_m(mass) * positive("gravity", gravity, "m/s2"))


def energy_share(mass: float, stiffness: float, amplitude: float, position: float) -> EnergyShare:
    """Return the energies and the speed at a position x from equilibrium.

    U = k x^2/2, K = k (A^2 - x^2)/2, E = k A^2/2, v = sqrt((k/m)(A^2 - x^2)); nothing is lost.
    Raises OutOfDomainError where the position is beyond the amplitude.

    >>> at = energy_share(0.5, 50.0, 0.1, 0.06)
    >>> round(at.potential, 12), round(at.kinetic, 12), round(at.speed, 12)
    (0.09, 0.16, 0.8)
    """
    _check(amplitude, position)
    room = (amplitude - abs(position)) * (amplitude + abs(position))
    return EnergyShare(
        potential=potential(stiffness, position),
        kinetic=0.5 * stiffness * room,
        total=potential(stiffness, amplitude),
        speed=math.sqrt(stiffness / _m(mass)) * math.sqrt(room),
    )


def kinetic_share(amplitude: float, position: float) -> float:
    """Return K/E = 1 - (x/A)^2, from 0 at a turning point to 1 at equilibrium.

    Raises AbsentError for no amplitude, OutOfDomainError beyond the amplitude.

    >>> kinetic_share(0.2, 0.1)
    0.75
    """
    _check(amplitude, position)
    if amplitude == 0.0:
        raise AbsentError("Without amplitude there is no energy to share.")
    return (1.0 - abs(position) / amplitude) * (1.0 + abs(position) / amplitude)


def position_at_kinetic_share(amplitude: float, share: float) -> float:
    """Return the distance from equilibrium, in m, at which K/E is ``share`` (0 to 1): A sqrt(1 - share).

    >>> position_at_kinetic_share(0.2, 0.75)
    0.1
    """
    if not 0.0 <= share <= 1.0:
        raise OutOfDomainError("share", "from 0 to 1", share)
    return not_negative("amplitude", amplitude, "m") * math.sqrt(1.0 - share)


def amplitude_for_energy(stiffness: float, energy: float) -> float:
    """Return the amplitude, in m, that stores this energy: A = sqrt(2 E / k).

    >>> amplitude_for_energy(50.0, 1.0)
    0.2
    """
    return math.sqrt(2.0 * not_negative("energy", energy, "J") / _k(stiffness))


def stiffness_for_energy(energy: float, amplitude: float) -> float:
    """Return the stiffness, in N/m, that stores this energy at this amplitude or stretch: k = 2 E / A^2.

    >>> round(stiffness_for_energy(1.0, 0.2), 9)
    50.0
    """
    return 2.0 * not_negative("energy", energy, "J") / positive("amplitude", amplitude, "m") / amplitude


def amplitude_ratio(energy_ratio: float) -> float:
    """Return how many times the amplitude grows when the energy grows this many times: the square root.

    >>> amplitude_ratio(9.0)
    3.0
    """
    return math.sqrt(not_negative("energy_ratio", energy_ratio, "1"))


def energy_ratio(amplitude_ratio: float) -> float:
    """Return how many times the energy, or a wave's intensity, grows with the amplitude: the ratio squared.

    >>> energy_ratio(3.0)
    9.0
    """
    return not_negative("amplitude_ratio", amplitude_ratio, "1") ** 2


def level_difference(energy_ratio: float) -> float:
    """Return the difference in level, in dB: 10 log10 of a ratio of energies or intensities above zero.

    Source: the definition of the decibel (ISO 80000-3, from memory).

    >>> level_difference(100.0)
    20.0
    """
    return 10.0 * math.log10(positive("energy_ratio", energy_ratio, "1"))


def work_to_stretch(stiffness: float, start: float, end: float) -> float:
    """Return the work, in J, that takes a spring from one stretch to another: k (end^2 - start^2) / 2.

    >>> round(work_to_stretch(50.0, 0.1, 0.2), 12)
    0.75
    """
    difference = finite("end", end) - finite("start", start)
    return 0.5 * _k(stiffness) * difference * (end + start)


def _check(amplitude: float, position: float) -> None:
    if not abs(position) <= not_negative("amplitude", amplitude, "m"):
        allowed = f"within the amplitude A, that is from {-amplitude!r} m to {amplitude!r} m"
        raise OutOfDomainError("position", allowed, position)


def _k(stiffness: float) -> float:
    return positive("stiffness", stiffness, "N/m")


def _m(mass: float) -> float:
    return positive("mass", mass, "kg")
