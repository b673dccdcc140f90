"""What is wrong with a course, and where: one message a fault, `chapters/01-turning.md:41: ...`."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True)
class Place:
    """A line of a file that an author wrote."""

    file: str
    """Path as the author knows it: relative to the docs folder, or beside `mkdocs.yml`."""
    line: int | None = None
    """Counted from 1; None where the line is not known."""

    def __str__(self) -> str:
        return self.file if self.line is None else f"{self.file}:{self.line}"

    def below(self, lines: int) -> Place:
        """Return the place so many lines further down."""
        return self if self.line is None else Place(self.file, self.line + lines)


@dataclass(frozen=True)
class CourseFault:
    """One fault in one place."""

    place: Place
    message: str

    def __str__(self) -> str:
        return f"{self.place}: {self.message}"


class CourseFaultsError(Exception):
    """All the faults found in one go; `str()` gives one line for each."""

    def __init__(self, faults: Iterable[CourseFault]) -> None:
        self.faults = tuple(faults)
        super().__init__("\n".join(str(fault) for fault in self.faults))


class AuthorError(ValueError):
    """Something an author wrote that cannot be used; the caller knows the place and adds it."""
