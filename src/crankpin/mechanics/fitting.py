"""Fitting a class's own readings: a straight line, and a spring's constant from one.

`sine_fitting` fits a wave. Every fitted quantity comes with its standard uncertainty, in the sense of the
GUM (JCGM 100:2008). Readings without stated uncertainties are taken as equally uncertain and judged by
their scatter; stated ones are taken at their word. What a student should know before trusting a fit comes
along as `FitWarning`s.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from crankpin.mechanics.domain import LEAST, MOST, positive
from crankpin.mechanics.errors import AbsentError, OutOfDomainError
from crankpin.mechanics.least_squares import Fit, dot, solve

Readings = Sequence[float | None]
"""A column of readings; None where one is missing. A row with a missing reading is left out."""


@dataclass(frozen=True, slots=True)
class FitWarning:
    """Something to know before trusting a fit: a short ``code`` and a sentence for a student."""

    code: str
    message: str


@dataclass(frozen=True, slots=True)
class Rows:
    """Complete rows of readings: x, y, weights 1/u^2 (1 if not ``stated``), and how many were left out."""

    x: list[float]
    y: list[float]
    weights: list[float]
    stated: bool
    missing: int

    def __len__(self) -> int:
        return len(self.x)


def complete_rows(x: Readings, y: Readings, uncertainties: Readings | None, *, relative: bool = False) -> Rows:
    """Return the rows in which nothing is missing, in their order.

    ``relative`` uncertainties say only how the readings compare: they weigh, and the scatter judges.
    A reading below 1e-50 in size counts as zero. Raises OutOfDomainError for columns of unequal length, a
    reading that is not finite or above 1e50 in size, or an uncertainty that is not above zero.
    """
    given = [1.0] * len(x) if uncertainties is None else uncertainties
    if not len(x) == len(y) == len(given):
        raise OutOfDomainError("readings", "columns of equal length", min(len(x), len(y), len(given)))
    rows = [(a, b, u) for a, b, u in zip(x, y, given, strict=True)]
    full = [(a, b, u) for a, b, u in rows if a is not None and b is not None and u is not None]
    return Rows(
        [_reading(a) for a, _, _ in full],
        [_reading(b) for _, b, _ in full],
        [1 / _uncertainty(u) ** 2 for _, _, u in full],
        uncertainties is not None and not relative,
        len(rows) - len(full),
    )


def _reading(value: float) -> float:
    if not abs(value) <= MOST:
        raise OutOfDomainError("readings", "numbers between -1e50 and 1e50", value)
    return float(value) if abs(value) >= LEAST else 0.0


def _uncertainty(value: float) -> float:
    if LEAST <= value <= MOST:
        return value
    raise OutOfDomainError("uncertainties", "numbers above zero (1e-50 to 1e50)", value)


@dataclass(frozen=True, slots=True)
class LineFit:
    """The line y = slope x + intercept, with standard uncertainties u_ and the share r2 explained.

    ``u_slope`` and ``u_intercept`` are None for two readings without stated uncertainties. ``scatter`` is
    the residuals' standard deviation in units of y (None for two readings), ``chi2`` their weighted sum of
    squares over the degrees of freedom where uncertainties were stated. ``x_mean`` and ``y_mean`` are the
    weighted centre, about which slope and height are uncorrelated; ``u_y_mean`` goes with it.
    """

    slope: float
    intercept: float
    u_slope: float | None
    u_intercept: float | None
    r2: float
    scatter: float | None
    chi2: float | None
    x_mean: float
    y_mean: float
    u_y_mean: float | None
    n: int
    missing: int
    warnings: tuple[FitWarning, ...]


@dataclass(frozen=True, slots=True)
class SpringFit:
    """A spring's constant ``k`` in N/m and the share of its mass that swings along, ``m_extra`` in kg.

    ``line`` is the fit of period squared (s2) against mass (kg). The u_ are None for two readings.
    """

    k: float
    u_k: float | None
    m_extra: float
    u_m_extra: float | None
    line: LineFit
    warnings: tuple[FitWarning, ...]


def line_fit(x: Readings, y: Readings, uncertainties: Readings | None = None, *, relative: bool = False) -> LineFit:
    """Return the least-squares line through the readings, each ``y`` weighted by 1/u^2 if stated.

    ``uncertainties`` are standard uncertainties of ``y`` in its unit, above zero; those of ``x`` are taken
    as none. Where they are ``relative`` they are known but for a common factor, which the scatter
    gives. Needs two different ``x``, else OutOfDomainError. ``r2`` is 1 for readings that all lie on the
    line, also a level one.
    Source: from its definition, worked about the weighted centre to keep all digits.

    >>> fit = line_fit([0, 1, 2, 3], [1, 3, 5, 7])
    >>> fit.slope, fit.intercept
    (2.0, 1.0)
    """
    rows = complete_rows(x, y, uncertainties, relative=relative)
    if len(set(rows.x)) < 2:
        raise OutOfDomainError("readings", "at least two with different x", len(rows.x))
    x_mean, y_mean = weighted_mean(rows.x, rows.weights), weighted_mean(rows.y, rows.weights)
    roots = [math.sqrt(w) for w in rows.weights]
    away = [(value - x_mean) * root for value, root in zip(rows.x, roots, strict=True)]
    up = [(value - y_mean) * root for value, root in zip(rows.y, roots, strict=True)]
    fit = solve(up, [away, roots])
    slope, rise = fit.parameters
    total = dot(up, up)
    return LineFit(
        slope=slope,
        intercept=y_mean + rise - slope * x_mean,
        u_slope=standard_uncertainty(fit, rows.stated, (1, 0)),
        u_intercept=standard_uncertainty(fit, rows.stated, (-x_mean, 1)),
        r2=max(1 - fit.sum_of_squares / total, 0.0) if total else 1.0,
        scatter=scatter(fit, rows),
        chi2=fit.variance if rows.stated else None,
        x_mean=x_mean,
        y_mean=y_mean + rise,
        u_y_mean=standard_uncertainty(fit, rows.stated, (0, 1)),
        n=len(rows),
        missing=rows.missing,
        warnings=readings_warnings(rows, fit),
    )


def spring_fit(
    masses: Readings, periods_squared: Readings, uncertainties: Readings | None = None, *, relative: bool = False
) -> SpringFit:
    """Return a spring's constant and extra mass from hung ``masses`` in kg and their T^2 in s2.

    T^2 = (4 pi^2/k)(m + m_extra), so k = 4 pi^2/slope and m_extra = intercept/slope; their uncertainties
    follow from the line's, correlation included. ``uncertainties`` are those of T^2 in s2, ``relative``
    as in `line_fit`. Raises AbsentError if T^2 does not grow with the mass.
    Source: from T = 2 pi sqrt((m + m_extra)/k); to first order a spring's m_extra is a third of its mass.

    >>> import math
    >>> fit = spring_fit([0.1, 0.2, 0.3], [4 * math.pi**2 * (m + 0.01) / 20 for m in (0.1, 0.2, 0.3)])
    >>> round(fit.k, 9), round(fit.m_extra, 9)
    (20.0, 0.01)
    """
    line = line_fit(masses, periods_squared, uncertainties, relative=relative)
    if line.slope <= 0:
        raise AbsentError("The period does not grow with the mass in these readings, so no spring fits them.")
    k = 4 * math.pi**2 / positive("slope", line.slope, "s2/kg")
    m_extra = line.intercept / line.slope
    u_k = u_m = None
    if line.u_slope is not None and line.u_y_mean is not None:
        u_k = k * line.u_slope / line.slope
        u_m = math.hypot(line.u_y_mean, line.y_mean / line.slope * line.u_slope) / line.slope
    return SpringFit(k, u_k, m_extra, u_m, line, line.warnings + _spring_warnings(m_extra, u_m))


# What to know before trusting a fit


def readings_warnings(rows: Rows, fit: Fit) -> tuple[FitWarning, ...]:
    """Return what the rows alone tell: missing ones, too few to judge a scatter, ill-stated uncertainties."""
    found = []
    if rows.missing:
        found.append(FitWarning("missing", _left_out(rows.missing)))
    spare = fit.degrees_of_freedom
    if spare < 4 and not rows.stated:
        found.append(
            FitWarning(
                "few-readings",
                f"Readings to spare for judging the scatter: {spare}, so the uncertainties are rough themselves.",
            )
        )
    chi2 = fit.variance
    if rows.stated and spare >= 4 and chi2 is not None and not 0.2 < chi2 < 3:
        word = "more" if chi2 > 1 else "less"
        found.append(FitWarning("stated", f"The readings scatter {word} than their stated uncertainties allow."))
    return tuple(found)


def _left_out(missing: int) -> str:
    return "1 incomplete row was left out." if missing == 1 else f"{missing} incomplete rows were left out."


def _spring_warnings(m_extra: float, u_m_extra: float | None) -> tuple[FitWarning, ...]:
    if m_extra < -2 * (u_m_extra or 0.0):
        sentence = "The fitted share of the spring's mass is below zero: look for a mass left out or misread."
        return (FitWarning("negative-extra", sentence),)
    return ()


def standard_uncertainty(fit: Fit, stated: bool, slopes: Sequence[float]) -> float | None:
    """Return that of a quantity which changes by ``slopes`` per unit of the fit's parameters.

    From the covariance, on the scatter's scale unless the readings' uncertainties were ``stated``; None
    if there is no scatter to judge by.
    """
    variance = 1.0 if stated else fit.variance
    if variance is None:
        return None
    spread = dot(slopes, [dot(row, slopes) for row in fit.covariance])
    return math.sqrt(max(variance * spread, 0.0))


def weighted_mean(values: Sequence[float], weights: Sequence[float]) -> float:
    """Return the mean of ``values`` with ``weights``."""
    return dot(values, weights) / math.fsum(weights)


def scatter(fit: Fit, rows: Rows) -> float | None:
    """Return the residuals' standard deviation in the unit of y, None without spare readings.

    Weights count relative to their mean, so that equal ones give the plain standard deviation.
    """
    if fit.variance is None:
        return None
    return math.sqrt(fit.variance * len(rows) / math.fsum(rows.weights))
