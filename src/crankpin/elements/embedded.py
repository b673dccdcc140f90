"""A calculator where it stands in a page: what was typed in it, and the link that opens the page with that."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from urllib.parse import quote

from crankpin.calculator.declaration import AnyInput, Input
from crankpin.calculator.evaluate import FIND, Evaluation
from crankpin.calculator.parsing import ParsedInput

#: More characters than these in a link are refused by some servers on the way.
_LONGEST_LINK = 4000


@dataclass(frozen=True, slots=True)
class Embedded:
    """A calculator in a page: its element's id, the calculator's id, and every input as typed, with its unit."""

    element_id: str
    calculator: str
    given: Mapping[str, str]

    def query(self) -> str:
        """Return the part of a link that opens the page with these inputs: ``?edge-on.A=12cm#edge-on``.

        Tables are part of it, unless they are longer than a link may be.
        """
        left_out = set() if self.is_carried() else {key for key, value in self.given.items() if "\n" in value}
        pairs = "&".join(
            f"{quote(self.element_id)}.{key}={_in_link(value)}"
            for key, value in self.given.items()
            if key not in left_out
        )
        return (f"?{pairs}" if pairs else "") + f"#{self.element_id}"

    def is_carried(self) -> bool:
        """Return whether a link can hold all the inputs."""
        return sum(len(_in_link(value)) for value in self.given.values()) <= _LONGEST_LINK


def _in_link(value: str) -> str:
    if "\n" in value:
        rows = [re.sub(r"\s*;\s*", ";", row.strip()) for row in value.splitlines() if row.strip()]
        return quote("\n".join(rows), safe=",./;")
    return quote("".join(value.split(" ", 1)), safe=",./")


def as_typed(evaluation: Evaluation) -> dict[str, str]:
    """Return every input as typed, with its unit; tables as their rows.

    An input that was asked is left out; in its place stand its key under ``find``, and the result that was given.
    """
    given = dict(evaluation.inputs)
    if asked := evaluation.asked:
        del given[asked.key]
        unit = "" if asked.wanted.chosen in ("", "1") else f" {asked.wanted.chosen}"
        return {**_typed(evaluation, given), FIND: asked.key, asked.target: asked.wanted.typed + unit}
    return _typed(evaluation, given)


def _typed(evaluation: Evaluation, given: Mapping[str, ParsedInput]) -> dict[str, str]:
    return {key: with_its_unit(evaluation.calculator.input(key), one.typed, one.chosen) for key, one in given.items()}


def with_its_unit(one: AnyInput, typed: str, unit: str) -> str:
    """Return an input as typed, with its unit where it has one."""
    return f"{typed} {unit}" if isinstance(one, Input) and unit not in ("", "1") else typed
