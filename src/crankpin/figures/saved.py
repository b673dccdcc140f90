"""A picture as a file of its own, for a slide or an exam paper: SVG or PNG, with what made it written inside.

Drawn as on paper, in the printed sheet's inks on white. The same picture gives the same bytes.
"""

from __future__ import annotations

import io
from html import escape
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from matplotlib.figure import Figure

from crankpin.calculator.curves import DrawnPicture
from crankpin.figures.plots import INKS, LABEL_INKS, SETTINGS, draw_picture, size_of

#: The inks of the printed sheet.
COLOURS = {
    "position": "#075f69",
    "velocity": "#843f00",
    "acceleration": "#4f1d63",
    "plain": "#000000",
    "second": "#333333",
    "third": "#333333",
    "axis": "#000000",
    "grid": "#999999",
    "text": "#000000",
    "ground": "#ffffff",
}
_STANDS_FOR = {ink: COLOURS[role] for inks in (INKS, LABEL_INKS) for role, ink in inks.items()}
#: Dots per inch: a picture is 1270 wide.
_FINE = 300
_RIM = 3.0
#: What matplotlib would write of itself and of the day is left out.
_NOTHING = {"svg": ("Date", "Creator", "Format", "Type"), "png": ("Software",)}


def picture_svg(picture: DrawnPicture, *, title: str, words: str, numbers: str) -> bytes:
    """Return a picture as an SVG file with its title, description and, as metadata, the numbers that made it."""
    drawn = _saved(picture, "svg", {}).decode()
    start = drawn.index(">", drawn.index("<svg")) + 1
    about = "".join(
        f"<{name}>{escape(text, quote=False)}</{name}>"
        for name, text in (("title", title), ("desc", words), ("metadata", numbers))
    )
    head = '<?xml version="1.0" encoding="utf-8"?>\n'
    return (head + drawn[drawn.index("<svg") : start] + about + drawn[start:]).encode()


def picture_png(picture: DrawnPicture, *, title: str, words: str, numbers: str) -> bytes:
    """Return a picture as a PNG file, 300 dots per inch; Title, Description and Comment hold what made it."""
    return _saved(picture, "png", {"Title": title, "Description": words, "Comment": numbers})


def _saved(picture: DrawnPicture, kind: str, about: dict[str, str]) -> bytes:
    import matplotlib as mpl
    from matplotlib.figure import Figure

    width, height = size_of(picture)
    out = io.BytesIO()
    with mpl.rc_context(SETTINGS):
        figure = Figure(figsize=(width / 72, height / 72), dpi=72, facecolor=COLOURS["ground"])
        draw_picture(figure, picture)
        figure.draw_without_rendering()  # makes the ticks, which are then coloured as all else
        _colour(figure)
        metadata: dict[str, Any] = dict.fromkeys(_NOTHING[kind]) | about
        figure.savefig(out, format=kind, dpi=_FINE if kind == "png" else 72, metadata=metadata)
    return out.getvalue()


def _colour(figure: Figure) -> None:
    """Give every part of a figure its ink in place of the stand-in colour."""
    for part in figure.findobj():
        _colour_part(part)


def _colour_part(part: Any) -> None:
    from matplotlib.collections import Collection
    from matplotlib.lines import Line2D
    from matplotlib.spines import Spine
    from matplotlib.text import Text

    if isinstance(part, Line2D):
        part.set_markerfacecolor(_ink(part.get_markerfacecolor()))
        part.set_markeredgecolor(_ink(part.get_markeredgecolor()))
        part.set_color(_ink(part.get_color()))
    elif isinstance(part, Text):
        _colour_text(part)
    elif isinstance(part, Spine):
        part.set_edgecolor(_ink(part.get_edgecolor()))
    elif isinstance(part, Collection):
        colours: Any = part.get_facecolor()
        part.set_facecolor(_ink(colours[0][:3]))


def _colour_text(text: Any) -> None:
    from matplotlib.patheffects import withStroke

    if text.get_color() in LABEL_INKS.values():
        text.set_path_effects([withStroke(linewidth=_RIM, foreground=COLOURS["ground"], joinstyle="round")])
    text.set_color(_ink(text.get_color()))


def _ink(colour: Any) -> Any:
    """Return the ink that a stand-in colour stands for; another colour stays."""
    from matplotlib.colors import to_hex

    return _STANDS_FOR.get(to_hex(colour), colour)
