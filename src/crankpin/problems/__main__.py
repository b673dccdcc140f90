"""Checks the problems of Markdown files: `python -m crankpin.problems [--variants N] [--show N] FILE…`.

Each fault is one line with file and line number; advice begins with “look”. `--show N` writes variant N of every
problem, with its answer, its slips and its solution. Calculators are those in `calculators/` of the current folder,
cases those in `harbour.toml` beside it.
"""

import argparse
import sys
from collections.abc import Mapping
from dataclasses import dataclass
from math import fsum
from pathlib import Path

from crankpin.calculator.catalogue import load_catalogue
from crankpin.calculator.declaration import Calculator
from crankpin.problems.cases import typed_inputs
from crankpin.problems.declaration import Problem, Question
from crankpin.problems.faults import ProblemFaultsError
from crankpin.problems.kind import kind_named
from crankpin.problems.parsing import read_problems
from crankpin.problems.placeholders import filled
from crankpin.problems.quantities import quantity_text
from crankpin.problems.trial import VARIANTS, try_problem
from crankpin.problems.variants import Variant
from crankpin.problems.wrong_numbers import slip_value


def main(arguments: list[str] | None = None) -> int:
    """Check files; return 0 where nothing is at fault."""
    parser = argparse.ArgumentParser(
        prog="python -m crankpin.problems", description="Check problems in Markdown files."
    )
    parser.add_argument("files", nargs="+", type=Path, metavar="FILE")
    parser.add_argument(
        "--variants", type=int, default=VARIANTS, help="how many variants are solved (default %(default)s)"
    )
    parser.add_argument("--show", type=int, metavar="N", help="write variant N of every problem")
    parser.add_argument("--calculators", type=Path, default=Path("calculators"), help="folder of the calculators")
    parser.add_argument("--cases", type=Path, default=Path("harbour.toml"), help="values file (default %(default)s)")
    asked = parser.parse_args(arguments)
    calculators = load_catalogue(asked.calculators, known_sound=lambda _: True)
    cases = typed_inputs(asked.cases.read_text(encoding="utf-8")) if asked.cases.is_file() else {}
    course = Course(calculators, cases)
    faults = sum(1 for file in asked.files if not _check(file, course, asked.variants, asked.show))
    return 1 if faults else 0


@dataclass(frozen=True)
class Course:
    """What problems may use of a course: its calculators, and what its cases are given."""

    calculators: Mapping[str, Calculator]
    cases: Mapping[str, str]


def _check(file: Path, course: Course, variants: int, show: int | None) -> bool:
    calculators = course.calculators
    try:
        problems = read_problems(file.read_text(encoding="utf-8"), str(file), calculators, course.cases)
    except ProblemFaultsError as error:
        print(error)
        return False
    except OSError as error:
        print(f"{file}: cannot be read: {error.strerror}")
        return False
    sound = True
    for problem in problems:
        findings = try_problem(problem, calculators, variants)
        for advice in findings.advised():
            print(f"look: {advice}")
        for fault in findings.told():
            print(fault)
        sound = sound and not findings.faults
        if show and not findings.faults:
            _show(problem, Variant(problem, show, calculators))
    print(_summary(file, problems))
    return sound


def _summary(file: Path, problems: tuple[Problem, ...]) -> str:
    def count(words: list[str]) -> str:
        return ", ".join(f"{words.count(word)} {word}" for word in sorted(set(words)))

    levels = count([problem.level for problem in problems])
    kinds = count([question.kind for problem in problems for question in problem.questions])
    tags = count([tag for problem in problems for tag in problem.tags])
    drawn = sum(1 for problem in problems if problem.draw)
    marks = int(fsum(problem.marks for problem in problems))
    head = f"{file}: {len(problems)} problems, {drawn} with variants, {marks} marks"
    return f"{head}\n  {levels}\n  asked: {kinds}\n  tags: {tags or 'none'}"


def _show(problem: Problem, variant: Variant) -> None:
    print(f"\n== {problem.id} · {problem.title} · {problem.level} · {problem.marks} marks · variant {variant.number}")
    print(filled(problem.text, variant))
    for question in problem.questions:
        _show_question(question, variant)


def _show_question(question: Question, variant: Variant) -> None:
    if question.name:
        print(f"\n({question.name}) {filled(question.text, variant)}")
    for item in question.items:
        print(f"  [{'x' if item.marked else ' '}] {filled(item.text, variant)}")
        if item.reason:
            print(f"        {filled(item.reason, variant)}")
    print(f"  answer: {kind_named(question.kind).key(question, variant)}")
    for slip in question.slips:
        wrong = slip_value(slip, question, variant.quantities)
        assert question.answer
        shown = "none" if wrong is None else quantity_text(wrong, variant.forms[question.answer.key])
        print(f"  slip {slip.name}: {shown}")
    for at, hint in enumerate(question.hints, 1):
        print(f"  hint {at}: {filled(hint, variant)}")
    for step in (*question.solution, *question.points):
        print(f"  · {filled(step.text, variant)}  {' '.join(step.marks)}")
    if question.model:
        print(f"  model: {filled(question.model, variant)}")


if __name__ == "__main__":
    sys.exit(main())
