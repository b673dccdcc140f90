"""What on a page is no part of its text, such as running heads, page numbers and rules, is marked so.

A screen reader passes over it. The browser leaves it without any mark. Source: ISO 32000-1:2008, 14.6 (marked content)
and 14.8.2.2 (artifacts).
"""

from __future__ import annotations

import re
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


#: The ends of marked content, as a browser writes them: at the end of a line.
_ENDS = re.compile(rb"^(?:[^\n]*\b(B[DM]C)|EMC) *$", re.MULTILINE)
_PLACE = re.compile(rb"/kept(\d+) BMC\s+EMC\b")


def mark_artifacts(pdf: Pdf) -> None:
    """Mark all that is painted outside marked content on every page."""
    for page in pdf.pages:
        page.contents_coalesce()
        outside, kept = _outside(page.Contents.read_bytes())
        instructions = pikepdf.parse_content_stream(pdf.make_stream(outside))
        marked = pikepdf.unparse_content_stream(list(_marked(instructions)))
        page.Contents = pdf.make_stream(_put_back(marked, kept))


def _outside(content: bytes) -> tuple[bytes, list[bytes]]:
    """Return content with a numbered place where marked content stood, and that content, which need not be read.

    Content that holds plain strings, in which anything might stand, is returned whole.
    """
    if b"(" in content:
        return content, []
    outside: list[bytes] = []
    kept: list[bytes] = []
    depth = begin = end = 0
    for found in _ENDS.finditer(content):
        if found[1]:
            if depth == 0:
                begin = found.start()
            depth += 1
        elif depth == 1:
            outside.append(content[end:begin] + b"/kept%d BMC EMC" % len(kept))
            kept.append(content[begin : found.end()])
            depth, end = 0, found.end()
        else:
            depth -= 1
    return b"".join(outside) + content[end:], kept


def _put_back(content: bytes, kept: list[bytes]) -> bytes:
    return _PLACE.sub(lambda found: kept[int(found[1])], content)


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
