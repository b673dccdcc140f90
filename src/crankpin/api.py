"""crankpin as a library: ask a calculator, render a page, print a document. For notebooks and other site generators.

    course = load_course(Path("my-course"))
    course.evaluation("drum", {"d": "60 cm"}).outputs["v"].text     # "0.628 m/s"
    page = render_page(course, Path("page.md").read_text(), "page.md")
    print_document(course, page, Path("page.pdf"))

What stands here keeps its names and meanings between minor versions; what stands elsewhere may change. Every mistake
of an author is one `CourseFaultsError` or `DeclarationFaultsError`, each fault with file, line and what to do.

This module may import: everything but the command line.
"""

from __future__ import annotations

import shutil
import tempfile
from dataclasses import dataclass
from pathlib import Path

import markdown

from crankpin.calculator.catalogue import load_catalogue
from crankpin.calculator.evaluate import Evaluation
from crankpin.calculator.faults import DeclarationFaultsError
from crankpin.course.extension import CrankpinExtension
from crankpin.course.mistakes import mistakes_in
from crankpin.elements.calculator import calculator_html
from crankpin.elements.embedded import Embedded, as_typed
from crankpin.faults import AuthorError, CourseFault, CourseFaultsError, Place
from crankpin.formulas import mathml
from crankpin.notation.cases import by_name, cases_in_page, read_cases
from crankpin.notation.course import Course
from crankpin.paper.edition import FOLDER, CannotPrintError, print_edition
from crankpin.paper.source import Source, SourcePage
from crankpin.site import defaults, tables

__all__ = [
    "AuthorError",
    "CannotPrintError",
    "Course",
    "CourseFault",
    "CourseFaultsError",
    "DeclarationFaultsError",
    "Evaluation",
    "RenderedPage",
    "load_course",
    "print_document",
    "render_page",
]


@dataclass(frozen=True)
class RenderedPage:
    """A page as HTML to be put into a body, and the calculators that stand in it."""

    file: str
    title: str
    html: str
    calculators: tuple[Embedded, ...]


def load_course(folder: Path, *, calculators: str = "calculators", cases: str = "values.toml") -> Course:
    """Return the course in a folder: its calculators, and the cases of its values file where there is one.

    Raises `DeclarationFaultsError` or `CourseFaultsError` with every mistake.
    """
    catalogue = load_catalogue(folder / calculators)
    values = folder / cases
    named = by_name(read_cases(values.read_text("utf-8"), cases) if values.is_file() else [], catalogue)
    course = Course(catalogue, named)
    course.check_cases()
    return course


def render_page(course: Course, text: str, file: str = "page.md") -> RenderedPage:
    """Return a page of Markdown as HTML: numbers computed, formulas as MathML, calculators whole without a script.

    ``text`` holds no front matter. Cases made in the page count in it alone. Problems need the built site and are not
    rendered here. Raises `CourseFaultsError`.
    """
    start = Place(file, 1)
    if told := mistakes_in(text, start):
        raise CourseFaultsError(told)
    own = by_name([*course.cases.values(), *cases_in_page(text, start)], course.calculators)
    known = Course(course.calculators, own)
    embedded: list[Embedded] = []

    def calculator(_: Course, name: str, given: dict[str, str], element_id: str) -> str:
        html = calculator_html(name, given, element_id, calculators=known.calculators)
        embedded.append(Embedded(element_id, name, as_typed(known.evaluation(name, given))))
        return html

    settings: dict[str, dict[str, object]] = {}
    names = defaults.complete_extensions([], settings)
    reader = markdown.Markdown(
        extensions=[*names, CrankpinExtension(known, start, calculator=calculator)], extension_configs=settings
    )
    html = mathml.convert(tables.boxed_tables(reader.convert(text)))
    first = next((line.removeprefix("# ") for line in text.splitlines() if line.startswith("# ")), file)
    return RenderedPage(file, first, html, tuple(embedded))


def print_document(
    course: Course, page: RenderedPage, out: Path, *, address: str = "", language: str = "en", sheet: str = "A4"
) -> Path:
    """Print a rendered page as a PDF with outline and tags; ``address`` is where its calculators can be asked again.

    Pages are printed by processes of their own, so that a script calls this under ``if __name__ == "__main__":``.
    Raises `CannotPrintError` where this machine has no browser to print with.
    """
    name = "01-" + (Path(page.file).stem or "page")
    source_page = SourcePage(f"chapters/{name}.md", f"{name}/", page.title, 1, page.html, page.calculators)
    source = Source(page.title, address, language, (source_page,), sheet)
    with tempfile.TemporaryDirectory() as work:
        site = Path(work) / "site"
        site.mkdir()
        print_edition(source, course.calculators, course=Path(work), site=site, tell=lambda line: None)
        out.parent.mkdir(parents=True, exist_ok=True)
        shutil.copyfile(site / FOLDER / f"{name}.pdf", out)
    return out
