"""Printing: HTML to PDF with Chromium. Runs in a process of its own; one browser serves many documents."""

from __future__ import annotations

import atexit
import time
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from playwright.sync_api import Browser, sync_playwright

from crankpin.chromium import start_options
from crankpin.paper import postprocess
from crankpin.paper.document import Heading

#: Text widths in CSS pixels (1/96 inch): the sheet's width less the margins of print.css.
_TEXT_WIDTH = {"A4": (210 - 40) / 25.4 * 96, "Letter": 8.5 * 96 - 40 / 25.4 * 96}
#: Heights of the text: the sheet's less the upper and the lower margin.
_TEXT_HEIGHT = {"A4": (297 - 43) / 25.4 * 96, "Letter": 11 * 96 - 43 / 25.4 * 96}
#: Of a bench card, whose margins are smaller.
_CARD_HEIGHT = {"A4": (297 - 29) / 25.4 * 96, "Letter": 11 * 96 - 29 / 25.4 * 96}
#: So much less is used of a page that must hold a whole document: lines are rounded.
_ROUNDING = 4.0
#: Below this the letters of a formula are too small to read, and the author is told.
LEAST_SCALE = 0.6
LEAST_CARD_SCALE = 0.8
LEAST_HANDOUT_SCALE = 0.84

_ASKED = [(Path(__file__).parent / name).read_text("utf-8") for name in ("fit.js", "pagination.js")]


@dataclass(frozen=True)
class Job:
    """One document to print: where its HTML lies, where the PDF goes, and what the PDF says of itself."""

    html: Path
    pdf: Path
    title: str
    language: str
    sheet: str
    headings: tuple[Heading, ...]
    most_pages: int = 0
    """The document is made to fit onto so many pages; 0 for as many as it takes."""


@dataclass(frozen=True)
class Pressed:
    """What came of a job: pages, seconds, and what the author should know."""

    pages: int
    seconds: float
    remarks: tuple[str, ...]


class _Press:
    browser: Browser | None = None

    @classmethod
    def start(cls, program: str) -> Browser:
        """Return this process's browser, started when it is first needed."""
        if cls.browser is None:
            playwright = sync_playwright().start()
            cls.browser = playwright.chromium.launch(executable_path=program, args=start_options())
            atexit.register(playwright.stop)
        return cls.browser


def print_document(job: Job, program: str) -> Pressed:
    """Print one document with the browser ``program`` and finish the PDF."""
    started = time.monotonic()
    context = _Press.start(program).new_context(viewport={"width": round(_TEXT_WIDTH[job.sheet]), "height": 1000})
    try:
        page = context.new_page()
        page.emulate_media(media="print")
        page.goto(job.html.as_uri())
        for script in _ASKED:
            page.evaluate(script)
        remarks = [f"the typeface {family} could not be read" for family in page.evaluate("paper.lostFonts()")]
        if job.most_pages == 1:
            scale = page.evaluate("(height) => paper.fitPage(height)", _CARD_HEIGHT[job.sheet] - _ROUNDING)
            if scale < LEAST_CARD_SCALE:
                remarks.append(f"there is too much on this card; it is printed at {scale:.0%}")
        for scale, text in page.evaluate("paper.fit()"):
            if scale < LEAST_SCALE:
                remarks.append(f"“{text}” is too wide for the sheet and is printed at {scale:.0%}")
        remarks += [f"this goes over the edge of the sheet: {text}" for text in page.evaluate("paper.overhang()")]
        size = [_TEXT_WIDTH[job.sheet], _TEXT_HEIGHT[job.sheet]]
        if job.most_pages > 1:
            scale = page.evaluate(
                "([most, least, ...size]) => pagination.fitPages(most, least, size)",
                [job.most_pages, LEAST_HANDOUT_SCALE, size[0], size[1] - _ROUNDING],
            )
            if scale < LEAST_HANDOUT_SCALE - 0.01:
                remarks.append(f"there is too much for {job.most_pages} pages; it is printed at {scale:.0%}")
        elif not job.most_pages:
            page.evaluate("(size) => pagination.all(...size)", size)
        raw = _numbered(page, page.evaluate("(size) => pagination.numbers(...size)", size))
    finally:
        context.close()
    job.pdf.parent.mkdir(parents=True, exist_ok=True)
    count = postprocess.finish(raw, job.pdf, title=job.title, language=job.language, headings=job.headings)
    return Pressed(count, time.monotonic() - started, tuple(remarks))


def _numbered(page: Any, numbers: dict[str, str]) -> bytes:
    """Return the PDF with page numbers in its contents: those planned, put right where the pages came out otherwise."""
    while True:
        page.evaluate("(numbers) => paper.fill(numbers)", numbers)
        raw = _pdf(page)
        printed = postprocess.pages_of_destinations(raw)
        if numbers == (found := {name: printed[name] for name in numbers}):
            return raw
        numbers = found


def _pdf(page: Any) -> bytes:
    return bytes(page.pdf(prefer_css_page_size=True, print_background=True, tagged=True, outline=True))
