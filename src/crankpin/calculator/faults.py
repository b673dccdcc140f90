"""What is said when something given can not be used; every message is fit for a student."""

from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class InputFault:
    """One thing given that can not be used.

    ``key`` is the input's key ("" when no single input is to blame), ``given`` the text as typed,
    ``allowed`` what would do, ``message`` the whole sentence that is shown.
    """

    key: str
    given: str
    allowed: str
    message: str


class InputFaultsError(ValueError):
    """All the faults of one set of inputs."""

    def __init__(self, faults: Sequence[InputFault]) -> None:
        self.faults = tuple(faults)
        super().__init__(" ".join(fault.message for fault in self.faults))


class RefusedError(ValueError):
    """Raised by a calculator's own function: this input does not go with the others.

    ``key`` names the input to change; ``allowed`` says in words what would do, for a table in a whole
    sentence that names the row. ``lowest`` and ``highest`` (SI), or ``above``, the least that will not do,
    are added to the message in the unit in which the input was given.
    """

    def __init__(
        self,
        key: str,
        allowed: str,
        *,
        lowest: float | None = None,
        highest: float | None = None,
        above: float | None = None,
    ) -> None:
        self.key = key
        self.allowed = allowed
        self.lowest = lowest
        self.highest = highest
        self.above = above
        super().__init__(f"{key} must be {allowed}")


@dataclass(frozen=True, slots=True)
class Absent:
    """An output that does not exist for these inputs; ``reason`` is one sentence for a student."""

    reason: str


@dataclass(frozen=True, slots=True)
class DeclarationFault:
    """One mistake in a declaration: where it is, and what to do."""

    file: str
    line: int
    message: str

    def __str__(self) -> str:
        return f"{self.file}:{self.line}: {self.message}"


class DeclarationFaultsError(ValueError):
    """Every mistake found in the declarations that were read."""

    def __init__(self, faults: Sequence[DeclarationFault]) -> None:
        self.faults = tuple(faults)
        super().__init__("\n".join(str(fault) for fault in self.faults))
