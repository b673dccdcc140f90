"""A prediction first; then a scene or a calculator opens and shows."""

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from crankpin.problems.declaration import Question
from crankpin.problems.kind import Source
from crankpin.problems.kinds.choice import Choice
from crankpin.problems.variants import Variant
from crankpin.problems.verdicts import Verdict


class Predict(Choice):
    """Asks for a guess among choices; any guess opens what shows the truth."""

    sections = frozenset({"choices", "then look"})

    def read(self, source: Source) -> dict[str, Any]:
        """Return the choices and what opens."""
        return {**super().read(source), "look": source.markdown("then look")}

    def mark(self, question: Question, variant: Variant, given: Any, earlier: Mapping[str, float]) -> Verdict:
        """Mark the guess; a wrong one is not told why before the student has looked."""
        told = super().mark(question, variant, given, earlier)
        if told.state != "wrong":
            return told
        return replace(told, says="Now look, and compare with what you expected.", comments=())


kind = Predict()
