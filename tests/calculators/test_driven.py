"""The driven swing where something does not exist: no damping, too much of it, no steady state."""

import math
from pathlib import Path

import pytest

from crankpin.calculator.catalogue import load_one
from crankpin.calculator.evaluate import Evaluation, evaluate

FOLDER = Path(__file__).parents[2] / "calculators"
DRIVEN, FROM_REST = load_one(FOLDER, "driven"), load_one(FOLDER, "driven-start")
OWN_RATE = {"m": "1 kg", "k": "16 N/m", "F_0": "2 N", "omega": "4 rad/s"}


def absent(evaluation: Evaluation) -> set[str]:
    return {key for key, found in evaluation.outputs.items() if found.value is None}


def test_without_damping_at_its_own_rate_there_is_no_steady_state() -> None:
    evaluation = evaluate(DRIVEN, {**OWN_RATE, "b": "0 kg/s"})
    assert absent(evaluation) == {
        "amplitude",
        "gain",
        "phase_lag",
        "v_amplitude",
        "P_mean",
        "amplitude_res",
        "Q",
    }
    assert "without end" in evaluation.outputs["amplitude"].reason
    assert evaluation.picture() is not None


@pytest.mark.parametrize(("b", "peak"), [("5.65 kg/s", True), ("5.66 kg/s", False)])
def test_with_a_damping_ratio_above_one_over_root_two_no_peak(b: str, peak: bool) -> None:
    outputs = evaluate(DRIVEN, {**OWN_RATE, "b": b}).outputs
    assert (outputs["omega_res"].value is not None) == peak
    assert (outputs["amplitude_res"].value is not None) == peak


def test_the_half_power_rates_give_half_the_greatest_power() -> None:
    at = {"m": "1 kg", "k": "16 N/m", "b": "6 kg/s", "F_0": "2 N"}
    top = evaluate(DRIVEN, {**at, "omega": "4 rad/s"}).values
    for rate in (top["omega_1"], top["omega_2"]):
        assert evaluate(DRIVEN, {**at, "omega": rate}).values["P_mean"] == pytest.approx(
            top["P_mean"] / 2, rel=1e-12, abs=0.0
        )


def test_from_rest_without_damping_at_its_own_rate_the_swing_grows_in_proportion_to_time() -> None:
    for quarters in (1, 5, 9):
        t = quarters * math.pi / 8.0
        evaluation = evaluate(FROM_REST, {**OWN_RATE, "b": "0 kg/s", "t": t})
        assert absent(evaluation) == {"amplitude", "tau", "T_beat", "x_steady", "x_start"}
        assert evaluation.values["x"] == pytest.approx(2.0 * t / (2.0 * 1.0 * 4.0), rel=1e-12, abs=0.0)
