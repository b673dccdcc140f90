"""What a package asks: one item for each set of numbers of a problem, whatever the format."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any
from xml.etree.ElementTree import Element

from crankpin.calculator.declaration import Calculator
from crankpin.calculator.units import printed_unit
from crankpin.course.problem_text import render
from crankpin.elements.problem import ProblemWriter
from crankpin.handover.xhtml import elements_of
from crankpin.problems.declaration import Problem, Question
from crankpin.problems.kind import kind_named
from crankpin.problems.quantities import unit_of
from crankpin.problems.variants import Variant
from crankpin.problems.wrong_numbers import right_value

_RULES = (
    "text{font:10.5px serif;fill:#000}.ink-grid{stroke:#bbb}.ink-axis{stroke:#000}.ink-position{stroke:#075f69}"
    ".chart-middle{text-anchor:middle}.chart-end{text-anchor:end}.chart-symbol{font-style:italic}"
)


@dataclass(frozen=True)
class Asked:
    """One thing to be answered in an item.

    ``form`` is "number", "choices", "line", "order" or "words". A number has its ``unit`` as printed, and the plain
    decimals between which an answer is accepted; ``right`` are the number to show, or the letters of what is right.
    """

    name: str
    form: str
    marks: int
    right: tuple[str, ...] = ()
    unit: str = ""
    low: str = ""
    high: str = ""
    choices: tuple[tuple[str, Sequence[Element | str]], ...] = ()
    several: bool = False


@dataclass(frozen=True)
class Part:
    """A part of an item: what is said, a picture's SVG ("" for none), and what is to be answered."""

    name: str
    said: Sequence[Element | str]
    picture: str
    asked: tuple[Asked, ...]


@dataclass(frozen=True)
class Item:
    """One set of numbers of a problem."""

    id: str
    title: str
    said: Sequence[Element | str]
    parts: tuple[Part, ...]

    @property
    def marks(self) -> int:
        """Return how many marks a machine can give."""
        return sum(asked.marks for part in self.parts for asked in part.asked if asked.form != "words")


def items_of(problem: Problem, numbers: Sequence[int], calculators: Mapping[str, Calculator]) -> list[Item]:
    """Return the items of some sets of numbers; a problem that draws none has one item."""
    writer = ProblemWriter(calculators, render, lambda *_: ("", ""))
    wanted = numbers if problem.draw else numbers[:1]
    return [_item(Variant(problem, number, calculators), writer) for number in wanted]


def plain_decimal(x: float) -> str:
    """Return a number without an exponent, to ten significant digits.

    >>> plain_decimal(0.000012345), plain_decimal(120000.0), plain_decimal(-0.5)
    ('0.000012345', '120000', '-0.5')
    """
    text = format(Decimal(f"{x:.10g}"), "f")
    return text.rstrip("0").rstrip(".") if "." in text else text


def _item(variant: Variant, writer: ProblemWriter) -> Item:
    problem = variant.problem
    fields = writer.fields(variant)
    parts = tuple(
        _part(question, part, variant) for question, part in zip(problem.questions, fields["parts"], strict=True)
    )
    return Item(f"{problem.id}-{variant.number}", problem.title, elements_of(str(fields["text"])), parts)


def _part(question: Question, fields: Mapping[str, Any], variant: Variant) -> Part:
    forms = kind_named(question.kind).asks
    marks = _shared(question.marks, len(forms))
    asked = tuple(_asked(form, question, fields, variant, worth) for form, worth in zip(forms, marks, strict=True))
    return Part(question.name, elements_of(str(fields["text"])), _standing_alone(str(fields["graph"])), asked)


def _standing_alone(svg: str) -> str:
    """Return a picture with the rules that the page's style sheet would give it, "" for none."""
    before, tag, after = svg.partition(">")
    return f"{before}{tag}<style>{_RULES}</style>{after}" if svg else ""


def _shared(marks: int, count: int) -> list[int]:
    """Share marks among what is asked: one for each but the last, which has the rest."""
    return [*([1] * (count - 1)), marks - (count - 1)]


def _asked(form: str, question: Question, fields: Mapping[str, Any], variant: Variant, marks: int) -> Asked:
    if form == "number":
        return _number(question, variant, marks)
    if form in ("words", "drawing"):
        return Asked(question.name, "words", marks)
    letters = "ABCDEFGHIJKL"
    places = [row["place"] for row in fields["rows"]]
    choices = tuple((letters[at], elements_of(str(row["html"]))) for at, row in enumerate(fields["rows"]))
    if form == "order":
        right = tuple(letters[places.index(place)] for place in range(len(places)))
    else:
        right = tuple(letters[at] for at, place in enumerate(places) if question.items[place].marked)
    return Asked(question.name, form, marks, right, choices=choices, several=len(right) > 1)


def _number(question: Question, variant: Variant, marks: int) -> Asked:
    assert question.answer
    form, value = variant.forms[question.answer.key], right_value(question, variant.quantities)
    room, unit = question.answer.tolerance.around(value), unit_of(form.dimension, form.unit)
    ends = sorted(unit.shown(value + side * room) for side in (-1.0, 1.0))
    shown = plain_decimal(unit.shown(value))
    return Asked(
        question.name,
        "number",
        marks,
        (shown,),
        printed_unit(form.unit),
        plain_decimal(ends[0]),
        plain_decimal(ends[1]),
    )
