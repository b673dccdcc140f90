"""A choice; each wrong choice has its reason."""

from collections.abc import Mapping
from typing import Any

from crankpin.problems.declaration import Question
from crankpin.problems.kind import Form, Source
from crankpin.problems.placeholders import filled
from crankpin.problems.variants import Variant
from crankpin.problems.verdicts import Verdict


class Choice:
    """Asks to choose one, or all that are right; an answer is the list of the places chosen, as declared, from 0."""

    asks: tuple[Form, ...] = ("choices",)
    keys: frozenset[str] = frozenset()
    sections = frozenset({"choices"})

    def read(self, source: Source) -> dict[str, Any]:
        """Return the choices."""
        items = source.items("choices")
        if items and not any(item.marked for item in items):
            source.fault("none of the choices is right; mark the right one with [x]")
        for item in items:
            if not item.marked and not item.reason:
                source.fault(f"the wrong choice “{item.text}” needs its reason: indent it below the choice")
        return {"items": items}

    def mark(self, question: Question, variant: Variant, given: Any, earlier: Mapping[str, float]) -> Verdict:
        """Mark the places chosen."""
        chosen = {int(place) for place in given or ()}
        if not chosen:
            return Verdict("unread", "Nothing is chosen yet.")
        wrong = [place for place in sorted(chosen) if not question.items[place].marked]
        if wrong:
            reason = filled(question.items[wrong[0]].reason, variant)
            return Verdict("wrong", f"Not quite. {reason}".strip(), reasons=(wrong[0],))
        right = set(self.right(question, variant))
        if chosen != right:
            return Verdict("nearly", "What you chose is right, but there is more that is.")
        reasons = [question.items[place].reason for place in sorted(right)]
        said = " ".join(["Right.", *(filled(reason, variant) for reason in reasons if reason)])
        return Verdict("right", said, reasons=tuple(sorted(right)))

    def right(self, question: Question, variant: Variant) -> list[int]:
        """Return the places of the right choices."""
        return [place for place, item in enumerate(question.items) if item.marked]

    def key(self, question: Question, variant: Variant) -> str:
        """Return the letters of the right choices in the order in which this variant shows them."""
        order = variant.order(question.name, len(question.items))
        return ", ".join("ABCDEFGH"[at] for at, place in enumerate(order) if question.items[place].marked)


kind = Choice()
