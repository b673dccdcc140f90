"""The course's own problems, and the example of the guide: 200 variants of each."""

import re
import sys

import pytest

from crankpin.calculator.catalogue import load_catalogue
from crankpin.problems.cases import typed_inputs
from crankpin.problems.kind import kind_named
from crankpin.problems.marking import mark_number
from crankpin.problems.parsing import read_problems
from crankpin.problems.quantities import unit_of
from crankpin.problems.trial import try_problem
from crankpin.problems.variants import Variant
from crankpin.problems.wrong_numbers import right_value, slip_value

from .conftest import ROOT

CALCULATORS = load_catalogue(ROOT / "calculators", known_sound=lambda _: True)
CASES = typed_inputs((ROOT / "harbour.toml").read_text(encoding="utf-8"))
FILES = sorted((ROOT / "docs" / "problems").glob("*.md"))
PROBLEMS = [
    problem
    for file in FILES
    for problem in read_problems(file.read_text(encoding="utf-8"), file.name, CALCULATORS, CASES)
]
#: Fewer on the Python of phones, which takes its time.
VARIANTS = 20 if sys.platform == "emscripten" else 200
NUMERIC = [problem for problem in PROBLEMS if any(question.answer for question in problem.questions)]


def variants_of(problem):
    return (Variant(problem, number, CALCULATORS) for number in range(1, VARIANTS + 1 if problem.draw else 2))


def numeric_questions(problem):
    return [question for question in problem.questions if question.answer and question.kind != "mend"]


def spellings(value, form):
    """Return five ways to write a value inside; with a comma never three decimals, which the page asks back about."""
    shown = unit_of(form.dimension, form.unit).shown(value)
    unit = "" if form.unit == "1" else form.unit
    plain = f"{shown:.8g}"
    comma = plain.replace(".", ",") + ("0" if len(plain.partition(".")[2]) == 3 else "")
    glue = " " if unit[:1].isdigit() else ""  # 1/s right behind a number would make another number
    mantissa, exponent = f"{shown:.8e}".split("e")
    return [
        f"{plain} {unit}",
        f"{plain}{glue}{unit}",
        f"{comma} {unit}",
        f"  {shown:.8e} {unit} ",
        f"{mantissa} × 10^{int(exponent)} {unit}",
    ]


@pytest.mark.parametrize("problem", NUMERIC, ids=lambda problem: problem.id)
def test_the_right_answer_is_accepted_in_five_spellings(problem):
    for variant in variants_of(problem):
        for question in numeric_questions(problem):
            value = right_value(question, variant.quantities)
            for typed in spellings(value, variant.forms[question.answer.key]):
                told = mark_number(question, variant, typed, {})
                assert told.state == "right", (variant.number, question.name, typed, told)


@pytest.mark.parametrize("problem", NUMERIC, ids=lambda problem: problem.id)
def test_an_answer_off_by_twice_the_tolerance_is_refused(problem):
    for variant in variants_of(problem):
        for question in numeric_questions(problem):
            form = variant.forms[question.answer.key]
            value = right_value(question, variant.quantities)
            for side in (-2.0, 2.0):
                off = value + side * question.answer.tolerance.around(value)
                told = mark_number(question, variant, spellings(off, form)[0], {})
                assert told.state != "right", (variant.number, question.name, off, told)


@pytest.mark.parametrize("problem", NUMERIC, ids=lambda problem: problem.id)
def test_each_slip_has_its_own_diagnosis(problem):
    for variant in variants_of(problem):
        for question in numeric_questions(problem):
            for slip in question.slips:
                wrong = slip_value(slip, question, variant.quantities)
                if wrong is None:
                    continue
                typed = spellings(wrong, variant.forms[question.answer.key])[0]
                told = mark_number(question, variant, typed, {})
                assert (told.state, told.slip) == ("slip", slip.name), (variant.number, question.name, typed, told)


@pytest.mark.parametrize("problem", PROBLEMS, ids=lambda problem: problem.id)
def test_every_variant_is_sound(problem):
    assert not [str(fault) for fault in try_problem(problem, CALCULATORS, VARIANTS).told()]


@pytest.mark.parametrize("problem", PROBLEMS, ids=lambda problem: problem.id)
def test_what_a_kind_holds_right_is_accepted_and_has_a_key(problem):
    for number in (1, 2, 3):
        variant = Variant(problem, number, CALCULATORS)
        for question in problem.questions:
            kind = kind_named(question.kind)
            right = kind.right(question, variant)
            assert bool(kind.key(question, variant)) == (right is not None)
            assert right is None or kind.mark(question, variant, right, {}).state == "right"


def test_ids_are_unique_in_the_whole_course():
    ids = [problem.id for problem in PROBLEMS]
    assert sorted(ids) == sorted(set(ids))


def test_the_example_of_the_guide_is_a_problem():
    guide = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    example = re.search(r"````\n(~~~problem .*?\n~~~\n)````", guide, re.DOTALL)[1]
    [problem] = read_problems(example, "DEVELOPERS.md", CALCULATORS)
    assert not try_problem(problem, CALCULATORS, VARIANTS).faults
