"""A moving picture as it stands in a page before any script runs: a still, the numbers, and the samples that move it.

A chapter asks for one in a fenced block; the lines give inputs, as for a calculator, and what is to be seen:

    ```scene wheel
    A = = pump-crank.r
    line = vertical
    body = rod
    arrows = v a
    curves = x v a
    ```
"""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from html import escape
from pathlib import Path
from typing import Any

import crankpin.scenes
from crankpin.calculator.catalogue import load_catalogue
from crankpin.calculator.declaration import Calculator
from crankpin.calculator.tracks import STEPS_A_TURN
from crankpin.elements.calculator import evaluation_for, given_row, symbol_html
from crankpin.faults import AuthorError
from crankpin.figures.stage import BODIES, CURVES, LINES, Stage, stage
from crankpin.figures.stills import AT, Look, Readout, readouts_at, still_svg
from crankpin.notation.course import Course
from crankpin.service.service import shown_of

#: The scenes' names in the course's catalogue and in the worker's archive begin so.
FOLDER = "scenes/"
_SIGNIFICANT = 7


@cache
def scenes() -> Mapping[str, Calculator]:
    """Return the scenes by name."""
    return load_catalogue(Path(crankpin.scenes.__path__[0]))


def scene_html(kind: str, options: Mapping[str, str], element_id: str, *, course: Course) -> str:
    """Return one scene as HTML, whole without any script.

    ``options`` hold inputs as texts or references, and `line`, `body`, `arrows`, `curves`. Raises `AuthorError` with
    everything that is wrong with them.
    """
    options = worked_out(course, kind, options)
    look = _look(kind, options)
    name = FOLDER + kind
    given = {key: text for key, text in options.items() if key not in _LOOKS}
    evaluation = evaluation_for(scenes()[kind], given, element_id)
    found, numbers = shown_of(name, evaluation)
    picture = evaluation.picture()
    assert picture is not None
    plan = stage(look.line, look.curves, look.body)
    still = still_svg(picture, plan, look, prefix=f"{element_id}-drawn")
    return _Prerendered(kind, element_id, look, plan, found, numbers, still, readouts_at(picture, look)).html()


def worked_out(course: Course, kind: str, options: Mapping[str, str]) -> dict[str, str]:
    """Return the options of a scene with every reference to a case worked out. Raises `AuthorError`."""
    if kind not in scenes():
        raise AuthorError(f"there is no scene {kind}; there are {', '.join(scenes())}")
    name = FOLDER + kind
    known = Course({**course.calculators, name: scenes()[kind]}, course.cases)
    looks = {key: text for key, text in options.items() if key in _LOOKS}
    return known.given(name, {key: text for key, text in options.items() if key not in _LOOKS}) | looks


def _look(kind: str, options: Mapping[str, str]) -> Look:
    options = _USUAL.get(kind, {}) | dict(options)
    line = _one_of("line", options.get("line", "vertical"), LINES)
    body = _one_of("body", options.get("body", "spot"), BODIES)
    arrows = tuple(options.get("arrows", "none").replace("none", "").split())
    if not set(arrows) <= {"v", "a"}:
        raise AuthorError(f"arrows = {options['arrows']}: choose v, a, v a or none")
    curves = tuple(options.get("curves", "none").replace("none", "").split())
    if curves not in CURVES:
        raise AuthorError(f"curves = {options['curves']}: choose x, x v, x v a or none")
    if (line == "none") != (kind == "circle"):
        raise AuthorError("the scene circle has no line of motion (line = none), and every other scene has one")
    if line == "none" and curves:
        raise AuthorError("curves need a line of motion: line = vertical or line = horizontal")
    if line == "horizontal" and len(curves) > 1:
        raise AuthorError("beside line = horizontal there is room for curves = x only")
    if body == "pendulum" and line != "horizontal":
        raise AuthorError("a pendulum swings from side to side: body = pendulum needs line = horizontal")
    return Look(line, body, arrows, curves, _RADIUS.get(kind, ""))


_LOOKS = ("line", "body", "arrows", "curves")
#: What a scene shows unless the chapter says otherwise.
_USUAL: Mapping[str, dict[str, str]] = {
    "circle": {"line": "none"},
    "pendulum": {"line": "horizontal", "body": "pendulum"},
}

#: The letter of the circle's radius; that of the spiral has none, since it shrinks.
_RADIUS: Mapping[str, str] = {"circle": "r", "wheel": "A", "spring": "A", "pendulum": "A", "steady-circle": "A"}


def _key(look: Look, kind: str) -> str:
    """Return what the rings mean, and what can be taken hold of."""
    if kind == "spiral":
        rings = "Rings mark equal times, four per turn."
    elif look.line == "none":
        rings = "Rings mark equal times."
    else:
        rings = "Rings mark equal times: far apart on the line, fast; close together, slow."
    if look.line == "none" and look.arrows:
        rings += " At the side each arrow is drawn from a fixed point."
    drag = "Drag the ringed point" + (", or along the curve." if look.curves else ".")
    return f'{rings} <span class="scene-hint">{drag}</span>'


def _one_of(key: str, given: str, known: Sequence[str]) -> str:
    if given not in known:
        raise AuthorError(f"{key} = {given}: choose {', '.join(known)}")
    return given


@dataclass(frozen=True)
class _Prerendered:
    kind: str
    id: str
    look: Look
    plan: Stage
    found: Mapping[str, Any]
    numbers: Sequence[float]
    still: str
    readouts: Sequence[Readout]

    @property
    def scene(self) -> Calculator:
        return scenes()[self.kind]

    def html(self) -> str:
        title, purpose = escape(self.scene.title), escape(self.scene.purpose)
        return (
            f'<crankpin-scene class="calculator scene" id="{self.id}" data-scene="{self.kind}" '
            f'data-line="{self.look.line}" data-arrows="{" ".join(self.look.arrows)}" data-radius="{self.look.radius}" '
            f'data-state="printed" data-search-exclude role="group" aria-labelledby="{self.id}-title">'
            f'<p class="calculator-title" id="{self.id}-title">{title}</p>'
            f'<p class="calculator-purpose">{purpose}</p>'
            f'<figure class="scene-figure"><div class="scene-stage" data-shape="{self.plan.shape}" data-part="stage">'
            f"{self.still}</div>{self._readings()}"
            '<p class="scene-moment" data-part="moment"></p>'
            f'<figcaption class="scene-key">{_key(self.look, self.kind)}</figcaption></figure>'
            f"{self._doings()}{self._numbers()}"
            f'<script type="application/json" data-part="samples">{self._samples()}</script></crankpin-scene>'
        )

    def _readings(self) -> str:
        rows = "".join(
            f'<div data-reading="{one.key}" data-meaning="{escape(one.meaning)}">'
            f"<dt>{symbol_html(one.symbol)}</dt><dd>{escape(one.text)}</dd></div>"
            for one in self.readouts
        )
        return f'<dl class="scene-readings" data-part="readings">{rows}</dl>'

    def _numbers(self) -> str:
        rows = "".join(given_row(self.scene, one, self.found, f"{self.id}-{one.key}") for one in self.scene.inputs)
        results = "".join(self._result(one.key) for one in self.scene.outputs)
        return (
            f'<details class="scene-numbers"><summary>Change the numbers</summary>'
            f'<div class="calculator-sheet"><section class="calculator-given" aria-label="Given">{rows}'
            '<p class="calculator-fault" data-part="fault"></p></section>'
            f'<section class="calculator-find" aria-label="Find"><dl>{results}</dl></section></div>'
            '<div class="calculator-doings"><button type="button" data-do="link">Link to this picture</button>'
            '<label class="calculator-link" hidden><span data-part="link-words"></span>'
            '<input type="text" readonly data-part="link"></label>'
            '<p class="for-the-ear" role="status" data-part="said"></p></div></details>'
        )

    def _result(self, key: str) -> str:
        one, out = self.scene.output(key), self.found["outputs"][key]
        return (
            f'<div><dt>{symbol_html(one.symbol)} {escape(one.meaning)}</dt><dd><output name="{key}" aria-live="off" '
            f'data-value="{out["value"]!r}">{escape(out["text"])}</output></dd></div>'
        )

    def _doings(self) -> str:
        return (
            '<div class="scene-doings">'
            '<button type="button" data-do="back">5° back</button>'
            '<button type="button" data-do="go">Start</button>'
            '<button type="button" data-do="on">5° on</button>'
            '<label class="given-controls scene-time"><span>Time</span><input type="range" data-part="time" '
            'autocomplete="off" min="0" max="1" step="any"></label>'
            '<label><span>Speed</span> <select data-part="pace" autocomplete="off">'
            '<option value="1">real time</option><option value="0.1">one tenth</option>'
            '<option value="0.01">one hundredth</option><option value="4">four times</option></select></label>'
            '<button type="button" data-do="say">Read out the position</button>'
            '<p class="scene-word" role="status" data-part="word"></p></div>'
        )

    def _samples(self) -> str:
        prerendered = {
            "stage": self.plan.data(),
            "steps": STEPS_A_TURN,
            "at": AT / STEPS_A_TURN,
            "picture": {"panels": self.found["picture"]["panels"]},
            "numbers": [float(f"{one:.{_SIGNIFICANT}g}") for one in self.numbers],
        }
        return json.dumps(prerendered, separators=(",", ":")).replace("<", "\\u003c")
