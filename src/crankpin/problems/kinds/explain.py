"""An explanation in words, and what a good answer contains."""

from collections.abc import Mapping
from typing import Any

from crankpin.problems.declaration import Question
from crankpin.problems.kind import Form, Source
from crankpin.problems.variants import Variant
from crankpin.problems.verdicts import Verdict


class Explain:
    """Asks for words, which no machine marks: the student compares them with the points of a good answer."""

    asks: tuple[Form, ...] = ("words",)
    keys: frozenset[str] = frozenset()
    sections = frozenset({"a good answer"})

    def read(self, source: Source) -> dict[str, Any]:
        """Return the points of a good answer."""
        return {"points": source.points("a good answer")}

    def mark(self, question: Question, variant: Variant, given: Any, earlier: Mapping[str, float]) -> Verdict:
        """Ask to compare."""
        if not str(given or "").strip():
            return Verdict("unread", "Write your answer first, if only in a few words.")
        return Verdict("compare", "Compare your answer with these points, and tick what it has.")

    def right(self, question: Question, variant: Variant) -> None:
        """Return None: no machine marks this."""

    def key(self, question: Question, variant: Variant) -> str:
        """Return "": words have no short answer."""
        return ""


kind = Explain()
