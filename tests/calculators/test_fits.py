"""Fits: the forms and uses, what is absent, and what a student is told before trusting a result."""

import math
from pathlib import Path

import pytest

from crankpin.calculator.catalogue import load_one
from crankpin.calculator.evaluate import evaluate
from crankpin.calculator.faults import InputFaultsError

FOLDER = Path(__file__).parents[2] / "calculators"
SINE, LINE = load_one(FOLDER, "sine-fit"), load_one(FOLDER, "line-fit")
MASSES = (0.1, 0.2, 0.3, 0.4)
UNCERTAIN = ("slope", "intercept", "k", "m_extra")


def wave(gamma: float = 0.0, omega: float = 5.0, count: int = 60) -> str:
    rows = [
        (t, 0.2 + 0.05 * math.exp(-gamma * t) * math.cos(omega * t + 0.7)) for t in (0.05 * i for i in range(count))
    ]
    return "\n".join(f"{t!r} {x!r}" for t, x in rows)


def spring_rows(*, squared: bool, u: str = "") -> str:
    squares = [4 * math.pi**2 * (m + 0.02) / 25 for m in MASSES]
    return "\n".join(f"{m!r};{T2 if squared else math.sqrt(T2)!r}{u}" for m, T2 in zip(MASSES, squares, strict=True))


def test_a_swing_that_dies_away_gives_its_damping_coefficient() -> None:
    values = evaluate(SINE, {"form": "damped", "data": wave(gamma=0.3)}).values
    assert values["gamma"] == pytest.approx(0.3, rel=1e-9)
    assert values["A"] == pytest.approx(0.05, rel=1e-9)
    assert values["phi"] == pytest.approx(0.7, rel=1e-9)


def test_a_known_frequency_has_no_uncertainty_of_its_own() -> None:
    evaluation = evaluate(SINE, {"form": "fixed", "omega_known": "5 rad/s", "data": wave()})
    assert {key for key, found in evaluation.outputs.items() if found.value is None} == {
        "u_omega",
        "u_T",
        "u_f",
        "gamma",
        "u_gamma",
    }
    assert evaluation.values["A"] == pytest.approx(0.05, rel=1e-9)


def test_a_short_record_and_times_out_of_order_are_told() -> None:
    rows = wave(count=17).splitlines()
    notes = evaluate(SINE, {"data": "\n".join([*reversed(rows), rows[3]])}).outputs["notes"].text
    assert "turns, too few" in notes
    assert "not in order" in notes
    assert "1 of the times is repeated." in notes


def test_readings_that_never_change_are_refused_in_words() -> None:
    with pytest.raises(InputFaultsError, match="The readings are all equal"):
        evaluate(SINE, {"data": "0 1\n1 1\n2 1\n3 1\n4 1\n5 1\n6 1"})


@pytest.mark.parametrize(("use", "squared"), [("spring", True), ("spring-periods", False)])
def test_both_uses_for_a_spring_agree(use: str, squared: bool) -> None:
    values = evaluate(LINE, {"use": use, "data": spring_rows(squared=squared)}).values
    assert values["k"] == pytest.approx(25.0, rel=1e-12)
    assert values["m_extra"] == pytest.approx(0.02, rel=1e-9)


def test_the_uncertainty_of_a_period_is_carried_to_its_square() -> None:
    periods = evaluate(LINE, {"use": "spring-periods", "data": spring_rows(squared=False, u=";0.001")}).values
    squares = [4 * math.pi**2 * (m + 0.02) / 25 for m in MASSES]
    rows = "\n".join(f"{m!r};{s!r};{2 * math.sqrt(s) * 0.001!r}" for m, s in zip(MASSES, squares, strict=True))
    assert evaluate(LINE, {"use": "spring", "data": rows}).values["u_k"] == pytest.approx(periods["u_k"], rel=1e-9)


def test_a_plain_line_has_no_spring_and_two_readings_no_uncertainty() -> None:
    outputs = evaluate(LINE, {"use": "plain", "data": "0 1\n1 3"}).outputs
    assert {key for key, found in outputs.items() if found.value is None} == {
        "u_slope",
        "u_intercept",
        "scatter",
        "k",
        "u_k",
        "m_extra",
        "u_m_extra",
    }
    assert outputs["notes"].text.startswith("Two readings settle a line exactly")


def test_masses_in_grams_are_noticed() -> None:
    grams = "\n".join(f"{1000 * m};{T2}" for m, T2 in ((0.1, 0.19), (0.2, 0.35), (0.3, 0.50), (0.4, 0.66)))
    assert "grams" in evaluate(LINE, {"use": "spring", "data": grams}).outputs["notes"].text


@pytest.mark.parametrize("key", UNCERTAIN)
def test_a_result_is_written_to_the_place_of_its_uncertainty(key: str) -> None:
    outputs = evaluate(LINE, {"use": "spring"}).outputs
    place = [len(outputs[name].text.split(" ")[0].partition(".")[2]) for name in (key, f"u_{key}")]
    assert place[0] == place[1]
