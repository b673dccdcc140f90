"""How the texts of a problem are read: a small Markdown of their own, apart from the page's."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache

from markdown import Markdown

from crankpin.notation.cases import Case

_EXTENSIONS = ("attr_list", "def_list", "tables", "smarty", "pymdownx.superfences", "pymdownx.arithmatex")


def render(text: str) -> str:
    """Return a text as HTML, its formulas still to be converted."""
    return _reader().reset().convert(text)


@cache
def _reader() -> Markdown:
    return Markdown(extensions=_EXTENSIONS, extension_configs={"pymdownx.arithmatex": {"generic": True}})


def quotable(cases: Mapping[str, Case]) -> dict[str, str]:
    """Return what cases are given, as typed, under the names by which a problem may quote it."""
    return {f"{name}.{key}": text for name, case in cases.items() for key, text in case.given.items()}
