"""Scenes in a printed chapter: the still, and beneath it what is drawn, in words and numbers."""

import re

import pytest

from crankpin.elements.scene import scene_html
from crankpin.notation.course import Course
from crankpin.paper.document import _SCENE, _still


@pytest.mark.parametrize(
    ("kind", "options", "told"),
    [
        (
            "wheel",
            {"A": "12 cm", "omega": "18 rpm", "arrows": "v a"},
            "The turning wheel. The point at twelve equal times in a turn. One of them is drawn in full: "
            "angle 60°; time 0.56 s; position 6.0 cm; velocity −0.196 m/s; acceleration −0.213 m/s².",
        ),
        ("spiral", {}, "and its spiral. The point at four equal times in every turn. One of them is drawn in full:"),
    ],
)
def test_a_printed_scene_is_its_still_with_its_numbers(kind: str, options: dict[str, str], told: str) -> None:
    printed = _SCENE.sub(_still, f"<p>Before.</p>{scene_html(kind, options, 'one', course=Course({}))}<p>After.</p>")
    assert printed.startswith('<p>Before.</p><figure class="still"><svg')
    assert printed.endswith("</figcaption></figure><p>After.</p>")
    (caption,) = re.findall(r"<figcaption>(.*?)</figcaption>", printed)
    assert told in caption.replace("\u202f", " ").replace("\xa0", " ")
    assert "Drag" not in printed
