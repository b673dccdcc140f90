"""Passing times: the working names the angle and the whole turns that belong to each passing."""

from pathlib import Path

import pytest

from crankpin.calculator.catalogue import load_catalogue
from crankpin.calculator.evaluate import evaluate, formula_of

PASSING_TIMES = load_catalogue(Path(__file__).parents[2] / "calculators")["passing-times"]


@pytest.mark.parametrize(
    ("given", "first", "second"),
    [
        ({"phi": "0 rad"}, "(arccos(x/A) - phi)/omega", "(-arccos(x/A) + 2*pi - phi)/omega"),
        ({"phi": "-2 rad"}, "(-arccos(x/A) - phi)/omega", "(arccos(x/A) - phi)/omega"),
        ({"phi": "14 rad"}, "(-arccos(x/A) + 6*pi - phi)/omega", "(arccos(x/A) + 6*pi - phi)/omega"),
        ({"phi": "-8 rad"}, "(-arccos(x/A) - 2*pi - phi)/omega", "(arccos(x/A) - 2*pi - phi)/omega"),
        ({"phi": "1 rad", "x": "12 cm"}, "(arccos(x/A) + 2*pi - phi)/omega", "(arccos(x/A) + 4*pi - phi)/omega"),
    ],
)
def test_the_formula_of_each_time(given: dict[str, str], first: str, second: str) -> None:
    found = evaluate(PASSING_TIMES, given)
    assert formula_of(PASSING_TIMES.output("t_1"), found.values) == first
    assert formula_of(PASSING_TIMES.output("t_2"), found.values) == second


def test_the_sign_of_the_velocity_is_in_its_formula() -> None:
    found = evaluate(PASSING_TIMES, {"phi": "-2 rad"})
    assert formula_of(PASSING_TIMES.output("v_1"), found.values) == "omega*sqrt(A**2 - x**2)"
    assert formula_of(PASSING_TIMES.output("v_2"), found.values) == "-omega*sqrt(A**2 - x**2)"
