"""Inputs that do not go together: the message names the input and what is allowed, in the unit that was typed."""

from pathlib import Path

import pytest

from crankpin.calculator.catalogue import load_catalogue
from crankpin.calculator.evaluate import evaluate
from crankpin.calculator.faults import InputFaultsError

CATALOGUE = load_catalogue(Path(__file__).parents[2] / "calculators")


@pytest.mark.parametrize(
    ("name", "given", "key", "parts"),
    [
        ("energy-share", {"A": "5 cm", "x": "-6 cm"}, "x", ("within the amplitude A", "from −5 cm to 5 cm")),
        ("passing-times", {"A": "12 cm", "x": "13 cm"}, "x", ("within the amplitude A", "from −12 cm to 12 cm")),
        ("lamp-shadow", {"A": "60 cm", "D": "50 cm"}, "D", ("greater than the radius A", "more than 60 cm")),
        ("falling-peaks", {"x_0": "8 cm", "x_n": "9 cm"}, "x_n", ("no greater than the first peak", "at most 8 cm")),
        ("tide-height", {"constituents": "1 29 0\n-1 30 0"}, "constituents", ("row 2", "amplitude", "add 180°")),
        ("tide-height", {"constituents": "1 0 0"}, "constituents", ("row 1", "no speed above zero")),
        ("lamp-shadow", {"A": "10 cm", "D": "1 m", "S": "1.1 m"}, "S", ("greater than D + A", "more than 1.1 m")),
    ],
)
def test_the_refusal_names_input_and_range(name: str, given: dict[str, str], key: str, parts: tuple[str, ...]) -> None:
    with pytest.raises(InputFaultsError) as caught:
        evaluate(CATALOGUE[name], given)
    (fault,) = caught.value.faults
    assert fault.key == key
    for part in parts:
        assert part in fault.message


def test_the_ends_of_the_range_are_allowed() -> None:
    found = evaluate(CATALOGUE["energy-share"], {"A": "5 cm", "x": "-5 cm"}).outputs
    assert found["K"].text == "0 J"
    assert found["v"].value == 0.0


def test_a_heavy_spring_is_warned_of() -> None:
    light, heavy = (
        evaluate(CATALOGUE["spring-mass"], {"m": "100 g", "m_spring": own}).cautions for own in ("100 g", "101 g")
    )
    assert len(heavy) == len(light) + 1


def test_end_to_end_is_softer_than_either_and_side_by_side_stiffer() -> None:
    given = {"k_1": "20 N/m", "k_2": "30 N/m"}
    soft, stiff = (
        evaluate(CATALOGUE["springs-together"], given | {"arrangement": word}).outputs["k"].value
        for word in ("end-to-end", "side-by-side")
    )
    assert soft == pytest.approx(12.0)
    assert stiff == pytest.approx(50.0)
