"""A value read off a graph, which is computed."""

from typing import Any

from crankpin.problems.kind import Source
from crankpin.problems.kinds.number import Number


class ReadOff(Number):
    """Asks for a number that a graph shows; how finely it can be read is its tolerance."""

    keys = Number.keys | {"graph"}

    def read(self, source: Source) -> dict[str, Any]:
        """Return answer, slips and graph."""
        if not source.has("tolerance"):
            source.fault('say how finely the graph can be read, such as tolerance = "0.1 s"')
        return {**super().read(source), "graph": source.graph()}


kind = ReadOff()
