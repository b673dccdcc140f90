"""Where in a Markdown text things stand: fenced blocks, code spans, maths, and the course's own notation.

One scanner for all of them, so that nothing inside code is ever taken for notation. Indented code blocks are not
recognised; show notation in a fenced block or a code span.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass

_OPENING = re.compile(r"^(?P<indent>[ \t]*)(?P<fence>`{3,}|~{3,})(?P<info>[^`]*)$")


@dataclass(frozen=True)
class Fence:
    """A fenced block: its lines `first` to `last` (counted from 0, fences included), indent, info and body."""

    first: int
    last: int
    indent: str
    info: str
    body: tuple[str, ...]


def fences(lines: list[str]) -> Iterator[Fence]:
    """Yield the fenced blocks of a text; one that is never closed is no fence."""
    at = 0
    while at < len(lines):
        opening = _OPENING.match(lines[at])
        closing = _closing_line(lines, at, opening["fence"]) if opening else None
        if opening and closing is not None:
            indent = opening["indent"]
            body = tuple(line.removeprefix(indent) for line in lines[at + 1 : closing])
            yield Fence(at, closing, indent, opening["info"].strip(), body)
            at = closing
        at += 1


def _closing_line(lines: list[str], opening: int, fence: str) -> int | None:
    closing = re.compile(rf"^[ \t]*{re.escape(fence)}{re.escape(fence[0])}*[ \t]*$")
    return next((n for n in range(opening + 1, len(lines)) if closing.match(lines[n])), None)


_WITHIN = r"(?:\\.|[^\\$\n]|\n(?![ \t]*\n))"
_PASSAGE = re.compile(
    rf"""
    (?P<code>(?<!`)(?P<ticks>`+)(?!`)(?:[^\n]|\n(?![ \t]*\n))+?(?<!`)(?P=ticks)(?!`))
    |(?P<escape>\\[\\$`])
    |\$\$(?P<display>{_WITHIN}+?)\$\$
    |\\\[(?P<square>(?:[^\n]|\n(?![ \t]*\n))+?)\\\]
    |(?P<begin>\\begin\{{(?P<env>[a-z]+\*?)\}}(?:[^\n]|\n(?![ \t]*\n))+?\\end\{{(?P=env)\}})
    |\$(?!\s)(?P<inline>{_WITHIN}+?)(?<!\s)\$
    |\\\((?P<round>(?:[^\n]|\n(?![ \t]*\n))+?)\\\)
    |\{{=(?P<asked>(?:[^\n]|\n(?![ \t]*\n))+?)=\}}
    """,
    re.VERBOSE,
)
_ASKED = re.compile(r"\{=(?P<asked>.+?)=\}", re.DOTALL)

_DISPLAY = ("display", "square", "begin")
_INLINE = ("inline", "round")


@dataclass(frozen=True)
class Writers:
    """What to do with each kind of passage; each is given the line (from 0) on which the passage starts."""

    number: Callable[[str, int], str]
    """Notation in prose: what stands between `{=` and `=}` to HTML."""
    tex_number: Callable[[str, int], str]
    """Notation in maths, to TeX."""
    formula: Callable[[str, bool, int], None]
    """A finished formula, and whether it is displayed; for checking only."""


def rewrite(lines: list[str], writers: Writers) -> list[str]:
    """Return the lines with the notation outside fenced blocks rewritten; line breaks inside notation are closed up."""
    out: list[str] = []
    at = 0
    for fence in fences(lines):
        out += _rewrite_stretch(lines, at, fence.first, writers)
        out += lines[fence.first : fence.last + 1]
        at = fence.last + 1
    return out + _rewrite_stretch(lines, at, len(lines), writers)


def _rewrite_stretch(lines: list[str], first: int, end: int, writers: Writers) -> list[str]:
    if first == end:
        return []
    text = "\n".join(lines[first:end])

    def replace(found: re.Match[str]) -> str:
        line = first + text.count("\n", 0, found.start())
        if found["asked"] is not None:
            return writers.number(_one_line(found["asked"]), line)
        for name in (*_DISPLAY, *_INLINE):
            if found[name] is not None:
                return _rewrite_maths(found, name, line, writers)
        return found[0]

    return _PASSAGE.sub(replace, text).split("\n")


def _rewrite_maths(found: re.Match[str], name: str, line: int, writers: Writers) -> str:
    tex = _ASKED.sub(lambda m: writers.tex_number(_one_line(m["asked"]), line), found[name])
    writers.formula(tex, name in _DISPLAY, line)
    before = found[0][: found.start(name) - found.start()]
    after = found[0][found.end(name) - found.start() :]
    return before + tex + after


def _one_line(text: str) -> str:
    return " ".join(text.split())
