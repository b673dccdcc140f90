"""Figures for paper as SVG, drawn by matplotlib from the same sampled numbers that the charts of the pages draw.

The SVG is inline and follows the sheet's colours: every ink is a class, never a fixed colour, so that
a grey copier needs no second drawing. The same picture gives the same bytes.
"""

from __future__ import annotations

import io
import re
from collections.abc import Callable
from html import escape
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from matplotlib.figure import Figure

from crankpin.calculator.curves import DrawnCurve, DrawnPanel, DrawnPicture
from crankpin.calculator.numbers import MINUS, format_number
from crankpin.calculator.units import over_unit

#: How large a figure is in its own units (1/72 inch): its width, the height of one panel, and of one that is square.
#: Printed 97 mm wide, so that no letter of a word is smaller than 8.5 points.
_WIDTH, _PANEL_HEIGHT, _SQUARE_HEIGHT = 305, 116, 246
_MARGIN_LEFT, _MARGIN_RIGHT, _MARGIN_TOP, _MARGIN_BOTTOM = 52, 12, 20, 36
#: Where the names of curves may stand, and how far apart, in heights of a panel's axes.
_LOWEST_NAME, _HIGHEST_NAME = 0.02, 1.02
_BETWEEN_NAMES = 10.5 / (_PANEL_HEIGHT - _MARGIN_TOP - _MARGIN_BOTTOM)

#: The stand-in colours matplotlib is given, and the classes that take their place.
INKS = {
    "position": "#010101",
    "velocity": "#020202",
    "acceleration": "#030303",
    "plain": "#040404",
    "second": "#050505",
    "third": "#060606",
    "axis": "#070707",
    "grid": "#080808",
    "text": "#090909",
    "ground": "#0a0a0a",
}
#: Labels that stand over curves get the same inks. Below them they are drawn once more, by the class ``halo`` in paper
#: and wider: all of a label before any of it, else the paper of one letter would cut into the one before.
LABEL_INKS = {role: ink[:-2] + "ff" for role, ink in INKS.items()}
LINE_STYLES: dict[str, Any] = {
    "solid": "-",
    "dashes": (0, (7, 3)),
    "dots": (0, (1.2, 2.2)),
    "points": "none",
    "area": "-",
}
_ROLE_LINES = {"velocity": "dashes", "acceleration": "dots", "second": "dashes", "third": "dots"}
SETTINGS: Any = {
    "svg.fonttype": "path",
    "svg.hashsalt": "crankpin",
    "font.family": "serif",
    "font.serif": ["STIXGeneral", "DejaVu Serif"],
    "mathtext.fontset": "stix",
    "font.size": 10.5,
    "axes.linewidth": 0.8,
    "path.simplify": True,
    "path.simplify_threshold": 0.2,
}


def line_of(role: str, line: str) -> str:
    """Return how a curve is drawn: as it says, or as its role has it everywhere."""
    return line or _ROLE_LINES.get(role, "solid")


def _height(panel: DrawnPanel) -> int:
    return _SQUARE_HEIGHT if panel.panel.square else _PANEL_HEIGHT


def figure_svg(picture: DrawnPicture, *, prefix: str) -> str:
    """Return the picture as one inline ``<svg>`` element.

    ``prefix`` begins every id in it and must be unique on the page. Inks are the classes
    ``ink-position``, ``ink-velocity`` and so on; the text alternative is the picture's own.
    """
    size = size_of(picture)
    return inline_svg(
        lambda figure: draw_picture(figure, picture), size, title=picture.caption, words=picture.words, prefix=prefix
    )


def size_of(picture: DrawnPicture) -> tuple[int, int]:
    """Return width and height of a picture in its own units (1/72 inch)."""
    return _WIDTH, sum(map(_height, picture.panels))


def draw_picture(figure: Figure, picture: DrawnPicture) -> None:
    """Draw a picture in the stand-in colours on a figure of its size."""
    width, height = size_of(picture)
    bottom = float(height)
    for panel in picture.panels:
        tall = _height(panel)
        bottom -= tall
        _draw_panel(figure, panel, bottom / height, tall / height, width, height)


def inline_svg(
    draw: Callable[[Figure], object], size: tuple[float, float], *, title: str, words: str, prefix: str
) -> str:
    """Return as one inline ``<svg>`` what ``draw`` puts on a figure of that size, with its text alternative."""
    import matplotlib as mpl
    from matplotlib.figure import Figure

    mpl.use("svg")
    width, height = size
    with mpl.rc_context(SETTINGS):
        figure = Figure(figsize=(width / 72, height / 72), dpi=72)
        figure.patch.set_visible(False)
        draw(figure)
        out = io.StringIO()
        figure.savefig(out, format="svg", metadata={"Date": None, "Creator": None, "Format": None, "Type": None})
    return (
        f'<svg class="figure" xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width:g} {height:g}" role="img" '
        f'aria-labelledby="{prefix}-title {prefix}-words">'
        f'<title id="{prefix}-title">{escape(title)}</title>'
        f'<desc id="{prefix}-words">{escape(words)}</desc>{_body(out.getvalue(), prefix)}</svg>'
    )


def _draw_panel(figure: Figure, panel: DrawnPanel, bottom: float, tall: float, width: int, height: int) -> None:
    left, right = _MARGIN_LEFT / width, 1 - _MARGIN_RIGHT / width
    low, high = bottom + _MARGIN_BOTTOM / height, bottom + tall - _MARGIN_TOP / height
    axes = figure.add_axes((left, low, right - left, high - low))
    axes.patch.set_visible(False)
    for curve in panel.curves:
        _draw_curve(axes, curve)
    for mark, x, y in panel.marks:
        ink = INKS[mark.role]
        ring: dict[str, Any] = {"markersize": 6.5, "markerfacecolor": INKS["ground"], "markeredgewidth": 1.6}
        axes.plot([x], [y], marker="o", color=ink, clip_on=False, zorder=5, **ring)
        _label(axes, mark.label, x, y, LABEL_INKS[mark.role])
    if panel.panel.square:
        axes.set_aspect("equal", adjustable="datalim")
    _dress(axes, panel)


def _draw_curve(axes: Any, curve: DrawnCurve) -> None:
    ink, line = INKS[curve.curve.role], line_of(curve.curve.role, curve.curve.line)
    if line == "points":
        axes.plot(curve.xs, curve.ys, "o", markersize=4.2, color=ink, markeredgewidth=0)
        return
    width = 2.2 if curve.curve.role == "position" else 1.7
    axes.plot(curve.xs, curve.ys, linestyle=LINE_STYLES[line], linewidth=width, color=ink, dash_capstyle="butt")
    if line == "area":
        axes.fill_between(curve.xs, curve.ys, color=ink, alpha=0.18, linewidth=0)


def _label(axes: Any, text: str, x: float, y: float, ink: str) -> None:
    """Write a label at a point, on the side where there is room."""
    low, high = axes.get_xlim()
    near_end = high > low and (x - low) / (high - low) > 0.8
    axes.annotate(
        text,
        (x, y),
        xytext=(-7 if near_end else 7, 6),
        textcoords="offset points",
        ha="right" if near_end else "left",
        color=ink,
        fontsize=9.5,
        fontstyle="italic" if len(text) == 1 else "normal",
        zorder=6,
    )


def _dress(axes: Any, panel: DrawnPanel) -> None:
    from matplotlib.ticker import FuncFormatter, MaxNLocator

    for side in ("top", "right"):
        axes.spines[side].set_visible(False)
    for side in ("left", "bottom"):
        axes.spines[side].set_color(INKS["axis"])
    axes.tick_params(colors=INKS["axis"], labelcolor=INKS["text"], length=3.5, width=0.8, labelsize=9.5)
    axes.xaxis.set_major_locator(MaxNLocator(6, steps=[1, 2, 2.5, 5, 10]))
    axes.yaxis.set_major_locator(MaxNLocator(4, steps=[1, 2, 2.5, 5, 10]))
    axes.xaxis.set_major_formatter(FuncFormatter(tick_text))
    axes.yaxis.set_major_formatter(FuncFormatter(tick_text))
    axes.grid(True, color=INKS["grid"], linewidth=0.6)
    axes.set_axisbelow(True)
    if not panel.panel.square:
        axes.margins(x=0.0, y=0.12)
        if axes.get_ylim()[0] < 0.0 < axes.get_ylim()[1]:
            axes.axhline(0.0, color=INKS["axis"], linewidth=0.8)
    axes.set_title(
        axis_title(panel.vertical.title), loc="left", fontsize=10.5, color=INKS["text"], pad=5, x=-0.11, y=1.0
    )
    axes.set_xlabel(axis_title(panel.horizontal.title), loc="right", fontsize=10.5, color=INKS["text"], labelpad=2)
    if len(panel.curves) > 1:
        _name_curves(axes, panel)


def _name_curves(axes: Any, panel: DrawnPanel) -> None:
    """Write each curve's label where it ends, kept apart from the one before."""
    low, high = axes.get_ylim()
    taken: list[float] = []
    for curve in panel.curves:
        if not curve.curve.label or line_of(curve.curve.role, curve.curve.line) == "points" or panel.panel.square:
            continue
        end = min(max((curve.ys[-1] - low) / (high - low), _LOWEST_NAME), _HIGHEST_NAME)
        places = (end + steps * _BETWEEN_NAMES for steps in (0, 1, -1, 2, -2, 3, -3))
        free = (at for at in places if _free(at, taken))
        taken.append(next(free, end))
        axes.annotate(
            curve.curve.label,
            (1.0, taken[-1]),
            xycoords="axes fraction",
            xytext=(-2, 4),
            textcoords="offset points",
            ha="right",
            color=LABEL_INKS[curve.curve.role],
            fontsize=9.5,
        )


def _free(at: float, taken: list[float]) -> bool:
    inside = _LOWEST_NAME - 1e-9 <= at <= _HIGHEST_NAME + 1e-9
    return inside and all(abs(at - other) > _BETWEEN_NAMES - 1e-9 for other in taken)


def axis_title(title: str) -> str:
    """Return an axis title, such as "x / cm", for matplotlib: the symbol italic, over its unit upright."""
    symbol, _, unit = title.partition(" / ")
    head, _, below = symbol.partition("_")
    shown = f"${head}_{{\\mathrm{{{below}}}}}$" if below else f"${head}$"
    return shown + over_unit(unit)


def tick_text(value: float, _position: object = None) -> str:
    """Return what stands at a tick."""
    if abs(value) < 1e-12:
        return "0"
    text = format_number(value, 4)
    number, times, power = text.partition("×")
    if "." in number:
        number = number.rstrip("0").rstrip(".")
    if not times:
        return number
    return f"${number.replace(MINUS, '-')}{{\\times}}10^{{{_plain_power(power)}}}$"


def _plain_power(raised: str) -> str:
    return raised.removeprefix("10").translate(str.maketrans("⁰¹²³⁴⁵⁶⁷⁸⁹⁻", "0123456789-"))


_STYLE = re.compile(r' style="([^"]*)"')
_HALO = re.compile(r'<g class="([\w-]+) halo"([^>]*)>((?:(?!<g\b).)*?)</g>', re.DOTALL)
_ID = re.compile(r'(\bid="|href="#|url\(#)')


def _body(svg: str, prefix: str) -> str:
    """Return the inside of matplotlib's file, fit for a page under a strict style policy."""
    body = svg[svg.index("<g id=") : svg.rindex("</svg>")]
    definitions = "".join(re.findall(r"<defs>(?!\s*<style).*?</defs>", body, flags=re.DOTALL))
    body = re.sub(r"<defs>.*?</defs>|<metadata>.*?</metadata>|<!--.*?-->", "", body, flags=re.DOTALL)
    body = _STYLE.sub(_attributes, definitions + body)
    body = re.sub(r' id="[^"]*(?:text|tick|axis|axes|figure|patch|line2d|FillBetween)[^"]*"', "", body)
    body = _ID.sub(lambda match: match.group(1) + prefix + "-", body).replace("xlink:href", "href")
    body = _HALO.sub(r'<g class="halo"\2>\3</g><g class="\1"\2>\3</g>', body)
    return re.sub(r">\s+<", "><", body).strip()


def _attributes(match: re.Match[str]) -> str:
    """Turn a style attribute into presentation attributes, inks into classes."""
    kept, classes = [], []
    for part in match.group(1).split(";"):
        name, _, value = (piece.strip() for piece in part.partition(":"))
        if not name:
            continue
        ink, label = _role_of(INKS, value), _role_of(LABEL_INKS, value)
        if ink or label:
            classes.append(f"{'ink' if name == 'stroke' else 'fill'}-{ink or label}" + (" halo" if label else ""))
        else:
            kept.append(f'{name}="{escape(value, quote=True)}"')
    if classes:
        kept.insert(0, f'class="{" ".join(classes)}"')
    return "".join(f" {one}" for one in kept)


def _role_of(inks: dict[str, str], colour: str) -> str:
    return next((role for role, ink in inks.items() if ink == colour), "")
