"""The last step over a PDF: what it says of itself, formulas as formulas, and the same bytes each time."""

from __future__ import annotations

import io
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

import pikepdf
from pikepdf import Array, Dictionary, Name, Pdf, String

from crankpin.paper.artifacts import mark_artifacts
from crankpin.paper.document import Heading
from crankpin.paper.structure import mend_structure


def pages_of_destinations(raw: bytes) -> dict[str, str]:
    """Return the number of the page on which each named destination of a PDF lies."""
    with pikepdf.open(io.BytesIO(raw)) as pdf:
        return _page_numbers(pdf)


def _page_numbers(pdf: Pdf) -> dict[str, str]:
    numbers = {page.obj.objgen: str(i) for i, page in enumerate(pdf.pages, 1)}
    return {name: numbers[_target(where).objgen] for name, where in _destinations(pdf)}


def _destinations(pdf: Pdf) -> Iterator[tuple[str, Any]]:
    if Name.Dests in pdf.Root:
        for name, where in pdf.Root.Dests.items():
            yield name.removeprefix("/"), where
    if Name.Names in pdf.Root and Name.Dests in pdf.Root.Names:
        yield from ((str(name), where) for name, where in pikepdf.NameTree(pdf.Root.Names.Dests).items())


def _target(where: Any) -> Any:
    return where[0] if isinstance(where, Array) else where.D[0]


def finish(raw: bytes, file: Path, *, title: str, language: str, headings: Sequence[Heading]) -> int:
    """Write the finished PDF and return how many pages it has.

    It gets title and language, a mended structure, words behind its links, the outline in the words of the contents,
    and no dates, so that the same sources give the same bytes.
    """
    with pikepdf.open(io.BytesIO(raw)) as pdf:
        _describe(pdf, title, language)
        mend_structure(pdf)
        mark_artifacts(pdf)
        _describe_links(pdf, headings)
        _word_outline(pdf, headings)
        pdf.save(
            file,
            deterministic_id=True,
            compress_streams=True,
            object_stream_mode=pikepdf.ObjectStreamMode.generate,
            recompress_flate=True,
        )
        return len(pdf.pages)


def _describe(pdf: Pdf, title: str, language: str) -> None:
    pdf.Root.Lang = String(language)
    pdf.Root.ViewerPreferences = Dictionary(DisplayDocTitle=True)
    pdf.Root.MarkInfo = Dictionary(Marked=True)
    for key in list(pdf.docinfo.keys()):
        del pdf.docinfo[key]
    pdf.docinfo[Name.Title] = title
    with pdf.open_metadata(set_pikepdf_as_editor=False, update_docinfo=False) as said:
        said["dc:title"] = title
        said["dc:language"] = [language]


def _describe_links(pdf: Pdf, headings: Sequence[Heading]) -> None:
    """Say of each link where it leads: its address, or the heading or the page in this document."""
    words = {name: f"page {number}" for name, number in _page_numbers(pdf).items()}
    words |= {heading.id: heading.text for heading in headings}
    for page in pdf.pages:
        for one in page.get(Name.Annots, []):
            if Name.Link != one.Subtype:
                continue
            if Name.A in one and Name.URI in one.A:
                one.Contents = String(str(one.A.URI))
            else:
                one.Contents = String(words[_destination(one)])


def _destination(link: Any) -> str:
    where = link.Dest if Name.Dest in link else link.A.D
    return str(where).removeprefix("/")


def _word_outline(pdf: Pdf, headings: Sequence[Heading]) -> None:
    """Put the words of the contents in the place of what the browser made of headings that hold formulas."""
    with pdf.open_outline() as outline:
        items = list(_flat(outline.root))
        if len(items) == len(headings):
            for item, heading in zip(items, headings, strict=True):
                item.title = heading.text


def _flat(items: Sequence[Any]) -> Iterator[Any]:
    for item in items:
        yield item
        yield from _flat(item.children)
