"""Set-up drawings of the bench cards, made with the teacher's own lengths: plain ink, lengths written beside.

Drawings are not to scale and say so; the numbers on them are the kit's own. Each can be set up as it is drawn.
Every part that stands in the set-up carries its name, as the card's list of the kit gives it (`parts_of`).
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from html import escape

Asked = Callable[[str, str], str]
"""Gives a quantity of the kit as text: the case's name, then the quantity's key, with the unit after a space."""

Point = tuple[float, float]


def _line(x1: float, y1: float, x2: float, y2: float, kind: str = "thin") -> str:
    return f'<path class="{kind}" d="M{x1:.4g} {y1:.4g}L{x2:.4g} {y2:.4g}"/>'


def _text(x: float, y: float, words: str, anchor: str = "middle") -> str:
    """Return words at a point; a quantity's letter before an equals sign is italic."""
    letter, equals, rest = words.partition(" = ")
    shown = f'<tspan font-style="italic">{letter}</tspan> = {escape(rest)}' if equals else escape(words)
    return f'<text x="{x:.4g}" y="{y:.4g}" text-anchor="{anchor}">{shown}</text>'


def _part(name: str, shape: str, x: float, y: float, anchor: str = "middle") -> str:
    """Return a part of the set-up: its shape, and its name at a point."""
    return f'<g data-part="{name}">{shape}{_text(x, y, name, anchor)}</g>'


def _view(name: str, *parts: str) -> str:
    return f'<g data-view="{name}">{"".join(parts)}</g>'


def _circle(x: float, y: float, radius: float, kind: str = "thick") -> str:
    return f'<circle class="{kind}" cx="{x:.4g}" cy="{y:.4g}" r="{radius:.4g}"/>'


def _box(x: float, y: float, width: float, height: float, kind: str = "thick") -> str:
    return f'<rect class="{kind}" x="{x:.4g}" y="{y:.4g}" width="{width:.4g}" height="{height:.4g}"/>'


def _length(start: Point, end: Point) -> str:
    """Return a dimension line with an arrow at both ends."""
    (x1, y1), (x2, y2) = start, end
    far = math.dist(start, end)
    along, aside = (7 * (x2 - x1) / far, 7 * (y2 - y1) / far), (3 * (y1 - y2) / far, 3 * (x2 - x1) / far)

    def tip(x: float, y: float, way: int) -> str:
        back, left, right = (x + way * along[0], y + way * along[1]), aside, (-aside[0], -aside[1])
        corners = [(back[0] + dx, back[1] + dy) for dx, dy in (left, right)]
        return f"M{x:.4g} {y:.4g}" + "".join(f"L{cx:.4g} {cy:.4g}" for cx, cy in corners) + "Z"

    return _line(x1, y1, x2, y2) + f'<path class="solid" d="{tip(x1, y1, 1)}{tip(x2, y2, -1)}"/>'


def _across(x1: float, x2: float, y: float, words: str) -> str:
    return _length((x1, y), (x2, y)) + _text((x1 + x2) / 2, y - 5, words)


def _upright(x: float, y1: float, y2: float, words: str) -> str:
    return _length((x, y1), (x, y2)) + _text(x + 7, (y1 + y2) / 2 + 4, words, "start")


def _spring(x: float, top: float, bottom: float, turns: int = 9, half: float = 9.0) -> str:
    """Return a spring as a zigzag with straight ends."""
    first, last = top + 8, bottom - 8
    step = (last - first) / (2 * turns)
    points = [(x + (half if i % 2 else -half), first + (i + 0.5) * step) for i in range(2 * turns)]
    way = "".join(f"L{px:.4g} {py:.4g}" for px, py in points)
    return f'<path class="thick" d="M{x:g} {top:g}L{x:g} {first:g}{way}L{x:g} {last:g}L{x:g} {bottom:g}"/>'


def _lamp(x: float, y: float, below: float = 26.0) -> str:
    """Return a lamp, its rays and, ``below`` it, its name; a negative distance puts the name above."""
    rays = "".join(
        _line(x + 9 * math.cos(a), y + 9 * math.sin(a), x + 15 * math.cos(a), y + 15 * math.sin(a))
        for a in (math.radians(degrees) for degrees in range(-60, 61, 30))
    )
    return _part("lamp", _circle(x, y, 6, "solid") + rays, x, y + below)


def _clamped_stand(rod: float, arm: float, reach: float, bench: float) -> str:
    """Return a stand with its arm, held to the bench by a G-clamp at the end of its foot."""
    foot = _box(rod - 30, bench - 6, 70, 6, "solid")
    stand = foot + _line(rod, bench - 6, rod, arm - 12, "thick") + _line(rod - 6, arm, reach, arm, "thick")
    stand += _box(rod - 5, arm - 5, 10, 10, "solid")
    jaws = f'<path class="thick" d="M{rod - 18:g} {bench - 7:g}v-6h-20v26h20v-5"/>'
    return (
        _part("stand", stand, rod + 6, bench - 60, "start")
        + _line(4, bench, 306, bench)
        + _line(4, bench + 6, 306, bench + 6)
        + _part("G-clamp", jaws, rod - 38, bench + 27, "start")
    )


def _not_to_scale(y: float) -> str:
    return _text(306, y, "not to scale", "end")


def hung_mass(asked: Asked) -> str:
    """Return a mass on a spring at rest, with the stretch and the amplitude."""
    return _hung(asked("load-hung", "stretch"), asked("load", "A"), card=False)


def damped_mass(asked: Asked) -> str:
    """Return a mass with a card on a spring."""
    return _hung("", asked("card", "x0"), card=True)


def _hung(stretch: str, amplitude: str, *, card: bool) -> str:
    x, arm, top, rest, low, bench, rule, aside = 138.0, 24.0, 140.0, 155.0, 196.0, 258.0, 178.0, 212.0
    parts = [_clamped_stand(52, arm, x + 10, bench), _part("spring", _spring(x, arm, top), x - 14, 84, "end")]
    parts += [_part("mass", _box(x - 15, top, 30, 30, "solid"), x - 20, rest + 4, "end")]
    parts += [_part("foam box", _box(x - 36, bench - 18, 72, 18, "hatched"), x, bench + 20)]
    parts += [_part("rule", _rule(rule, 66, bench), rule + 5, 60)]
    if card:
        parts += [_part("card", _line(x - 32, 175, x + 32, 175, "thick"), x - 37, 179, "end")]
    if stretch:
        parts += [_line(x + 15, 86, aside + 6, 86, "dashed"), _text(rule + 14, 81, "end of empty spring", "start")]
        parts += [_line(x + 15, top, aside + 6, top, "dashed"), _upright(aside, 86, top, f"stretch {stretch}")]
    parts += [
        _part("marker", f'<path class="solid" d="M{rule - 12:g} {rest:g}l12 -4v8Z"/>', aside + 10, rest + 4, "start")
    ]
    parts += [_text(aside + 51, rest + 4, "at rest", "start")]
    parts += [_line(x + 15, rest, aside + 6, rest, "dashed"), _line(x + 15, low, aside + 6, low, "dashed")]
    parts += [_text(aside + 10, low + 4, "let go here", "start"), _upright(aside, rest, low, f"A = {amplitude}")]
    said = (
        "A mass hangs at rest from a spring on a stand that is clamped to the bench; under it stands a foam box, "
        f"beside it a rule with a marker at the resting position.{' A card is fixed under the mass.' if card else ''} "
        f"The mass is let go {amplitude} below its resting position. Not to scale."
    )
    return _svg(290, said, [*parts, _not_to_scale(284)])


def _rule(x: float, top: float, bottom: float) -> str:
    marks = "".join(_line(x, y, x + (6 if i % 5 else 9), y) for i, y in enumerate(range(int(top), int(bottom), 8)))
    return _box(x, top, 10, bottom - top, "thin") + marks


def pendulum(asked: Asked) -> str:
    """Return a bob on a thread, drawn aside."""
    length, angle = asked("bob", "L"), asked("bob", "theta_max")
    x, jaws, long, bench = 150.0, 38.0, 180.0, 258.0
    drawn = math.radians(20)
    bob = (x + long * math.sin(drawn), jaws + long * math.cos(drawn))
    beside = 14 * math.cos(drawn), -14 * math.sin(drawn)
    clamp = _box(x - 10, jaws - 16, 8, 16, "solid") + _box(x + 2, jaws - 16, 8, 16, "solid")
    clamp += _line(x, jaws - 16, x, jaws)
    way = f"M{bob[0]:.4g} {bob[1]:.4g}A{long:g} {long:g} 0 0 1 {2 * x - bob[0]:.4g} {bob[1]:.4g}"
    arc = f'<path class="dashed" d="{way}"/>'
    parts = [_clamped_stand(52, jaws - 8, x - 10, bench), _part("clamp", clamp, x + 16, jaws - 14, "start"), arc]
    parts += [_part("protractor", _protractor(x, jaws, 44), x + 52, jaws + 10, "start")]
    parts += [_line(x, jaws, x, jaws + long, "dashed"), _text(x + 13, jaws + 62, angle)]
    parts += [_part("thread", _line(x, jaws, *bob, "thick"), x + 37, jaws + 128, "end")]
    parts += [_part("bob", _circle(*bob, 9, "solid"), bob[0] + 14, bob[1] + 6, "start")]
    parts += [_length((x + beside[0], jaws + beside[1]), (bob[0] + beside[0], bob[1] + beside[1]))]
    parts += [_text(x + 56, jaws + 84, f"L = {length}", "start")]
    parts += [_part("foam", _box(x - 30, bench - 10, 100, 10, "hatched"), x + 20, bench + 20)]
    parts += [_part("marker", _line(x, bench - 26, x, bench - 10, "thick"), x - 6, bench - 15, "end")]
    said = (
        f"A bob on a thread, {length} from the jaws of the clamp to the middle of the bob, drawn aside by {angle}; the "
        "stand is clamped to the bench, foam lies below, a marker stands under the middle. Not to scale."
    )
    return _svg(290, said, [*parts, _not_to_scale(284)])


def _protractor(x: float, y: float, radius: float) -> str:
    marks = ""
    for degrees in range(0, 181, 15):
        c, s = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
        marks += _line(x + radius * c, y + radius * s, x + (radius - 6) * c, y + (radius - 6) * s)
    return f'<path class="thin" d="M{x - radius:g} {y:g}A{radius:g} {radius:g} 0 0 0 {x + radius:g} {y:g}Z"/>' + marks


def lamp_and_disc(asked: Asked) -> str:
    """Return lamp, turntable and screen from above and from the side."""
    near, far, radius = (asked("peg-lamp", key) for key in "DSA")
    lengths = [_across(22, 180, 192, f"D = {near}"), _across(22, 285, 214, f"S = {far}")]
    above = (
        f"From above: lamp, axle and screen in one line, the axle {near} and the screen {far} from the lamp; the ball "
        f"goes round at {radius} from the axle, its angle counted from the line across. Not to scale."
    )
    side = (
        "From the side: the lamp is as high as the ball, so it lies in the plane in which the ball goes round. "
        "Not to scale."
    )
    return _svg(218, above, [_peg_from_above(radius), *lengths]) + _svg(
        126, side, [_peg_from_the_side(), _not_to_scale(344)], top=222
    )


def _shadow(lamp: Point, body: Point, screen: float) -> Point:
    """Return where the ray from the lamp past a body meets the screen."""
    return screen, lamp[1] + (body[1] - lamp[1]) * (screen - lamp[0]) / (body[0] - lamp[0])


def _ray(lamp: Point, body: Point, screen: float) -> str:
    return _line(*lamp, *_shadow(lamp, body, screen), "dashed")


def _peg_from_above(radius: str) -> str:
    lamp, axle, screen, r = (22.0, 95.0), (180.0, 95.0), 285.0, 40.0
    along, across = r * math.sin(math.radians(40)), r * math.cos(math.radians(40))
    ball = (axle[0] - along, axle[1] - across)
    shadow = _shadow(lamp, ball, screen)
    arc = f"M{axle[0]:g} {axle[1] - 22:g}A22 22 0 0 0 {axle[0] - 0.55 * along:.4g} {axle[1] - 0.55 * across:.4g}"
    return _view(
        "above",
        _text(4, 12, "From above", "start"),
        _lamp(*lamp),
        _part("turntable", _circle(*axle, r + 8), axle[0] + 36, axle[1] + 47, "start"),
        _circle(*axle, r, "dashed") + _circle(*axle, 2.5, "solid"),
        _line(lamp[0] + 6, lamp[1], screen, lamp[1], "dashed") + _ray(lamp, ball, screen),
        _line(*axle, axle[0], axle[1] - r - 14, "dashed") + _line(*axle, *ball),
        f'<path class="thin" d="{arc}"/>' + _text(axle[0] - 8, axle[1] - 26, "θ"),
        _part("ball", _circle(*ball, 5, "solid"), ball[0] - 8, ball[1] - 5, "end"),
        _part("screen", _line(screen, 18, screen, 160, "thick"), screen, 174),
        _circle(*shadow, 3, "solid") + _text(screen - 6, shadow[1] - 8, "shadow", "end"),
        _line(*axle, axle[0], 156) + _line(axle[0] - r, axle[1], axle[0] - r, 156),
        _length((axle[0] - r, 153), (axle[0], 153)) + _text(axle[0] - r - 6, 157, f"A = {radius}", "end"),
    )


def _peg_from_the_side() -> str:
    lamp, axle, ball, plate, floor, screen = (22.0, 268.0), 180.0, (154.3, 268.0), 292.0, 322.0, 285.0
    return _view(
        "side",
        _text(4, 234, "From the side", "start"),
        _lamp(*lamp, -12) + _line(lamp[0], lamp[1] + 6, lamp[0], floor),
        _line(lamp[0] + 6, lamp[1], screen, ball[1], "dashed") + _text(34, 284, "lamp level with ball", "start"),
        _part("turntable", _line(axle - 48, plate, axle + 48, plate, "thick"), axle - 54, plate + 16, "end"),
        _part("drive", _box(axle - 16, plate + 3, 32, floor - plate - 3), axle + 22, floor - 8, "start"),
        _part("peg", _line(ball[0], plate, *ball, "thick"), ball[0] + 6, plate - 6, "start"),
        _part("ball", _circle(*ball, 5, "solid"), ball[0], ball[1] - 11),
        _part("strip of paper", _box(screen - 5, 244, 3, 60, "thin"), screen - 10, 254, "end"),
        _part("screen", _line(screen, 240, screen, floor, "thick"), screen, 236),
        _line(4, floor, 306, floor),
    )


def disc_and_spring(asked: Asked) -> str:
    """Return lamp, disc, mass and screen from above and from the side."""
    near, far, radius = (asked("disc-lamp", key) for key in "DSA")
    lengths = [_across(20, 190, 180, f"D = {near}"), _across(20, 292, 202, f"S = {far}")]
    above = (
        "From above: the lamp stands in the plane in which the ball on the disc goes round, so it sees the disc "
        "edge-on; axle and drive are at right angles to the light. The mass hangs beside the disc, at the same "
        f"distance {near} from the lamp as the axle; its stand is farther out, clear of the light. A clear guard "
        f"stands between disc and mass. The screen is {far} from the lamp. Not to scale."
    )
    side = (
        f"From the side: lamp, axle and resting position of the mass are level; the ball is at {radius} from the axle, "
        "and the mass moves as far up and down. Not to scale."
    )
    return _svg(206, above, [_disc_from_above(), *lengths]) + _svg(
        190, side, [_disc_from_the_side(radius), _not_to_scale(402)], top=214
    )


def _disc_from_above() -> str:
    lamp, axle, screen, plate = (20.0, 76.0), 190.0, 292.0, 54.0
    ball, mass, rod = (211.0, 76.0), (axle, 119.0), (250.0, 156.0)
    return _view(
        "above",
        _text(4, 12, "From above", "start"),
        _lamp(*lamp) + _ray(lamp, ball, screen) + _ray(lamp, mass, screen),
        _part("disc", _line(axle - 38, plate, axle + 38, plate, "thick"), axle - 44, plate + 3, "end"),
        _part("drive", _line(axle, plate, axle, 42, "thick") + _box(axle - 13, 18, 26, 24), axle + 18, 34, "start"),
        _part("pin", _line(ball[0], plate, *ball, "thick"), ball[0] + 6, plate + 14, "start"),
        _part("ball", _circle(*ball, 5, "solid"), ball[0] + 9, ball[1] + 13, "start"),
        _part("guard", _line(axle - 44, 97, axle + 48, 97), axle - 49, 96, "end"),
        _line(axle, plate, axle, 183, "dashed"),
        _part("mass", _box(mass[0] - 7, mass[1] - 7, 14, 14, "solid"), mass[0] - 12, mass[1] + 16, "end"),
        _part("stand", _line(*mass, *rod, "thick") + _circle(*rod, 4, "solid"), rod[0] + 8, rod[1] + 5, "start"),
        _part("screen", _line(screen, 20, screen, 164, "thick"), screen, 14),
        *(_circle(*_shadow(lamp, body, screen), 3, "solid") for body in (ball, mass)),
        _text(screen - 6, 112, "shadows", "end"),
    )


def _disc_from_the_side(radius: str) -> str:
    lamp, axle, screen, rod, floor, arm = (20.0, 306.0), (190.0, 306.0), 292.0, 250.0, 378.0, 226.0
    ball, mass = (211.2, 284.8), (190.0, 284.8)
    drive = _box(axle[0] - 34, floor - 5, 68, 5) + _line(axle[0], axle[1], axle[0], floor - 5)
    stand = _line(axle[0], arm, rod + 6, arm, "thick") + _line(rod, arm - 8, rod, floor, "thick")
    stand += _box(rod - 10, floor - 6, 44, 6, "solid")
    return _view(
        "side",
        _text(4, 226, "From the side", "start"),
        _lamp(*lamp, -12) + _line(lamp[0], lamp[1] + 6, lamp[0], floor),
        _line(lamp[0] + 6, lamp[1], screen, lamp[1], "dashed") + _ray(lamp, ball, screen) + _ray(lamp, mass, screen),
        _part("disc", _circle(*axle, 38), axle[0] - 30, axle[1] + 46, "end"),
        _circle(*axle, 30, "dashed") + _circle(*axle, 2.5, "solid") + drive,
        _part("ball", _circle(*ball, 5, "solid"), ball[0] - 4, ball[1] + 16),
        _part("counterweight", _circle(2 * axle[0] - ball[0], 2 * axle[1] - ball[1], 5), 148, axle[1] + 29, "end"),
        _part("spring", _spring(axle[0], arm, mass[1] - 9, 7, 7.0), axle[0] - 12, 246, "end"),
        _part("mass", _box(mass[0] - 9, mass[1] - 9, 18, 18, "solid"), axle[0] + 13, mass[1] - 21, "start"),
        _part("stand", stand, rod + 6, 250, "start"),
        _part("foam box", _box(axle[0] - 26, floor - 18, 52, 18, "hatched"), axle[0], floor + 14),
        _line(4, floor, 306, floor)
        + _part("screen", _line(screen, 232, screen, floor, "thick"), screen + 14, 228, "end"),
        _line(136, axle[1] - 30, axle[0], axle[1] - 30, "dashed") + _length((140, axle[1] - 30), (140, axle[1])),
        _text(136, axle[1] - 34, f"A = {radius}", "end") + _text(32, axle[1] + 14, "lamp level with axle", "start"),
    )


def _svg(height: int, said: str, parts: list[str], top: int = 0) -> str:
    inside = "".join(parts)
    hatch = (
        '<defs><pattern id="hatch" width="5" height="5" patternUnits="userSpaceOnUse">'
        '<path class="thin" d="M0 5L5 0"/></pattern></defs>'
    )
    return (
        f'<svg class="setup" viewBox="0 {top} 310 {height}" role="img" aria-label="{escape(said, quote=True)}">'
        f"{hatch if 'hatched' in inside else ''}{inside}</svg>"
    )


def parts_of(drawing: str) -> list[str]:
    """Return the names of the parts of the set-up that stand in a drawing, each once, in order."""
    return list(dict.fromkeys(re.findall(r'data-part="([^"]+)"', drawing)))


#: The drawings that a card may name.
DRAWINGS: dict[str, Callable[[Asked], str]] = {
    "hung-mass": hung_mass,
    "damped-mass": damped_mass,
    "pendulum": pendulum,
    "lamp-and-disc": lamp_and_disc,
    "disc-and-spring": disc_and_spring,
}
