"""A problem as it stands in a page: whole without a script, for its first set of numbers.

Every number in it that is drawn or worked out stands in an element of its own, a slot; a live page asks for the texts
of another set (`crankpin.problems.respond`) and puts them there.
"""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from html import escape
from pathlib import Path
from typing import Any

from jinja2 import Environment, FileSystemLoader
from markupsafe import Markup

from crankpin.calculator.declaration import Calculator
from crankpin.figures.charts import chart_svg
from crankpin.formulas import mathml
from crankpin.notation.blocks import read_pairs
from crankpin.notation.passages import Fence, Writers, fences, rewrite
from crankpin.problems import serialise
from crankpin.problems.declaration import Item, Problem, Question, Step
from crankpin.problems.kind import kind_named
from crankpin.problems.placeholders import PLACEHOLDER
from crankpin.problems.respond import MOST_VARIANTS, drawn
from crankpin.problems.variants import Variant

_BUTTONS = {"words": "Compare", "drawing": "My sketch is done: compare"}
_SLOT_IN_FORMULA = re.compile("<mtext>\ue000(\\d+)\ue000</mtext>")

#: Markdown to HTML, its formulas still to be converted.
Render = Callable[[str], str]
#: The HTML of a calculator or scene in a fence, and the id of its element.
Embed = Callable[[Fence, Mapping[str, str]], tuple[str, str]]


@dataclass(frozen=True)
class ProblemWriter:
    """Writes problems for one page."""

    calculators: Mapping[str, Calculator]
    render: Render
    embed: Embed

    def html(self, problem: Problem) -> str:
        """Return the HTML of a problem in a page, with its first set of numbers. Raises `AuthorError`."""
        return _Writing(self, Variant(problem, 1, self.calculators)).html("problem.html")

    def fields(self, variant: Variant) -> dict[str, Any]:
        """Return everything that is shown of a problem, in pieces of HTML. Raises `AuthorError`."""
        return _Writing(self, variant).fields()

    def on_paper(self, variant: Variant, *, solved: bool, space: float = 0.0, code: str = "") -> str:
        """Return a problem on a worksheet, with room to write (``space`` in cm a mark), or with its solution and marks.

        ``code`` is the HTML of a QR code. Raises `AuthorError`.
        """
        return _Writing(self, variant).html("problem_on_paper.html", solved=solved, space=space, code=Markup(code))


class _Writing:
    def __init__(self, writer: ProblemWriter, variant: Variant) -> None:
        self._writer, self._problem, self._number = writer, variant.problem, variant.number
        self._slots = serialise.slots(variant.problem)
        self._drawn = drawn(variant, self._slots)
        self._variant = variant

    def html(self, template: str, **more: Any) -> str:
        return str(_template(template).render(**self.fields(), **more))

    def fields(self) -> dict[str, Any]:
        problem = self._problem
        return {
            "id": problem.id,
            "title": problem.title,
            "level": problem.level,
            "marks": problem.marks,
            "needs": " and ".join(f"chapter {name.partition('-')[0].lstrip('0')}" for name in problem.needs[1:]),
            "text": self._text(problem.text),
            "parts": [self._part(question) for question in problem.questions],
            "drawn": bool(problem.draw) and any(len(drawn.values) > 1 for drawn in problem.draw),
            "most": MOST_VARIANTS,
            "variant": self._number,
            "data": _json(serialise.data(problem)),
        }

    def _part(self, question: Question) -> dict[str, Any]:
        kind = kind_named(question.kind)
        look, given = self._look(question)
        graph = self._graph(question) if question.graph else ""
        to_be_read = "number" in kind.asks
        return {
            "name": question.name,
            "kind": question.kind,
            "asks": kind.asks,
            "follows": question.goes_on_from,
            "text": self._text(question.text),
            "rows": self._items(question),
            "several": len([item for item in question.items if item.marked]) > 1,
            "graph": graph if to_be_read else "",
            "graph_model": "" if to_be_read else graph,
            "button": "That is my guess" if question.look else _BUTTONS.get(kind.asks[0], "Check"),
            "reasons": [
                {"place": place, "html": self._text(item.reason)}
                for place, item in enumerate(question.items)
                if item.reason
            ],
            "look": look,
            "given": given,
            "hints": [self._text(hint) for hint in question.hints],
            "model": self._text(question.model),
            "points": [self._step(step) for step in question.points],
            "solution": [self._step(step) for step in question.solution],
            "marks": f"[{question.marks}]",
            "worth": question.marks,
            "key": kind.key(question, self._variant).replace(" ", "\u00a0"),
        }

    def _items(self, question: Question) -> list[dict[str, Any]]:
        order = self._drawn["orders"].get(question.name, range(len(question.items)))
        return [{"place": place, "html": self._item(question.items[place])} for place in order]

    def _item(self, item: Item) -> Markup:
        return Markup(_inline(self._text(item.text)))

    def _step(self, step: Step) -> dict[str, Any]:
        marks = " ".join(step.marks)
        return {"html": Markup(_inline(self._text(step.text))), "marks": marks, "worth": step.worth}

    def _graph(self, question: Question) -> Markup:
        picture = self._drawn["graphs"][question.name]
        prefix = f"{self._problem.id}-{question.name or 'graph'}-drawn"
        return Markup(chart_svg(picture, picture["numbers"], prefix=prefix))

    def _look(self, question: Question) -> tuple[Markup, str]:
        """Return what opens after a guess, and which inputs of its calculators follow the numbers drawn."""
        parts, given, at = [], {}, 0
        lines = question.look.split("\n")
        for fence in fences(lines):
            parts.append(self._text("\n".join(lines[at : fence.first])))
            pairs = read_pairs(fence.body)
            shown = {key: PLACEHOLDER.sub(lambda m: self._plain(m["asked"]), text) for key, text in pairs.items()}
            html, element_id = self._writer.embed(fence, shown)
            parts.append(Markup(html))
            given[element_id] = {
                key: self._slots.index(asked["asked"].strip())
                for key, text in pairs.items()
                if (asked := PLACEHOLDER.fullmatch(text.strip()))
            }
            at = fence.last + 1
        parts.append(self._text("\n".join(lines[at:])))
        return Markup("").join(parts), json.dumps(given)

    def _plain(self, asked: str) -> str:
        return str(self._drawn["slots"][self._slots.index(asked.strip())])

    def _text(self, text: str) -> Markup:
        """Return Markdown as HTML with its formulas, every number in a slot."""
        if not text.strip():
            return Markup("")
        writers = Writers(lambda asked, _: self._slot(asked), lambda asked, _: self._slot_in_formula(asked), _known)
        html = mathml.convert(self._writer.render("\n".join(rewrite(text.split("\n"), writers))))
        return Markup(_SLOT_IN_FORMULA.sub(lambda found: self._in_formula(int(found[1])), html))

    def _slot(self, asked: str) -> str:
        at = self._at(asked)
        return f'<span class="number" data-slot="{at}">{escape(self._drawn["slots"][at], quote=False)}</span>'

    def _slot_in_formula(self, asked: str) -> str:
        return rf"\text{{{chr(0xE000)}{self._at(asked)}{chr(0xE000)}}}"

    def _in_formula(self, at: int) -> str:
        return f'<mtext data-slot="{at}">{escape(self._drawn["slots"][at], quote=False)}</mtext>'

    def _at(self, asked: str) -> int:
        known = [" ".join(slot.split()) for slot in self._slots]
        return known.index(" ".join(asked.split()))


def overview_html(problems: Sequence[Problem]) -> str:
    """Return the list of a page's problems, in which a live page shows what is done."""
    return str(_template("overview.html").render(problems=problems))


def _known(tex: str, display: bool, line: int) -> None:
    """Pass a formula over: it is told when it is converted."""


def _inline(html: str) -> str:
    """Return the HTML of one paragraph without its tags."""
    found = re.fullmatch(r"<p>(.*)</p>", html.strip(), re.DOTALL)
    return found[1] if found and "<p>" not in found[1] else html


def _json(data: Mapping[str, Any]) -> Markup:
    return Markup(json.dumps(data, ensure_ascii=False, separators=(",", ":")).replace("<", "\\u003c"))


@cache
def _template(name: str) -> Any:
    folder = FileSystemLoader(Path(__file__).parent / "templates")
    return Environment(loader=folder, autoescape=True, trim_blocks=True, lstrip_blocks=True).get_template(name)
