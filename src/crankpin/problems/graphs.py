"""The graph of a question: sampled from its expression for one variant, in the units shown."""

from dataclasses import dataclass

from crankpin.calculator.curves import SAMPLES, spread
from crankpin.problems.declaration import Graph
from crankpin.problems.faults import NoNumberError
from crankpin.problems.quantities import dimension_of, unit_of
from crankpin.problems.variants import Variant


@dataclass(frozen=True, slots=True)
class Sampled:
    """A curve: ``xs`` and ``ys`` in the units shown."""

    xs: tuple[float, ...]
    ys: tuple[float, ...]


def sample(graph: Graph, variant: Variant, count: int = SAMPLES) -> Sampled:
    """Return so many points of a graph. Raises `WordingError` and `NoNumberError`."""
    across = unit_of(dimension_of(graph.across_unit), graph.across_unit)
    up = unit_of(dimension_of(graph.up_unit), graph.up_unit)
    low, high = (across.inside(_end(end, graph, variant)) for end in (graph.low, graph.high))
    if not low < high:
        raise NoNumberError(f"the graph must run from a lower to a higher {graph.variable}")
    inside = spread(low, high, count)
    ys = tuple(up.shown(float(variant.quantities.changed({graph.variable: x}).value(graph.expression))) for x in inside)
    return Sampled(tuple(map(across.shown, inside)), ys)


def _end(expression: str, graph: Graph, variant: Variant) -> float:
    """Return an end of the axis in the unit shown: a plain number is in that unit, an expression in SI."""
    try:
        return float(expression)
    except ValueError:
        shown = unit_of(dimension_of(graph.across_unit), graph.across_unit).shown
        return shown(float(variant.quantities.value(expression)))
