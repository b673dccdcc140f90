"""What a page asks of a problem, and what it is told: plain data both ways.

    {"do": "draw", "variant": 7}
        -> {"slots": [texts], "orders": {part: [places]}, "graphs": {part: picture}}
    {"do": "mark", "variant": 7, "part": "a", "given": ..., "earlier": {"a": 1.5}}
        -> a verdict (`crankpin.problems.verdicts.Verdict.data`)

The same function answers at build time, for the page as printed, and in the reader's worker.
"""

from collections.abc import Mapping
from typing import Any

from crankpin.calculator.declaration import Calculator
from crankpin.calculator.units import printed_unit
from crankpin.problems.declaration import Graph, Problem
from crankpin.problems.graphs import sample
from crankpin.problems.kind import kind_named
from crankpin.problems.placeholders import answer
from crankpin.problems.variants import Variant

_NO_BREAK = "\u00a0"
#: Variants that a page offers: 1 to this, all of which `crankpin check` has solved.
MOST_VARIANTS = 1000


def respond(
    problem: Problem, slots: tuple[str, ...], asked: Mapping[str, Any], calculators: Mapping[str, Calculator]
) -> dict[str, Any]:
    """Answer one question of a page.

    Raises KeyError for what nobody asks, ValueError for a variant that no page offers: what a graded sheet holds is
    not checked here.
    """
    number = int(asked["variant"])
    if not 1 <= number <= MOST_VARIANTS:
        raise ValueError(f"set {number} of numbers is not offered; there are 1 to {MOST_VARIANTS}")
    variant = Variant(problem, number, calculators)
    return drawn(variant, slots) if asked["do"] == "draw" else {"mark": _marked}[asked["do"]](variant, asked)


def drawn(variant: Variant, slots: tuple[str, ...]) -> dict[str, Any]:
    """Return what stands in a page for one variant."""
    questions = variant.problem.questions
    return {
        "slots": [slot_text(slot, variant) for slot in slots],
        "orders": {q.name: variant.order(q.name, len(q.items)) for q in questions if q.items and q.kind != "mend"},
        "graphs": {q.name: picture(q.graph, variant) for q in questions if q.graph},
    }


def _marked(variant: Variant, asked: Mapping[str, Any]) -> dict[str, Any]:
    question = variant.problem.question(asked["part"])
    earlier = {name: float(value) for name, value in asked.get("earlier", {}).items() if value is not None}
    return kind_named(question.kind).mark(question, variant, asked["given"], earlier).data()


def slot_text(slot: str, variant: Variant) -> str:
    """Return what stands in the place of one number, which keeps its unit on its line."""
    return answer(slot, variant).replace(" ", _NO_BREAK)


def picture(graph: Graph, variant: Variant) -> dict[str, Any]:
    """Return a graph in the form of a calculator's picture (`crankpin.calculator.serialise`), with its numbers."""
    found = sample(graph, variant)
    across = {"title": _title(graph.variable, graph.across_unit), "meaning": "", "unit": graph.across_unit}
    up = {"title": _title(graph.up_symbol, graph.up_unit), "meaning": "", "unit": graph.up_unit}
    curve = {"key": graph.up_symbol, "label": "", "role": "position", "line": "solid", "start": 0}
    words = f"{graph.up_symbol} against {graph.variable}, to be read off"
    return {
        "caption": f"{graph.up_symbol} against {graph.variable}",
        "words": words,
        "panels": [
            {
                "horizontal": across,
                "vertical": up,
                "square": False,
                "tall": True,
                "curves": [curve | {"count": len(found.xs)}],
                "marks": [],
            }
        ],
        "numbers": [float(f"{number:.7g}") for number in (*found.xs, *found.ys)],
    }


def _title(symbol: str, unit: str) -> str:
    return symbol if unit == "1" else f"{symbol} / {printed_unit(unit)}"
