"""Fits: the forms and uses, what is absent, and what a student is told before trusting a result."""

import math
import random
from pathlib import Path

import pytest

from crankpin.calculator.catalogue import load_one
from crankpin.calculator.checks import last_place
from crankpin.calculator.entries import read_entry
from crankpin.calculator.evaluate import evaluate
from crankpin.calculator.faults import InputFaultsError

FOLDER = Path(__file__).parents[2] / "calculators"
SINE, LINE = load_one(FOLDER, "sine-fit"), load_one(FOLDER, "line-fit")
MASSES = (0.1, 0.2, 0.3, 0.4)
_PLACES = (0.02, 0.05, 0.1, 0.2, 0.4, 0.8, 1.6)
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
    spring, pendulum, damping = {"k", "u_k", "m_extra", "u_m_extra"}, {"g", "u_g"}, {"log_decrement", "u_log_decrement"}
    absent = {key for key, found in outputs.items() if found.value is None}
    assert absent == {"u_slope", "u_intercept", "scatter"} | spring | pendulum | damping
    assert outputs["notes"].text.startswith("Two readings settle a line exactly")


def test_masses_in_grams_are_noticed() -> None:
    grams = "\n".join(f"{1000 * m};{T2}" for m, T2 in ((0.1, 0.19), (0.2, 0.35), (0.3, 0.50), (0.4, 0.66)))
    assert "grams" in evaluate(LINE, {"use": "spring", "data": grams}).outputs["notes"].text


@pytest.mark.parametrize("key", UNCERTAIN)
def test_a_result_is_written_to_the_place_of_its_uncertainty(key: str) -> None:
    outputs = evaluate(LINE, {"use": "spring"}).outputs
    place = [last_place(read_entry(outputs[name].text).digits) for name in (key, f"u_{key}")]
    assert place[0] == place[1]


def test_lengths_and_periods_of_a_pendulum_give_g() -> None:
    rows = "\n".join(f"{L} {2 * math.pi * math.sqrt((L + 0.01) / 9.81)!r}" for L in (0.2, 0.4, 0.6, 0.8))
    values = evaluate(LINE, {"use": "pendulum-periods", "data": rows}).values
    assert values["g"] == pytest.approx(9.81, rel=1e-12)
    assert values["intercept"] / values["slope"] == pytest.approx(0.01, rel=1e-9)


def test_the_logarithms_of_the_peaks_give_the_decrement() -> None:
    rows = "\n".join(f"{i} {30 * math.exp(-0.3 * i)!r}" for i in range(5))
    assert evaluate(LINE, {"use": "peaks", "data": rows}).values["log_decrement"] == pytest.approx(0.3, rel=1e-12)


@pytest.mark.parametrize(("use", "row"), [("peaks", "1 -2"), ("spring-periods", "1 0"), ("pendulum-periods", "1 0")])
def test_a_peak_or_a_period_that_is_not_above_zero_is_named_by_its_row(use: str, row: str) -> None:
    with pytest.raises(InputFaultsError, match="row 2 has the second number"):
        evaluate(LINE, {"use": use, "data": f"0.5 3\n{row}\n2 4"})


@pytest.mark.parametrize("use", ["spring-periods", "pendulum-periods"])
def test_k_and_g_lie_within_their_uncertainty_as_often_as_they_should(use: str) -> None:
    """Equally good timings: the true value lies within one standard uncertainty in about 63 % (Student, 5 to spare)."""
    dice, inside, trials = random.Random(5), 0, 600
    true = 20.0 if use == "spring-periods" else 9.81
    for _ in range(trials):
        rows = [(x, 2 * math.pi * math.sqrt(x / true) + dice.gauss(0.0, 0.004)) for x in _PLACES]
        found = evaluate(LINE, {"use": use, "data": "\n".join(f"{x} {T!r}" for x, T in rows)}).values
        value, u = (found["k"], found["u_k"]) if use == "spring-periods" else (found["g"], found["u_g"])
        inside += abs(value - true) <= u
    assert 0.57 < inside / trials < 0.70
