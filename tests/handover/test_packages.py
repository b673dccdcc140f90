"""Packages: the numbers of the sheet, bounds that mark as the page does, and a reader that finds faults."""

import re
import zipfile
from decimal import Decimal
from xml.etree.ElementTree import fromstring

import pytest

from crankpin.handover import qti12
from crankpin.handover.cartridge import Folder
from crankpin.handover.cartridge import files as cartridge_files
from crankpin.handover.packages import write_cartridge, write_questions
from crankpin.handover.qti21 import QTI, files, response_of
from crankpin.handover.questions import items_of, plain_decimal
from crankpin.handover.reader import PackageFaultsError, check_cartridge, check_qti21, marks
from crankpin.problems.kind import kind_named
from crankpin.problems.placeholders import filled
from crankpin.problems.quantities import unit_of
from crankpin.problems.variants import Variant
from tests.problems.test_harbour import CALCULATORS, PROBLEMS

NUMBERS = (1, 2, 3)


def packed():
    return [(problem.title, items_of(problem, NUMBERS, CALCULATORS)) for problem in PROBLEMS]


@pytest.fixture(scope="module")
def package():
    return files("Turning", packed())


def items(problem):
    return zip((NUMBERS if problem.draw else NUMBERS[:1]), items_of(problem, NUMBERS, CALCULATORS), strict=True)


def test_the_reader_finds_no_fault(package):
    check_qti21(package)


def test_a_test_picks_one_set_of_each_problem(package):
    test = fromstring(package["test.xml"])
    sections = test.findall(f".//{{{QTI}}}assessmentSection")
    assert len(sections) == len(PROBLEMS)
    for section, problem in zip(sections, PROBLEMS, strict=True):
        assert section.find(f"{{{QTI}}}selection").get("select") == "1"
        assert len(section.findall(f"{{{QTI}}}assessmentItemRef")) == (3 if problem.draw else 1)


def spaced(text):
    return re.sub(r"\s+", "", text.replace("\u00a0", ""))


@pytest.mark.parametrize("problem", PROBLEMS, ids=lambda problem: problem.id)
def test_an_item_shows_the_numbers_of_the_sheet(problem, package):
    for number, item in items(problem):
        shown = spaced("".join(fromstring(package[f"items/{item.id}.xml"]).itertext()))
        variant = Variant(problem, number, CALCULATORS)
        for drawn in problem.draw:
            if "{= " + drawn.key + " =}" in problem.text:
                assert spaced(filled("{= " + drawn.key + " =}", variant)) in shown


@pytest.mark.parametrize("problem", PROBLEMS, ids=lambda problem: problem.id)
def test_bounds_accept_and_refuse_as_the_page_does(problem, package):
    for number, item in items(problem):
        variant = Variant(problem, number, CALCULATORS)
        xml = package[f"items/{item.id}.xml"]
        for part in item.parts:
            for asked in part.asked:
                if asked.form != "number":
                    continue
                question = problem.question(asked.name)
                unit = unit_of(*_unit(question, variant))
                room = (Decimal(asked.high) - Decimal(asked.low)) / 2
                middle = (Decimal(asked.high) + Decimal(asked.low)) / 2
                for off, right in ((0, True), (-0.99, True), (0.99, True), (-1.01, False), (1.01, False), (2, False)):
                    answer = middle + room * Decimal(off)
                    given = {response_of(asked): str(answer)}
                    assert (marks(xml, given) == asked.marks) is right
                    if question.kind != "mend":
                        typed = f"{answer:f} {'' if unit.symbol == '1' else unit.symbol}"
                        told = kind_named(question.kind).mark(question, variant, typed, {})
                        assert (told.state == "right") is right, (problem.id, number, typed)


def _unit(question, variant):
    form = variant.forms[question.answer.key]
    return form.dimension, form.unit


@pytest.mark.parametrize("problem", PROBLEMS, ids=lambda problem: problem.id)
def test_right_answers_have_all_marks_and_none_has_none(problem, package):
    for _, item in items(problem):
        xml = package[f"items/{item.id}.xml"]
        given = {}
        for part in item.parts:
            for asked in part.asked:
                if asked.form != "words":
                    single = asked.form in ("number", "line") or (asked.form == "choices" and not asked.several)
                    given[response_of(asked)] = asked.right[0] if single else list(asked.right)
        assert marks(xml, given) == item.marks
        assert marks(xml, {}) == 0


def test_plain_decimals():
    assert [plain_decimal(x) for x in (1e-7, 1e9, 0.1, -2.50)] == ["0.0000001", "1000000000", "0.1", "-2.5"]


def test_qti12_has_the_same_bounds():
    tree = fromstring(qti12.file("Turning", packed()))
    assert len(tree.findall(".//section")) == len(PROBLEMS)
    assert all(one.text == "1" for one in tree.iter("selection_number"))
    for problem in PROBLEMS:
        for _, item in items(problem):
            element = next(one for one in tree.iter("item") if one.get("ident") == item.id)
            bounds = [(one.get("respident"), one.text) for one in element.iter() if one.tag in ("vargte", "varlte")]
            wanted = []
            for part in item.parts:
                for asked in part.asked:
                    if asked.form == "number":
                        wanted += [(response_of(asked), asked.low), (response_of(asked), asked.high)]
            assert bounds == wanted
            assert sum(int(one.text) for one in element.iter("setvar")) == item.marks


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        (b"<textEntryInteraction", b"<textBox", "there is no element textBox"),
        (b"</itemBody>", b"", "is not XML"),
        (b'identifier="SCORE"', b'identifier="POINTS"', "is not declared"),
        (b' adaptive="false"', b"", "needs the attribute adaptive"),
        (b' timeDependent="false"', b' timeDependent="false" colour="red"', "has no attribute colour"),
        (b"<itemBody>", b"<itemBody><script>x</script>", "script cannot stand in itemBody"),
        (b'<baseValue baseType="float">', b'<baseValue baseType="float">1e', "is no plain decimal"),
    ],
)
def test_the_reader_tells_what_is_wrong(package, old, new, told):
    name = "items/ten-turns-1.xml"
    assert old in package[name]
    with pytest.raises(PackageFaultsError, match=told):
        check_qti21(package | {name: package[name].replace(old, new, 1)})


def test_the_reader_misses_files_and_entries(package):
    short = {name: data for name, data in package.items() if name != "items/ten-turns-1.xml"}
    with pytest.raises(PackageFaultsError, match="which is not there"):
        check_qti21(short)
    with pytest.raises(PackageFaultsError, match="is not in the manifest"):
        check_qti21(package | {"extra.svg": b"<svg/>"})


def test_a_cartridge_links_to_chapters_and_calculators(tmp_path):
    folders = [
        Folder("1 Turning", (("Turning", "https://harbour.example/a/"), ("Calculator", "https://harbour.example/a/#b")))
    ]
    check_cartridge(cartridge_files("A course", folders))
    path = write_cartridge("A course", folders, tmp_path)
    with zipfile.ZipFile(path) as archive:
        assert sorted(archive.namelist()) == ["imsmanifest.xml", "link-1-1.xml", "link-1-2.xml"]
        assert b'href="https://harbour.example/a/#b"' in archive.read("link-1-2.xml")


def test_equal_problems_give_equal_packages(tmp_path):
    first = write_questions("T", PROBLEMS[:2], [1, 2], CALCULATORS, tmp_path / "a")
    second = write_questions("T", PROBLEMS[:2], [1, 2], CALCULATORS, tmp_path / "b")
    assert [path.read_bytes() for path in first] == [path.read_bytes() for path in second]
