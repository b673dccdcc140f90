"""HTML of a problem's texts as the XHTML and MathML that packages may hold."""

from __future__ import annotations

from collections.abc import Sequence
from html.parser import HTMLParser
from xml.etree.ElementTree import Element, SubElement

from crankpin.faults import AuthorError

MATHML = "http://www.w3.org/1998/Math/MathML"
#: Elements that every format takes; their attributes are left out.
_TEXT = {"p", "div", "span", "b", "strong", "i", "em", "sub", "sup", "ul", "ol", "li", "br", "table", "thead", "tbody"}
_CELLS = {"tr", "th", "td", "dl", "dt", "dd", "code", "pre", "blockquote"}
_VOID = {"br"}
_MATHS_ATTRIBUTES = {"mathvariant", "stretchy", "lspace", "rspace", "form", "width", "display", "columnalign"}


def elements_of(html: str) -> Sequence[Element | str]:
    """Return the nodes of a piece of HTML, texts among them. Raises `AuthorError` for what packages cannot hold."""
    reader = _Reader()
    reader.feed(html)
    reader.close()
    root = reader.root
    return [part for part in (root.text or "", *(node for child in root for node in _apart(child))) if part != ""]


def _apart(child: Element) -> tuple[Element, str]:
    tail, child.tail = child.tail or "", None
    return child, tail


def append_all(parent: Element, nodes: Sequence[Element | str]) -> None:
    """Append nodes to an element, texts in their places."""
    for node in nodes:
        if isinstance(node, Element):
            parent.append(node)
        elif len(parent):
            parent[-1].tail = (parent[-1].tail or "") + node
        else:
            parent.text = (parent.text or "") + node


class _Reader(HTMLParser):
    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.root = Element("div")
        self._open = [self.root]

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        element = SubElement(self._open[-1], self._name(tag))
        if self._in_maths(tag):
            for key, value in attrs:
                if key in _MATHS_ATTRIBUTES:
                    element.set(key, value or "")
        if tag not in _VOID:
            self._open.append(element)

    def handle_endtag(self, tag: str) -> None:
        if tag not in _VOID:
            self._open.pop()

    def handle_data(self, data: str) -> None:
        append_all(self._open[-1], [data])

    def _in_maths(self, tag: str) -> bool:
        return tag == "math" or self._open[-1].tag.startswith(f"{{{MATHML}}}")

    def _name(self, tag: str) -> str:
        if self._in_maths(tag):
            return f"{{{MATHML}}}{tag}"
        if tag not in _TEXT | _CELLS:
            raise AuthorError(f"<{tag}> cannot stand in a package; write the problem without it")
        return tag
