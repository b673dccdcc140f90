"""The quantities of a problem for one set of drawn numbers: each is worked out when it is first asked for."""

from collections.abc import Iterator, Mapping
from typing import Any

from crankpin.calculator.declaration import Calculator
from crankpin.problems.declaration import Problem, Worked
from crankpin.problems.drawing import Value
from crankpin.problems.expressions import Evaluator
from crankpin.problems.faults import WordingError


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
        self._problem, self._drawn, self._calculators = problem, drawn, calculators
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

    def changed(self, changes: Mapping[str, str | float]) -> "Quantities":
        """Return the quantities with some changed: to the value of an expression over these, or to a number."""
        values = {key: self.value(change) if isinstance(change, str) else change for key, change in changes.items()}
        return Quantities(self._problem, self._drawn, self._calculators, values)
