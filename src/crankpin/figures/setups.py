"""Set-up drawings of the bench cards, made with the teacher's own lengths: plain ink, lengths written beside.

Drawings are not to scale; the numbers on them are the kit's own.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from html import escape

Asked = Callable[[str, str], str]
"""Gives a quantity of the kit as text: the case's name, then the quantity's key, with the unit after a space."""


def _line(x1: float, y1: float, x2: float, y2: float, kind: str = "thin") -> str:
    return f'<path class="{kind}" d="M{x1:g} {y1:g}L{x2:g} {y2:g}"/>'


def _text(x: float, y: float, words: str, anchor: str = "middle") -> str:
    """Return words at a point; a quantity's letter before an equals sign is italic."""
    letter, equals, rest = words.partition(" = ")
    shown = f'<tspan font-style="italic">{letter}</tspan> = {escape(rest)}' if equals else escape(words)
    return f'<text x="{x:g}" y="{y:g}" text-anchor="{anchor}">{shown}</text>'


def _circle(x: float, y: float, radius: float, kind: str = "thick") -> str:
    return f'<circle class="{kind}" cx="{x:g}" cy="{y:g}" r="{radius:g}"/>'


def _box(x: float, y: float, width: float, height: float, kind: str = "thick") -> str:
    return f'<rect class="{kind}" x="{x:g}" y="{y:g}" width="{width:g}" height="{height:g}"/>'


def _across(x1: float, x2: float, y: float, words: str) -> str:
    """Return a length with an arrow at both ends and its words above the middle."""
    tips = f'<path class="solid" d="M{x1:g} {y:g}l7 -3v6ZM{x2:g} {y:g}l-7 -3v6Z"/>'
    return _line(x1, y, x2, y) + tips + _text((x1 + x2) / 2, y - 5, words)


def _upright(x: float, y1: float, y2: float, words: str) -> str:
    tips = f'<path class="solid" d="M{x:g} {y1:g}l-3 7h6ZM{x:g} {y2:g}l-3 -7h6Z"/>'
    return _line(x, y1, x, y2) + tips + _text(x + 7, (y1 + y2) / 2 + 4, words, "start")


def _spring(x: float, top: float, bottom: float, turns: int = 9, half: float = 9.0) -> str:
    """Return a spring as a zigzag with straight ends."""
    first, last = top + 8, bottom - 8
    step = (last - first) / (2 * turns)
    points = [(x + (half if i % 2 else -half), first + (i + 0.5) * step) for i in range(2 * turns)]
    way = "".join(f"L{px:g} {py:.4g}" for px, py in points)
    return f'<path class="thick" d="M{x:g} {top:g}L{x:g} {first:g}{way}L{x:g} {last:g}L{x:g} {bottom:g}"/>'


def _stand(x: float, top: float, foot: float, reach: float) -> str:
    """Return a stand: its foot, its rod, and an arm of the length ``reach`` to the right."""
    return (
        _box(x - 22, foot - 6, 70, 6, "solid")
        + _line(x, foot - 6, x, top - 8, "thick")
        + _line(x - 6, top, x + reach, top, "thick")
        + _box(x - 5, top - 5, 10, 10, "solid")
    )


def _foam(x: float, foot: float, width: float = 70.0) -> str:
    return _box(x - width / 2, foot - 18, width, 18, "hatched") + _text(x, foot + 13, "foam")


def _lamp(x: float, y: float) -> str:
    rays = "".join(
        _line(x + 9 * math.cos(a), y + 9 * math.sin(a), x + 15 * math.cos(a), y + 15 * math.sin(a))
        for a in (math.radians(degrees) for degrees in range(-60, 61, 30))
    )
    return _circle(x, y, 6, "solid") + rays + _text(x, y + 26, "lamp")


def hung_mass(asked: Asked) -> str:
    """Return a mass on a spring at rest, with the stretch and the amplitude."""
    return _hung(asked("load-hung", "stretch"), asked("load", "A"), "")


def damped_mass(asked: Asked) -> str:
    """Return a mass with a card on a spring."""
    return _hung("", asked("card", "x0"), "card")


def _hung(stretch: str, amplitude: str, under: str) -> str:
    foot, top, x = 250.0, 24.0, 120.0
    parts = [_stand(50, top, foot, 84), _spring(x, top, 140), _box(x - 15, 140, 30, 30, "solid"), _foam(x, foot, 84)]
    if under:
        parts += [_line(x - 34, 174, x + 34, 174, "thick"), _text(x - 38, 178, under, "end")]
    if stretch:
        parts += [_line(x + 15, 86, x + 62, 86, "dashed"), _line(x + 15, 140, x + 62, 140, "dashed")]
        parts += [_upright(x + 55, 86, 140, f"stretch {stretch}"), _text(x + 22, 81, "spring alone", "start")]
    parts += [_line(x + 15, 155, x + 62, 155, "dashed"), _line(x + 15, 196, x + 62, 196, "dashed")]
    parts += [_upright(x + 55, 155, 196, f"A = {amplitude}")]
    said = "A mass hangs from a spring on a stand, over foam" + (f"; a {under} is fixed under it" if under else "")
    return _svg(300, 270, said + f". It is pulled down by {amplitude}.", parts)


def pendulum(asked: Asked) -> str:
    """Return a bob on a thread, drawn aside."""
    length, angle = asked("bob", "L"), asked("bob", "theta_max")
    x, top, foot = 130.0, 30.0, 260.0
    bob = (x + 62, 196.0)
    middle = (x, top + math.dist((x, top), bob))
    arc = f'<path class="dashed" d="M{bob[0]:g} {bob[1]:g}A180 180 0 0 1 {x - 62:g} 196"/>'
    parts = [_stand(50, top, foot, 90), _box(x - 7, top - 5, 14, 10, "solid"), arc]
    parts += [_line(x, top, x, middle[1], "dashed"), _line(x, top, *bob, "thick"), _circle(*bob, 9, "solid")]
    parts += [_text(x + 17, top + 96, angle), _text(x + 44, top + 74, f"L = {length}", "start")]
    parts += [_line(x - 16, middle[1] + 14, x + 16, middle[1] + 14, "thick"), _text(x, middle[1] + 29, "marker")]
    return _svg(300, 270, f"A bob on a thread of {length} from a clamp, drawn aside by {angle}.", parts)


def lamp_and_disc(asked: Asked) -> str:
    """Return lamp, disc and screen from above."""
    near, far, radius = asked("peg-lamp", "D"), asked("peg-lamp", "S"), asked("peg-lamp", "A")
    y, axle, screen = 90.0, 190.0, 285.0
    pin = (axle, y - 34)
    parts = [_lamp(22, y), _circle(axle, y, 34), _circle(axle, y, 2.5, "solid"), _circle(*pin, 6, "solid")]
    reach = y - 34 * (screen - 22) / (axle - 22)
    parts += [_line(28, y, screen, y, "dashed"), _line(28, y - 1, screen, reach, "dashed")]
    parts += [_line(screen, 20, screen, 160, "thick"), _text(screen - 4, 174, "screen")]
    parts += [_upright(axle, y - 34, y, ""), _text(axle, y - 46, f"A = {radius}")]
    parts += [_text(axle, y + 50, "disc from above")]
    parts += [_across(22, axle, 205, f"D = {near}"), _across(22, screen, 230, f"S = {far}")]
    said = (
        f"From above: lamp, disc and screen in one line; axle {near} and screen {far} from the lamp, pin at {radius}."
    )
    return _svg(310, 240, said, parts)


def disc_and_spring(asked: Asked) -> str:
    """Return lamp, disc, mass and screen from the side."""
    near, far, radius = asked("disc-lamp", "D"), asked("disc-lamp", "S"), asked("disc-lamp", "A")
    y, axle, screen, foot = 120.0, 205.0, 292.0, 238.0
    parts = [_lamp(20, y), _circle(20, y, 0), _line(26, y, screen, y, "dashed")]
    parts += [_line(axle, y - 30, axle, y + 30, "thick"), _circle(axle - 4, y - 26, 4, "solid")]
    parts += [_line(axle, y, axle + 26, y, "thick"), _box(axle + 12, y - 9, 26, 18), _text(axle + 26, y + 24, "drive")]
    parts += [_text(axle, y + 46, "disc, edge-on"), _upright(axle - 14, y - 26, y, "")]
    parts += [_text(axle - 18, y - 38, f"A = {radius}", "start")]
    parts += [
        _stand(80, 24, foot, 62),
        _spring(134, 24, y - 12),
        _box(122, y - 12, 24, 24, "solid"),
        _foam(134, foot, 56),
    ]
    parts += [_line(screen, 40, screen, 200, "thick"), _text(screen - 2, 34, "screen", "end")]
    parts += [_across(20, axle, 280, f"D = {near}"), _across(20, screen, 304, f"S = {far}")]
    said = (
        f"From the side: a lamp; beside each other, {near} from it, the disc seen edge-on and the mass on its spring; "
        f"the screen {far} from the lamp. The pin is at the radius {radius}."
    )
    return _svg(310, 312, said, parts)


def _svg(width: int, height: int, said: str, parts: list[str]) -> str:
    return (
        f'<svg class="setup" viewBox="0 0 {width} {height}" role="img" aria-label="{escape(said, quote=True)}">'
        '<defs><pattern id="hatch" width="5" height="5" patternUnits="userSpaceOnUse">'
        f'<path d="M0 5L5 0" stroke="#000" stroke-width="0.6"/></pattern></defs>{"".join(parts)}</svg>'
    )


#: The drawings that a card may name.
DRAWINGS: dict[str, Callable[[Asked], str]] = {
    "hung-mass": hung_mass,
    "damped-mass": damped_mass,
    "pendulum": pendulum,
    "lamp-and-disc": lamp_and_disc,
    "disc-and-spring": disc_and_spring,
}
