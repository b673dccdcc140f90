"""A disc and a spring in step: tuning, and what is said where it can not be done."""

from pathlib import Path

import pytest

from crankpin.calculator.catalogue import load_catalogue
from crankpin.calculator.evaluate import evaluate

DISC_MATCH = load_catalogue(Path(__file__).parents[2] / "calculators")["disc-match"]


def test_hanging_the_mass_needed_brings_them_into_step() -> None:
    before = evaluate(DISC_MATCH)
    tuned = evaluate(DISC_MATCH, {"m": before.outputs["m_needed"].value})
    assert abs(tuned.outputs["mismatch"].value) < 1e-14
    assert tuned.outputs["n_needed"].value == pytest.approx(tuned.inputs["n"].value, rel=1e-14)


def test_taking_the_spring_needed_brings_them_into_step() -> None:
    before = evaluate(DISC_MATCH)
    tuned = evaluate(DISC_MATCH, {"k": before.outputs["k_needed"].value})
    assert abs(tuned.outputs["mismatch"].value) < 1e-14


def test_equal_rates_stay_in_step_and_say_so() -> None:
    found = evaluate(DISC_MATCH, {"k": "16 N/m", "m": "1 kg", "m_spring": "0 kg", "n": "4 rad/s"})
    assert found.outputs["t_slip"].value is None
    assert found.outputs["t_slip"].reason == "The disc and the oscillator have one rate, so they stay in step."
    assert found.picture() is not None


def test_a_spring_too_slow_for_the_disc_has_no_mass_to_hang() -> None:
    found = evaluate(DISC_MATCH, {"k": "5 N/m", "m": "100 g", "m_spring": "200 g", "n": "150 rpm"})
    assert found.outputs["m_needed"].value is None
    assert "take a stiffer or lighter spring" in found.outputs["m_needed"].reason


def test_a_slow_disc_is_told_apart_from_a_fast_one() -> None:
    slow, fast = (evaluate(DISC_MATCH, {"n": rate}).outputs for rate in ("70 rpm", "80 rpm"))
    assert slow["mismatch"].value < 0.0 < fast["mismatch"].value
    assert slow["slip"].value < 0.0 < fast["slip"].value
    assert slow["t_slip"].value > 0.0


@pytest.mark.parametrize(("rate", "warned"), [("44 rpm", False), ("45 rpm", True)])
def test_flashing_is_warned_of_where_four_marks_flash_three_times_a_second(rate: str, *, warned: bool) -> None:
    assert any("photosensitive" in one for one in evaluate(DISC_MATCH, {"n": rate}).cautions) is warned
