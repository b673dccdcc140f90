"""A number with its unit."""

from collections.abc import Mapping
from typing import Any

from crankpin.problems.declaration import Question
from crankpin.problems.kind import Form, Source
from crankpin.problems.marking import mark_number
from crankpin.problems.quantities import plain_quantity
from crankpin.problems.variants import Variant
from crankpin.problems.verdicts import Verdict


class Number:
    """Asks for one number."""

    asks: tuple[Form, ...] = ("number",)
    keys = frozenset({"answer", "tolerance", "slips", "goes_on_from"})
    sections: frozenset[str] = frozenset()

    def read(self, source: Source) -> dict[str, Any]:
        """Return answer and slips."""
        return {"answer": source.answer(), "slips": source.slips()}

    def mark(self, question: Question, variant: Variant, given: Any, earlier: Mapping[str, float]) -> Verdict:
        """Mark a typed number."""
        return mark_number(question, variant, str(given or ""), earlier)

    def right(self, question: Question, variant: Variant) -> str:
        """Return the answer as typed, to twelve digits."""
        assert question.answer
        key = question.answer.key
        return plain_quantity(float(variant.quantities[key]), variant.forms[key])

    def key(self, question: Question, variant: Variant) -> str:
        """Return the answer with its digits and unit."""
        assert question.answer
        return variant.text(question.answer.key)


kind = Number()
