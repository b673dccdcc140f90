"""What a problem is: frozen data, read from its Markdown by `parsing`, sent to a phone by `serialise`."""

from dataclasses import dataclass, field
from math import fsum

from crankpin.problems.drawing import Drawn

LEVELS = ("warm-up", "standard", "stretch")
TAGS = ("two-chapters", "other-way-round", "uncertainty", "no-calculus", "safety", "everyday")
#: The condition that draws anew until every slip has a number of its own.
SLIPS_APART = "slips apart"


@dataclass(frozen=True, slots=True)
class Worked:
    """A quantity that is worked out from others: an expression, and how its value is written."""

    key: str
    expression: str
    dimension: str
    unit: str
    digits: int = 3
    line: int = 0


@dataclass(frozen=True, slots=True)
class Tolerance:
    """How far an answer may be off: ``size`` times the right one, or ``size`` in SI where ``absolute``."""

    size: float
    absolute: bool = False

    def around(self, right: float) -> float:
        """Return the half-width, in SI, of what is accepted around this value."""
        return self.size if self.absolute else self.size * abs(right)


@dataclass(frozen=True, slots=True)
class Answer:
    """The number that is asked for: the key of a quantity, and how close an answer must be."""

    key: str
    tolerance: Tolerance


@dataclass(frozen=True, slots=True)
class Slip:
    """A known mistake and the wrong number it leads to.

    Either ``changes`` puts other expressions in the place of quantities, or ``expression`` is the wrong answer itself.
    """

    name: str
    says: str
    changes: tuple[tuple[str, str], ...] = ()
    expression: str = ""
    line: int = 0


@dataclass(frozen=True, slots=True)
class Step:
    """A step of a solution or a point of a good answer, with its marks: ("M1", "A1")."""

    text: str
    marks: tuple[str, ...] = ()

    @property
    def worth(self) -> int:
        """Return how many marks the step has."""
        return int(fsum(int(mark[1:]) for mark in self.marks))


@dataclass(frozen=True, slots=True)
class Item:
    """A choice, a step to be put in order, or a line of a wrong solution; ``reason`` says why it is right or wrong."""

    text: str
    marked: bool = False
    reason: str = ""


@dataclass(frozen=True, slots=True)
class Graph:
    """A computed curve: ``expression`` over ``variable``, which runs from ``low`` to ``high`` (expressions, SI)."""

    variable: str
    low: str
    high: str
    across_unit: str
    expression: str
    up_symbol: str
    up_unit: str


@dataclass(frozen=True)
class Question:
    """One thing asked. Which of the fields are filled says its kind (see ``kinds/``)."""

    name: str
    """"" where a problem asks one thing, else a, b, c."""
    kind: str
    text: str = ""
    hints: tuple[str, ...] = ()
    solution: tuple[Step, ...] = ()
    answer: Answer | None = None
    slips: tuple[Slip, ...] = ()
    items: tuple[Item, ...] = ()
    points: tuple[Step, ...] = ()
    model: str = ""
    look: str = ""
    goes_on_from: tuple[str, ...] = ()
    """Names of earlier parts whose answers, as the student gave them, this one goes on from."""
    graph: Graph | None = None
    line: int = 0

    @property
    def marks(self) -> int:
        """Return how many marks the question has."""
        return int(fsum(step.worth for step in (*self.solution, *self.points)))


@dataclass(frozen=True)
class Problem:
    """One problem with everything that its variants follow from."""

    id: str
    title: str
    level: str
    version: int = 1
    tags: tuple[str, ...] = ()
    needs: tuple[str, ...] = ()
    """The chapters it needs, by the names of their files; the first is its own."""
    draw: tuple[Drawn, ...] = ()
    work: tuple[Worked, ...] = ()
    where: tuple[str, ...] = ()
    text: str = ""
    questions: tuple[Question, ...] = ()
    file: str = field(default="", compare=False)
    line: int = field(default=0, compare=False)

    @property
    def marks(self) -> int:
        """Return how many marks the problem has."""
        return int(fsum(question.marks for question in self.questions))

    def question(self, name: str) -> Question:
        """Return the question of that name; raises KeyError."""
        for question in self.questions:
            if question.name == name:
                return question
        raise KeyError(name)
