"""Checking files of problems: every variant solved, and what a chapter's set should hold."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path

from crankpin.calculator.declaration import Calculator
from crankpin.problems.declaration import Problem
from crankpin.problems.faults import ProblemFault, ProblemFaultsError
from crankpin.problems.parsing import read_problems
from crankpin.problems.trial import VARIANTS, try_problem

#: A chapter has at least so many problems, and one with each of these tags.
LEAST = 12
WANTED_TAGS = ("two-chapters", "other-way-round", "uncertainty", "no-calculus", "safety")


@dataclass(frozen=True, slots=True)
class Finding:
    """What was found, and where; advice stops no build."""

    fault: ProblemFault
    is_advice: bool = False

    def __str__(self) -> str:
        return f"look: {self.fault}" if self.is_advice else str(self.fault)


def check_files(
    files: Iterable[Path],
    calculators: Mapping[str, Calculator],
    cases: Mapping[str, str],
    variants: int = VARIANTS,
) -> list[Finding]:
    """Solve so many variants of every problem in some files; return the faults and the advice, in order."""
    found: list[Finding] = []
    known: dict[str, Problem] = {}
    for file in files:
        try:
            problems = read_problems(file.read_text(encoding="utf-8"), str(file), calculators, cases)
        except ProblemFaultsError as error:
            found += map(Finding, error.faults)
            continue
        except OSError as error:
            found.append(Finding(ProblemFault(str(file), 1, f"cannot be read: {error.strerror}")))
            continue
        found += check_set(problems, str(file), known)
        for problem in problems:
            findings = try_problem(problem, calculators, variants)
            found += [*map(Finding, findings.told()), *(Finding(told, True) for told in findings.advised())]
    return found


def check_set(problems: Iterable[Problem], file: str, known: dict[str, Problem]) -> list[Finding]:
    """Return what a chapter's set lacks, and ids that are taken; ``known`` are the problems of the files before."""
    problems = list(problems)
    found = []
    for problem in problems:
        if problem.id in known:
            place = f"{known[problem.id].file}:{known[problem.id].line}"
            found.append(Finding(ProblemFault(file, problem.line, f"the id {problem.id} is already taken in {place}")))
        known[problem.id] = problem
    if len(problems) < LEAST:
        found.append(Finding(ProblemFault(file, 1, f"there are {len(problems)} problems, fewer than {LEAST}"), True))
    for tag in WANTED_TAGS:
        if not any(tag in problem.tags for problem in problems):
            found.append(Finding(ProblemFault(file, 1, f"no problem has the tag {tag}"), True))
    return found
