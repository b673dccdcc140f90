"""NIST's reference problems of nonlinear regression, fitted by the mechanics' least squares."""

import cmath
import csv
import json
import math
from collections.abc import Callable, Sequence
from functools import cache
from typing import Any

from crankpin.mechanics.harmonic import amplitude_from_start, phase_from_start
from crankpin.mechanics.least_squares import Fit, Linearised, minimise
from tests.authorities.printed import HERE, Record

Model = Callable[..., complex]
exp, cos, sin = cmath.exp, cmath.cos, cmath.sin


def saturating(x: float, b1: complex, b2: complex) -> complex:
    return b1 * (1 - exp(-b2 * x))


def decay_over_line(x: float, b1: complex, b2: complex, b3: complex) -> complex:
    return exp(-b1 * x) / (b2 + b3 * x)


def decay_and_two_bells(x: float, *b: complex) -> complex:
    bells = b[2] * exp(-(((x - b[3]) / b[4]) ** 2)) + b[5] * exp(-(((x - b[6]) / b[7]) ** 2))
    return b[0] * exp(-b[1] * x) + bells


def line_and_arctangent(x: float, b1: complex, b2: complex, b3: complex, b4: complex) -> complex:
    return b1 - b2 * x - cmath.atan(b3 / (x - b4)) / math.pi


def three_cycles(x: float, *b: complex) -> complex:
    year, longer, shorter = math.tau * x / 12, math.tau * x / b[3], math.tau * x / b[6]
    waves = b[4] * cos(longer) + b[5] * sin(longer) + b[7] * cos(shorter) + b[8] * sin(shorter)
    return b[0] + b[1] * cos(year) + b[2] * sin(year) + waves


def three_decays(x: float, *b: complex) -> complex:
    return b[0] * exp(-b[1] * x) + b[2] * exp(-b[3] * x) + b[4] * exp(-b[5] * x)


def level_and_two_decays(x: float, *b: complex) -> complex:
    return b[0] + b[1] * exp(-x * b[3]) + b[2] * exp(-x * b[4])


def bell(x: float, b1: complex, b2: complex, b3: complex) -> complex:
    return b1 / b2 * exp(-0.5 * ((x - b3) / b2) ** 2)


MODELS: dict[str, Model] = {
    "Misra1a": saturating,
    "BoxBOD": saturating,
    "Chwirut2": decay_over_line,
    "Gauss1": decay_and_two_bells,
    "Roszman1": line_and_arctangent,
    "ENSO": three_cycles,
    "Lanczos1": three_decays,
    "Lanczos2": three_decays,
    "Lanczos3": three_decays,
    "MGH17": level_and_two_decays,
    "Eckerle4": bell,
}


def certified(name: str) -> dict[str, Any]:
    """Return NIST's own sheet of a problem: starts, certified values as printed."""
    return json.loads((HERE / "nist" / f"{name}.json").read_text(encoding="utf-8"))


def rows(name: str) -> list[tuple[float, float]]:
    with (HERE / "nist" / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        return [(float(row["x"]), float(row["y"])) for row in csv.DictReader(file)]


@cache
def fitted(name: str, start: str = "start2") -> Fit:
    """Fit a problem from one of NIST's two starts, with slopes exact to rounding (complex step)."""
    model, data = MODELS[name], rows(name)

    def linearise(parameters: Sequence[float]) -> Linearised:
        residuals = [y - complex(model(x, *parameters)).real for x, y in data]
        return residuals, [slopes(model, data, parameters, i) for i in range(len(parameters))]

    return minimise(linearise, [parameter[start] for parameter in certified(name)["parameters"]])


def slopes(model: Model, data: list[tuple[float, float]], parameters: Sequence[float], i: int) -> list[float]:
    step = 1e-30
    moved = [complex(value, step if i == j else 0.0) for j, value in enumerate(parameters)]
    return [model(x, *moved).imag / step for x, _ in data]


def spread_of(name: str) -> Callable[[Record], dict[str, float]]:
    def reproduce(_: Record) -> dict[str, float]:
        fit = fitted(name)
        return {"rss": fit.sum_of_squares, "sd": math.sqrt(fit.variance or 0.0)}

    return reproduce


def enso(r: Record) -> dict[str, float]:
    parameters = {f"b{i}": value for i, value in enumerate(fitted("ENSO").parameters, start=1)}
    return {**parameters, **spread_of("ENSO")(r)}


def enso_periods(_: Record) -> dict[str, float]:
    fit = fitted("ENSO")
    uncertainties = fit.standard_uncertainties()
    return {
        "P_long": fit.parameters[3],
        "u_P_long": uncertainties[3],
        "P_short": fit.parameters[6],
        "u_P_short": uncertainties[6],
    }


def enso_year(r: Record) -> dict[str, float]:
    # c cos wt + s sin wt is the motion that starts at c with the velocity w s
    return {
        "A": amplitude_from_start(1.0, r["c"], r["s"]),
        "phi": phase_from_start(1.0, r["c"], r["s"]),
    }


REPRODUCTIONS = {
    "fit-enso": enso,
    "fit-enso-periods": enso_periods,
    "fit-enso-annual": enso_year,
    "fit-misra1a": spread_of("Misra1a"),
    "fit-boxbod": spread_of("BoxBOD"),
    "fit-chwirut2": spread_of("Chwirut2"),
    "fit-gauss1": spread_of("Gauss1"),
    "fit-roszman1": spread_of("Roszman1"),
}
