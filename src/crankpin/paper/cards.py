"""Bench cards: one page for each demonstration and lab, with the numbers of the teacher's own kit.

The kit is a file of cases (`bench.toml`); a card is a Markdown file in `cards/` with the same notation as a chapter,
in these sections: Purpose, Kit, Numbers, Steps, Readings, Look for, Cautions. Kit sets in bold the parts that the
drawing shows, no more and no fewer.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from html import escape
from pathlib import Path
from typing import Any

import markdown
from mkdocs.utils.meta import get_data

from crankpin.calculator.declaration import Calculator
from crankpin.calculator.numbers import MINUS
from crankpin.calculator.parsing import ParsedInput
from crankpin.calculator.units import gap, printed_unit
from crankpin.course.extension import CrankpinExtension
from crankpin.elements.embedded import Embedded, as_typed
from crankpin.faults import AuthorError, CourseFault, CourseFaultsError, Place
from crankpin.figures.codes import code_svg, printed_address
from crankpin.figures.setups import DRAWINGS, parts_of
from crankpin.formulas import mathml
from crankpin.notation.cases import by_name, read_cases
from crankpin.notation.course import Course, Quantity
from crankpin.paper.source import Source, SourcePage, short_address
from crankpin.site import tables

KIT = "bench.toml"
FOLDER = "cards"
SECTIONS = ("Purpose", "Kit", "Numbers", "Steps", "Readings", "Look for", "Cautions")
_SECTION = re.compile(r"<h2\b[^>]*>(.*?)</h2>(.*?)(?=<h2\b|\Z)", re.DOTALL)
_BOLD = re.compile(r"<strong>(.*?)</strong>", re.DOTALL)
#: A table of up to so many columns stands beside the numbers.
_NARROW = 4
_EXTENSIONS = ("admonition", "tables", "smarty", "pymdownx.arithmatex")


@dataclass(frozen=True)
class Card:
    """A card: its name, title and chapter, its HTML, and the page that its code leads to with the kit's numbers."""

    name: str
    title: str
    chapter: int
    html: str
    leads_to: SourcePage | None


def read_cards(folder: Path, source: Source, calculators: Mapping[str, Calculator]) -> list[Card]:
    """Return the cards of a course, by chapter; none where it has no kit or no cards.

    Raises `CourseFaultsError` with file and line of what is wrong in the kit or in a card.
    """
    kit, files = folder / KIT, sorted((folder / FOLDER).glob("*.md"))
    if not files:
        return []
    if not kit.is_file():
        missing = f"{KIT} is missing beside mkdocs.yml: it holds the numbers of the kit"
        raise CourseFaultsError([CourseFault(Place(f"{FOLDER}/{files[0].name}"), missing)])
    course = Course(calculators, by_name(read_cases(kit.read_text("utf-8"), KIT), calculators))
    course.check_cases()
    cards = [_card(path, course, source) for path in files]
    return sorted(cards, key=lambda card: (card.chapter, card.name))


def _card(path: Path, course: Course, source: Source) -> Card:
    file = f"{FOLDER}/{path.name}"
    text, about = get_data(path.read_text("utf-8"))
    place = Place(file, path.read_text("utf-8").count("\n") - text.count("\n") + 1)
    body = tables.boxed_tables(_html(text, course, place))
    sections = {_words(title): inside for title, inside in _SECTION.findall(body)}
    faults = [f"the section {name} is missing" for name in SECTIONS if name not in sections]
    faults += [f"{key} is missing in the lines at the top" for key in ("title", "chapter", "code") if key not in about]
    if "drawing" in about and about["drawing"] not in DRAWINGS:
        faults.append(f"drawing: {about.get('drawing')} is none of {', '.join(DRAWINGS)}")
    if faults:
        raise CourseFaultsError([CourseFault(Place(file, 1), fault) for fault in faults])
    if not str(about["chapter"]).isdigit():
        raise CourseFaultsError([CourseFault(Place(file, 1), f"chapter: {about['chapter']} is no number, such as 3")])
    try:
        drawing = _drawing(about, course)
        leads_to = _leads_to(str(about["code"]), course, source)
    except AuthorError as told:
        raise CourseFaultsError([CourseFault(Place(file, 1), str(told))]) from None
    if drawing and (unlike := _unlike(sections["Kit"], drawing)):
        raise CourseFaultsError([CourseFault(Place(file, 1), fault) for fault in unlike])
    address = short_address(source, leads_to, leads_to.calculators[0]) if leads_to else ""
    html = _laid_out(about, sections, drawing, address)
    return Card(path.stem, str(about["title"]), int(about["chapter"]), html, leads_to)


def _drawing(about: Mapping[str, Any], course: Course) -> str:
    """Return the drawing that a card asks for, "" where it asks for none. Raises `AuthorError`."""
    if "drawing" not in about:
        return ""
    return DRAWINGS[about["drawing"]](lambda case, key: _beside(course.quantity(case, key)))


def _unlike(kit: str, drawing: str) -> list[str]:
    """Say where the parts in bold in the list of the kit differ from those in the drawing."""
    named, drawn = [_words(part) for part in _BOLD.findall(kit)], parts_of(drawing)
    undrawn = ", ".join(part for part in named if part not in drawn)
    unnamed = ", ".join(part for part in drawn if part not in named)
    faults = [f"Kit names in bold what the drawing does not show: {undrawn}"] if undrawn else []
    return faults + ([f"the drawing shows what Kit does not name in bold: {unnamed}"] if unnamed else [])


def _beside(found: Quantity) -> str:
    """Return what stands beside a length in a drawing: what the kit gives as typed, what is found to three digits."""
    if isinstance(found, ParsedInput):
        return found.typed.replace("-", MINUS) + gap(found.chosen) + printed_unit(found.chosen)
    return found.text


def _html(text: str, course: Course, place: Place) -> str:
    settings: dict[str, dict[str, Any]] = {
        "pymdownx.arithmatex": {"generic": True},
        "tables": {"use_align_attribute": True},
    }
    reader = markdown.Markdown(extensions=[*_EXTENSIONS, CrankpinExtension(course, place)], extension_configs=settings)
    return mathml.convert(reader.convert(text))


def _words(title: str) -> str:
    return re.sub(r"<[^>]+>", "", title).strip()


def _leads_to(case: str, course: Course, source: Source) -> SourcePage | None:
    """Return the first page that has the case's calculator, with the kit's numbers given to it."""
    name = course.calculator_of(case)
    given = as_typed(course.evaluation(case))
    for page in source.pages:
        for one in page.calculators:
            if one.calculator == name:
                led = (Embedded(one.element_id, name, given),)
                return SourcePage(page.file, page.url, page.title, page.chapter, "", led)
    return None


def _laid_out(about: Mapping[str, Any], sections: Mapping[str, str], drawing: str, address: str) -> str:
    code = (
        f'<div class="sheet-code">{code_svg(address)}<p>These numbers on a phone: '
        f'<a href="{escape(address)}">{printed_address(address)}</a></p></div>'
        if address
        else ""
    )
    parts = {name: f'<section><h2 id="{_id(name)}">{name}</h2>{sections[name]}</section>' for name in SECTIONS}
    figure = f"<figure>{drawing}</figure>" if drawing else ""
    first, beside, below = _placed(parts, two_views=drawing.count("<svg") > 1)
    return (
        f'<div class="card-head"><div><p class="folio">Bench card, chapter {about["chapter"]}</p>'
        f'<h1 id="card">{escape(str(about["title"]))}</h1></div>{code}</div>'
        f'<div class="card-top"><div>{first}</div>{parts["Kit"]}{figure}</div>'
        f'<div class="card-numbers">{parts["Numbers"]}{beside}</div>{parts["Steps"]}{below}'
        f'<div class="card-cautions">{parts["Cautions"]}</div>'
    )


def _placed(parts: Mapping[str, str], *, two_views: bool) -> tuple[str, str, str]:
    """Return what stands before the kit, what beside the numbers and what below the steps.

    Two views take the whole width of the card: what to look for then has room beside the kit, and a narrow table of
    readings beside the numbers.
    """
    purpose, look_for = parts["Purpose"], parts["Look for"]
    readings = parts["Readings"].replace("<section>", '<section class="card-readings">')
    if not two_views:
        return purpose, look_for, readings
    is_narrow = readings.count("<th") <= _NARROW
    return purpose + look_for, readings if is_narrow else "", "" if is_narrow else readings


def _id(name: str) -> str:
    return name.lower().replace(" ", "-")
