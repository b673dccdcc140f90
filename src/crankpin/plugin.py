"""The MkDocs adapter: each hook is a few lines that call `crankpin.course`."""

from __future__ import annotations

import os
import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from mkdocs.commands import build as mkdocs_build
from mkdocs.config import config_options
from mkdocs.config.base import Config
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import PluginError
from mkdocs.plugins import BasePlugin, CombinedEvent, event_priority, get_plugin_logger
from mkdocs.structure.files import File, Files
from mkdocs.structure.pages import Page
from mkdocs.structure.toc import AnchorLink

from crankpin.browser.runtime import RuntimeFilesError
from crankpin.calculator.faults import DeclarationFaultsError
from crankpin.course.extension import CrankpinExtension
from crankpin.course.mistakes import mistakes_in
from crankpin.elements.embedded import Embedded
from crankpin.faults import AuthorError, CourseFault, CourseFaultsError, Place
from crankpin.formulas import mathml
from crankpin.notation.cases import Case, by_name, cases_in_page, read_cases
from crankpin.notation.course import Course
from crankpin.paper.cards import FOLDER as CARDS
from crankpin.paper.cards import KIT
from crankpin.paper.source import Source, SourcePage, write_short_pages
from crankpin.problems.declaration import Problem
from crankpin.problems.faults import ProblemFault
from crankpin.problems.kind import in_one_line, short_answers
from crankpin.problems.trial import try_problem
from crankpin.problems.variants import Variant
from crankpin.site import defaults, fonts, live, offline, prerendering, search, tables
from crankpin.site.contents import Contents
from crankpin.site.finishing import Finishing, Site
from crankpin.site.policy import write_header_files
from crankpin.site.prerendering import Prerenderer, sound_catalogue
from crankpin.store.cache import FOLDER, Cache
from crankpin.store.pool import Pool

_LOG = get_plugin_logger("crankpin")
_THEME = Path(__file__).parent / "site" / "theme"
_NOTICES = "reference/notices.md"
#: So many variants of each problem are solved when it is first built; `crankpin check` solves more.
_VARIANTS = 200
_ABOUT_NOTICES = "---\ndescription: What others made, and on which terms.\nsearch:\n  exclude: true\n---\n"


class CrankpinConfig(Config):
    """Settings of the plugin in `mkdocs.yml`; paths are seen from that file."""

    calculators = config_options.Type(str, default="calculators")
    """The folder of the calculators, one Python file each."""
    cases = config_options.Type(str, default="values.toml")
    """The file of values that all pages share."""
    notices = config_options.Type(str, default="THIRD_PARTY.md")
    """A file about what others made; without it, crankpin's own about the parts of the site."""
    terms = config_options.Type(str, default="")
    """Who may do what with text and figures, in a line of HTML at the foot of each page."""
    drawing = config_options.Type(str, default="")
    """An SVG file that stands at the top of the first page."""
    sheet = config_options.Choice(("A4", "Letter"), default="A4")
    """The size of the paper: A4 or Letter."""
    answers = config_options.Type(bool, default=True)
    """Whether the course's PDF ends with short answers to the problems."""
    keep = config_options.Type(bool, default=True)
    """Whether readers may keep the course on their devices; False also takes away what they have kept."""


@dataclass
class _Built:
    """What MkDocs last built from."""

    config: MkDocsConfig
    files: Files
    env: Any
    nav: Any = None


class CrankpinPlugin(BasePlugin[CrankpinConfig]):
    """Makes a course of a folder of Markdown chapters."""

    #: Told the course as built and the folder of its site, before the last step over it, where there is a printer.
    #: It returns more pages that printed codes lead to.
    printer: Callable[[Source, Path], Sequence[SourcePage]] | None = None

    #: Whether MkDocs's own server, which adds a script to each page, serves what is written.
    reloads = True

    def on_startup(self, *, command: str, dirty: bool) -> None:
        """Note whether an author is writing; defining this also keeps the plugin over rebuilds of `serve`."""
        self._writing = command == "serve"

    @property
    def keeps(self) -> bool:
        """Whether readers may keep this build; never what is served while its author writes."""
        return self.config.keep and not getattr(self, "_writing", False)

    def on_config(self, config: MkDocsConfig) -> MkDocsConfig:
        """Start afresh: the calculators, the theme's folder, the notation."""
        self._root = Path(config.config_file_path).parent
        if wrong := defaults.theme_fault(config.theme):
            raise PluginError(f"mkdocs.yml: {wrong}")
        defaults.complete_theme(config.theme)
        self.contents = Contents()
        self._texts: dict[str, str] = {}
        self._finished: list[SourcePage] = []
        self._faults: list[CourseFault] = []
        self._cache, self._pool = Cache(self._root / FOLDER), Pool()
        self._prerenderer = Prerenderer(self._cache, self._pool)
        if self._cache.is_new():
            self._pool.get_ready(prerendering.get_ready)
        with _told(root=self._root):
            self._calculators = sound_catalogue(self._root / self.config.calculators, self._cache)
            if missing := live.faults_of_imports(self._calculators):
                raise DeclarationFaultsError(missing)
        self._extension = CrankpinExtension(
            Course(self._calculators),
            calculator=lambda _, name, given, element: self._prerenderer.calculator(
                self._calculators, name, given, element
            ),
            scene=self._prerenderer.scene,
            ids=self._prerenderer.ids,
            trial=self._trial,
            stop=lambda found: self._faults.extend(found.faults),
        )
        config.markdown_extensions = [
            *defaults.complete_extensions(
                [one for one in config.markdown_extensions if not isinstance(one, CrankpinExtension)],
                config.mdx_configs,
            ),
            self._extension,  # type: ignore[list-item]  # Python-Markdown takes extensions as well as names
        ]
        templates = str(_THEME / "templates")
        if templates not in config.theme.dirs:
            config.theme.dirs.insert(1 if config.theme.custom_dir else 0, templates)
        config.watch = sorted({*config.watch, *(str(path) for path in self.depends_on(config) if path.exists())})
        return config

    @property
    def course(self) -> Course:
        """Return the course as it was last built: calculators and cases."""
        return self._extension.course

    @property
    def first_page_drawing(self) -> str:
        """Return the drawing at the top of the first page, "" where the course has none."""
        file = self._root / self.config.drawing
        return file.read_text("utf-8") if self.config.drawing and file.is_file() else ""

    def depends_on(self, config: MkDocsConfig) -> list[Path]:
        """Return the files and folders beside the pages that the course follows from; not all need exist."""
        root = Path(config.config_file_path).parent
        names = (self.config.calculators, self.config.cases, self.config.notices, KIT, CARDS)
        return [*(root / name for name in names), Path(__file__).parent]

    def on_files(self, files: Files, *, config: MkDocsConfig) -> Files:
        """Add the generated files and collect the cases of all pages."""
        own = self._root / self.config.notices
        notices = own if own.is_file() else packaged_notices()
        files.append(File.generated(config, _NOTICES, content=_ABOUT_NOTICES + notices.read_text("utf-8")))
        script = (_THEME / "scripts" / "site.js").read_text("utf-8")
        files.append(File.generated(config, "assets/crankpin/site.js", content=script))
        with _told():
            named = by_name(self._cases(files), self._calculators)
            course = self._extension.course = Course(self._calculators, named)
            course.check_cases()
        texts = [file.content_string for file in files.documentation_pages()]
        if self._prerenderer.prepare(course, self._calculators, texts):
            self._pool.get_ready(fonts.get_ready)
        return files

    def _trial(self, problem: Problem, course: Course) -> list[ProblemFault]:
        """Solve variants of a problem, unless it was done before."""
        key = self._cache.key("problem", repr(problem), sorted(self._calculators.sources.values()))
        found = self._cache.find(key)
        if found is None:
            told = try_problem(problem, course.calculators, _VARIANTS).told()
            found = {"faults": [[fault.line, fault.message] for fault in told]}
            self._cache.keep(key, found)
        return [ProblemFault(problem.file, line, message) for line, message in found["faults"]]

    def _cases(self, files: Files) -> list[Case]:
        values = self._root / self.config.cases
        cases = read_cases(values.read_text("utf-8"), self.config.cases) if values.exists() else []
        for file in files.documentation_pages():
            cases += cases_in_page(file.content_string, Place(file.src_uri, 1))
        return cases

    def on_page_markdown(self, markdown: str, *, page: Page, config: MkDocsConfig, files: Files) -> str:
        """Tell the notation which page and line it is in."""
        text = markdown.rstrip("\n")
        before = page.file.content_string.rpartition(text)[0] if text else ""
        self._extension.place = Place(page.file.src_uri, before.count("\n") + 1)
        self._faults.extend(mistakes_in(markdown, self._extension.place))
        beside = page.file.src_uri.replace("chapters/", "problems/", 1)
        if beside != page.file.src_uri and files.get_file_from_path(beside):
            return f"{markdown.rstrip()}\n\n## Problems\n\n[Problems for this chapter](../{beside})\n"
        return markdown

    def on_page_content(self, html: str, *, page: Page, config: MkDocsConfig, files: Files) -> str:
        """Box the tables."""
        return tables.boxed_tables(html)

    def on_env(self, env: Any, *, config: MkDocsConfig, files: Files) -> None:
        """Stop, when all pages have been read, with the faults of all."""
        self._built = _Built(config, files, env)
        self._stop_at_faults()

    def _stop_at_faults(self) -> None:
        if self._faults:
            with suppress(AuthorError):
                self._prerenderer.keep()
            raise PluginError(str(CourseFaultsError(self._faults)))

    def page_again(self, path: Path) -> str:
        """Make one page of the course again as it was last built and return its file's name.

        Returns "" where that will not do: for a page that is new, and where the page's cases have changed, which other
        pages may use. What the page's title and headings change in other pages is left to the next whole build.
        Raises `PluginError` with the page's faults, and leaves the page as it was.
        """
        built = self._built
        docs = built.files.documentation_pages()
        file = next((one for one in docs if one.abs_src_path and Path(one.abs_src_path) == path), None)
        if file is None or file.page is None or not path.is_file():
            return ""
        with _told():
            cases = cases_in_page(file.content_string, Place(file.src_uri, 1))
        if cases != [one for one in self._extension.course.cases.values() if one.place.file == file.src_uri]:
            return ""
        self._faults.clear()
        mkdocs_build._populate_page(file.page, built.config, built.files)
        self._stop_at_faults()
        mkdocs_build._build_page(file.page, built.config, docs, built.nav, built.env)
        with _told():
            self._finishing.again(Path(file.abs_dest_path))
        return file.src_uri

    @event_priority(100)
    def _before_index(self, context: Any, *, page: Page, config: MkDocsConfig, nav: Any) -> Any:
        self._built.nav = nav
        with _told(page.file.src_uri):
            self._texts[page.file.src_uri] = page.content or ""
            page.content = search.indexable(page.content or "")
        return context

    @event_priority(-100)
    def _after_index(self, context: Any, *, page: Page, config: MkDocsConfig, nav: Any) -> Any:
        with _told(page.file.src_uri):
            page.content = mathml.convert(self._texts.pop(page.file.src_uri))
            _plain_titles(page.toc)
            self._finished.append(self._source_page(page))
        return context

    on_page_context = CombinedEvent(_before_index, _after_index)

    def _source_page(self, page: Page) -> SourcePage:
        """Return a page as the printer gets it, with all that is given written out: printed links outlive defaults."""
        number = re.match(r"chapters/(\d+)-", page.file.src_uri)
        embedded = tuple(
            Embedded(element, prerendered.calculator, prerendered.typed)
            for element, prerendered in self._prerenderer.in_page(page.content or "")
            if prerendered.calculator
        )
        title = mathml.title_words(str(page.title or ""))
        content = self._prerenderer.filled(page.content or "") if self.printer else ""
        answers = self._answers(page.file.src_uri) if self.config.answers else ()
        return SourcePage(
            page.file.src_uri, page.url, title, int(number[1]) if number else 0, content, embedded, answers
        )

    def _answers(self, file: str) -> tuple[tuple[str, str], ...]:
        """Return the short answers to the problems of a page, with the numbers that are printed."""
        problems = self._extension.problems_of.get(file, [])
        found = ((one.title, short_answers(Variant(one, 1, self._calculators))) for one in problems)
        return tuple((title, in_one_line(answers)) for title, answers in found if answers)

    def on_post_build(self, *, config: MkDocsConfig) -> None:
        """Finish the site: live calculators, styles, fonts, search, content policy."""
        folder = Path(config.site_dir)
        with _told():
            self._prerenderer.keep()
        try:
            scripts = live.publish(folder, self._calculators.files)
        except RuntimeFilesError as missing:
            _LOG.warning("%s. Until then every page shows its printed numbers only.", missing)
            scripts = None
        address = config.site_url or ""
        writing = getattr(self, "_writing", False)
        site = Site(folder, address, scripts, writing, writing and self.reloads)
        pages = tuple(sorted(self._finished, key=lambda page: (page.chapter, page.title)))
        led_to: Sequence[SourcePage] = ()
        if self.printer:
            language = str(config.theme.get("language", "en"))
            sheet, calculators = self.config.sheet, self.config.calculators
            with _told():
                source = Source(config.site_name, address, language, pages, sheet, calculators, self.config.terms)
                led_to = self.printer(source, folder)
        with _told():
            self._finishing = Finishing(site, self._prerenderer, self._cache, self._pool)
            self._finishing.all()
        write_short_pages(folder, [*pages, *led_to])
        write_header_files(folder)
        if self.keeps and scripts:
            offline.publish(folder)
        else:
            offline.switch_off(folder)
        self._pool.close()
        self._cache.prune()

    def on_build_error(self, *, error: Exception) -> None:
        """End the processes of a build that failed."""
        if hasattr(self, "_pool"):
            self._pool.close()


def packaged_notices() -> Path:
    """Return crankpin's own file about what others made: in an installed package, or at the root of a clone."""
    inside = Path(__file__).parent / "THIRD_PARTY.md"
    return inside if inside.is_file() else Path(__file__).parents[2] / "THIRD_PARTY.md"


def _plain_titles(toc: Iterable[AnchorLink]) -> None:
    for item in toc:
        item.title = mathml.title_words(item.title)
        _plain_titles(item.children)


@contextmanager
def _told(file: str = "the course", root: Path | None = None) -> Iterator[None]:
    """End the build with one message a fault and no traceback; paths under `root` are shown from there."""
    try:
        yield
    except CourseFaultsError as faults:
        raise PluginError(str(faults)) from None
    except DeclarationFaultsError as declared:
        raise PluginError(str(declared).replace(f"{root}{os.sep}", "")) from None
    except AuthorError as told:
        raise PluginError(str(CourseFault(Place(file), str(told)))) from None
