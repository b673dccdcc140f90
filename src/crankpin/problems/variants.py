"""One variant of a problem: its drawn numbers, and everything that is worked out from them."""

from collections.abc import Mapping

from crankpin.calculator.declaration import Calculator
from crankpin.problems.declaration import SLIPS_APART, Problem
from crankpin.problems.drawing import Value
from crankpin.problems.faults import NoNumberError
from crankpin.problems.generator import Generator, seed_of
from crankpin.problems.quantities import Form, quantity_text
from crankpin.problems.solved import Quantities
from crankpin.problems.wrong_numbers import confused

#: So often are the quantities of one variant drawn anew before a problem gives up.
MOST_DRAWS = 500


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
            quantities = Quantities(self.problem, dict(self.drawn), self._calculators)
            refused = next(
                (condition for condition in self.problem.where if not self._meets(quantities, condition)), ""
            )
            if not refused:
                return quantities
        raise NoNumberError(
            f"none of {MOST_DRAWS} draws met the condition “{refused}”; widen the ranges or loosen the condition"
        )

    def _meets(self, quantities: Quantities, condition: str) -> bool:
        if condition != SLIPS_APART:
            return bool(quantities.value(condition))
        return not any(confused(question, quantities) for question in self.problem.questions)

    def _draw_once(self) -> None:
        for drawn in self.problem.draw:
            value, form = drawn.draw(self._generator)
            self.drawn[drawn.key] = value
            if form:
                self.forms[drawn.key] = form

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
