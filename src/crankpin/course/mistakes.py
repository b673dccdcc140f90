"""Mistakes that Markdown passes over in silence: a misspelt block, a block or a number that is never closed."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator
from difflib import get_close_matches

from crankpin.faults import CourseFault, Place
from crankpin.notation.passages import fences

#: The course's own blocks, by the first word behind the fence.
BLOCKS = ("calculator", "scene", "case", "index", "problem", "problems", "readings")
_FENCE = re.compile(r"^[ \t]*(?P<fence>`{3,}|~{3,})\s*(?P<word>[\w-]*)")
_ASIDE = re.compile(r"^(!!!|\?\?\?\+?)(\s*)\S")
_CODE = re.compile(r"(`+)(?!`).+?(?<!`)\1(?!`)")


def mistakes_in(text: str, start: Place, blocks: Collection[str] = BLOCKS) -> list[CourseFault]:
    """Return the mistakes of a page; `start` is the place of its first line."""
    lines = text.split("\n")
    inside = {number for fence in fences(lines) for number in range(fence.first, fence.last + 1)}
    opened = {fence.first: fence.info for fence in fences(lines)}
    told = [*_misspelt(opened, blocks), *_unclosed_fences(lines, inside, blocks), *_in_prose(lines, inside)]
    return [CourseFault(start.below(line), message) for line, message in sorted(told)]


def _misspelt(opened: dict[int, str], blocks: Collection[str]) -> Iterator[tuple[int, str]]:
    for line, info in opened.items():
        word = info.partition(" ")[0]
        near = get_close_matches(word.lower(), list(blocks), 1, 0.8) if word and word not in blocks else []
        if near:
            yield line, f"there is no block “{word}”; did you mean {near[0]}?"


def _unclosed_fences(lines: list[str], inside: set[int], blocks: Collection[str]) -> Iterator[tuple[int, str]]:
    for number, line in enumerate(lines):
        found = _FENCE.match(line)
        if number not in inside and found:
            yield number, f"this block is never closed; put {found['fence']} on a line of its own below it"


def _in_prose(lines: list[str], inside: set[int]) -> Iterator[tuple[int, str]]:
    for number, line in enumerate(lines):
        if number in inside:
            continue
        prose = _CODE.sub("", line)
        at = prose.rfind("{=")
        rest = " ".join([prose[at:], *_paragraph_after(lines, number)]) if at >= 0 else ""
        if at >= 0 and "=}" not in rest:
            yield number, f"“{prose[at : at + 24]}” is never closed; end the number with =}}"
        aside = _ASIDE.match(line)
        if aside and aside[2] != " ":
            yield number, f"write one space behind {aside[1]}, as in “{aside[1]} caution”"


def _paragraph_after(lines: list[str], number: int) -> list[str]:
    after = lines[number + 1 :]
    end = next((at for at, line in enumerate(after) if not line.strip()), len(after))
    return after[:end]
