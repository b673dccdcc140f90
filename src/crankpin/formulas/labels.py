"""Formulas on paper: each gets its words, so that a screen reader can say what the sheet shows."""

from __future__ import annotations

import re
from html import escape

from crankpin.formulas.spoken import spoken

#: Begins the text behind a formula in the print HTML; the last step over the PDF takes it off again.
MARK = "formula: "

_MATH = re.compile(r"<math(?P<attributes>[^>]*)>.*?</math>", re.DOTALL)


def with_words(page: str) -> str:
    """Return the HTML with words behind each ``<math>`` that has none yet.

    A single symbol in a table's head or a list of results is spoken too.
    """
    return _MATH.sub(_worded, page)


def _worded(found: re.Match[str]) -> str:
    if "aria-label" in found["attributes"]:
        return found[0]
    return labelled(found[0], spoken(found[0]))


def labelled(formula: str, words: str) -> str:
    """Return a ``<math>`` element with these words behind it."""
    return formula.replace("<math", f'<math role="img" aria-label="{escape(MARK + words, quote=True)}"', 1)
