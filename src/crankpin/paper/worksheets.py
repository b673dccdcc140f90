"""Worksheets: problems with numbers of each sheet's own, and for the teacher a key and worked solutions.

A practice sheet has the numbers of a set that pages offer, and codes that lead to them. A graded sheet's numbers follow
from a word that the teacher keeps: no page offers them, and no code stands on it.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from html import escape
from pathlib import Path

from crankpin.calculator.declaration import Calculator
from crankpin.course.problem_text import quotable, render
from crankpin.elements.problem import ProblemWriter
from crankpin.faults import AuthorError
from crankpin.figures.codes import code_svg
from crankpin.notation.cases import Case
from crankpin.paper.document import Document, Writer
from crankpin.problems.declaration import Problem, Question, Slip
from crankpin.problems.faults import NoNumberError, ProblemFaultsError, WordingError
from crankpin.problems.generator import fnv1a
from crankpin.problems.kind import short_answers
from crankpin.problems.parsing import read_problems
from crankpin.problems.quantities import quantity_text
from crankpin.problems.variants import Variant
from crankpin.problems.wrong_numbers import slip_value

#: Centimetres of room to write for each mark, from ample to scarce; the first that fits is taken.
SPACES = (1.4, 1.0, 0.7, 0.4)
#: A sheet takes at most so many pages.
MOST_PAGES = 2
SHEETS, KEY, SOLUTIONS, TEACHER = "worksheets", "key", "solutions", "teacher"


@dataclass(frozen=True)
class Order:
    """What is wanted: the problems with the page of the site on which each stands ("" for none), and how many sheets.

    ``word`` is "" for practice.
    """

    title: str
    problems: tuple[tuple[Problem, str], ...]
    sheets: int
    word: str = ""

    def variant(self, sheet: int) -> int:
        """Return the number that chooses the numbers of a sheet, counted from 1."""
        return fnv1a(f"{self.word}/{sheet}") if self.word else sheet


def read_order(
    files: Sequence[Path],
    wanted: Sequence[str],
    calculators: Mapping[str, Calculator],
    cases: Mapping[str, Case],
    pages: Path,
) -> tuple[tuple[Problem, str], ...]:
    """Return the problems of some files, or those wanted in that order, each with its page under the folder ``pages``.

    Raises `AuthorError` where a file cannot be read or a problem is not there.
    """
    found: dict[str, tuple[Problem, str]] = {}
    for file in files:
        try:
            problems = read_problems(file.read_text("utf-8"), str(file), calculators, quotable(cases))
        except (ProblemFaultsError, OSError) as error:
            raise AuthorError(str(error)) from None
        found |= {problem.id: (problem, _page(file, pages)) for problem in problems}
    missing = [name for name in wanted if name not in found]
    if missing:
        raise AuthorError(f"there is no problem {missing[0]} in these files; there are {', '.join(found)}")
    if not found:
        raise AuthorError("there are no problems in these files")
    return tuple(found[name] for name in wanted or found)


def _page(file: Path, pages: Path) -> str:
    file, pages = file.resolve(), pages.resolve()
    return f"{file.relative_to(pages).with_suffix('').as_posix()}/" if file.is_relative_to(pages) else ""


class Worksheets:
    """Writes the documents of one order."""

    def __init__(self, order: Order, writer: Writer) -> None:
        self._order, self._writer = order, writer
        self._problems = ProblemWriter(writer.calculators, render, lambda *_: ("", ""))

    def sheets(self, space: float) -> Document:
        """Return the worksheets, each an article, with so much room to write for each mark."""

        def asked(problem: Problem, page: str, sheet: int) -> str:
            code = self._code(problem, page, sheet)
            return self._problems.on_paper(self._variant(problem, sheet), solved=False, space=space, code=code)

        return self._writer.worksheets(SHEETS, self._order.title, self._articles(asked))

    def solutions(self) -> Document:
        """Return the worked solutions of every sheet, with marks."""

        def solved(problem: Problem, page: str, sheet: int) -> str:
            return self._problems.on_paper(self._variant(problem, sheet), solved=True)

        title = f"{self._order.title}: worked solutions"
        return self._writer.worksheets(SOLUTIONS, title, self._articles(solved))

    def key(self) -> Document:
        """Return the table of all short answers."""
        names = [(one, name) for one, _ in self._order.problems for name in self._answers(one, 1)]
        heads = "".join(f"<th>{escape(one.title)}{f' ({name})' if name else ''}</th>" for one, name in names)
        rows = "".join(f"<tr><th>{sheet}</th>{self._row(sheet)}</tr>" for sheet in self._numbers)
        table = f'<table class="key-table"><thead><tr><th>Sheet</th>{heads}</tr></thead><tbody>{rows}</tbody></table>'
        return self._writer.worksheets(
            KEY, f"{self._order.title}: key", [_heading(f"{self._order.title}: key") + table]
        )

    def for_teacher(self) -> Document:
        """Return every problem with its facts, its slips with their wrong numbers, and some variants solved."""
        articles = [self._for_teacher(problem) for problem, _ in self._order.problems]
        return self._writer.worksheets(TEACHER, "Problems, for the teacher", articles)

    def _for_teacher(self, problem: Problem) -> str:
        facts = [problem.id, problem.level, *problem.tags, f"needs {', '.join(problem.needs)}"]
        variants = [self._variant(problem, sheet) for sheet in (self._numbers if problem.draw else (1,))]
        solved = "".join(
            f"<p><b>Set {variant.number}</b></p>{self._problems.on_paper(variant, solved=True)}" for variant in variants
        )
        head = f'<p class="problem-facts">{escape(" · ".join(facts))}</p>'
        return _heading(problem.title, problem.id) + head + _slips(problem, variants) + solved

    @property
    def _numbers(self) -> range:
        return range(1, self._order.sheets + 1)

    def _articles(self, write: Callable[[Problem, str, int], str]) -> list[str]:
        return [self._article(sheet, write) for sheet in self._numbers]

    def _article(self, sheet: int, write: Callable[[Problem, str, int], str]) -> str:
        marks = sum(problem.marks for problem, _ in self._order.problems)
        head = (
            f'<div class="worksheet-head"><span>Sheet {sheet} of {self._order.sheets}</span>'
            f"<span>{marks} marks</span></div>"
        )
        body = "".join(write(problem, page, sheet) for problem, page in self._order.problems)
        return _heading(self._order.title, sheet) + head + body

    def _variant(self, problem: Problem, sheet: int) -> Variant:
        try:
            return Variant(problem, self._order.variant(sheet), self._writer.calculators)
        except (WordingError, NoNumberError) as error:
            raise AuthorError(f"{problem.id}, sheet {sheet}: {error}") from None

    def _code(self, problem: Problem, page: str, sheet: int) -> str:
        address = self._writer.source.address
        if self._order.word or not page or not address or not problem.draw:
            return ""
        return code_svg(f"{address.rstrip('/')}/{page}?{problem.id}.variant={sheet}")

    def _answers(self, problem: Problem, sheet: int) -> dict[str, str]:
        return short_answers(self._variant(problem, sheet))

    def _row(self, sheet: int) -> str:
        found = [text for problem, _ in self._order.problems for text in self._answers(problem, sheet).values()]
        return "".join(f"<td>{escape(text)}</td>" for text in found)


def _slips(problem: Problem, variants: Sequence[Variant]) -> str:
    """Return a table of the slips: the wrong number of each in every variant, and what is said."""
    rows = []
    for question in problem.questions:
        for slip in question.slips:
            numbers = "".join(f"<td>{escape(_wrong(slip, question, variant))}</td>" for variant in variants)
            name = f"({question.name}) " if question.name else ""
            words = slip.name.replace("_", " ")
            rows.append(f"<tr><th>{name}{escape(words)}</th>{numbers}<td>{escape(slip.says)}</td></tr>")
    heads = "".join(f"<th>Set {variant.number}</th>" for variant in variants)
    head = f"<thead><tr><th>Slip</th>{heads}<th>What is said</th></tr></thead>"
    return f'<table class="key-table">{head}<tbody>{"".join(rows)}</tbody></table>' if rows else ""


def _wrong(slip: Slip, question: Question, variant: Variant) -> str:
    value = slip_value(slip, question, variant.quantities)
    if value is None or question.answer is None:
        return "none"
    return quantity_text(value, variant.forms[question.answer.key])


def _heading(text: str, sheet: int | str = 0) -> str:
    return f'<h2 id="sheet-{sheet}">{escape(text)}</h2>'
