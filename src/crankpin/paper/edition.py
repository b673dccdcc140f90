"""The paper edition of a course: what must be printed is printed, on two processors, and laid into the site.

A document whose HTML, rules, typefaces and browser are as before is taken from the last time.
"""

from __future__ import annotations

import hashlib
import importlib.util
import shutil
from collections.abc import Callable, Mapping, Sequence
from concurrent.futures import ProcessPoolExecutor, as_completed
from dataclasses import dataclass
from html import escape
from multiprocessing import get_context
from pathlib import Path
from tempfile import TemporaryDirectory

from crankpin.calculator.declaration import Calculator
from crankpin.chromium import VARIABLE, find_browser
from crankpin.paper.cards import read_cards
from crankpin.paper.document import CARD, HANDOUT, Document, Writer
from crankpin.paper.source import FILE, Source, SourcePage
from crankpin.paper.worksheets import MOST_PAGES, SPACES, Order, Worksheets
from crankpin.site import fonts
from crankpin.store import cache

#: Where the PDFs stand, seen from the site's root.
FOLDER = "print"
PROCESSES = 2
Tell = Callable[[str], None]
_HERE = Path(__file__).parent
#: What makes a PDF of the HTML.
_MADE_BY = ("printer.py", "postprocess.py", "structure.py", "artifacts.py", "fit.js", "pagination.js")


class CannotPrintError(Exception):
    """There is nothing to print with; the message says what to do."""


@dataclass(frozen=True)
class Printed:
    """One finished PDF: its name, its pages of the site, its file, and whether it was taken from the last time."""

    name: str
    title: str
    urls: tuple[str, ...]
    file: Path
    kept: bool


@dataclass(frozen=True)
class Edition:
    """What was printed, and the pages that codes outside the chapters lead to, with their inputs."""

    printed: tuple[Printed, ...]
    led_to: tuple[SourcePage, ...]


def print_edition(
    source: Source, calculators: Mapping[str, Calculator], *, course: Path, site: Path, tell: Tell
) -> Edition:
    """Print every document of a course into its site's folder.

    Raises `CannotPrintError` when the browser or a part of the printer is missing, `CourseFaultsError` when a bench
    card or the kit is at fault.
    """
    cards = read_cards(course, source, calculators)
    program = _browser()
    work = course / FILE.parent
    work.mkdir(parents=True, exist_ok=True)
    if not source.address:
        tell("no address is set, so no QR codes are printed: set site_url in mkdocs.yml, or give --address")
    typefaces = _typefaces(work / "fonts")
    writer = Writer(source, calculators, site, typefaces, cache.Cache(course / cache.FOLDER))
    documents = [*writer.chapters(), *writer.handouts(), *map(writer.card, cards), writer.course()]
    printed, waiting = [], []
    for document in documents:
        mark = _mark(document, source, program)
        one = Printed(document.name, document.title, document.pages, work / f"{document.name}.{mark}.pdf", False)
        kept = one.file.is_file()
        printed.append(Printed(one.name, one.title, one.urls, one.file, kept))
        if not kept:
            waiting.append((document, one.file))
    _print_all(waiting, source, work, program, tell)
    if len(waiting) < len(documents):
        tell(f"{len(documents) - len(waiting)} of {len(documents)} documents are unchanged and were not printed again")
    _lay_out(printed, work, site / FOLDER)
    return Edition(tuple(printed), tuple(card.leads_to for card in cards if card.leads_to))


def print_worksheets(
    order: Order, source: Source, calculators: Mapping[str, Calculator], *, course: Path, out: Path
) -> list[Path]:
    """Print worksheets, key and solutions into a folder that is no part of the site; return the PDFs.

    Raises `CannotPrintError` when the browser or a part of the printer is missing, `AuthorError` for a problem at
    fault.
    """
    program = _browser()
    out.mkdir(parents=True, exist_ok=True)
    with TemporaryDirectory() as folder:
        work = Path(folder)
        writer = Writer(source, calculators, course, _typefaces(work / "fonts"), cache.Cache(course / cache.FOLDER))
        worksheets = Worksheets(order, writer)
        printed = [_printed_sheets(worksheets, order, work, out, source, program)]
        printed += [
            _print_one(one, work, out, source, program)[0] for one in (worksheets.key(), worksheets.solutions())
        ]
    return printed


def print_for_teacher(
    order: Order, source: Source, calculators: Mapping[str, Calculator], *, course: Path, out: Path
) -> Path:
    """Print the teacher's page into a folder that is no part of the site. Raises as `print_worksheets` does."""
    program = _browser()
    out.mkdir(parents=True, exist_ok=True)
    with TemporaryDirectory() as folder:
        work = Path(folder)
        writer = Writer(source, calculators, course, _typefaces(work / "fonts"), cache.Cache(course / cache.FOLDER))
        return _print_one(Worksheets(order, writer).for_teacher(), work, out, source, program)[0]


def _printed_sheets(worksheets: Worksheets, order: Order, work: Path, out: Path, source: Source, program: Path) -> Path:
    """Print the sheets with as much room to write as two pages have."""
    for space in SPACES:
        file, pages = _print_one(worksheets.sheets(space), work, out, source, program)
        if pages <= MOST_PAGES * order.sheets:
            break
    return file


def _print_one(document: Document, work: Path, out: Path, source: Source, program: Path) -> tuple[Path, int]:
    from crankpin.paper.printer import Job, print_document

    html, file = work / f"{document.name}.html", out / f"{document.name}.pdf"
    html.write_text(document.html, "utf-8")
    job = Job(html, file, document.title, document.language, source.sheet, document.headings)
    return file, print_document(job, str(program)).pages


def _browser() -> Path:
    missing = [name for name in ("playwright", "pikepdf") if importlib.util.find_spec(name) is None]
    if missing:
        raise CannotPrintError(f"nothing was printed: {' and '.join(missing)} is not installed; install crankpin again")
    try:
        found = find_browser()
    except FileNotFoundError as error:
        raise CannotPrintError(f"nothing was printed: {error}") from None
    if found is None:
        raise CannotPrintError(
            "nothing was printed: this machine has no Chromium, Chrome or Edge that can be found; "
            f"install one, or set {VARIABLE} to its full path, then run 'crankpin print'"
        )
    return found


def _typefaces(folder: Path) -> str:
    """Write the course's typefaces, whole, and return their rules as seen from the folder above.

    Raises `CannotPrintError` when a font file is missing.
    """
    files = sorted(fonts.FOLDER.glob("*.woff2"))
    wanted = {name for face in (*fonts.TEXT_FACES, fonts.MATHS_FACE) for name in face.files}
    lost = sorted(wanted - {path.name for path in files})
    if lost:
        raise CannotPrintError(f"nothing was printed: the font file {lost[0]} is missing; install crankpin again")
    mark = _digest(*(path.read_bytes() for path in files), Path(fonts.__file__).read_bytes())
    rules = folder / f"{mark}.css"
    if not rules.is_file():
        shutil.rmtree(folder, ignore_errors=True)
        folder.mkdir(parents=True)
        faces = fonts.for_paper()
        for face in faces:
            (folder / face.name).write_bytes(face.data)
        rules.write_text(fonts.stylesheet(faces, f"{folder.name}/"), "utf-8")
    return rules.read_text("utf-8")


def _mark(document: Document, source: Source, program: Path) -> str:
    """Return the short hash of everything that the PDF follows from."""
    state = program.stat()
    browser = f"{program} {state.st_size} {state.st_mtime_ns}"
    made_by = [(_HERE / name).read_bytes() for name in _MADE_BY]
    return _digest(document.html.encode(), document.title.encode(), source.sheet.encode(), browser.encode(), *made_by)


def _digest(*parts: bytes) -> str:
    whole = hashlib.sha256()
    for part in parts:
        whole.update(hashlib.sha256(part).digest())
    return whole.hexdigest()[:12]


def _print_all(waiting: Sequence[tuple[Document, Path]], source: Source, work: Path, program: Path, tell: Tell) -> None:
    from crankpin.paper.printer import Job, print_document

    if not waiting:
        return
    longest_first = sorted(waiting, key=lambda pair: -len(pair[0].html))
    with ProcessPoolExecutor(min(PROCESSES, len(waiting)), mp_context=get_context("spawn")) as pool:
        jobs = {}
        for document, file in longest_first:
            html = work / f"{document.name}.html"
            html.write_text(document.html, "utf-8")
            about = (document.title, document.language, source.sheet, document.headings, document.most_pages)
            job = Job(html, file, *about)
            jobs[pool.submit(print_document, job, str(program))] = document
        for done, finished in enumerate(as_completed(jobs), 1):
            document, pressed = jobs[finished], finished.result()
            pages = f"{pressed.pages} page{'s' if pressed.pages != 1 else ''}"
            tell(f"printed {done} of {len(jobs)}: {document.title}, {pages}, {pressed.seconds:.1f} s")
            for remark in pressed.remarks:
                tell(f"{document.title}: {remark}")


def _lay_out(printed: Sequence[Printed], work: Path, out: Path) -> None:
    """Copy the PDFs into the site and remove those of earlier times."""
    shutil.rmtree(out, ignore_errors=True)
    out.mkdir(parents=True)
    for one in printed:
        shutil.copyfile(one.file, out / f"{one.name}.pdf")
    current = {one.file for one in printed}
    for old in set(work.glob("*.pdf")) - current:
        old.unlink()


def link_pages(site: Path, printed: Sequence[Printed]) -> None:
    """Put into each page of a site a line that leads to its PDFs; into the first page one to the whole course's."""
    lines: dict[str, list[str]] = {}
    for one in printed:
        url = one.urls[0] if len(one.urls) == 1 else ""
        words = _link_words(one, is_of_page=bool(url))
        root = "../" * url.count("/")
        lines.setdefault(url, []).append(f'<a href="{root}{FOLDER}/{one.name}.pdf">{escape(words)}</a> (PDF)')
    for url, links in lines.items():
        _add_line(site / url / "index.html", " · ".join(links))


def _link_words(one: Printed, *, is_of_page: bool) -> str:
    if one.name.startswith(CARD):
        return f"Bench card: {one.title}"
    if one.name.endswith(HANDOUT):
        return "Handout of two pages"
    return "This chapter on paper" if is_of_page else "The whole course on paper"


def _add_line(page: Path, links: str) -> None:
    text = page.read_text("utf-8")
    before, article, after = text.rpartition("</article>")
    if article and links not in text:
        page.write_text(f'{before}<p class="on-paper" data-search-exclude>{links}</p>{article}{after}', "utf-8")
