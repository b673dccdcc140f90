"""The lines inside the course's own fenced blocks: `key = value`, one a line."""

from __future__ import annotations

import re
from collections.abc import Sequence

from crankpin.faults import AuthorError

_KEY = re.compile(r"^[A-Za-z][A-Za-z0-9_-]*$")


def read_pairs(lines: Sequence[str]) -> dict[str, str]:
    """Return the values by key.

    Blank lines and lines that start with # are passed over; an indented line goes on with the value above it, as the
    rows of a table do. Raises `AuthorError` for a line that is not `key = value` and for a key given twice.
    """
    pairs: dict[str, list[str]] = {}
    for line in lines:
        if not line.strip() or line.startswith("#"):
            continue
        if line[0].isspace() and pairs:
            list(pairs.values())[-1].append(line.strip())
            continue
        key, value = _pair(line.strip())
        if key in pairs:
            raise AuthorError(f"{key} is given twice")
        pairs[key] = [value] if value else []
    for key, rows in pairs.items():
        if not rows:
            raise AuthorError(f"{key} has no value; write, for example, {key} = 12 cm")
    return {key: "\n".join(rows) for key, rows in pairs.items()}


def _pair(line: str) -> tuple[str, str]:
    key, equals, value = (part.strip() for part in line.partition("="))
    if not equals or not _KEY.match(key):
        raise AuthorError(f'"{line}" is not a line "key = value", such as "A = 12 cm"')
    return key, value
