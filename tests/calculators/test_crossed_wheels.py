"""Crossed wheels: the ratio is that of the decimal numbers as typed, in any unit."""

from pathlib import Path

import pytest

from crankpin.calculator.catalogue import load_one
from crankpin.calculator.evaluate import evaluate

CROSSED = load_one(Path(__file__).parents[2] / "calculators", "crossed-wheels")


@pytest.mark.parametrize(
    ("f_x", "f_y", "ratio"),
    [
        ("0.3 Hz", "0.2 Hz", ("3", "2")),
        ("33 rpm", "1,1 Hz", ("1", "2")),
        ("300 mHz", "0.1 Hz", ("3", "1")),
        ("1 rpm", "0.0166667 Hz", ("500\u202f000", "500\u202f001")),
        ("0.37 Hz", "1.234567 Hz", ("370\u202f000", "1\u202f234\u202f567")),
    ],
)
def test_the_ratio_is_exact_and_written_whole(f_x: str, f_y: str, ratio: tuple[str, str]) -> None:
    outputs = evaluate(CROSSED, {"f_x": f_x, "f_y": f_y}).outputs
    assert (outputs["ratio_x"].text, outputs["ratio_y"].text) == ratio
