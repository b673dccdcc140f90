"""A problem in a page as built."""

from html.parser import HTMLParser

import markdown
import pytest

from crankpin.course.extension import CrankpinExtension
from crankpin.faults import CourseFaultsError, Place
from crankpin.notation.cases import Case
from crankpin.notation.course import Course
from crankpin.problems.variants import Variant
from tests.problems.test_harbour import CALCULATORS, FILES, PROBLEMS

CHAPTERS = [file.read_text(encoding="utf-8").split("---", 2)[2] for file in FILES]


def convert(text, **settings):
    extension = CrankpinExtension(Course(CALCULATORS), Place("problems/p.md", 1), **settings)
    extensions = ["md_in_html", "attr_list", "pymdownx.arithmatex", extension]
    return markdown.Markdown(
        extensions=extensions, extension_configs={"pymdownx.arithmatex": {"generic": True}}
    ).convert(text)


class Seen(HTMLParser):
    """Collects the problems of a page, their ids, and whether every tag is closed."""

    void = frozenset({"input", "br", "hr", "img", "path", "circle", "link", "meta"})

    def __init__(self):
        super().__init__()
        self.problems, self.ids, self.open = [], [], []

    def handle_starttag(self, tag, attributes):
        found = dict(attributes)
        if "data-problem" in found:
            self.problems.append(found["data-problem"])
        if "id" in found:
            self.ids.append(found["id"])
        if tag not in self.void:
            self.open.append(tag)

    def handle_startendtag(self, tag, attributes):
        self.handle_starttag(tag, attributes)
        if tag not in self.void:
            self.open.pop()

    def handle_endtag(self, tag):
        assert self.open.pop() == tag


@pytest.fixture(scope="module", params=range(len(CHAPTERS)), ids=[file.stem for file in FILES])
def page(request):
    return convert(CHAPTERS[request.param])


def test_each_problem_is_one_element_and_every_tag_is_closed(page):
    seen = Seen()
    seen.feed(page)
    assert seen.open == []
    assert len(seen.problems) == len(set(seen.problems)) > 0
    assert len(seen.ids) == len(set(seen.ids))


def test_nothing_of_the_notation_is_left(page):
    assert "{=" not in page
    assert "\ue000" not in page
    assert "[x]" not in page


def test_the_first_set_of_numbers_stands_in_the_page():
    whole = "".join(map(convert, CHAPTERS))
    for problem in PROBLEMS:
        variant = Variant(problem, 1, CALCULATORS)
        for question in problem.questions:
            if question.answer:
                assert variant.text(question.answer.key).replace(" ", "\u00a0") in whole


PROBLEM = """~~~problem some
title = "Some"
level = "standard"
answer = "v"

[draw]
r = "= wheel.r"

[work]
v = "2*r in m"
---
How much is {= r =}?

# Hints
1. a
2. b
3. c

# Solution
- $v = 2 \\times {= r =} = {= v =}$ (M1)
~~~
"""


def faults(text, **settings):
    with pytest.raises(CourseFaultsError) as raised:
        convert(text, **settings)
    return str(raised.value)


def test_a_case_can_be_quoted(monkeypatch):
    cases = {"wheel": Case("wheel", "turning-rate", {"r": "1.8 m"}, Place("harbour.toml", 1))}
    extension = CrankpinExtension(Course(CALCULATORS, cases), Place("p.md", 1))
    page = markdown.Markdown(extensions=[extension]).convert(PROBLEM)
    assert "1.8\u00a0m" in page
    assert "3.60\u00a0m" in page


def test_faults_are_told_with_the_pages_line():
    assert "problems/p.md:9" in faults("\n\n" + PROBLEM)  # there is no case wheel


def test_an_id_is_taken_once():
    text = PROBLEM.replace("= wheel.r", "1.8 m")
    assert "the id some is already taken" in faults(text + "\n" + text)


def test_a_formula_that_cannot_be_read_stops_the_build():
    text = PROBLEM.replace("= wheel.r", "1.8 m").replace("$v = 2", "$v = \\frac{2")
    assert "cannot be read" in faults(text)


def test_variants_are_tried():
    text = PROBLEM.replace("= wheel.r", "1.8 m").replace("2*r in m", "ln(-r) in m")
    assert "impossible" in faults(text)
