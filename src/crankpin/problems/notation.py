"""Problems in a Markdown file: fenced blocks `problem ID`, each a short TOML declaration, `---`, then Markdown.

Headings inside a block name its sections (`# Hints`, `# Solution`); under `# Part a` they stand one level lower.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass

_FENCE = re.compile(r"^(?P<fence>~{3,}|`{3,})\s*problem(?:\s+(?P<rest>.*))?$")
_HEADING = re.compile(r"^(?P<level>#{1,2})\s+(?P<name>.+?)\s*$")
_INNER_FENCE = re.compile(r"^\s*(?P<fence>`{3,}|~{3,})")
_LIST_ITEM = re.compile(r"^(?:[-*]|\d+\.)\s+(?P<text>.*)$")


@dataclass(frozen=True, slots=True)
class Block:
    """A fenced block as written: its id and the text inside; ``line`` is that of the fence, counted from 1."""

    id: str
    lines: tuple[str, ...]
    line: int
    closed: bool = True


@dataclass(frozen=True, slots=True)
class Section:
    """What stands under one heading: ``part`` is "" or a, b, c; ``name`` "" for the text before any heading."""

    part: str
    name: str
    lines: tuple[str, ...]
    line: int

    @property
    def text(self) -> str:
        """Return the section as Markdown, without blank lines around it."""
        return "\n".join(self.lines).strip("\n")


def blocks_in(text: str) -> Iterator[Block]:
    """Yield the problems of a Markdown text, in order. What stands inside another fenced block is passed over."""
    lines = text.split("\n")
    at = 0
    while at < len(lines):
        opening, other = _FENCE.match(lines[at]), _INNER_FENCE.match(lines[at])
        if opening or other:
            fence = (opening or other)["fence"]  # type: ignore[index]
            end = next((n for n in range(at + 1, len(lines)) if _closes(lines[n], fence)), len(lines))
            if opening:
                yield Block(opening["rest"] or "", tuple(lines[at + 1 : end]), at + 1, end < len(lines))
            at = end
        at += 1


def _closes(line: str, fence: str) -> bool:
    shown = line.strip()
    return len(shown) >= len(fence) and not shown.strip(fence[0])


def declaration_and_body(block: Block) -> tuple[str, tuple[str, ...], int]:
    """Return a block's TOML, the lines of its Markdown, and the line of the first of these."""
    cut = next((n for n, line in enumerate(block.lines) if line.strip() == "---"), len(block.lines))
    return "\n".join(block.lines[:cut]), block.lines[cut + 1 :], block.line + cut + 2


def sections_in(lines: tuple[str, ...], first_line: int) -> list[Section]:
    """Return the sections of a problem's Markdown, in order."""
    found: list[Section] = []
    part, name, start = "", "", 0
    fence = ""
    for at, line in enumerate(lines):
        inner = _INNER_FENCE.match(line)
        if fence:
            fence = "" if _closes(line, fence) else fence
            continue
        if inner:
            fence = inner["fence"]
        elif heading := _HEADING.match(line):
            found.append(Section(part, name, lines[start:at], first_line + start))
            part, name, start = *_place(heading, part), at + 1
    return [*found, Section(part, name, lines[start:], first_line + start)]


def _place(heading: re.Match[str], part: str) -> tuple[str, str]:
    words = heading["name"].lower()
    if heading["level"] == "##":
        return part, words
    if found := re.fullmatch(r"part \(?([a-z])\)?", words):
        return found[1], ""
    return "", words


def list_items(section: Section) -> list[tuple[str, int]]:
    """Return the items of a section that is a list: their Markdown, and the line on which each starts.

    What is indented below an item belongs to it.
    """
    items: list[tuple[list[str], int]] = []
    for number, line in enumerate(section.lines, section.line):
        if item := _LIST_ITEM.match(line):
            items.append(([item["text"]], number))
        elif items:
            items[-1][0].append(line.strip())
    return [("\n".join(lines).strip(), number) for lines, number in items]
