"""Every parameter and standard deviation that NIST certifies, from the starts that NIST gives.

NIST/ITL Statistical Reference Datasets, nonlinear regression. Two starts are not asked for: from the first
start of BoxBOD and of MGH17 (both graded as of higher difficulty) the iteration runs out to a flat place.
Lanczos1 has residuals of 1e-13, so that doubles leave three digits of them and of the deviations.
LEW's handbook sinusoid is not the least-squares minimum (flag in LEW.json); the moons are an ephemeris.
"""

import csv
import math

import pytest

from crankpin.mechanics.sine_fitting import sine_fit
from tests.authorities.printed import HERE
from tests.authorities.reproduce_fits import MODELS, certified, fitted

RUNS_OUT = {("BoxBOD", "start1"), ("MGH17", "start1")}
RUNS = [(name, start) for name in MODELS for start in ("start1", "start2") if (name, start) not in RUNS_OUT]


@pytest.mark.parametrize(("name", "start"), RUNS)
def test_against_certified_values(name, start):
    sheet = certified(name)
    fit = fitted(name, start)
    deviations = fit.standard_uncertainties()
    digits = 2e-3 if name == "Lanczos1" else 1e-10
    for value, deviation, printed in zip(fit.parameters, deviations, sheet["parameters"], strict=True):
        assert value == pytest.approx(float(printed["certified"]), rel=1e-10, abs=0.0)
        assert deviation == pytest.approx(float(printed["sd"]), rel=digits, abs=0.0)
    assert fit.sum_of_squares == pytest.approx(float(sheet["residual_sum_of_squares"]), rel=digits, abs=0.0)
    assert fit.degrees_of_freedom == int(sheet["degrees_of_freedom"])


def columns(name):
    with (HERE / "nist" / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    return {key: [float(row[key]) for row in rows] for key in rows[0]}


def test_a_sine_fit_reaches_the_least_squares_of_the_beam():
    found = certified("LEW")["least_squares_here"]
    data = columns("LEW")
    fit = sine_fit(data["x"], data["y"])
    assert fit.offset == pytest.approx(found["C"], rel=1e-8, abs=0.0)
    assert fit.amplitude == pytest.approx(abs(found["AMP"]), rel=1e-8, abs=0.0)
    assert fit.frequency == pytest.approx(found["FREQ"], rel=1e-8, abs=0.0)
    # AMP sin(angle + PHASE) with AMP below zero is |AMP| cos(angle + PHASE + pi/2)
    assert math.remainder(fit.phase - found["PHASE"] - math.pi / 2.0, math.tau) == pytest.approx(0.0, abs=1e-6)
    assert fit.scatter == pytest.approx(found["residual_sd"], rel=1e-8, abs=0.0)
    for ours, theirs in (("offset", "C"), ("amplitude", "AMP"), ("frequency", "FREQ"), ("phase", "PHASE")):
        assert getattr(fit, f"u_{ours}") == pytest.approx(found["se"][theirs], rel=1e-4, abs=0.0)


@pytest.mark.parametrize("moon", ["Io", "Europa", "Ganymede", "Callisto"])
def test_a_moon_s_turns_seen_edge_on(moon):
    sheet = certified("jupiter_moons_pyephem")
    data = columns("jupiter_moons_pyephem")
    fit = sine_fit(data["t_days"], data[f"{moon}_x_jupiter_radii"])
    found = sheet["single_sinusoid_fit"][moon]
    assert fit.amplitude == pytest.approx(found["amplitude_Rj"], abs=6e-5)
    assert fit.period == pytest.approx(found["period_d"], abs=6e-6)
    assert fit.phase == pytest.approx(found["phase_rad"], abs=6e-5)
    assert fit.offset == pytest.approx(found["offset"], abs=6e-5)
    assert fit.rms == pytest.approx(found["rms"], abs=6e-5)
    # seen from the moving Earth for 34 days: near the published sidereal period, not equal to it
    assert fit.period == pytest.approx(sheet["sidereal_period_published_d"][moon], rel=7e-3, abs=0.0)
