"""The handout of a chapter: what two pages have room for, chosen by what the chapter marks as its core.

It holds the goals, the cautions, the formulas of the core sections with the sentences that lead to them, a worked
example, a calculator with its code, and room for notes; nothing of what is marked as further. A chapter that marks no
section as its core gives all sections that are not further.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from html.parser import HTMLParser

_VOID = {"area", "base", "br", "col", "embed", "hr", "img", "input", "link", "meta", "source", "track", "wbr"}
_CALCULATOR = "crankpin-calculator"
_FURTHER = "(further)"
NOTES = '<section class="notes"><p class="sheet-part">Notes</p></section>'
#: In this order parts go where two pages have too little room: the highest first.
TABLE, WORDS, PICTURE, EXAMPLE = 4, 3, 2, 1


@dataclass(frozen=True)
class Block:
    """One element of a piece of HTML: its name, its classes, its HTML, the HTML inside it."""

    tag: str
    classes: frozenset[str]
    html: str
    inside: str

    def words(self) -> str:
        """Return its text."""
        reader = _Words()
        reader.feed(self.html)
        return "".join(reader.heard).strip()


class _Words(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.heard: list[str] = []

    def handle_data(self, data: str) -> None:
        self.heard.append(data)


class _Splitter(HTMLParser):
    """Splits HTML into the elements that stand in no other."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self._text = text
        self._lines = [0]
        for line in text.splitlines(keepends=True):
            self._lines.append(self._lines[-1] + len(line))
        self._depth = 0
        self._start = self._inner = 0
        self._tag, self._classes = "", frozenset[str]()
        self.found: list[Block] = []

    def _here(self) -> int:
        line, column = self.getpos()
        return self._lines[line - 1] + column

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if self._depth == 0:
            self._start, self._tag = self._here(), tag
            self._inner = self._start + len(self.get_starttag_text() or "")
            self._classes = frozenset((dict(attrs).get("class") or "").split())
        if tag not in _VOID:
            self._depth += 1

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """An element that is empty opens nothing."""

    def handle_endtag(self, tag: str) -> None:
        if tag in _VOID or self._depth == 0:
            return
        self._depth -= 1
        if self._depth == 0:
            inner_end = self._here()
            end = self._text.index(">", inner_end) + 1
            inside, whole = self._text[self._inner : inner_end], self._text[self._start : end]
            self.found.append(Block(self._tag, self._classes, whole, inside))


def blocks(html: str) -> list[Block]:
    """Return the elements of a piece of HTML that stand in no other, in order.

    >>> [block.tag for block in blocks('<h2 class="core">A</h2> <p>b <em>c</em></p>')]
    ['h2', 'p']
    """
    splitter = _Splitter(html)
    splitter.feed(html)
    splitter.close()
    return splitter.found


@dataclass(frozen=True)
class _Section:
    """A heading of the second level and what follows it, down to the next."""

    heading: Block
    body: tuple[Block, ...]

    def is_further(self) -> bool:
        return "further" in self.heading.classes


def handout_html(page: str) -> str:
    """Return what of a chapter's HTML goes onto its handout. Calculators are still the page's own elements."""
    found = blocks(page)
    begin = next((i for i, block in enumerate(found) if block.tag == "h2"), len(found))
    sections = [section for section in _sections(found[begin:]) if not section.is_further()]
    core = [section for section in sections if "core" in section.heading.classes] or sections
    parts = [block.html for block in found[:begin] if block.tag == "h1"]
    parts += [_without_further(block) for block in found[:begin] if "goals" in block.classes]
    parts += [block.html for block in found[:begin] if "caution" in block.classes]
    for section in core:
        kept = list(_short(section))
        parts += [section.heading.html, *kept] if kept or "core" in section.heading.classes else []
    parts += _first(core, sections, lambda block: "example" in block.classes, EXAMPLE)
    parts += _first(core, sections, lambda block: block.tag == _CALCULATOR, 0)
    return "\n".join([*parts, NOTES])


def _sections(found: list[Block]) -> Iterator[_Section]:
    starts = [i for i, block in enumerate(found) if block.tag == "h2"]
    for start, end in zip(starts, [*starts[1:], len(found)], strict=False):  # a page may have no section
        yield _Section(found[start], tuple(_not_further(found[start + 1 : end])))


def _not_further(body: list[Block]) -> Iterator[Block]:
    """Leave out asides that are further, and what stands below a smaller heading that is."""
    left_out = False
    for block in body:
        if block.tag in ("h3", "h4"):
            left_out = "further" in block.classes
        if not left_out and "further" not in block.classes:
            yield block


def _short(section: _Section) -> Iterator[str]:
    """Keep a section's first words, its formulas with the words before and after, its tables and its figures.

    Where the formulas stand in a derivation alone, an open one is kept.
    """
    kept = {"eq", "caution"} if any("eq" in block.classes for block in section.body) else {"derivation", "caution"}
    for i, block in enumerate(section.body):
        if (block.classes & kept and block.tag == "div") or _belongs_to_formula(section.body, i):
            yield block.html
        elif (block.tag == "p" and i == 0) or (block.tag in ("ul", "ol") and i < 2):
            yield _spare(block.html, WORDS)
        elif "table-box" in block.classes:
            yield _spare(block.html, TABLE)
        elif block.tag == "figure":
            yield _spare(block.html, PICTURE)


def _belongs_to_formula(body: tuple[Block, ...], i: int) -> bool:
    """Tell whether a paragraph leads to the formula after it, or goes on with the sentence of the one before."""
    is_before = i + 1 < len(body) and "eq" in body[i + 1].classes
    goes_on = i > 0 and "eq" in body[i - 1].classes and body[i].words()[:1].islower()
    return body[i].tag == "p" and (is_before or goes_on)


def _first(core: list[_Section], sections: list[_Section], wanted: Callable[[Block], bool], rank: int) -> list[str]:
    """Return the first block that is wanted: of a core section, else of any."""
    for section in [*core, *sections]:
        for block in section.body:
            if wanted(block):
                return [_spare(block.html, rank)] if rank else [block.html]
    return []


def _spare(html: str, rank: int) -> str:
    return f'<div class="spare" data-rank="{rank}">{html}</div>'


def _without_further(goals: Block) -> str:
    """Return the goals without those that are marked as further."""
    for lists in blocks(goals.inside):
        for item in blocks(lists.inside) if lists.tag == "ul" else ():
            if item.words().startswith(_FURTHER):
                goals = Block(goals.tag, goals.classes, goals.html.replace(item.html, ""), goals.inside)
    return goals.html
