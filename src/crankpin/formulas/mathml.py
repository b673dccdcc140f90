r"""TeX to MathML Core, with the converter's weak places mended.

`math-core` converts; this module adds the course's own macros and mends what would draw or read badly: pi, which is a
number and stands upright (NIST SP 811, 10.2), arrows of vectors, marks over letters, numbers in groups of three (one
`<mn>` per number), and fixed `style` values, which a strict content policy forbids and which become classes of
`type.css`.

Course macros: `\dd` upright d, `\ee` and `\ii` upright constants, `\unit{m/s}` an upright unit after a thin space,
`\vec` an arrow drawn over the letter.
"""

from __future__ import annotations

import html
import re
from functools import lru_cache

from math_core import LatexError, LatexToMathML

from crankpin.calculator.rendering import STRUT
from crankpin.faults import AuthorError
from crankpin.formulas.one_line import one_line

MACROS = {
    "dd": r"\mathrm{d}",
    "ee": r"\mathrm{e}",
    "ii": r"\mathrm{i}",
    "unit": r"\,\mathrm{#1}",
    "bm": r"\boldsymbol{#1}",
}

_CONVERTER = LatexToMathML(macros=MACROS, fancy_error=False)

_NOT_CORE = re.compile(r"<(menclose|mfenced|mlongdiv|mstack|maction)\b")
_ACCENT = re.compile(r' accent(?:under)?="true"')
_LEADING_SPACE = re.compile(r'^(<math[^>]*>)<mspace width="0\.16666667em"/>')
_VECTOR = re.compile(r'<mo stretchy="false">\u20d7</mo>')
_MARK = re.compile(r'(?<=>)<mo( stretchy="false")?>([¯˙¨ˆ˜ˇ˘´`˚])</mo></mover>')
_GROUPS = re.compile(r'<mn>(\d{1,3})</mn>((?:<mspace width="0.16666667em"/><mn>\d{3}(?:\.[\d\u2009]+)?</mn>)+)(?!<mn>)')
_DECIMAL_TAIL = re.compile(r'<mn>(\d*\.\d{3})</mn>((?:<mspace width="0.16666667em"/><mn>\d{1,3}</mn>)+)')
_SPACED = re.compile(r'<mspace width="0.16666667em"/><mn>')
_STYLE = re.compile(r' style="([^"]*)"')
_OFFSET = re.compile(r"^(\d+): ", re.ASCII)

_STYLE_CLASSES = {
    "text-align": {"left": "cell-left", "right": "cell-right", "center": "cell-centre"},
    "padding-left": {"0": "cell-tight-left", "1em": "cell-wide-left"},
    # The thin space behind a raised bracket before a full stop, which a page can do without, becomes no class.
    "padding-right": {"0": "cell-tight-right", "0.1667em": ""},
    "justify-items": {"start": "", "end": "", "center": ""},
}


@lru_cache(maxsize=8192)
def mathml(tex: str, *, display: bool) -> str:
    """Return one `<math>` element for a TeX formula.

    Raises `AuthorError` with what the converter could not read, the column and the formula.
    """
    source = " ".join(tex.split())
    try:
        raw = _CONVERTER.convert_with_local_state(source, displaystyle=display)
    except LatexError as error:
        raise AuthorError(_explain(source, str(error))) from None
    outside = _NOT_CORE.search(raw)
    if outside:
        raise AuthorError(
            f"the formula {source} needs <{outside.group(1)}>, which browsers do not draw; write it another way"
        )
    return _mend(raw, source)


def _explain(source: str, error: str) -> str:
    found = _OFFSET.match(error)
    if not found:
        return f"the formula {source} cannot be read: {error}"
    at = int(found.group(1))
    reason = error[found.end() :].rstrip(".")
    rest = source.encode()[at : at + 24].decode(errors="ignore")
    near = f'at "{rest}"' if rest else "at its end"
    return f"the formula {source} cannot be read {near}: {reason}"


def _mend(raw: str, source: str) -> str:
    text = raw.replace("&ApplyFunction;", "\u2061").replace("<mspace/>", "")
    text = _ACCENT.sub("", text)
    text = _LEADING_SPACE.sub(r"\1", text)
    text = text.replace("<msqrt>", f"<msqrt>{STRUT}")
    text = text.replace("<mi>π</mi>", '<mi mathvariant="normal">π</mi>')
    text = _VECTOR.sub('<mo stretchy="false" class="vector">→</mo>', text)
    text = _MARK.sub(r'<mo\1 class="mark">\2</mo></mover>', text)
    text = _DECIMAL_TAIL.sub(lambda m: f"<mn>{m.group(1)}{_joined(m.group(2))}</mn>", text)
    text = _GROUPS.sub(lambda m: f"<mn>{m.group(1)}{_joined(m.group(2))}</mn>", text)
    return _STYLE.sub(lambda m: _class_for(m.group(1), source), text)


def _joined(groups: str) -> str:
    return _SPACED.sub("\u2009", groups).replace("</mn>", "")


def _class_for(style: str, source: str) -> str:
    names = []
    for declaration in filter(None, (part.strip() for part in style.split(";"))):
        name, _, value = (part.strip() for part in declaration.partition(":"))
        known = _STYLE_CLASSES.get(name, {})
        if value not in known:
            raise AuthorError(f"the formula {source} fixes {declaration}; colours and boxes belong to the theme")
        names.append(known[value])
    listed = " ".join(filter(None, names))
    return f' class="{listed}"' if listed else ""


_INLINE = re.compile(
    r'(?P<before>[(\u2018\u201c]*)<span class="arithmatex"[^>]*>\\\((?P<tex>.*?)\\\)</span>'
    r"(?P<after>[.,;:!?)\u2019\u201d]*)",
    re.DOTALL,
)
_DISPLAY = re.compile(r'<div class="arithmatex"[^>]*>\s*\\\[(?P<tex>.*?)\\\]\s*</div>', re.DOTALL)


def convert(page: str) -> str:
    """Return the HTML of a page with every `arithmatex` wrapper replaced by MathML.

    Inline maths keeps the bracket or quote before it and the punctuation behind it on its line; display maths gets a
    scrolling wrapper for narrow screens.
    Raises `AuthorError` for the first formula that cannot be read.
    """
    page = _DISPLAY.sub(_display, page)
    return _INLINE.sub(_inline, page)


def _display(found: re.Match[str]) -> str:
    tex = html.unescape(html.unescape(found["tex"]))
    return f'<div class="eq">{mathml(tex, display=True)}</div>'


def _inline(found: re.Match[str]) -> str:
    formula = mathml(html.unescape(found["tex"]), display=False)
    before, after = found["before"], found["after"]
    return f'<span class="math-in-line">{before}{formula}{after}</span>' if before or after else formula


def words(page: str) -> str:
    """Return the HTML with each formula as plain text, for the search index and for titles."""
    page = _DISPLAY.sub(lambda m: f"<p>{as_text(html.unescape(html.unescape(m['tex'])))}</p>", page)
    return _INLINE.sub(lambda m: m["before"] + as_text(html.unescape(m["tex"])) + m["after"], page)


_IN_TITLE = re.compile(r"\\\((.*?)\\\)")


def title_words(title: str) -> str:
    """Return a heading as it stands in lists of contents: formulas as plain text."""
    return _IN_TITLE.sub(lambda m: as_text(html.unescape(m[1])), title)


def as_text(tex: str) -> str:
    """Return the formula in one line of plain characters, escaped for HTML."""
    return html.escape(one_line(mathml(tex, display=False)), quote=False)
