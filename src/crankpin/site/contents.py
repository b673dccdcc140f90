"""The contents of the course, beside every page: one flat list, the headings of this page under its own name.

Pages of one folder share all of it but their own entry; it is worked out once for them all.
"""

from __future__ import annotations

import posixpath
from collections.abc import Iterator
from dataclasses import dataclass, field

from mkdocs.structure.nav import Navigation, Section
from mkdocs.structure.pages import Page
from mkdocs.utils import get_relative_url

_BEFORE = (
    '<nav class="contents" aria-label="Contents of the course">'
    '<label class="contents-close" for="__drawer" aria-hidden="true">Close</label><ul>'
)


@dataclass(frozen=True)
class _Part:
    """A part of the list: its own words, or a page's entry."""

    html: str
    page: Page | None = None


@dataclass
class Contents:
    """The contents of one build."""

    _lists: dict[str, list[_Part]] = field(default_factory=dict)

    def html(self, nav: Navigation, page: Page | None, base: str) -> str:
        """Return the contents as they stand beside a page, or on that for lost pages; ``base`` is the site's root."""
        beside = _neighbour(page.url) if page else ""
        key = beside or base
        if key not in self._lists:
            self._lists[key] = list(_parts(nav, beside, base))
        return "".join(_own(part.page) if page and part.page is page else part.html for part in self._lists[key])

    @staticmethod
    def pages(section: Section) -> list[Page]:
        """Return the pages of a section in the order of every list: chapters by their number, others by their title."""
        pages = [one for one in section.children if isinstance(one, Page)]
        chapters = section.title in ("Chapters", "Problems")
        return sorted(pages, key=lambda page: (page.file.name if chapters else str(page.title)).lower())

    @staticmethod
    def number(page: Page) -> str:
        """Return the number that every list shows of a chapter: a page whose file begins with one; "" for others."""
        digits = page.file.name.partition("-")[0]
        return f'<span class="chapter-number">{int(digits)}</span> ' if digits.isdigit() else ""


def _neighbour(url: str) -> str:
    """Return the address of a page that there is not, in the same folder."""
    folder, stroke, _ = url.rstrip("/").rpartition("/")
    return f"{folder}{stroke}_/" if url.endswith("/") and url != "./" else f"{folder}{stroke}_.html"


def _parts(nav: Navigation, beside: str, base: str) -> Iterator[_Part]:
    yield _Part(_BEFORE)
    for item in nav.items:
        if isinstance(item, Page):
            yield _entry(item, beside, base)
        elif isinstance(item, Section):
            yield _Part(f'<li class="contents-part"><span>{item.title}</span><ul>')
            for one in Contents.pages(item):
                yield _entry(one, beside, base)
            yield _Part("</ul></li>")
    yield _Part("</ul></nav>")


def _entry(one: Page, beside: str, base: str) -> _Part:
    path = one.url or "."
    address = get_relative_url(path, beside) if beside else posixpath.join(base, path)
    return _Part(f'<li>{Contents.number(one)}<a href="{address}">{one.title}</a></li>', one)


def _own(page: Page) -> str:
    """Return the entry of the page that is read, with its headings."""
    address = get_relative_url(page.url or ".", page.url)
    headings = list(page.toc)
    inner = headings[0].children if headings and headings[0].level == 1 else headings
    below = "".join(f'<li><a href="{heading.url}">{heading.title}</a></li>' for heading in inner)
    below = f'<ul class="contents-here">{below}</ul>' if below else ""
    return f'<li>{Contents.number(page)}<a href="{address}" aria-current="page">{page.title}</a>{below}</li>'
