"""Printed parts add up to their printed sum."""

import pytest

from crankpin.calculator.declaration import Output
from crankpin.calculator.evaluate import evaluate
from crankpin.calculator.rounding import terms_of
from tests.calculator.test_evaluate import calculator


@pytest.mark.parametrize(
    ("formula", "terms"),
    [
        ("E - U", (("E", 1.0), ("U", -1.0))),
        ("-(a - b) + c", (("a", -1.0), ("b", 1.0), ("c", 1.0))),
        ("a + 2*b", ()),
        ("1 + a", ()),
        ("a", ()),
        ("", ()),
    ],
)
def test_the_terms_of_a_sum(formula: str, terms: tuple[tuple[str, float], ...]) -> None:
    assert terms_of(formula) == terms


def energies(potential: float, kinetic: float) -> list[str]:
    outputs = (
        Output(key="U", symbol="U", meaning="potential energy", unit="J", method="Given."),
        Output(key="K", symbol="K", meaning="kinetic energy", unit="J", method="Given."),
        Output(key="E", symbol="E", meaning="total energy", unit="J", formula="U + K"),
    )
    found = {"U": potential, "K": kinetic, "E": potential + kinetic}
    one = calculator(outputs=outputs, checks=(), function=lambda A: found)
    return [evaluate(one).outputs[key].text for key in "UKE"]


def test_more_digits_are_shown_where_three_do_not_add_up() -> None:
    assert energies(0.0112, 0.0338) == ["0.0112 J", "0.0338 J", "0.0450 J"]
    assert energies(0.01125, 0.03375) == ["0.01125 J", "0.03375 J", "0.04500 J"]


def test_a_part_that_is_next_to_nothing_keeps_its_own_digits() -> None:
    assert energies(1.234e-9, 1.0) == ["1.23×10⁻⁹ J", "1.00 J", "1.00 J"]
