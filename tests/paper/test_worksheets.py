"""Worksheets, keys and solutions: the same numbers as everywhere, and nothing of them in what is published."""

import gzip
import io
import re
import zipfile

import pytest

from crankpin.build import BuildFailedError, print_sheets
from crankpin.faults import AuthorError
from crankpin.paper.document import Writer
from crankpin.paper.source import Source
from crankpin.paper.worksheets import SPACES, Order, Worksheets, read_order
from crankpin.problems.kind import short_answers
from crankpin.problems.respond import drawn
from crankpin.problems.serialise import slots
from crankpin.problems.variants import Variant
from crankpin.store.cache import Cache
from tests.problems.test_harbour import CALCULATORS, FILES, PROBLEMS, ROOT

SOURCE = Source("A course", "https://harbour.example/", "en", ())


def worksheets(tmp_path, problems, *, sheets=3, word=""):
    order = Order("Turning", tuple((problem, "problems/01-turning/") for problem in problems), sheets, word)
    return order, Worksheets(order, Writer(SOURCE, CALCULATORS, tmp_path, "", Cache(tmp_path)))


def plain(html):
    return re.sub(r"<[^>]+>", "", html).replace("\u00a0", " ")


@pytest.mark.parametrize("word", ["", "herring"])
def test_sheet_key_solution_and_page_show_the_same_numbers(tmp_path, word):
    order, written = worksheets(tmp_path, PROBLEMS, word=word)
    sheets, solutions = written.sheets(SPACES[0]).html, written.solutions().html
    key = plain(written.key().html)
    sheet_articles, solved_articles = sheets.split("<article>")[1:], solutions.split("<article>")[1:]
    assert len(sheet_articles) == len(solved_articles) == 3
    for sheet, (asked, solved) in enumerate(zip(sheet_articles, solved_articles, strict=True), 1):
        for problem in PROBLEMS:
            variant = Variant(problem, order.variant(sheet), CALCULATORS)
            on_page = drawn(variant, slots(problem))["slots"]
            for html in (asked, solved):
                shown = dict(re.findall(r'data-slot="(\d+)">([^<]*)<', part_of(html, problem)))
                assert shown or html is asked or not on_page  # a graph alone may be asked about
                assert all(on_page[int(at)] == text for at, text in shown.items())
            for text in short_answers(variant).values():
                assert text.replace("\u00a0", " ") in key


def part_of(html, problem):
    return next(part for part in html.split('<section class="problem">') if f">{problem.title} <" in part)


def test_a_sheet_tells_no_answer_and_a_solution_all_marks(tmp_path):
    _, written = worksheets(tmp_path, PROBLEMS)
    sheets, solutions = written.sheets(1.0).html, written.solutions().html
    assert "Answer:" not in sheets
    assert "problem-solution-steps" not in sheets.split("</style>")[1]
    for problem in PROBLEMS:
        shown = re.findall(r'class="problem-mark">([^<]*)<', part_of(solutions, problem))
        steps = [step for question in problem.questions for step in (*question.solution, *question.points)]
        assert [mark for text in shown for mark in text.split()] == [mark for step in steps for mark in step.marks]


def test_codes_lead_from_practice_sheets_and_from_no_graded_one(tmp_path):
    drawn_ones = [problem for problem in PROBLEMS if problem.draw]
    practice = worksheets(tmp_path, drawn_ones, sheets=2)[1].sheets(1.0).html
    assert practice.count("QR code that leads to https://harbour.example/problems/01-turning/?") == 2 * len(drawn_ones)
    assert "ten-turns.variant=2" in practice
    assert "QR code" not in worksheets(tmp_path, drawn_ones, word="herring")[1].sheets(1.0).html


def test_the_numbers_of_a_graded_set_are_offered_by_no_page():
    order = Order("Test", (), 30, "herring")
    assert all(order.variant(sheet) > 1000 for sheet in range(1, 31))
    assert len({order.variant(sheet) for sheet in range(1, 31)}) == 30


def test_problems_are_taken_in_the_order_asked_for(tmp_path):
    wanted = [PROBLEMS[3].id, PROBLEMS[0].id]
    found = read_order(FILES, wanted, CALCULATORS, {}, ROOT / "docs")
    assert [problem.id for problem, _ in found] == wanted
    assert found[0][1] == f"problems/{FILES[0].stem}/"
    with pytest.raises(AuthorError, match="there is no problem nowhere"):
        read_order(FILES, ["nowhere"], CALCULATORS, {}, ROOT / "docs")


def test_a_key_is_not_written_where_the_site_is_published():
    for folder in ("site/keys", "docs"):
        with pytest.raises(BuildFailedError, match="is published with the site"):
            print_sheets(ROOT, FILES[:1], [], number=1, title="x", out=ROOT / folder)


GRADED = """~~~problem secret-capstan
title = "Herringbone capstan"
level = "standard"
answer = "v"

[draw]
r = "1.2 to 2.4 m step 0.1"
T = "3.0 to 9.0 s step 0.1"

[work]
v = "circular.rim_speed(r, 2*pi/T) in m/s to 5"
---
The herringbone capstan of radius {= r =} turns once in {= T =}. How fast is its rim?

# Hints
1. a
2. b
3. c

# Solution
- Herringbone reasoning gives $v = {= v =}$ (M1)
~~~
"""


def everything_in(site):
    """Yield each file of a site, whole and unpacked, with its path."""
    for path in site.rglob("*"):
        if path.is_file():
            data = path.read_bytes()
            yield path, data
            if path.suffix == ".gz":
                data = gzip.decompress(data)
                yield path, data
            if data[:2] == b"PK":
                with zipfile.ZipFile(io.BytesIO(data)) as archive:
                    for name in archive.namelist():
                        yield path / name, archive.read(name)


@pytest.fixture(scope="module")
def graded(tmp_path_factory):
    """Build a course that has a graded set beside its pages, with its key."""
    from tests.browser.conftest import build_course

    folder = tmp_path_factory.mktemp("graded")
    (folder / "graded").mkdir()
    file = folder / "graded" / "test.md"
    file.write_text(GRADED, encoding="utf-8")
    [(problem, _)] = read_order([file], [], CALCULATORS, {}, folder / "docs")
    order, written = worksheets(folder, [problem], word="quayside-herring")
    (folder / "sheets").mkdir()
    key = written.key().html
    (folder / "sheets" / "key.html").write_text(key, encoding="utf-8")
    practice = (FILES[0].read_text(encoding="utf-8")).replace("../chapters/01-turning.md", "index.md")
    site = build_course(folder, {"index": "# A course\n\n```calculator edge-on\n```\n", "practice": practice})
    variants = [Variant(problem, order.variant(sheet), CALCULATORS) for sheet in (1, 2, 3)]
    answers = [text for variant in variants for text in short_answers(variant).values()]
    secrets = ["quayside-herring", "secret-capstan", "erringbone", *(str(one.number) for one in variants), *answers]
    return site, [secret.replace("\u00a0", " ") for secret in secrets]


def test_nothing_of_a_graded_set_is_in_the_site_or_the_browsers_bundle(graded):
    site, secrets = graded
    files = list(everything_in(site))
    assert any("crankpin/problems/respond.py" in str(path) for path, _ in files) or len(files) > 50
    for path, data in files:
        for secret in secrets:
            assert secret.encode() not in data, f"{secret} is in {path.relative_to(site)}"


def test_the_search_for_secrets_finds_what_is_published(graded):
    """The same search finds a practice problem, on its page and in the index."""
    site, _ = graded
    found = {path.relative_to(site).parts[0] for path, data in everything_in(site) if b"ten-turns" in data}
    assert "practice" in found


def test_the_teachers_page_shows_slips_marks_and_three_sets(tmp_path):
    _, written = worksheets(tmp_path, PROBLEMS)
    page = plain(written.for_teacher().html)
    for problem in PROBLEMS:
        assert problem.id in page
        for number in (1, 2, 3) if problem.draw else (1,):
            for text in short_answers(Variant(problem, number, CALCULATORS)).values():
                assert text.replace("\u00a0", " ") in page
        for question in problem.questions:
            assert all(slip.name.replace("_", " ") in page for slip in question.slips)
