"""The damped swing in its three regimes: what exists, what does not and why, and the laws printed."""

from pathlib import Path

import pytest

from crankpin.calculator.catalogue import load_one
from crankpin.calculator.evaluate import evaluate
from crankpin.calculator.working import formula_gap

DAMPED = load_one(Path(__file__).parents[2] / "calculators", "damped")
SCALE = {"m": "40 kg", "k": "4 kN/m", "x0": "5 cm", "v0": "-0.3 m/s", "t": "0.3 s"}
ONLY_SWINGING = {"omega_d", "T_d", "log_decrement", "loss", "tau", "t_half"}


@pytest.mark.parametrize(
    ("b", "regime", "absent"),
    [
        ("0 kg/s", "underdamped", {"rate_fast", "rate_slow", "Q", "tau", "t_half"}),
        ("100 kg/s", "underdamped", {"rate_fast", "rate_slow"}),
        ("800 kg/s", "critical", ONLY_SWINGING),
        ("800.000001 kg/s", "overdamped", ONLY_SWINGING),
        ("2500 kg/s", "overdamped", ONLY_SWINGING),
    ],
)
def test_what_does_not_exist_is_absent_with_a_reason(b: str, regime: str, absent: set[str]) -> None:
    evaluation = evaluate(DAMPED, {**SCALE, "b": b})
    assert evaluation.outputs["regime"].value == regime
    missing = {key for key, found in evaluation.outputs.items() if found.value is None}
    assert missing == absent
    assert all(evaluation.outputs[key].reason.endswith(".") for key in missing)


@pytest.mark.parametrize("b", ["0 kg/s", "100 kg/s", "800 kg/s", "800.01 kg/s", "2500 kg/s"])
def test_the_law_printed_is_that_of_the_regime(b: str) -> None:
    evaluation = evaluate(DAMPED, {**SCALE, "b": b})
    for one in DAMPED.outputs:
        assert formula_gap(evaluation, one) <= 1e-9, one.key


def test_a_period_later_position_and_velocity_have_shrunk_alike() -> None:
    given: dict[str, str | float] = {**SCALE, "b": "100 kg/s"}
    first = evaluate(DAMPED, given).values
    later = evaluate(DAMPED, {**given, "t": first["t"] + first["T_d"]}).values
    share = 1.0 - first["loss"]
    for key in ("x", "v"):
        assert later[key] ** 2 == pytest.approx(share * first[key] ** 2, rel=1e-12, abs=0.0)


def test_far_in_the_future_the_picture_still_shows_the_swing() -> None:
    picture = evaluate(DAMPED, {"t": "1000000 s"}).picture()
    assert picture is not None
    assert picture.panels[0].curves[0].xs[-1] < 100.0
    assert picture.panels[0].marks == ()
