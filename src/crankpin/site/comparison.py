"""What came out differently: every number, result, formula and figure of two built sites, page by page."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from dataclasses import dataclass, field
from difflib import SequenceMatcher
from html.parser import HTMLParser
from pathlib import Path

#: So many letters of the text before a number say where it stands.
_CONTEXT = 48
_VOID = {"area", "base", "br", "col", "embed", "hr", "img", "input", "link", "meta", "source", "track", "wbr"}


@dataclass(frozen=True, slots=True)
class Item:
    """Something computed: its kind (number, result, formula, figure), where it stands, and how it is written."""

    kind: str
    where: str
    text: str

    @property
    def key(self) -> tuple[str, str]:
        """Return what stays when only the value changes."""
        return self.kind, self.where


@dataclass(frozen=True, slots=True)
class Change:
    """An item that is new, gone ("" before or after) or written differently."""

    page: str
    kind: str
    where: str
    before: str
    after: str

    def __str__(self) -> str:
        where = f"{self.kind}, {self.where}" if self.where else self.kind
        if not self.before:
            return f"{where}: new: {self.after}"
        if not self.after:
            return f"{where}: no longer there: {self.before}"
        return f"{where}: drawn differently" if self.kind == "figure" else f"{where}: {self.before} → {self.after}"


def compare_sites(old: Path, new: Path) -> Iterator[Change]:
    """Yield the changes from one built site to another, page by page."""
    pages = {path.relative_to(site).as_posix() for site in (old, new) for path in site.rglob("*.html")}
    for page in sorted(name for name in pages if not name.startswith("q/") and name != "404.html"):
        yield from compare_pages(page, *(_text(site / page) for site in (old, new)))


def compare_pages(page: str, old: str, new: str) -> Iterator[Change]:
    """Yield the changes from one page to another; "" is a page that is not there."""
    before, after = items_in(old), items_in(new)
    matcher = SequenceMatcher(None, [one.key for one in before], [one.key for one in after], autojunk=False)
    for how, i, j, k, m in matcher.get_opcodes():
        if how == "equal":
            pairs = zip(before[i:j], after[k:m], strict=True)
            yield from (Change(page, a.kind, a.where, a.text, b.text) for a, b in pairs if a.text != b.text)
            continue
        yield from (Change(page, one.kind, one.where, one.text, "") for one in before[i:j])
        yield from (Change(page, one.kind, one.where, "", one.text) for one in after[k:m])


def items_in(page: str) -> list[Item]:
    """Return what a page computed, in order."""
    reader = _Reader()
    reader.feed(page)
    reader.close()
    return reader.items


def _text(file: Path) -> str:
    return file.read_text("utf-8") if file.is_file() else ""


@dataclass
class _Open:
    """An element that is being read: its kind, where it stands, how deep, and what it holds so far."""

    kind: str
    where: str
    depth: int
    parts: list[str] = field(default_factory=list)


class _Reader(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.items: list[Item] = []
        self._depth = 0
        self._open: _Open | None = None
        self._within: list[tuple[int, str]] = []
        self._before = ""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Begin an item, or note what is inside one."""
        given = {name: value or "" for name, value in attrs}
        if tag in _VOID:
            return
        self._depth += 1
        if self._open:
            if self._open.kind == "figure":
                self._open.parts += [given[name] for name in ("d", "points", "x", "y", "transform") if name in given]
            return
        if tag in ("crankpin-calculator", "crankpin-problem", "crankpin-scene"):
            self._within.append((self._depth, given.get("id", "")))
        kind = _kind(tag, given)
        if kind:
            self._open = _Open(kind, self._place(kind, given), self._depth)

    def _place(self, kind: str, given: dict[str, str]) -> str:
        inside = self._within[-1][1] if self._within else ""
        said = given.get("data-meaning") or given.get("name", "") if kind == "result" else ""
        behind = f"behind “{self._before[-_CONTEXT:].strip()}”" if kind == "number" and self._before.strip() else ""
        return ", ".join(part for part in (inside, said, behind) if part)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Take an element that closes itself."""
        self.handle_starttag(tag, attrs)
        if tag not in _VOID:
            self.handle_endtag(tag)

    def handle_endtag(self, tag: str) -> None:
        """End the item that ends here."""
        if tag in _VOID:
            return
        if self._open and self._open.depth == self._depth:
            self._end(self._open)
            self._open = None
        if self._within and self._within[-1][0] == self._depth:
            self._within.pop()
        if tag in ("p", "li", "td", "h1", "h2", "h3", "section"):
            self._before = ""
        self._depth -= 1

    def _end(self, item: _Open) -> None:
        text = "".join(item.parts).strip()
        if item.kind == "figure":
            text = hashlib.sha256(text.encode()).hexdigest()[:8]
        if item.kind != "formula" or any(sign.isdigit() for sign in text):
            self.items.append(Item(item.kind, item.where, text))

    def handle_data(self, data: str) -> None:
        """Keep text: of the item that is open, or as what stands before the next."""
        if self._open:
            self._open.parts.append(data)
        else:
            self._before += data


def _kind(tag: str, given: dict[str, str]) -> str:
    if tag == "span" and "number" in given.get("class", "").split():
        return "number"
    if tag == "svg" and "figure" in given.get("class", "").split():
        return "figure"
    return {"output": "result", "math": "formula"}.get(tag, "")
