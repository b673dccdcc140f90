"""What on a page is no part of its text, such as running heads, page numbers and rules, is marked so.

A screen reader passes over it. The browser leaves it without any mark. Source: ISO 32000-1:2008, 14.6 (marked content)
and 14.8.2.2 (artifacts).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

import pikepdf
from pikepdf import Name, Operator, Pdf

_BEGIN = {"BMC", "BDC"}
_PATH = {"m", "re", "l", "c", "v", "y", "h", "W", "W*"}
_PAINT = {"f", "F", "f*", "B", "B*", "b", "b*", "S", "s"}
_ALONE = {"Do", "sh", "EI"}
_FRAME = {"q", "Q"}

_OPEN = pikepdf.ContentStreamInstruction([Name.Artifact], Operator("BMC"))
_CLOSE = pikepdf.ContentStreamInstruction([], Operator("EMC"))


def mark_artifacts(pdf: Pdf) -> None:
    """Mark all that is painted outside marked content on every page."""
    for page in pdf.pages:
        marked = list(_marked(pikepdf.parse_content_stream(page)))
        page.Contents = pdf.make_stream(pikepdf.unparse_content_stream(marked))


def _marked(instructions: Iterable[Any]) -> Iterator[Any]:
    depth, is_open = 0, False
    path: list[Any] = []
    for one in instructions:
        sign = str(one.operator)
        if depth == 0 and sign in _PATH:
            path.append(one)
            continue
        is_painted = depth == 0 and (sign == "BT" or sign in _PAINT or sign in _ALONE)
        if is_painted and not is_open:
            yield _OPEN
            is_open = True
        if is_open and (sign in _BEGIN or sign in _FRAME or sign == "n"):
            yield _CLOSE
            is_open = False
        yield from path
        path = []
        depth += (sign in _BEGIN) - (sign == "EMC")
        yield one
    if is_open:
        yield _CLOSE
