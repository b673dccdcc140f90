"""Set-up drawings of the bench cards, made with the teacher's own lengths: plain ink, lengths written beside.

Drawings are not to scale and say so; the numbers on them are the kit's own. Each can be set up as it is drawn.
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


def _lamp(x: float, y: float, below: float = 26.0) -> str:
    """Return a lamp, its rays and, ``below`` it, its name; a negative distance puts the name above."""
    rays = "".join(
        _line(x + 9 * math.cos(a), y + 9 * math.sin(a), x + 15 * math.cos(a), y + 15 * math.sin(a))
        for a in (math.radians(degrees) for degrees in range(-60, 61, 30))
    )
    return _circle(x, y, 6, "solid") + rays + _text(x, y + below, "lamp")


def _not_to_scale(x: float, y: float) -> str:
    return _text(x, y, "not to scale", "end")


def hung_mass(asked: Asked) -> str:
    """Return a mass on a spring at rest, with the stretch and the amplitude."""
    return _hung(asked("load-hung", "stretch"), asked("load", "A"), "")


def damped_mass(asked: Asked) -> str:
    """Return a mass with a card on a spring."""
    return _hung("", asked("card", "x0"), "card")


def _hung(stretch: str, amplitude: str, under: str) -> str:
    foot, top, x = 250.0, 24.0, 140.0
    parts = [_stand(50, top, foot, 104), _spring(x, top, 140), _box(x - 15, 140, 30, 30, "solid"), _foam(x, foot, 84)]
    if under:
        parts += [_line(x - 34, 174, x + 34, 174, "thick"), _text(x - 38, 178, under, "end")]
    if stretch:
        parts += [_line(x + 15, 86, x + 62, 86, "dashed"), _line(x + 15, 140, x + 62, 140, "dashed")]
        parts += [
            _upright(x + 55, 86, 140, f"stretch {stretch}"),
            _text(x + 22, 81, "end of the empty spring", "start"),
        ]
    parts += [_line(x + 15, 155, x + 62, 155, "dashed"), _line(x + 15, 196, x + 62, 196, "dashed")]
    parts += [_text(x + 66, 159, "at rest", "start"), _text(x + 66, 200, "let go here", "start")]
    parts += [_upright(x + 55, 155, 196, f"A = {amplitude}"), _not_to_scale(296, 263)]
    said = "A mass hangs at rest from a spring on a stand, over foam" + (
        f"; a {under} is fixed under it" if under else ""
    )
    return _svg(300, 270, said + f". It is let go {amplitude} below its resting place. Not to scale.", parts)


def pendulum(asked: Asked) -> str:
    """Return a bob on a thread, drawn aside."""
    length, angle = asked("bob", "L"), asked("bob", "theta_max")
    x, top, foot = 130.0, 30.0, 260.0
    bob = (x + 62, 196.0)
    middle = (x, top + math.dist((x, top), bob))
    arc = f'<path class="dashed" d="M{bob[0]:g} {bob[1]:g}A177 177 0 0 1 {x - 62:g} 196"/>'
    parts = [_stand(50, top, foot, 90), _box(x - 7, top - 5, 14, 10, "solid"), arc]
    parts += [_line(x, top, x, middle[1], "dashed"), _line(x, top, *bob, "thick"), _circle(*bob, 9, "solid")]
    parts += [_text(x + 17, top + 96, angle), _text(x + 44, top + 74, f"L = {length}", "start")]
    parts += [_line(x, middle[1] + 12, x, middle[1] + 26, "thick"), _text(x + 6, middle[1] + 25, "marker", "start")]
    parts += [_not_to_scale(296, 263)]
    said = f"A bob on a thread, {length} from the clamp to the middle of the bob, drawn aside by {angle}. Not to scale."
    return _svg(300, 270, said, parts)


def lamp_and_disc(asked: Asked) -> str:
    """Return lamp, turntable and screen from above and from the side."""
    near, far, radius = (asked("peg-lamp", key) for key in "DSA")
    parts = [*_peg_from_above(radius), _across(22, 180, 192, f"D = {near}"), _across(22, 285, 214, f"S = {far}")]
    parts += [*_peg_from_the_side(), _not_to_scale(306, 346)]
    said = (
        f"From above: lamp, axle and screen in one line, the axle {near} and the screen {far} from the lamp; the ball "
        f"goes round at {radius} from the axle, its angle counted from the line across. From the side: the lamp is as "
        "high as the ball, so it lies in the plane in which the ball goes round. Not to scale."
    )
    return _svg(310, 352, said, parts)


def _peg_from_above(radius: str) -> list[str]:
    lamp, y, axle, screen, r = 22.0, 95.0, 180.0, 285.0, 40.0
    across, along = r * math.cos(math.radians(40)), r * math.sin(math.radians(40))
    ball = (axle - along, y - across)
    shadow = y - across * (screen - lamp) / (axle - along - lamp)
    arc = f'<path class="thin" d="M{axle:g} {y - 22:g}A22 22 0 0 0 {axle - 0.55 * along:.4g} {y - 0.55 * across:.4g}"/>'
    return [
        _text(4, 12, "From above", "start"),
        *(_lamp(lamp, y), _circle(axle, y, r), _circle(axle, y, 2.5, "solid"), _circle(*ball, 5, "solid")),
        *(_line(lamp + 6, y, screen, y, "dashed"), _line(lamp + 6, y, screen, shadow, "dashed")),
        *(_line(axle, y, axle, y - r - 8, "dashed"), _line(axle, y, *ball), arc, _text(axle - 8, y - 26, "\u03b8")),
        *(_text(ball[0] - 8, ball[1] - 4, "ball", "end"), _line(screen, 18, screen, 168, "thick")),
        *(_text(screen - 5, shadow - 8, "shadow", "end"), _text(screen, 181, "screen")),
        *(_line(axle, y, axle, 152), _line(axle - r, y, axle - r, 152), _across(axle - r, axle, 149, "")),
        _text(axle + 6, 153, f"A = {radius}", "start"),
    ]


def _peg_from_the_side() -> list[str]:
    lamp, y, axle, ball, plate, floor, screen = 22.0, 268.0, 180.0, 154.0, 292.0, 322.0, 285.0
    return [
        _text(4, 234, "From the side", "start"),
        *(_lamp(lamp, y, -14), _line(lamp, y + 6, lamp, floor), _line(lamp + 6, y, screen, y, "dashed")),
        *(_line(axle - 48, plate, axle + 48, plate, "thick"), _box(axle - 16, plate + 3, 32, floor - plate - 3)),
        *(_line(ball, plate, ball, y, "thick"), _circle(ball, y, 5, "solid"), _text(ball, y - 11, "ball")),
        *(_text(axle - 54, plate + 4, "turntable", "end"), _text(lamp + 64, y - 6, "lamp and ball level")),
        *(_line(screen, 240, screen, floor, "thick"), _line(4, floor, 306, floor)),
    ]


def disc_and_spring(asked: Asked) -> str:
    """Return lamp, disc, mass and screen from above and from the side."""
    near, far, radius = (asked("disc-lamp", key) for key in "DSA")
    parts = [*_disc_from_above(), _across(20, 190, 170, f"D = {near}"), _across(20, 292, 192, f"S = {far}")]
    parts += [*_disc_from_the_side(radius), _not_to_scale(306, 394)]
    said = (
        "From above: the lamp stands in the plane in which the ball on the disc goes round, so it sees the disc "
        "edge-on; axle and drive are at right angles to the light. The mass hangs beside the disc, at the same "
        f"distance {near} from the lamp as the axle; its stand is farther out, clear of the light. The screen is {far} "
        f"from the lamp. From the side: lamp, axle and resting place of the mass are level; the ball is at {radius} "
        "from the axle, and the mass moves as far up and down. Not to scale."
    )
    return _svg(310, 400, said, parts)


def _beam(lamp: tuple[float, float], through: tuple[float, float], screen: float) -> str:
    """Return the ray from the lamp past a body to the screen."""
    end = lamp[1] + (through[1] - lamp[1]) * (screen - lamp[0]) / (through[0] - lamp[0])
    return _line(lamp[0] + 6, lamp[1], screen, end, "dashed")


def _disc_from_above() -> list[str]:
    lamp, axle, screen, plate = (20.0, 76.0), 190.0, 292.0, 62.0
    ball, mass, rod = (211.0, 76.0), (axle, 108.0), (232.0, 142.0)
    return [
        _text(4, 12, "From above", "start"),
        *(_lamp(*lamp), _beam(lamp, ball, screen), _beam(lamp, mass, screen)),
        *(_line(axle - 38, plate, axle + 38, plate, "thick"), _text(axle - 42, plate - 3, "disc, edge-on", "end")),
        *(_line(axle, plate, axle, 50, "thick"), _box(axle - 13, 26, 26, 24), _text(axle + 18, 42, "drive", "start")),
        *(_line(ball[0], plate, *ball), _circle(*ball, 5, "solid"), _text(ball[0] + 7, 90, "ball", "start")),
        *(_line(axle, plate, axle, 173, "dashed"), _box(mass[0] - 7, mass[1] - 7, 14, 14, "solid")),
        *(_text(mass[0] - 12, 124, "mass", "end"), _line(*mass, *rod, "thick"), _circle(*rod, 4, "solid")),
        *(_text(rod[0] + 8, 148, "stand", "start"), _line(screen, 20, screen, 158, "thick")),
        _text(screen + 14, 14, "screen", "end"),
    ]


def _disc_from_the_side(radius: str) -> list[str]:
    lamp, axle, screen, rod, floor, arm = (20.0, 302.0), (190.0, 302.0), 292.0, 240.0, 374.0, 222.0
    ball, mass = (211.0, 281.0), (190.0, 281.0)
    return [
        _text(4, 220, "From the side", "start"),
        *(_lamp(*lamp, -14), _line(20, 308, 20, floor), _line(26, 302, screen, 302, "dashed")),
        *(_beam(lamp, ball, screen), _beam(lamp, mass, screen), _circle(*axle, 38), _circle(*axle, 30, "dashed")),
        *(_circle(*axle, 2.5, "solid"), _circle(*ball, 5, "solid"), _spring(axle[0], arm, mass[1] - 9, 7, 7.0)),
        *(_box(mass[0] - 9, mass[1] - 9, 18, 18, "solid"), _line(axle[0], arm, rod + 6, arm, "thick")),
        *(_line(rod, arm - 8, rod, floor, "thick"), _box(rod - 16, floor - 6, 40, 6, "solid")),
        *(_foam(axle[0], floor, 50), _line(4, floor, 306, floor), _line(screen, 226, screen, floor, "thick")),
        *(_line(136, 272, axle[0], 272, "dashed"), _upright(140, 272, 302, "")),
        *(_text(134, 269, f"A = {radius}", "end"), _text(32, 322, "lamp, axle and mass", "start")),
        *(_text(32, 335, "at rest: level", "start"), _text(148, 352, "disc, behind the mass", "end")),
        _line(axle[0], 340, axle[0], floor - 18),
    ]


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
