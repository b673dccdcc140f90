"""Changes to the HTML of a page's content, before it goes into its frame."""

from __future__ import annotations

import html
import re

_TABLE = re.compile(r"<table>(?P<inside>.*?)</table>", re.DOTALL)
_HEADINGS = re.compile(r"<th\b[^>]*>(.*?)</th>", re.DOTALL)
_TAG = re.compile(r"<[^>]+>")
_COLUMN = re.compile(r"<th(?=[ >])(?![^>]*\bscope=)")


def boxed_tables(page: str) -> str:
    """Return the page with each plain table in a named box that scrolls by itself on a narrow screen."""
    return _TABLE.sub(_boxed, page)


def _boxed(found: re.Match[str]) -> str:
    inside = found["inside"]
    head = inside.partition("</thead>")[0]
    headings = [html.unescape(_TAG.sub("", cell)).strip() for cell in _HEADINGS.findall(head)]
    name = html.escape("Table: " + ", ".join(filter(None, headings)), quote=True)
    scoped = _COLUMN.sub('<th scope="col"', inside)
    return f'<div class="table-box" role="group" aria-label="{name}"><table class="ruled">{scoped}</table></div>'
