"""Build the site of a course with MkDocs, telling how it goes in plain lines.

This module may import: everything but the command line.
"""

import logging
import re
import shutil
import subprocess
import tarfile
import tempfile
import time
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from crankpin.calculator.catalogue import Catalogue
    from crankpin.handover.cartridge import Folder
    from crankpin.notation.cases import Case
    from crankpin.paper.source import Source, SourcePage
    from crankpin.problems.check import Finding
    from crankpin.site.comparison import Change

CONFIGURATION = "mkdocs.yml"
#: Where a site is built, so that a build that fails leaves the last good one as it was.
ASIDE = Path("build") / "site"


class BuildFailedError(Exception):
    """The site could not be built or found; the message says what to do."""


def build_site(course: Path, *, address: str | None = None, strict: bool = False, paper: bool = True) -> Path:
    """Build the course in a folder, and print it where there is something to print with; return the site's folder.

    ``address`` replaces the course's own ``site_url``; ``paper`` false leaves the printing out. Raises
    BuildFailedError with the messages of MkDocs when the configuration or a page is at fault, and when
    ``strict`` and something was warned of.
    """
    from mkdocs.commands.build import build
    from mkdocs.config import load_config
    from mkdocs.exceptions import MkDocsException

    log = logging.getLogger("mkdocs")
    progress = _PlainLines()
    log.addHandler(progress)
    log.setLevel(logging.INFO)
    plugin: Any = None
    options: dict[str, Any] = {"strict": strict}
    if address:
        options["site_url"] = address
    try:
        config = load_config(str(_configuration(course)), **options)
        plugin = config.plugins.get("crankpin")
        if plugin:
            plugin.printer = _Printer(course, log, printing=paper)
        site = Path(config.site_dir)
        config.site_dir = str(Path(config.config_file_path).parent / ASIDE)
        config.plugins.on_startup(command="build", dirty=False)
        build(config)
        config.plugins.on_shutdown()
    except MkDocsException as error:
        raise BuildFailedError(f"The site was not built: {error}") from error
    finally:
        log.removeHandler(progress)
        if plugin:  # MkDocs keeps the plugin for the next course that is built in this process
            plugin.printer = None
    shutil.rmtree(site, ignore_errors=True)
    shutil.move(config.site_dir, site)
    return site


def print_site(course: Path, *, address: str | None = None, sheet: str | None = None) -> list[Path]:
    """Print a course that was built before, and return the PDFs.

    ``address`` and ``sheet`` replace what the course was built with. Raises BuildFailedError when it was never built
    by crankpin, or when there is nothing to print with.
    """
    from dataclasses import replace

    from crankpin.calculator.catalogue import load_catalogue
    from crankpin.faults import CourseFaultsError
    from crankpin.paper.edition import FOLDER, CannotPrintError, print_edition
    from crankpin.paper.source import load_source, write_short_pages
    from crankpin.site import offline

    folder, _ = built_site(course)
    try:
        source = load_source(course)
    except FileNotFoundError:
        raise BuildFailedError("What the build leaves for the printer is missing; run 'crankpin site' first") from None
    source = replace(source, address=source.address if address is None else address, sheet=sheet or source.sheet)
    started = time.monotonic()
    try:
        edition = print_edition(
            source,
            load_catalogue(course / source.calculators),
            course=course.resolve(),
            site=folder,
            tell=lambda line: print(f"{time.monotonic() - started:6.1f} s  {line}", flush=True),
        )
    except (CannotPrintError, CourseFaultsError) as error:
        raise BuildFailedError(str(error)) from error
    write_short_pages(folder, [*source.pages, *edition.led_to])
    if (folder / offline.NEWS).exists():
        offline.publish(folder)
    return [folder / FOLDER / f"{one.name}.pdf" for one in edition.printed]


def print_sheets(
    course: Path,
    files: "Sequence[Path]",
    wanted: "Sequence[str]",
    *,
    number: int,
    title: str,
    word: str = "",
    out: Path | None = None,
) -> list[Path]:
    """Print worksheets, their key and their solutions into a folder, and return the PDFs.

    Raises BuildFailedError when the folder is part of the site, a problem is at fault, or nothing can print.
    """
    from crankpin.paper.edition import print_worksheets
    from crankpin.paper.worksheets import Order, read_order

    with _told_problems():
        given = _given_for_problems(course)
        folder = given.folder_outside(out or course / "sheets")
        order = Order(title, read_order(files, wanted, given.calculators, given.cases, given.docs), number, word)
        return print_worksheets(order, given.source, given.calculators, course=course.resolve(), out=folder)


def print_teachers_page(course: Path, files: "Sequence[Path]", out: Path | None = None) -> Path:
    """Print problems with slips, marks and three variants for the teacher, and return the PDF.

    Raises BuildFailedError as `print_sheets` does.
    """
    from crankpin.paper.edition import print_for_teacher
    from crankpin.paper.worksheets import Order, read_order

    with _told_problems():
        given = _given_for_problems(course)
        folder = given.folder_outside(out or course / "sheets")
        order = Order("Problems", read_order(files, (), given.calculators, given.cases, given.docs), 3)
        return print_for_teacher(order, given.source, given.calculators, course=course.resolve(), out=folder)


def write_packages(
    course: Path,
    files: "Sequence[Path]",
    *,
    sets: int,
    word: str = "",
    title: str = "Problems",
    out: Path | None = None,
) -> list[Path]:
    """Write packages for a learning platform into a folder, and return them.

    The cartridge links to the pages of the last build and is left out where the course has no address. Raises
    BuildFailedError as `print_sheets` does.
    """
    from crankpin.handover.packages import write_cartridge, write_questions
    from crankpin.paper.worksheets import Order, read_order

    with _told_problems():
        given = _given_for_problems(course)
        folder = given.folder_outside(out or course / "sheets")
        written = []
        if files:
            found = read_order(files, (), given.calculators, given.cases, given.docs)
            order = Order(title, found, sets, word)
            numbers = [order.variant(sheet) for sheet in range(1, sets + 1)]
            written += write_questions(title, [one for one, _ in found], numbers, given.calculators, folder)
        folders = _links(course, given.source.address)
        if folders:
            written.append(write_cartridge(given.source.course, folders, folder))
        return written


def _links(course: Path, address: str) -> "list[Folder]":
    """Return what a cartridge links to: each chapter, its problems and its calculators."""
    from crankpin.handover.cartridge import Folder
    from crankpin.paper.source import load_source

    try:
        pages = load_source(course).pages if address else ()
    except FileNotFoundError:
        return []
    root = address.rstrip("/")
    folders = []
    for page in sorted((page for page in pages if page.chapter), key=lambda page: page.chapter):
        beside = [one for one in pages if one.file == page.file.replace("chapters/", "problems/", 1)]
        links = [(page.title, f"{root}/{page.url}"), *((one.title, f"{root}/{one.url}") for one in beside)]
        links += [(f"Calculator: {one.calculator}", f"{root}/{page.url}#{one.element_id}") for one in page.calculators]
        folders.append(Folder(f"{page.chapter} {page.title}", tuple(links)))
    return folders


def check_problems(course: Path, variants: int) -> "list[Finding]":
    """Return what is found when variants of every problem in a course's pages are solved."""
    from crankpin.course.problem_text import quotable
    from crankpin.problems.check import check_files

    with _told_problems():
        given = _given_for_problems(course)
        files = sorted(given.docs.glob("problems/*.md"))
        return check_files(files, given.calculators, quotable(given.cases), variants)


@dataclass(frozen=True)
class _Given:
    """What problems may use of a course, and where it is published."""

    calculators: "Catalogue"
    cases: "dict[str, Case]"
    source: "Source"
    docs: Path
    site: Path

    def folder_outside(self, folder: Path) -> Path:
        """Return a folder that is not published. Raises BuildFailedError."""
        folder = folder.resolve()
        if any(folder.is_relative_to(public) for public in (self.docs, self.site)):
            raise BuildFailedError(f"{folder} is published with the site, and keys must not be; choose another folder")
        return folder


def _given_for_problems(course: Path) -> _Given:
    from mkdocs.config import load_config

    from crankpin.calculator.catalogue import load_catalogue
    from crankpin.notation.cases import read_cases
    from crankpin.paper.source import Source

    config: Any = load_config(str(_configuration(course)))
    settings = config.plugins["crankpin"].config
    values = course / settings.cases
    cases = read_cases(values.read_text("utf-8"), settings.cases) if values.exists() else []
    language = str(config.theme.get("language", "en"))
    return _Given(
        load_catalogue(course / settings.calculators, known_sound=lambda _: True),
        {case.name: case for case in cases},
        Source(config.site_name, config.site_url or "", language, (), settings.sheet),
        Path(config.docs_dir).resolve(),
        Path(config.site_dir).resolve(),
    )


@contextmanager
def _told_problems() -> "Iterator[None]":
    from crankpin.faults import AuthorError, CourseFaultsError
    from crankpin.paper.edition import CannotPrintError

    try:
        yield
    except (AuthorError, CourseFaultsError, CannotPrintError) as error:
        raise BuildFailedError(str(error)) from error


class _Printer:
    """Prints a course as it is built; where there is nothing to print with it says so, and the site goes on."""

    def __init__(self, course: Path, log: logging.Logger, *, printing: bool) -> None:
        self._course, self._log, self._printing = course.resolve(), log, printing

    def __call__(self, source: "Source", site: Path) -> "Sequence[SourcePage]":
        """Keep what a later `crankpin print` needs, and print; return the pages that codes of bench cards lead to."""
        from crankpin.calculator.catalogue import load_catalogue
        from crankpin.paper.edition import CannotPrintError, link_pages, print_edition

        source.save(self._course)
        if not self._printing:
            return ()
        calculators = load_catalogue(self._course / source.calculators)
        try:
            edition = print_edition(source, calculators, course=self._course, site=site, tell=self._log.info)
        except CannotPrintError as error:
            self._log.warning("%s", error)
            return ()
        link_pages(site, edition.printed)
        return edition.led_to


def site_to_serve(course: Path) -> tuple[Path, str]:
    """Return what `built_site` does, or a folder with a page that asks for patience where nothing was built yet."""
    try:
        return built_site(course)
    except BuildFailedError:
        folder = _configuration(course).parent / "build" / "waiting"
        folder.mkdir(parents=True, exist_ok=True)
        (folder / "index.html").write_text(_WAITING, "utf-8")
        return folder, "/"


_WAITING = """<!doctype html><html lang="en"><head><meta charset="utf-8"><title>One moment</title></head>
<body><p>The course is being built; it appears here as soon as it is ready.</p></body></html>
"""


def built_site(course: Path) -> tuple[Path, str]:
    """Return the folder of a course's built site and the path it expects to live under, ``/`` or deeper.

    Raises BuildFailedError when it has not been built yet.
    """
    from urllib.parse import urlsplit

    from mkdocs.utils.yaml import yaml_load

    path = _configuration(course)
    with path.open("rb") as file:
        settings = yaml_load(file)
    folder = path.parent / str(settings.get("site_dir", "site"))
    if not (folder / "index.html").is_file():
        raise BuildFailedError(f"There is no built site in {folder}; run 'crankpin site' first")
    return folder, urlsplit(str(settings.get("site_url") or "")).path or "/"


def pack_course(course: Path, out: Path | None) -> Path:
    """Write a portable copy of a built course, beside its site unless ``out`` says where; return the zip."""
    from mkdocs.utils.yaml import yaml_load

    from crankpin.portable import pack_site

    folder, _ = built_site(course)
    with _configuration(course).open("rb") as file:
        name = str(yaml_load(file).get("site_name", "Course"))
    stem = "-".join(re.findall(r"[a-z0-9]+", name.lower())) or "course"
    return pack_site(folder, name, out or course / "build" / f"{stem}.zip")


def changes(course: Path, old: str, new: str) -> "list[Change]":
    """Return what came out differently between two built sites, or between two commits of the course.

    Raises BuildFailedError for what is neither, and where a commit cannot be built.
    """
    from crankpin.site.comparison import compare_sites

    with tempfile.TemporaryDirectory() as work:
        sites = [_site_of(course, name, Path(work) / str(number)) for number, name in enumerate((old, new))]
        return list(compare_sites(*sites))


def _site_of(course: Path, name: str, work: Path) -> Path:
    """Return the built site that a name stands for: a folder, or a commit, which is built."""
    if (Path(name) / "index.html").is_file():
        return Path(name)
    found = _git(course, "rev-parse", "--show-prefix", "--verify", f"{name}^{{commit}}")
    if found is None:
        raise BuildFailedError(f"{name} is neither the folder of a built site nor a commit of this course")
    prefix, commit = found.split("\n")[:2]
    work.mkdir()
    archive = work / "course.tar"
    if _git(course, "archive", "--output", str(archive), commit) is None:
        raise BuildFailedError(f"The commit {name} cannot be read")
    with tarfile.open(archive) as packed:
        packed.extractall(work / "course", filter="data")
    return build_site(work / "course" / prefix, paper=False)


def _git(course: Path, *words: str) -> str | None:
    try:
        done = subprocess.run(["git", "-C", str(course), *words], capture_output=True, text=True, check=False)
    except FileNotFoundError:
        raise BuildFailedError("Commits need git, which is not installed; give two folders of built sites") from None
    return done.stdout if done.returncode == 0 else None


def _configuration(course: Path) -> Path:
    path = course / CONFIGURATION
    if not path.is_file():
        raise BuildFailedError(
            f"There is no {CONFIGURATION} in {course.resolve()}; go to the course's folder, or name it with --course"
        )
    return path


class _PlainLines(logging.Handler):
    """Print what MkDocs says: one line each, the seconds since the start before it."""

    def __init__(self) -> None:
        super().__init__(logging.INFO)
        self._started = time.monotonic()

    def emit(self, record: logging.LogRecord) -> None:
        """Print one message."""
        word = "" if record.levelno <= logging.INFO else f"{record.levelname.lower()}: "
        print(f"{time.monotonic() - self._started:6.1f} s  {word}{record.getMessage()}", flush=True)
