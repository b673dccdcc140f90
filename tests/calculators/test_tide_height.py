"""The tide: names before the rows, and water that has no tide."""

from pathlib import Path

import pytest

from crankpin.calculator.catalogue import load_one
from crankpin.calculator.evaluate import evaluate

TIDE = load_one(Path(__file__).parents[2] / "calculators", "tide-height")
ROWS = "M2 1.6 28.984104 110\nS2 0.55 30 145"


def test_names_before_the_rows_make_no_difference() -> None:
    bare = "\n".join(row.partition(" ")[2] for row in ROWS.splitlines())
    assert (
        evaluate(TIDE, {"constituents": ROWS}).values["height"]
        == evaluate(TIDE, {"constituents": bare}).values["height"]
    )


def test_high_and_low_water_are_where_the_rate_is_zero() -> None:
    values = evaluate(TIDE, {"constituents": ROWS}).values
    for turn in ("high", "low"):
        then = evaluate(TIDE, {"constituents": ROWS, "t": values[f"next_{turn}"]}).values
        assert then["rate"] == pytest.approx(0.0, abs=1e-6)
        assert then["height"] == pytest.approx(values[f"height_{turn}"], abs=1e-12)
    assert values["height_low"] < values["z0"] < values["height_high"]


def test_without_amplitude_there_is_neither_high_nor_low_water() -> None:
    outputs = evaluate(TIDE, {"constituents": "M2 0 28.984104 0"}).outputs
    assert outputs["height"].value == 2.9
    assert "no tide" in outputs["next_high"].reason
    assert "no tide" in outputs["next_low"].reason
