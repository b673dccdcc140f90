"""What a kind of question must say; each kind is one file in ``kinds/``, found by its name."""

import importlib
from collections.abc import Mapping
from typing import Any, Literal, Protocol

from crankpin.problems.declaration import Answer, Graph, Item, Question, Slip, Step
from crankpin.problems.faults import WordingError
from crankpin.problems.variants import Variant
from crankpin.problems.verdicts import Verdict


class Source(Protocol):
    """What a kind reads its question from: the declaration and the sections, each told with its line if wrong."""

    def answer(self) -> Answer | None:
        """Return the number asked for, which must be declared."""

    def slips(self) -> tuple[Slip, ...]:
        """Return the slips declared."""

    def graph(self) -> Graph | None:
        """Return the graph, which must be declared."""

    def has(self, key: str) -> bool:
        """Tell whether the declaration has a key, or the body a section of that name."""

    def items(self, section: str, least: int = 2) -> tuple[Item, ...]:
        """Return the list of a section, which must stand there with so many items."""

    def points(self, section: str) -> tuple[Step, ...]:
        """Return a list with marks, which must stand there."""

    def markdown(self, section: str) -> str:
        """Return a section, which must stand there."""

    def fault(self, message: str) -> None:
        """Tell what is wrong with the question."""


#: What a student is asked for: a number with unit; to choose among items; to put items in order; the one line that is
#: wrong; words; a drawing on paper. An answer is what the form gives, or, with several, a mapping by form.
Form = Literal["number", "choices", "order", "line", "words", "drawing"]


class Kind(Protocol):
    """One kind of question."""

    #: What is asked for, in order.
    asks: tuple[Form, ...]
    #: The keys of the declaration and the sections that this kind knows, beside those of every question.
    keys: frozenset[str]
    sections: frozenset[str]

    def read(self, source: Source) -> dict[str, Any]:
        """Return the fields of `Question` that this kind fills."""

    def mark(self, question: Question, variant: Variant, given: Any, earlier: Mapping[str, float]) -> Verdict:
        """Return the verdict on what a student gave."""

    def right(self, question: Question, variant: Variant) -> Any:
        """Return an answer that is accepted, or None where no machine marks."""

    def key(self, question: Question, variant: Variant) -> str:
        """Return the answer as it stands in a key, in a few signs; "" where it is words or a drawing."""


def kind_named(name: str) -> Kind:
    """Return the kind of that name. Raises `WordingError`."""
    stem = name.replace("-", "_")
    try:
        module = importlib.import_module(f"crankpin.problems.kinds.{stem}") if stem.isidentifier() else None
    except ModuleNotFoundError:
        module = None
    if module is None:
        raise WordingError(
            f"“{name}” is not a kind of problem; there are number, parts, choice, order, read-off, sketch, explain, "
            "predict and mend"
        )
    return module.kind  # type: ignore[no-any-return]


def short_answers(variant: Variant) -> dict[str, str]:
    """Return the short answer of each question that has one, by the question's name."""
    found = {question.name: kind_named(question.kind).key(question, variant) for question in variant.problem.questions}
    return {name: text for name, text in found.items() if text}


def in_one_line(answers: Mapping[str, str]) -> str:
    """Return short answers as they stand in a list: ``(a) 0.583 Hz; (b) 3.67 rad/s``."""
    return "; ".join(f"({name}) {text}" if name else text for name, text in answers.items())
