"""The structure tree of a PDF, as a screen reader goes through it: what the browser left out is mended.

Formulas become formulas, items of lists get their bodies, boxes that say nothing are taken out, ids are numbered in
order. Sources: ISO 32000-1:2008, 14.7 (structure), 14.8.4 (standard types), 14.8.5.7 (attributes of tables).
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from pikepdf import Array, Dictionary, Name, Pdf, String

from crankpin.formulas.labels import MARK

#: Types that came with PDF 2.0, and what they mean to a reader of PDF 1.
_ROLES = {"/Strong": Name.Span, "/Em": Name.Span, "/Sub": Name.Span}


def mend_structure(pdf: Pdf) -> None:
    """Mend the structure tree of a PDF, if it has one."""
    if Name.StructTreeRoot not in pdf.Root:
        return
    root = pdf.Root.StructTreeRoot
    listed = []
    for one in elements(root):
        kind = one.S
        if Name.Figure == kind:
            _name(one)
        if Name.NonStruct != kind:
            listed.append(one)
    _take_out_neutral(root, listed)
    bodies = {one.objgen: _give_body(pdf, one) for one in listed if Name.LI == one.S}
    _lead_content(root, bodies)
    used = {str(one.S) for one in listed}
    roles = {name: role for name, role in _ROLES.items() if name in used}
    if roles:
        root.RoleMap = Dictionary(roles)
    _number_ids(root, listed)


def elements(node: Any) -> Iterator[Any]:
    """Go through the structure elements below a node, in reading order."""
    waiting = [kid for kid in reversed(_kids(node)) if _is_element(kid)]
    while waiting:
        one = waiting.pop()
        yield one
        waiting += [kid for kid in reversed(_kids(one)) if _is_element(kid)]


def _kids(one: Any) -> list[Any]:
    kids = one.get(Name.K)
    return list(kids) if isinstance(kids, Array) else [kids] if kids is not None else []


def _is_element(kid: Any) -> bool:
    return isinstance(kid, Dictionary) and kid.get(Name.S) is not None


def _name(one: Any) -> None:
    """Give a formula its type, and a box about a figure and its words a plain one: the figure inside has the words."""
    said = str(one.get(Name.Alt, ""))
    if said.startswith(MARK):
        one.S = Name.Formula
        one.Alt = String(said.removeprefix(MARK))
    elif not said:
        one.S = Name.Div


@dataclass(frozen=True)
class _Content:
    """A piece of marked content: its page and its number there."""

    page: Any
    number: int


def _take_out_neutral(root: Any, listed: list[Any]) -> None:
    """Hand what neutral elements hold to the element about them, and lead the page's content there too."""
    owners: dict[tuple[int, int], Any] = {}
    for one in [root, *listed]:
        if any(_is_neutral(kid) for kid in _kids(one)):
            pieces = list(_pieces(one, one.get(Name.Pg), one, owners))
            _hold(one, pieces)
        if Name.A in one:
            _shorten_attributes(one)
    _lead_content(root, owners)


def _is_neutral(kid: Any) -> bool:
    return _is_element(kid) and bool(Name.NonStruct == kid.S)


def _pieces(one: Any, page: Any, owner: Any, owners: dict[tuple[int, int], Any]) -> Iterator[Any]:
    """Go through the content, objects and other elements in an element, those inside neutral ones included."""
    for kid in _kids(one):
        if isinstance(kid, int):
            yield _Content(page, kid)
        elif _is_neutral(kid):
            owners[kid.objgen] = owner
            yield from _pieces(kid, kid.get(Name.Pg), owner, owners)
        elif _is_element(kid):
            kid.P = owner
            yield kid
        elif Name.MCID in kid:
            yield _Content(kid.get(Name.Pg, page), int(kid.MCID))
        else:
            if Name.Pg not in kid and page is not None:
                kid.Pg = page
            yield kid


def _hold(one: Any, pieces: list[Any]) -> None:
    """Make the pieces the kids of an element, whose page is that of its first content."""
    page = next((piece.page for piece in pieces if isinstance(piece, _Content)), None)
    if page is not None:
        one.Pg = page
    kids = [_kid(piece, page) for piece in pieces]
    one.K = kids[0] if len(kids) == 1 else Array(kids)


def _kid(piece: Any, page: Any) -> Any:
    if not isinstance(piece, _Content):
        return piece
    if piece.page.objgen == page.objgen:
        return piece.number
    return Dictionary(Type=Name.MCR, Pg=piece.page, MCID=piece.number)


def _parent_arrays(node: Any) -> Iterator[Any]:
    """Go through the arrays in which the parent tree names the owner of each piece of content, page by page."""
    for branch in node.get(Name.Kids, []):
        yield from _parent_arrays(branch)
    numbers = node.get(Name.Nums)
    if numbers is not None:
        yield numbers
        yield from (entry for entry in numbers if isinstance(entry, Array))


def _shorten_attributes(one: Any) -> None:
    """Leave out attributes that say what holds without them: a cell spans one row and one column."""
    parts = [part for part in one.A if not _is_usual(part)] if isinstance(one.A, Array) else [one.A]
    if parts:
        one.A = parts[0] if len(parts) == 1 else Array(parts)
    else:
        del one.A


def _is_usual(part: Any) -> bool:
    spans = {Name.RowSpan, Name.ColSpan} & {Name(key) for key in part.keys()}  # noqa: SIM118
    return bool(spans) and len(part) == 2 and all(part[key] == 1 for key in spans)


def _give_body(pdf: Pdf, item: Any) -> Any:
    """Put what an item of a list holds beside its label into a body; return what now holds the item's content."""
    label = [kid for kid in _kids(item) if _is_element(kid) and Name.Lbl == kid.S]
    rest = _kids(item)[len(label) :]
    if not rest or any(_is_element(kid) and Name.LBody == kid.S for kid in rest):
        return item
    body = pdf.make_indirect(Dictionary(Type=Name.StructElem, S=Name.LBody, P=item, K=Array(rest)))
    if Name.Pg in item:
        body.Pg = item.Pg
    for kid in rest:
        if _is_element(kid):
            kid.P = body
    item.K = Array([*label, body])
    return body


def _lead_content(root: Any, owners: Mapping[tuple[int, int], Any]) -> None:
    """Lead the content that the parent tree gives to the elements named to those that own it now."""
    for holder in _parent_arrays(root.ParentTree):
        for i, ref in enumerate(holder):
            if isinstance(ref, Dictionary) and ref.objgen in owners:
                holder[i] = owners[ref.objgen]


def _number_ids(root: Any, listed: list[Any]) -> None:
    """Number the ids in reading order, so that the same sources give the same bytes."""
    names: dict[str, str] = {}
    for one in listed:
        if Name.ID in one:
            names[str(one.ID)] = f"e{len(names) + 1:05d}"
            one.ID = String(names[str(one.ID)])
    for one in listed:
        _rename_references(one, names)
    if Name.IDTree in root:
        pairs: list[Any] = []
        for one in sorted((one for one in listed if Name.ID in one), key=lambda one: str(one.ID)):
            pairs += [one.ID, one]
        root.IDTree = Dictionary(Names=Array(pairs), Limits=Array([pairs[0], pairs[-2]])) if pairs else Dictionary()


def _rename_references(one: Any, names: dict[str, str]) -> None:
    """Bring the ids that table cells name as their headers into step."""
    attributes = one.get(Name.A)
    for part in attributes if isinstance(attributes, Array) else [attributes]:
        if isinstance(part, Dictionary) and Name.Headers in part:
            part.Headers = Array([String(names.get(str(name), str(name))) for name in part.Headers])
