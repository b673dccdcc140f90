"""A wrong solution to be mended: find the line, then give the right number."""

from collections.abc import Mapping
from typing import Any

from crankpin.problems.declaration import Question
from crankpin.problems.kind import Source
from crankpin.problems.kinds.number import Number
from crankpin.problems.variants import Variant
from crankpin.problems.verdicts import Verdict


class Mend(Number):
    """Asks which line is wrong and what comes out rightly; an answer is {"line": place from 0, "number": text}."""

    asks = ("line", "number")
    sections = frozenset({"wrong solution"})

    def read(self, source: Source) -> dict[str, Any]:
        """Return the lines, of which one is marked, and the right answer."""
        items = source.items("wrong solution")
        marked = [item for item in items if item.marked]
        if items and (len(marked) != 1 or not marked[0].reason):
            source.fault("mark the one line where the mistake is with [x], and say below it, indented, what is wrong")
        return {**super().read(source), "items": items}

    def mark(self, question: Question, variant: Variant, given: Any, earlier: Mapping[str, float]) -> Verdict:
        """Mark the line first, then the number."""
        line = given.get("line") if isinstance(given, Mapping) else None
        if line is None:
            return Verdict("unread", "Choose the line with the mistake first.")
        if not question.items[int(line)].marked:
            return Verdict("wrong", "That line follows from the one before it. Look for the line that does not.")
        if not str(given.get("number") or "").strip():
            return Verdict("nearly", "That is the line. Now give the right answer.")
        return super().mark(question, variant, given["number"], earlier)

    def right(self, question: Question, variant: Variant) -> Any:
        """Return the line and the number."""
        line = next(place for place, item in enumerate(question.items) if item.marked)
        return {"line": line, "number": super().right(question, variant)}

    def key(self, question: Question, variant: Variant) -> str:
        """Return the wrong line and the right number."""
        line = next(place for place, item in enumerate(question.items) if item.marked)
        return f"line {line + 1}; {super().key(question, variant)}"


kind = Mend()
