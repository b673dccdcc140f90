"""A quantity stands under its own symbol, with its own name and unit, whatever was typed."""

import pytest

from crankpin.calc import as_text
from crankpin.calculator.common import turning_rate
from crankpin.calculator.declaration import Input
from crankpin.calculator.evaluate import evaluate
from crankpin.calculator.naming import name_of
from crankpin.calculator.parsing import quantity_of
from crankpin.calculator.rendering import TextScript
from crankpin.calculator.symbols import read_symbol
from crankpin.calculator.units import find_unit, printed_unit
from crankpin.calculator.working import working
from tests.calculators.test_all import CATALOGUE

#: Letters that stand for one quantity only, with the units inside that it may have.
LETTERS = {"ω": {"rad/s", "deg/s", "deg/h"}, "f": {"Hz", "mHz"}, "T": {"s", "ms", "min", "h", "d", "yr"}}


@pytest.mark.parametrize(
    ("symbol", "meaning", "unit", "name"),
    [
        (r"\omega", "angular frequency", "s", ("T", "period")),
        (r"\omega", "driving angular frequency", "Hz", ("f", "driving frequency")),
        (r"\omega_{\mathrm{d}}", "angular velocity of it", "rpm", (r"n_{\mathrm{d}}", "rotational frequency of it")),
        (r"\omega", "angular velocity", "deg/s", (r"\omega", "angular velocity")),
    ],
)  # fmt: skip
def test_a_rate_is_named_by_its_unit(symbol: str, meaning: str, unit: str, name: tuple[str, str]) -> None:
    found = name_of(turning_rate(symbol=symbol, meaning=meaning), unit)
    assert (found.symbol, found.meaning) == name


def letter_fits(tex: str, unit: str) -> bool:
    symbol = read_symbol(tex)
    return symbol is None or symbol.over is not None or unit in LETTERS.get(symbol.head, {unit})


@pytest.mark.parametrize("name", CATALOGUE)
def test_no_letter_stands_with_the_unit_of_another_quantity(name: str) -> None:
    """Inputs in every unit that is offered, and the results and the axes that follow them."""
    calculator = CATALOGUE[name]
    for one in calculator.inputs:
        for unit in (one.unit, *one.also) if isinstance(one, Input) else ():
            assert letter_fits(name_of(one, unit).symbol, unit), (one.key, unit)
            found = evaluate(calculator, {one.key: in_unit(one, unit)})
            for out in calculator.outputs:
                assert not out.symbol or letter_fits(out.symbol, found.outputs[out.key].chosen or out.unit), out.key
            for panel in found.picture().panels:
                for axis in (panel.horizontal, panel.vertical):
                    letter, _, shown = axis.title.partition(" / ")
                    fitting = {printed_unit(each) for each in LETTERS.get(letter.partition("_")[0], ())}
                    assert not fitting or shown in fitting, axis.title


def in_unit(one: Input, unit: str) -> str:
    return f"{find_unit(one.unit, unit).shown(quantity_of(one.default, one.unit)):.6g} {unit if unit != '1' else ''}"


def test_an_axis_takes_the_name_of_the_unit_it_follows() -> None:
    panel = evaluate(CATALOGUE["driven"], {"omega": "0.07 Hz"}).picture().panels[0]
    assert (panel.horizontal.title, panel.horizontal.meaning) == ("f / Hz", "driving frequency")


def test_what_is_typed_as_a_period_is_printed_as_a_period() -> None:
    found = evaluate(CATALOGUE["edge-on"], {"omega": "2.5 s"})
    assert "  omega      T        2.50 s                 period" in as_text(found).splitlines()
    step = working(found, TextScript())[0]
    assert (step.symbols, step.numbers, step.result) == ("ω = 2 π/T", "2 π/(2.50 s)", "2.513 rad/s")


def test_the_step_is_shown_beside_a_result_that_was_given() -> None:
    lines = {line.key: line for line in working(evaluate(CATALOGUE["passing-times"], {"omega": "2.5 s"}), TextScript())}
    assert (lines["omega"].symbols, lines["T"].method) == ("ω = 2 π/T", "As given.")


def test_the_form_that_was_typed_is_not_found_again() -> None:
    """A period that is given is not worked out from the angular velocity that was worked out from it."""
    lines = {line.key: line for line in working(evaluate(CATALOGUE["turning-rate"], {"rate": "15 s"}), TextScript())}
    assert lines["omega"].symbols == "ω = 2 π/T"
    assert (lines["T"].symbols, lines["T"].method) == ("", "As given.")
    assert lines["f"].symbols == "f = 1/T"
