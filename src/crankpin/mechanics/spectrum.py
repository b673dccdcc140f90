"""Where to start a sine fit: the least-squares gain of a sinusoid at many trial frequencies.

At each trial frequency a sinusoid and a constant are fitted to the readings, whose times may be uneven;
the gain is the share of the scatter about the mean that the sinusoid takes away.
Source: the floating-mean periodogram of Zechmeister and Kürster (2009), summed on a mesh by the fast
Fourier transform after Press and Rybicki (1989); both from memory.
"""

import cmath
import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

_OVERSAMPLING = 5  # trial frequencies are 1/(5 span) apart, so that the best is never missed
_SLOWEST = 2  # the first trial: 0.4 turns over the span; fewer are not told from a bend
_MESH_PER_TURN = 8  # mesh points in one turn of the fastest trial
_MOST_MESH = 2**17


@dataclass(frozen=True, slots=True)
class Spectrum:
    """Gains between 0 and 1 at frequencies that are ``step`` Hz apart, the first at 0.

    ``fastest`` is the highest frequency in Hz that was tried; ``nyquist`` half the typical reading rate.
    """

    step: float
    gains: tuple[float, ...]
    fastest: float
    nyquist: float

    def peaks(self, least_share: float) -> list[float]:
        """Return the frequencies in Hz of the local peaks with at least that share of the best gain, best first."""
        gains = (0.0, *self.gains, 0.0)
        tops = [
            (here, i)
            for i, (before, here, after) in enumerate(zip(gains, gains[1:], gains[2:], strict=False))
            if here >= before and here > after
        ]
        tops.sort(reverse=True)
        return [i * self.step for gain, i in tops if gain >= least_share * tops[0][0]]


def spectrum(times: Sequence[float], values: Sequence[float], weights: Sequence[float]) -> Spectrum:
    """Return the gains for readings ``values`` at ``times`` in s (sorted, not all equal) with ``weights``.

    Trials go from 0.4 turns over the span up to half the typical reading rate (from the median step), as
    far as a mesh of 131 072 points allows. A start for a fit, good to a few per cent of the gain.
    """
    span = times[-1] - times[0]
    nyquist = 0.5 / _median_step(times)
    step_limit = _MOST_MESH / _MESH_PER_TURN / _OVERSAMPLING / span
    fastest = min(nyquist, step_limit)
    size = 1 << math.ceil(math.log2(max(_MESH_PER_TURN * _OVERSAMPLING * span * fastest, 64)))
    spacing = _OVERSAMPLING * span / (size - 8)
    lines = _transform(_mesh(times, values, weights, spacing, size))
    step = 1 / (size * spacing)
    gains = [0.0] * _SLOWEST + [_gain(lines, j) for j in range(_SLOWEST, int(fastest / step * (1 + 1e-9)) + 1)]
    scatter = _weighted_square(values, weights)
    return Spectrum(step, tuple(min(gain / scatter, 1.0) for gain in gains), fastest, nyquist)


def _median_step(times: Sequence[float]) -> float:
    steps = sorted(later - earlier for earlier, later in pairwise(times) if later > earlier)
    return steps[len(steps) // 2]


def _mesh(
    times: Sequence[float], values: Sequence[float], weights: Sequence[float], spacing: float, size: int
) -> list[complex]:
    """Return the readings about their mean (real) and their weights (imaginary) spread on an even mesh.

    Each is shared among four points by the cubic through them, so that slow waves keep their sums.
    """
    total = math.fsum(weights)
    mean = math.fsum(w * x for w, x in zip(weights, values, strict=True)) / total
    mesh = [0j] * size
    for time, value, weight in zip(times, values, weights, strict=True):
        place = (time - times[0]) / spacing + 1
        first = math.floor(place)
        u = place - first
        both = complex(weight * (value - mean), weight) / total
        mesh[first - 1] -= both * (u * (u - 1) * (u - 2) / 6)
        mesh[first] += both * ((u + 1) * (u - 1) * (u - 2) / 2)
        mesh[first + 1] -= both * ((u + 1) * u * (u - 2) / 2)
        mesh[first + 2] += both * ((u + 1) * u * (u - 1) / 6)
    return mesh


def _transform(mesh: list[complex]) -> list[complex]:
    """Return the discrete Fourier transform of a mesh whose size is a power of two."""
    size = len(mesh)
    turns = [cmath.rect(1, -math.tau * n / size) for n in range(size // 2)]

    def halve(points: list[complex], stride: int) -> list[complex]:
        if len(points) == 1:
            return points
        even = halve(points[::2], 2 * stride)
        odd = [t * z for t, z in zip(turns[::stride], halve(points[1::2], 2 * stride), strict=True)]
        return [a + b for a, b in zip(even, odd, strict=True)] + [a - b for a, b in zip(even, odd, strict=True)]

    return halve(mesh, 1)


def _gain(lines: list[complex], j: int) -> float:
    """Return the weighted square that a sinusoid at trial ``j`` takes from the readings."""
    readings = (lines[j] + lines[-j].conjugate()) / 2
    window = (lines[j] - lines[-j].conjugate()) / 2j
    double = (lines[2 * j] - lines[-2 * j].conjugate()) / 2j
    c, s = window.real, -window.imag
    yc, ys = readings.real, -readings.imag
    cc = (1 + double.real) / 2 - c * c
    ss = (1 - double.real) / 2 - s * s
    cs = -double.imag / 2 - c * s
    determinant = cc * ss - cs * cs
    if determinant <= 1e-6:
        return 0.0
    return max((ss * yc * yc + cc * ys * ys - 2 * cs * yc * ys) / determinant, 0.0)


def _weighted_square(values: Sequence[float], weights: Sequence[float]) -> float:
    total = math.fsum(weights)
    mean = math.fsum(w * x for w, x in zip(weights, values, strict=True)) / total
    return math.fsum(w * (x - mean) ** 2 for w, x in zip(weights, values, strict=True)) / total
