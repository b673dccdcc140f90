"""Steps to be put in order."""

from collections.abc import Mapping
from typing import Any

from crankpin.problems.declaration import Question
from crankpin.problems.kind import Form, Source
from crankpin.problems.variants import Variant
from crankpin.problems.verdicts import Verdict


class Order:
    """Asks for an order; an answer is the list of the steps' places, as declared, from 0."""

    asks: tuple[Form, ...] = ("order",)
    keys: frozenset[str] = frozenset()
    sections = frozenset({"steps"})

    def read(self, source: Source) -> dict[str, Any]:
        """Return the steps."""
        return {"items": source.items("steps", 3)}

    def mark(self, question: Question, variant: Variant, given: Any, earlier: Mapping[str, float]) -> Verdict:
        """Mark an order: say how many steps from the start are right."""
        order = [int(place) for place in given or ()]
        if sorted(order) != self.right(question, variant):
            return Verdict("unread", "Put every step in its place first.")
        first = next((at for at, place in enumerate(order) if place != at), None)
        if first is None:
            return Verdict("right", "Right.")
        if first == 0:
            return Verdict("wrong", "Another step comes first: what must be known before anything else?")
        steps = "step is" if first == 1 else f"{first} steps are"
        return Verdict("wrong", f"The first {steps} right. Look again at what comes next.")

    def right(self, question: Question, variant: Variant) -> list[int]:
        """Return the places in order."""
        return list(range(len(question.items)))

    def key(self, question: Question, variant: Variant) -> str:
        """Return the letters under which this variant shows the steps, in the right order."""
        shown = variant.order(question.name, len(question.items))
        return " ".join("ABCDEFGHIJKL"[shown.index(place)] for place in self.right(question, variant))


kind = Order()
