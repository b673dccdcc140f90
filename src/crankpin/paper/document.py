"""The print HTML: one document for a chapter, one for the whole course."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from html import escape, unescape
from pathlib import Path
from urllib.parse import urldefrag, urljoin

from crankpin.calculator.declaration import Calculator
from crankpin.calculator.evaluate import evaluate
from crankpin.elements.embedded import Embedded
from crankpin.elements.sheet import sheet_html
from crankpin.figures.plots import figure_svg
from crankpin.formulas import labels
from crankpin.paper.cards import Card
from crankpin.paper.handout import handout_html
from crankpin.paper.source import Source, SourcePage, short_address
from crankpin.store.cache import Cache

_ROOMS = Path(__file__).parents[1]
STYLES = tuple(_ROOMS / name for name in ("formulas/formulas.css", "paper/print.css", "figures/figures.css"))
SHEETS = {"A4": "A4", "Letter": "letter"}
#: Begins the name of a bench card's document; ends that of a handout's.
CARD = "card-"
HANDOUT = "-handout"
HANDOUT_PAGES = 2
#: Pages that are not printed with the course.
_LEFT_OUT = ("reference/notices/",)

_CALCULATOR = re.compile(r"<crankpin-calculator\b[^>]*\bid=\"([^\"]+)\".*?</crankpin-calculator>", re.DOTALL)
_SCENE = re.compile(r"<crankpin-scene\b.*?</crankpin-scene>", re.DOTALL)
_FIGURE = re.compile(r'<svg class="figure\b.*?</svg>', re.DOTALL)
_WORDS = re.compile(r"<desc[^>]*>(.*?)</desc>", re.DOTALL)
_TITLE = re.compile(r'<p class="calculator-title"[^>]*>(.*?)</p>', re.DOTALL)
_HEADERLINK = re.compile(r'<a class="headerlink".*?</a>', re.DOTALL)
_COMMENT = re.compile(r"<!--.*?-->", re.DOTALL)
_LINK = re.compile(r'<a\b([^>]*?)\shref="([^"]*)"([^>]*)>(.*?)</a>', re.DOTALL)
_IMAGE = re.compile(r'(<img\b[^>]*?\ssrc=")([^"]*)(")')
_IDS = re.compile(r'(\s(?:id|for|aria-labelledby|aria-describedby)=")([^"]+)(")')
_OWN = re.compile(r'(href="#|url\(#)')
_HEADING = re.compile(r'<h([1-3])\b[^>]*?\bid="([^"]+)"[^>]*>(.*?)</h\1>', re.DOTALL)
_TAG = re.compile(r"<[^>]+>")
_LABELLED = re.compile(r'<math\b[^>]*aria-label="([^"]*)"[^>]*>.*?</math>', re.DOTALL)


@dataclass(frozen=True)
class Heading:
    """A heading of a document: its level, its id, its text as in the list of contents."""

    level: int
    id: str
    text: str


@dataclass(frozen=True)
class Document:
    """One thing to print: its file name without suffix, title, HTML, and its headings in order."""

    name: str
    title: str
    html: str
    headings: tuple[Heading, ...]
    language: str
    pages: tuple[str, ...] = field(default=())
    """The pages of the site that it holds."""
    most_pages: int = 0
    """It is made to fit onto so many pages; 0 for as many as it takes."""


@dataclass(frozen=True)
class Writer:
    """Writes the documents of one course."""

    source: Source
    calculators: Mapping[str, Calculator]
    site: Path
    fonts: str
    """The `@font-face` rules, with addresses seen from the folder that the HTML is written to."""
    kept: Cache
    """Where figures that were drawn before are found."""

    def chapters(self) -> list[Document]:
        """Return one document for each chapter, in order."""
        return [self._chapter(page) for page in self._of_chapters()]

    def handouts(self) -> list[Document]:
        """Return one document of two pages for each chapter that has sections, in order."""
        return [self._handout(page) for page in self._of_chapters() if "<h2" in page.html]

    def course(self) -> Document:
        """Return the whole course: title, contents, chapters, reference."""
        others = [page for page in self.source.pages if page.chapter == 0 and page.url.startswith("reference/")]
        chapters = [one for page in self._of_chapters() for one in (page, *self._problems_of(page))]
        pages = [*chapters, *(page for page in others if not page.url.startswith(_LEFT_OUT))]
        inside = {page.url: _key(page) for page in pages}
        bodies = [self._body(page, inside.get) for page in pages]
        headings = tuple(heading for body in bodies for heading in _headings(body))
        terms = _terms(self.source.terms)
        front = f'<header class="front"><h1 id="front">{escape(self.source.course)}</h1>{terms}</header>'
        contents = _contents(pages, headings + _headings(_short_answers(pages)))
        answers = _short_answers(pages)
        headings += _headings(answers)
        html = self._whole(self.source.course, front + contents + "".join(bodies) + answers, pages, "course")
        before = (Heading(1, "front", self.source.course), Heading(2, "contents", "Contents"))
        return Document("course", self.source.course, html, (*before, *headings), self.source.language, tuple(inside))

    def worksheets(self, name: str, title: str, articles: Sequence[str]) -> Document:
        """Return worksheets, a key or solutions: a document that no page of the site leads to."""
        body = "".join(f"<article>{labels.with_words(article)}</article>" for article in articles)
        html = self._whole(title, body, [], "worksheets", title)
        return Document(name, title, html, _headings(body), self.source.language)

    def card(self, card: Card) -> Document:
        """Return one bench card."""
        body = f'<article class="bench-card">{labels.with_words(card.html)}</article>'
        url = next((page.url for page in self.source.pages if page.chapter == card.chapter), "")
        html = self._whole(card.title, body, [], "card", "Bench card")
        return Document(f"{CARD}{card.name}", card.title, html, _headings(body), self.source.language, (url,), 1)

    def _of_chapters(self) -> list[SourcePage]:
        return sorted((page for page in self.source.pages if page.chapter), key=lambda page: page.chapter)

    def _problems_of(self, page: SourcePage) -> list[SourcePage]:
        """Return the page of problems that stands beside a chapter, where there is one."""
        beside = page.file.replace("chapters/", "problems/", 1)
        return [one for one in self.source.pages if one.file == beside != page.file]

    def _chapter(self, page: SourcePage) -> Document:
        pages = [page, *self._problems_of(page)]
        inside = {one.url: _key(one) for one in pages}
        body = "".join(self._body(one, inside.get) for one in pages)
        html = self._whole(page.title, body, pages, "chapter")
        return Document(Path(page.file).stem, page.title, html, _headings(body), self.source.language, (page.url,))

    def _handout(self, page: SourcePage) -> Document:
        short = replace(page, html=handout_html(page.html))
        body = _live_anchors(self._body(short, lambda url: None, is_brief=True))
        html = self._whole(page.title, body, [page], "handout")
        name = Path(page.file).stem + HANDOUT
        return Document(name, page.title, html, _headings(body), self.source.language, (page.url,), HANDOUT_PAGES)

    def _body(self, page: SourcePage, inside: Callable[[str], str | None], *, is_brief: bool = False) -> str:
        key = _key(page)
        text = _COMMENT.sub("", _HEADERLINK.sub("", page.html))
        embedded = {one.element_id: one for one in page.calculators}
        text = _CALCULATOR.sub(lambda found: self._sheet(page, embedded[found[1]], is_brief), text)
        text = _SCENE.sub(_still, text).replace("<details", "<details open")
        text = _prefixed(text, key)
        text = labels.with_words(text)
        text, addresses = self._links(page, text, key, inside)
        text = _IMAGE.sub(lambda found: f"{found[1]}{self._image(page, found[2])}{found[3]}", text)
        folio = f'<p class="folio">Chapter {page.chapter}</p>' if page.chapter else ""
        return f'<article class="page-of-{key}" id="{key}">{folio}{text}{addresses}</article>'

    def _sheet(self, page: SourcePage, one: Embedded, is_brief: bool) -> str:
        return sheet_html(
            self.calculators[one.calculator],
            one.given,
            element_id=one.element_id,
            figure=self._figure(one),
            address=short_address(self.source, page, one),
            carried=one.is_carried(),
            is_brief=is_brief,
        )

    def _figure(self, one: Embedded) -> str:
        """Return a calculator's picture in the form that it has on paper."""
        picture = evaluate(self.calculators[one.calculator], one.given).picture()
        if not picture:
            return ""
        prefix = f"{one.element_id}-drawn"
        key = self.kept.key("figure on paper", prefix, repr(picture))
        found = self.kept.find(key)
        if found is None:
            found = {"svg": figure_svg(picture, prefix=prefix)}
            self.kept.keep(key, found)
        return str(found["svg"])

    def _image(self, page: SourcePage, address: str) -> str:
        return (self.site / urljoin(f"/{page.url}", address).lstrip("/")).resolve().as_uri()

    def _links(self, page: SourcePage, text: str, key: str, inside: Callable[[str], str | None]) -> tuple[str, str]:
        """Lead links to where paper can: into this document, to the site, or to a list of addresses at the end."""
        listed: list[str] = []
        chapters = {one.url: one.chapter for one in self.source.pages}

        def led(found: re.Match[str]) -> str:
            before, address, after, words = found.groups()
            address = unescape(address)
            if address.startswith("#"):
                return found[0]
            if re.match(r"[a-z]+:", address):
                return self._outside(address, words, listed, "sheet" in before + after or words.startswith(address))
            url, anchor = urldefrag(urljoin(page.url, address))
            here = inside(url)
            number = chapters.get(url, 0)
            if number and number != page.chapter and "chapter" not in _plain(words).lower():
                words += f" (chapter {number})"
            if here:
                return f'<a href="#{here}{f"-{anchor}" if anchor else ""}">{words}</a>'
            if not self.source.address:
                return words
            target = f"{self.source.address.rstrip('/')}/{url}{f'#{anchor}' if anchor else ''}"
            return f'<a href="{escape(target)}">{words}</a>'

        text = _LINK.sub(led, text)
        if not listed:
            return text, ""
        rows = "".join(f"<li>{escape(one)}</li>" for one in listed)
        return text, f'<section class="addresses"><p class="sheet-part">Addresses</p><ol>{rows}</ol></section>'

    def _outside(self, address: str, words: str, listed: list[str], is_printed: bool) -> str:
        link = f'<a href="{escape(address)}">{words}</a>'
        if is_printed or (self.source.address and address.startswith(self.source.address)):
            return link
        if address not in listed:
            listed.append(address)
        return f"{link}<sup>[{listed.index(address) + 1}]</sup>"

    def _whole(self, title: str, body: str, pages: Sequence[SourcePage], kind: str, head: str = "") -> str:
        return (
            f'<!doctype html><html lang="{escape(self.source.language)}"><head><meta charset="utf-8">'
            f"<title>{escape(title)}</title><style>{self.fonts}{_rules()}{self._running(pages, head)}</style></head>"
            f'<body class="{kind}">{body}</body></html>'
        )

    def _running(self, pages: Sequence[SourcePage], head: str) -> str:
        """Return the rules of running heads: the course to the left, the chapter (else ``head``) to the right."""
        course = _css_text(self.source.course)
        rules = [
            f"@page {{ size: {SHEETS[self.source.sheet]}; "
            f"@top-left {{ content: {course}; }} @top-right {{ content: {_css_text(head)}; }} }}"
        ]
        for page in pages:
            key = _key(page)
            name = f"{page.chapter}  {page.title}" if page.chapter else page.title
            rules.append(f"@page {key} {{ @top-right {{ content: {_css_text(name)}; }} }}")
            rules.append(f".page-of-{key} {{ page: {key}; }}")
        return "\n".join(rules)


def _rules() -> str:
    return "\n".join(path.read_text("utf-8") for path in STYLES)


def _css_text(text: str) -> str:
    return '"' + text.replace("\\", "\\\\").replace('"', '\\"') + '"'


def _key(page: SourcePage) -> str:
    """Return the word that begins every id of a page in print."""
    return f"c{page.chapter}" if page.chapter else "r-" + re.sub(r"\W+", "-", page.url.strip("/"))


def _prefixed(text: str, key: str) -> str:
    text = _IDS.sub(lambda found: found[1] + " ".join(f"{key}-{one}" for one in found[2].split()) + found[3], text)
    return _OWN.sub(lambda found: f"{found[1]}{key}-", text)


def _live_anchors(body: str) -> str:
    """Return the HTML of a document with plain words in place of links to what it does not hold."""
    held = {found[2] for found in _IDS.finditer(body)}
    return _LINK.sub(lambda found: found[0] if found[2][:1] != "#" or found[2][1:] in held else found[4], body)


def _still(found: re.Match[str]) -> str:
    """Return the picture of a scene as it stands in the page before anything moves, with its numbers."""
    figure, title = _FIGURE.search(found[0]), _TITLE.search(found[0])
    if not figure:
        return ""
    words = _WORDS.search(figure[0])
    caption = ". ".join(one[1] for one in (title, words) if one)
    return f'<figure class="still">{figure[0]}<figcaption>{caption}</figcaption></figure>'


def _plain(words: str) -> str:
    """Return HTML as text; formulas as their words."""
    return unescape(_TAG.sub("", words)).strip()


def _headings(body: str) -> tuple[Heading, ...]:
    return tuple(
        Heading(int(level), identity, _plain(_LABELLED.sub(lambda m: m[1].removeprefix(labels.MARK), inside)))
        for level, identity, inside in _HEADING.findall(body)
    )


def _contents(pages: Sequence[SourcePage], headings: Sequence[Heading]) -> str:
    numbers = {_key(page): page.chapter for page in pages}
    rows = []
    for heading in headings:
        if heading.level > 2:
            continue
        number = numbers.get(heading.id.partition("-")[0], 0) if heading.level == 1 else 0
        shown = f'<span class="number">{number}</span> ' if number else ""
        rows.append(
            f'<li class="level-{heading.level}"><a href="#{heading.id}">{shown}{escape(heading.text)}'
            f'<span class="leader"></span><span class="page-number" data-page-of="{heading.id}">000</span></a></li>'
        )
    return f'<nav class="contents"><h2 id="contents">Contents</h2><ol>{"".join(rows)}</ol></nav>'


def _short_answers(pages: Sequence[SourcePage]) -> str:
    """Return the short answers to all problems as the last article of the course, "" where there are none."""
    parts = []
    for page in pages:
        rows = "".join(f"<p><b>{escape(title)}:</b> {escape(text)}</p>" for title, text in page.answers)
        if rows:
            heading = f'<h2 id="answers-{_key(page)}">{escape(page.title)}</h2>'
            parts.append(f'{heading}<div class="short-answers">{rows}</div>')
    if not parts:
        return ""
    return f'<article><h1 id="answers">Short answers</h1>{"".join(parts)}</article>'


def _terms(terms: str) -> str:
    return f"<p>{terms}</p>" if terms else ""
