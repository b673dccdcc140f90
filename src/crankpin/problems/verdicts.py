"""What is said of an answer."""

from dataclasses import dataclass
from typing import Any

#: right; right apart from its unit or digits ("nearly"); a slip that is known; wrong; no answer at all; and for
#: what no machine can mark: compare it yourself with what a good answer contains.
STATES = ("right", "nearly", "slip", "wrong", "unread", "compare")


@dataclass(frozen=True, slots=True)
class Verdict:
    """What is said of one answer.

    ``says`` is the verdict in words, ``comments`` what is said besides (unit, digits), ``slip`` the name of the slip
    that was recognised, ``value`` the number inside (SI), on which a later part can go on. ``reasons`` are the places
    of choices whose reasons are to be shown; ``says`` has their words where these are known.
    """

    state: str
    says: str
    comments: tuple[str, ...] = ()
    slip: str = ""
    value: float | None = None
    reasons: tuple[int, ...] = ()

    def data(self) -> dict[str, Any]:
        """Return the verdict as JSON can hold it."""
        return {
            "state": self.state,
            "says": self.says,
            "comments": list(self.comments),
            "slip": self.slip,
            "value": self.value,
            "reasons": list(self.reasons),
        }
