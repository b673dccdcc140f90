"""A sketch on paper, with a model answer."""

from collections.abc import Mapping
from typing import Any

from crankpin.problems.declaration import Question
from crankpin.problems.kind import Source
from crankpin.problems.kinds.explain import Explain
from crankpin.problems.variants import Variant
from crankpin.problems.verdicts import Verdict


class Sketch(Explain):
    """Asks for a drawing, which the student compares with a model: in words, as a computed graph, or both."""

    asks = ("drawing",)
    keys = frozenset({"graph"})
    sections = frozenset({"a good answer", "model answer"})

    def read(self, source: Source) -> dict[str, Any]:
        """Return the model and the points to look for."""
        if not source.has("graph") and not source.has("model answer"):
            source.fault("a sketch needs its model: a section “# Model answer”, or a graph that is computed")
        graph = source.graph() if source.has("graph") else None
        model = source.markdown("model answer") if source.has("model answer") else ""
        return {**super().read(source), "model": model, "graph": graph}

    def mark(self, question: Question, variant: Variant, given: Any, earlier: Mapping[str, float]) -> Verdict:
        """Ask to compare."""
        return Verdict("compare", "Compare your sketch with the model, and tick what it has.")


kind = Sketch()
