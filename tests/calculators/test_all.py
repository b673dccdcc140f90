"""Every calculator of the course: its published checks, and its promises at random inputs."""

import math
import random
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from crankpin.calculator.catalogue import load_catalogue
from crankpin.calculator.checks import check_differences
from crankpin.calculator.declaration import Calculator, Choice, Input, PublishedCheck, Table
from crankpin.calculator.evaluate import Evaluation, evaluate
from crankpin.calculator.faults import InputFaultsError
from crankpin.calculator.parsing import quantity_of
from crankpin.calculator.working import formula_gap, working

CATALOGUE = load_catalogue(Path(__file__).parents[2] / "calculators")
CHECKS = [
    pytest.param(name, check, id=f"{name}-{i}")
    for name, calculator in CATALOGUE.items()
    for i, check in enumerate(calculator.checks)
]
TRIALS = 200
FORMULA_TOLERANCE = 1e-9


@pytest.mark.parametrize(("name", "check"), CHECKS)
def test_against_published(name: str, check: PublishedCheck) -> None:
    assert check_differences(CATALOGUE[name], check) == {}


@pytest.mark.parametrize(("name", "check"), CHECKS)
def test_each_published_number_can_disagree(name: str, check: PublishedCheck) -> None:
    """The comparison is no rubber stamp: one unit more in the last printed digit is seen for every number."""
    for key, text in check.expect.items():
        if not CATALOGUE[name].output(key).unit:
            continue
        digits = next(i for i, sign in reversed(list(enumerate(text))) if sign.isdigit() and _in_mantissa(text, i))
        moved = text[:digits] + str((int(text[digits]) + 5) % 10) + text[digits + 1 :]
        other = PublishedCheck(source=check.source, given=check.given, expect={key: moved})
        assert key in check_differences(CATALOGUE[name], other)


def _in_mantissa(text: str, place: int) -> bool:
    number = text.split(" ")[0]
    return place < len(number.partition("e")[0])


def drawn_inputs(calculator: Calculator, seed: int, *, bench: bool) -> dict[str, str | float]:
    """Draw inputs: from the slider's range when ``bench``, else from the whole range allowed."""
    dice = random.Random(seed)
    given: dict[str, str | float] = {}
    for one in calculator.inputs:
        if isinstance(one, Choice):
            given[one.key] = dice.choice(one.options)[0]
        elif isinstance(one, Input):
            drawn = _draw(one, dice, bench=bench)
            given[one.key] = round(drawn) if one.whole else drawn
    return given


def _draw(one: Input, dice: random.Random, *, bench: bool) -> float:
    texts = one.slider if bench else (one.lowest, one.highest)
    low, high = (quantity_of(text, one.unit) for text in texts)
    low, high = min(low, high), max(low, high)
    if bench:
        return dice.uniform(low, high)
    if low > 0.0:
        return min(max(math.exp(dice.uniform(math.log(low), math.log(high))), low), high)
    size = math.exp(dice.uniform(math.log(1e-9), math.log(high))) if high > 1e-9 else high
    sign = -1.0 if low < 0.0 and dice.random() < 0.5 else 1.0
    return min(max(sign * size, low), high)


def answered(calculator: Calculator, *, bench: bool) -> Iterator[Evaluation]:
    for seed in range(TRIALS):
        given = drawn_inputs(calculator, seed, bench=bench)
        try:
            yield evaluate(calculator, given)
        except InputFaultsError as error:
            assert all(fault.message for fault in error.faults)
            assert "Error" not in str(error)


@pytest.mark.parametrize("name", CATALOGUE)
def test_legal_inputs_give_finite_answers_or_a_reason(name: str) -> None:
    seen = 0
    for evaluation in answered(CATALOGUE[name], bench=False):
        seen += 1
        for found in evaluation.outputs.values():
            if isinstance(found.value, float):
                assert math.isfinite(found.value)
                assert found.text
            else:
                assert found.value or found.reason
        working(evaluation)
    assert seen > TRIALS // 10 or all(isinstance(one, Table) for one in CATALOGUE[name].inputs)


@pytest.mark.parametrize("name", CATALOGUE)
def test_on_the_bench_nearly_all_inputs_are_answered(name: str) -> None:
    seen = 0
    for evaluation in answered(CATALOGUE[name], bench=True):
        seen += 1
        picture = evaluation.picture()
        assert picture is None or picture.words
        assert len(working(evaluation)) == sum(found.value is not None for found in evaluation.outputs.values())
    assert seen >= TRIALS // 3


@pytest.mark.parametrize("name", CATALOGUE)
def test_printed_formulas_agree_with_the_function(name: str) -> None:
    calculator = CATALOGUE[name]
    for evaluation in answered(calculator, bench=True):
        for one in calculator.outputs:
            assert formula_gap(evaluation, one) <= FORMULA_TOLERANCE, (one.key, evaluation.values)


def shown_texts(calculator: Calculator) -> Iterator[str]:
    """Every text of a declaration that a reader sees as it stands, without Markdown to mend its quotes."""
    yield from (calculator.title, calculator.purpose, *(caution.text for caution in calculator.cautions))
    for one in calculator.inputs:
        yield one.meaning
        if isinstance(one, Choice):
            yield from (words for _, words in one.options)
        elif isinstance(one, Table):
            yield from (column.meaning for column in one.columns)
        else:
            yield one.help
    for output in calculator.outputs:
        yield from (output.meaning, output.method)
    if calculator.picture:
        yield calculator.picture.caption
        for panel in calculator.picture.panels:
            yield from (panel.horizontal.meaning, panel.vertical.meaning)
            yield from (one.label for one in (*panel.curves, *panel.marks))
    for check in calculator.checks:
        yield from (check.source, check.note)


@pytest.mark.parametrize("name", CATALOGUE)
def test_texts_have_printers_quotes_and_no_symbol_left_upright(name: str) -> None:
    """Apostrophes curled, and no relation such as t = 0 in words: there a symbol could not be italic."""
    for text in shown_texts(CATALOGUE[name]):
        assert not {"'", '"', "`"} & set(text), text
        assert not re.search(r"\bt = 0\b|\by = ", text), text


@pytest.mark.parametrize("name", CATALOGUE)
def test_every_calculator_has_a_picture_and_a_check(name: str) -> None:
    assert CATALOGUE[name].picture is not None
    assert CATALOGUE[name].checks
