"""Markdown in, HTML out."""

import markdown
import pytest

from crankpin.course.extension import CrankpinExtension
from crankpin.faults import AuthorError, CourseFaultsError, Place
from crankpin.notation.course import Course

OTHERS = ["admonition", "tables", "pymdownx.superfences", "pymdownx.arithmatex"]
SETTINGS = {"pymdownx.arithmatex": {"generic": True}}
NB = "\u00a0"


def stub(course: Course, name: str, given: dict[str, str], element_id: str) -> str:
    return f"<crankpin-stub id={element_id}>{name} {given}</crankpin-stub>"


def html(text: str, course: Course, first_line: int = 1) -> str:
    own = CrankpinExtension(course, Place("chapters/02-edge-on.md", first_line), calculator=stub, scene=stub)
    return markdown.markdown(text, extensions=[*OTHERS, own], extension_configs=SETTINGS)


def test_a_calculator_stands_in_the_place_of_its_block(course: Course) -> None:
    text = "Before\n```calculator edge-on\n# ours\nA = 12 cm\n\nt = 0.4 s\n```\nAfter"
    assert html(text, course) == (
        "<p>Before</p>\n<crankpin-stub id=edge-on>edge-on {'A': '12 cm', 't': '0.4 s'}</crankpin-stub>\n<p>After</p>"
    )


def test_a_case_brings_its_values_and_its_name(course: Course) -> None:
    omega = course.evaluation("pier-wheel").outputs["omega"].value
    made = html("```calculator pump-rod\nt = 1 s\n```", course)
    assert made.startswith("<crankpin-stub id=pump-rod>edge-on ")
    assert f"'omega': '{omega!r} rad/s'" in made
    assert "'t': '1 s'" in made


def test_a_second_embedding_has_an_id_of_its_own(course: Course) -> None:
    made = html("```calculator edge-on\n```\n\n```calculator edge-on\n```", course)
    assert "id=edge-on>" in made
    assert "id=edge-on-2>" in made


def test_a_table_is_given_in_indented_lines(course: Course) -> None:
    made = html("```calculator edge-on\nA = 1 cm\n   2 3\n   4 5\n```", course)
    assert "'A': '1 cm\\n2 3\\n4 5'" in made


def test_a_scene_stands_in_the_place_of_its_block(course: Course) -> None:
    assert "<crankpin-stub id=wheel>wheel {'r': '1.8 m'}" in html("```scene wheel\nr = 1.8 m\n```", course)


def test_inside_an_admonition(course: Course) -> None:
    made = html("!!! example\n\n    Text\n\n    ```calculator edge-on\n    A = 1 cm\n    ```\n\n    more", course)
    assert made.index('<div class="admonition example">') < made.index("<crankpin-stub") < made.index("<p>more</p>")
    assert "<p><crankpin-stub" not in made


def test_a_case_prints_nothing(course: Course) -> None:
    assert html("a\n\n```case slow-rod edge-on\nA = 8 cm\n```\n\nb", course) == "<p>a</p>\n<p>b</p>"


def test_numbers_in_prose_tables_headings_and_maths(course: Course) -> None:
    number = f'<span class="number">0.754{NB}m/s</span>'
    assert html("v is {= pier-wheel.v =}.", course) == f"<p>v is {number}.</p>"
    assert f"<h2>At {number}</h2>" in html("## At {= pier-wheel.v =}", course)
    cell = f'<span class="number">12.0{NB}cm</span>'
    assert f"<td>{cell}</td>" in html("| a | b |\n|---|---|\n| x | {= edge-on.x_max | A = 12 cm =} |", course)
    assert r"\(v = 0.754\,\mathrm{m/s}\)" in html("$v = {= pier-wheel.v =}$", course)


def test_code_shows_the_notation_as_it_is(course: Course) -> None:
    made = html("`{= a.b =}`\n\n````\n```calculator edge-on\n{= a.b =}\n```\n````", course)
    assert "<code>{= a.b =}</code>" in made
    assert "```calculator edge-on\n{= a.b =}" in made


def test_every_fault_of_a_page_is_told_with_its_line(course: Course) -> None:
    text = "\n".join(
        [
            "{= pier-wheel.w =}",
            "",
            "```calculator edge-of",
            "```",
            "",
            "```calculator edge-on",
            "A 12",
            "```",
            "",
            "A formula $x =",
            r"\foo$ here.",
            "",
            "```scene",
            "```",
        ]
    )
    with pytest.raises(CourseFaultsError) as told:
        html(text, course, first_line=5)
    lines = str(told.value).splitlines()
    assert [line.split(": ")[0] for line in lines] == [f"chapters/02-edge-on.md:{n}" for n in (5, 7, 10, 14, 17)]
    assert "{= pier-wheel.w =}: pier-wheel has no quantity w" in lines[0]
    assert "there is no calculator or case edge-of (did you mean edge-on?)" in lines[1]
    assert r'cannot be read at "\foo"' in lines[3]


def test_an_unknown_scene_is_told(course: Course) -> None:
    def scene(course: Course, name: str, given: dict[str, str], element_id: str) -> str:
        raise AuthorError(f"there is no scene {name}")

    own = CrankpinExtension(course, Place("a.md", 1), scene=scene)
    with pytest.raises(CourseFaultsError, match=r"a\.md:1: there is no scene whirl"):
        markdown.markdown("```scene whirl\n```", extensions=[own])


def test_the_real_calculator_is_baked_in(course: Course) -> None:
    own = CrankpinExtension(course, Place("a.md", 1))
    made = markdown.markdown("```calculator pump-rod\n```", extensions=[own])
    assert 'data-calculator="edge-on"' in made
    assert 'id="pump-rod"' in made
    assert "<p><crankpin" not in made


@pytest.mark.parametrize(
    ("heading", "shared"), [("## Wheel one", ""), ("## Wheel", "wheel"), ("## Turning { #wheel-v }", "wheel-v")]
)
def test_a_heading_with_the_id_of_a_calculator_or_scene_is_told(course: Course, heading: str, shared: str) -> None:
    def scene(course: Course, name: str, given: dict[str, str], element_id: str) -> str:
        return f'<crankpin-scene id="{element_id}"><input id="{element_id}-v"></crankpin-scene>'

    own = CrankpinExtension(course, Place("chapters/02-edge-on.md", 1), scene=scene)
    page = markdown.Markdown(extensions=[*OTHERS, "toc", "attr_list", own], extension_configs=SETTINGS)
    text = f"{heading}\n\n```scene wheel\n```\n"
    if not shared:
        assert 'id="wheel-one"' in page.convert(text)
        return
    with pytest.raises(CourseFaultsError, match=f'a heading and "scene wheel" both have the id {shared}; '):
        page.convert(text)
