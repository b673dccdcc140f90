"""The last step over a PDF: what it says of itself, formulas as formulas, and the same bytes each time."""

from __future__ import annotations

import io
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

import pikepdf
from pikepdf import Array, Dictionary, Name, Pdf, String

from crankpin.paper.document import Heading
from crankpin.paper.formulas import MARK


def pages_of_destinations(raw: bytes) -> dict[str, str]:
    """Return the number of the page on which each named destination of a PDF lies."""
    with pikepdf.open(io.BytesIO(raw)) as pdf:
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

    It gets title and language, formulas tagged as such, the outline in the words of the contents, and no dates;
    ids are numbered in order, so that the same sources give the same bytes.
    """
    with pikepdf.open(io.BytesIO(raw)) as pdf:
        _describe(pdf, title, language)
        if Name.StructTreeRoot in pdf.Root:
            _mend_structure(pdf.Root.StructTreeRoot)
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


def _elements(node: Any) -> Iterator[Any]:
    """Go through the structure elements below a node, in reading order."""
    waiting = [node]
    while waiting:
        one = waiting.pop()
        if one.get(Name.S) is not None:
            yield one
        kids = one.get(Name.K)
        listed = list(kids) if isinstance(kids, Array) else [kids] if kids is not None else []
        waiting += [kid for kid in reversed(listed) if isinstance(kid, Dictionary) and kid.get(Name.S) is not None]


def _mend_structure(root: Any) -> None:
    names: dict[str, str] = {}
    elements = list(_elements(root))
    for one in elements:
        said = str(one.get(Name.Alt, ""))
        if said.startswith(MARK) and Name.Figure == one.S:
            one.S = Name.Formula
            one.Alt = String(said.removeprefix(MARK))
        elif not said and Name.Figure == one.S:
            one.S = Name.Div  # a box about a figure and its words; the figure inside has the alternative text
        if Name.ID in one:
            names[str(one.ID)] = f"e{len(names) + 1:05d}"
            one.ID = String(names[str(one.ID)])
    for one in elements:
        _rename_references(one, names)
    if Name.IDTree in root:
        pairs: list[Any] = []
        for one in sorted((one for one in elements if Name.ID in one), key=lambda one: str(one.ID)):
            pairs += [one.ID, one]
        root.IDTree = Dictionary(Names=Array(pairs), Limits=Array([pairs[0], pairs[-2]])) if pairs else Dictionary()


def _rename_references(one: Any, names: dict[str, str]) -> None:
    """Bring the ids that table cells name as their headers into step."""
    attributes = one.get(Name.A)
    for part in attributes if isinstance(attributes, Array) else [attributes]:
        if isinstance(part, Dictionary) and Name.Headers in part:
            part.Headers = Array([String(names.get(str(name), str(name))) for name in part.Headers])


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
