"""Least squares: the straight QR solution and its damped iteration for curves.

A problem is a list of residuals (reading less model, each over its standard uncertainty) and one column
of slopes (model's change per unit of a parameter) for each parameter, of the same length.
"""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from operator import add, mul

from crankpin.mechanics.errors import AbsentError, OutOfDomainError

Vector = list[float]
Linearised = tuple[Vector, list[Vector]]
"""Residuals and the columns of slopes at some values of the parameters."""

_TINY = 1e-13  # below this share of its length a column adds nothing to the earlier ones
_MOST_STEPS = 500


@dataclass(frozen=True, slots=True)
class Reduced:
    """A problem brought to its triangle: R, Q'r (both p rows) and the residuals' part outside."""

    triangle: tuple[tuple[float, ...], ...]
    projected: tuple[float, ...]
    outside: float


@dataclass(frozen=True, slots=True)
class Fit:
    """The least-squares values of the parameters and what the data say of them.

    ``covariance`` is (R'R)^-1, in units of the residuals' variance: multiply by ``variance`` unless the
    residuals were divided by known standard uncertainties. ``variance`` is None without spare readings.
    """

    parameters: tuple[float, ...]
    covariance: tuple[tuple[float, ...], ...]
    sum_of_squares: float
    degrees_of_freedom: int

    @property
    def variance(self) -> float | None:
        """The residuals' variance, sum of squares over degrees of freedom."""
        return self.sum_of_squares / self.degrees_of_freedom if self.degrees_of_freedom else None

    def standard_uncertainties(self) -> tuple[float, ...]:
        """Return the standard uncertainties judged from the scatter; AbsentError without spare readings."""
        variance = self.variance
        if variance is None:
            raise AbsentError("With no more readings than quantities the scatter cannot be judged.")
        return tuple(math.sqrt(variance * row[i]) for i, row in enumerate(self.covariance))


def dot(first: Sequence[float], second: Sequence[float]) -> float:
    """Return the sum of products, rounded once at the end."""
    return math.fsum(map(mul, first, second))


def reduce(residuals: Sequence[float], columns: Sequence[Sequence[float]]) -> Reduced:
    """Return the triangle of the columns by the modified Gram-Schmidt process, residuals carried along.

    As stable as Householder's method when the residuals are treated as one more column (Björck, 1967,
    from memory). A column that depends on earlier ones gets zero on the diagonal.
    """
    work = [list(column) for column in columns] + [list(residuals)]
    size = len(columns)
    triangle = [[0.0] * (size + 1) for _ in range(size)]
    lengths = [math.sqrt(dot(column, column)) for column in columns]
    for i in range(size):
        length = math.sqrt(dot(work[i], work[i]))
        if length <= _TINY * lengths[i]:
            continue
        triangle[i][i] = length
        unit = [value / length for value in work[i]]
        for j in range(i + 1, size + 1):
            share = triangle[i][j] = dot(unit, work[j])
            work[j] = [value - share * along for value, along in zip(work[j], unit, strict=True)]
    rows = tuple(tuple(row[:size]) for row in triangle)
    return Reduced(rows, tuple(row[size] for row in triangle), dot(work[size], work[size]))


def solve(residuals: Sequence[float], columns: Sequence[Sequence[float]]) -> Fit:
    """Return the fit of a problem that is linear in its parameters.

    Raises OutOfDomainError with fewer readings than parameters, and AbsentError if the readings leave
    some combination of the parameters free.
    """
    _enough(len(residuals), len(columns))
    reduced = reduce(residuals, columns)
    covariance = _covariance(reduced.triangle)
    values = _back_substitute(reduced.triangle, reduced.projected)
    return Fit(values, covariance, reduced.outside, len(residuals) - len(columns))


def minimise(linearise: Callable[[Sequence[float]], Linearised], start: Sequence[float]) -> Fit:
    """Return the fit that the damped Gauss-Newton iteration reaches from ``start``.

    ``linearise`` gives residuals and columns at some parameters; an OverflowError or ZeroDivisionError
    in it, away from the start, only shortens the step. The last steps are undamped and go on as long as
    they get smaller, so that the parameters are as good as their rounding allows. Raises AbsentError
    if it does not settle in 500 steps, or where the readings leave the parameters free.
    Source: Levenberg (1944) and Marquardt (1963), column scaling after Moré (1978), from memory.
    """
    place = _Place.at(linearise, tuple(map(float, start)))
    if place is None:
        raise OutOfDomainError("start", "where the model and its slopes are finite", math.nan)
    _enough(len(place.problem[0]), len(place.values))
    scale, damp = [0.0] * len(place.values), 1e-3
    for _ in range(_MOST_STEPS):
        reduced = reduce(*place.problem)
        scale = [max(pair) for pair in zip(scale, _column_lengths(reduced.triangle), strict=True)]
        if dot(reduced.projected, reduced.projected) <= 1e-10 * reduced.outside:
            return _polish(linearise, place)
        better = None
        while better is None and damp < 1e20:
            better = _Place.below(linearise, place, _damped_step(reduced, scale, damp))
            damp = damp / 10 if better else damp * 4
        if better is None:
            return _polish(linearise, place)
        place, damp = better, max(damp, 1e-15)
    raise AbsentError(f"The fit did not settle in {_MOST_STEPS} steps; start it nearer to the readings.")


@dataclass(frozen=True, slots=True)
class _Place:
    """Parameters, the problem there, and its sum of squares."""

    values: tuple[float, ...]
    problem: Linearised
    squares: float

    @classmethod
    def at(cls, linearise: Callable[[Sequence[float]], Linearised], values: tuple[float, ...]) -> "_Place | None":
        try:
            problem = linearise(values)
            squares = dot(problem[0], problem[0])
        except (OverflowError, ZeroDivisionError):
            return None
        entries = math.fsum(map(dot, problem[1], problem[1]))
        return cls(values, problem, squares) if math.isfinite(squares + entries) else None

    @classmethod
    def below(
        cls, linearise: Callable[[Sequence[float]], Linearised], place: "_Place", step: Sequence[float]
    ) -> "_Place | None":
        moved = cls.at(linearise, tuple(map(add, place.values, step)))
        return moved if moved and moved.squares < place.squares else None


def _polish(linearise: Callable[[Sequence[float]], Linearised], place: _Place) -> Fit:
    last = math.inf
    for _ in range(_MOST_STEPS):
        reduced = reduce(*place.problem)
        covariance = _covariance(reduced.triangle)
        size = dot(reduced.projected, reduced.projected)
        if size >= 0.8 * last or size == 0:
            break
        moved = _Place.at(linearise, tuple(map(add, place.values, _undamped_step(reduced))))
        if moved is None:
            break
        place, last = moved, size
    spare = len(place.problem[0]) - len(place.values)
    return Fit(place.values, covariance, place.squares, spare)


def _undamped_step(reduced: Reduced) -> tuple[float, ...]:
    return _back_substitute(reduced.triangle, reduced.projected)


def _damped_step(reduced: Reduced, scale: Sequence[float], damp: float) -> tuple[float, ...]:
    """Return the step d that minimises |R d - Q'r|^2 + damp |scale d|^2."""
    size = len(scale)
    root = math.sqrt(damp)
    columns = []
    for j in range(size):
        below = [0.0] * size
        below[j] = root * (scale[j] or 1.0)
        columns.append([row[j] for row in reduced.triangle] + below)
    return _undamped_step(reduce(list(reduced.projected) + [0.0] * size, columns))


def _column_lengths(triangle: Sequence[Sequence[float]]) -> list[float]:
    return [math.hypot(*column) for column in zip(*triangle, strict=True)]


def _back_substitute(triangle: Sequence[Sequence[float]], right: Sequence[float]) -> tuple[float, ...]:
    size = len(right)
    values = [0.0] * size
    for i in reversed(range(size)):
        rest = dot(triangle[i][i + 1 :], values[i + 1 :])
        values[i] = (right[i] - rest) / triangle[i][i]
    return tuple(values)


def _covariance(triangle: Sequence[Sequence[float]]) -> tuple[tuple[float, ...], ...]:
    """Return (R'R)^-1; raises AbsentError if R has a zero on its diagonal."""
    size = len(triangle)
    if any(triangle[i][i] == 0 for i in range(size)):
        raise AbsentError("The readings do not settle all the quantities of the fit; more varied ones are needed.")
    inverse = [
        _back_substitute(triangle, [1.0 if i == j else 0.0 for i in range(size)]) for j in range(size)
    ]  # inverse[j] is column j of R^-1
    rows = list(zip(*inverse, strict=True))
    return tuple(tuple(dot(one, other) for other in rows) for one in rows)


def _enough(readings: int, parameters: int) -> None:
    if readings < parameters:
        raise OutOfDomainError("readings", f"at least {parameters} for this fit", readings)
