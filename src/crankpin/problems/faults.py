"""What is wrong with a problem, and where: one message a fault, fit for the teacher who wrote it."""

from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class ProblemFault:
    """One fault: the file, the line counted from 1, and what is wrong with what would be right."""

    file: str
    line: int
    message: str

    def __str__(self) -> str:
        return f"{self.file}:{self.line}: {self.message}"


class ProblemFaultsError(ValueError):
    """All the faults found in one go; ``str()`` gives one line for each."""

    def __init__(self, faults: Iterable[ProblemFault]) -> None:
        self.faults = tuple(faults)
        super().__init__("\n".join(str(fault) for fault in self.faults))


class WordingError(ValueError):
    """Something written that cannot be used; the caller knows the place and adds it."""


class NoNumberError(ValueError):
    """A quantity has no number for this variant; the text says why."""
