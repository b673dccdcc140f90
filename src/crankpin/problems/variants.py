"""One variant of a problem: its drawn numbers, and everything that is worked out from them."""

from collections.abc import Iterator, Mapping
from typing import Any

from crankpin.calculator.declaration import Calculator
from crankpin.problems.declaration import Problem, Worked
from crankpin.problems.drawing import Value
from crankpin.problems.expressions import Evaluator
from crankpin.problems.faults import NoNumberError, WordingError
from crankpin.problems.generator import Generator, seed_of
from crankpin.problems.quantities import Form, quantity_text

#: So often are the quantities of one variant drawn anew before a problem gives up.
MOST_DRAWS = 500


class Quantities(Mapping[str, Any]):
    """The quantities of a problem by key, in SI; each is worked out when it is first asked for.

    ``changed`` puts expressions over the unchanged quantities, or values, in the place of some.
    """

    def __init__(
        self,
        problem: Problem,
        drawn: Mapping[str, Value],
        calculators: Mapping[str, Calculator],
        changed: Mapping[str, Any] | None = None,
    ) -> None:
        self._work: dict[str, Worked] = {worked.key: worked for worked in problem.work}
        self._drawn = drawn
        self._known: dict[str, Any] = {**drawn, **(changed or {})}
        self._under_way: list[str] = []
        self._evaluator = Evaluator(self, calculators)

    def __getitem__(self, key: str) -> Any:
        """Return a quantity. Raises `WordingError` for an unknown name or a ring, `NoNumberError` without value."""
        if key in self._known:
            return self._known[key]
        if key not in self._work:
            raise WordingError(f"there is no quantity {key}; there are {', '.join(self)}")
        if key in self._under_way:
            raise WordingError(f"these follow from each other in a ring: {' → '.join([*self._under_way, key])}")
        self._under_way.append(key)
        try:
            self._known[key] = self.value(self._work[key].expression)
        finally:
            self._under_way.pop()
        return self._known[key]

    def value(self, expression: str) -> Any:
        """Return what an expression over these quantities comes to, in SI."""
        return self._evaluator.value(expression)

    def __iter__(self) -> Iterator[str]:
        """Go through the keys: the drawn ones, then those worked out."""
        yield from self._drawn
        yield from self._work

    def __len__(self) -> int:
        """Return how many quantities there are."""
        return len(self._drawn) + len(self._work)


class Variant:
    """A problem with its numbers. ``number`` is the whole number, from 1 on, that chooses them."""

    def __init__(self, problem: Problem, number: int, calculators: Mapping[str, Calculator]) -> None:
        self.problem = problem
        self.number = number
        self._calculators = calculators
        self._generator = Generator(seed_of(problem.id, problem.version, number))
        self.forms: dict[str, Form] = {
            worked.key: Form(worked.dimension, worked.unit, worked.digits) for worked in problem.work
        }
        self.drawn: dict[str, Value] = {}
        self.draws = 0
        self.quantities = self._draw()

    def _draw(self) -> Quantities:
        refused = ""
        for self.draws in range(1, MOST_DRAWS + 1):
            self._draw_once()
            quantities = Quantities(self.problem, self.drawn, self._calculators)
            refused = next((condition for condition in self.problem.where if not quantities.value(condition)), "")
            if not refused:
                return quantities
        raise NoNumberError(
            f"none of {MOST_DRAWS} draws for variant {self.number} met the condition “{refused}”; "
            f"widen the ranges or loosen the condition"
        )

    def _draw_once(self) -> None:
        for drawn in self.problem.draw:
            value, form = drawn.draw(self._generator)
            self.drawn[drawn.key] = value
            if form:
                self.forms[drawn.key] = form

    def changed(self, changes: Mapping[str, str | float]) -> Quantities:
        """Return the quantities with some changed: to the value of an expression over these, or to a number."""
        values = {
            key: self.quantities.value(change) if isinstance(change, str) else change for key, change in changes.items()
        }
        return Quantities(self.problem, self.drawn, self._calculators, values)

    def text(self, key: str) -> str:
        """Return a quantity as number and unit, or a word."""
        value = self.quantities[key]
        return value if isinstance(value, str) else quantity_text(float(value), self.forms[key])

    def order(self, question: str, count: int) -> list[int]:
        """Return the places of some things in the order in which this variant shows them."""
        order = list(range(count))
        generator = Generator(seed_of(f"{self.problem.id}/{question}", self.problem.version, self.number))
        generator.shuffle(order)
        return order
