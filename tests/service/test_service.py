import json

import pytest

from crankpin.browser.bundle import course_archive
from crankpin.calculator.evaluate import evaluate
from crankpin.service.service import (
    FIRST_ROOM,
    TABLE_ROWS,
    CalculatorService,
    converted,
    open_service,
    shown,
    tables_html,
    with_unit,
)
from tests.browser.conftest import ROOT


@pytest.fixture
def service(calculators):
    return CalculatorService(lambda name: calculators.files[name].read_text(encoding="utf-8"))


@pytest.mark.parametrize(
    ("text", "unit", "together"),
    [
        ("12", "cm", "12 cm"),
        (" 1,5e-3 ", "m", "1,5e-3 m"),
        ("12mm", "cm", "12mm"),
        ("3", "1", "3"),
        ("20", "%", "20 %"),
        ("2", "1/s", "2 1/s"),
        ("", "cm", ""),
        ("twelve", "cm", "twelve"),
    ],
)
def test_a_number_gets_the_chosen_unit_unless_it_brings_its_own(text, unit, together):
    assert with_unit(text, unit) == together


def test_an_answer_is_the_evaluation(service, calculators):
    found = json.loads(service.answer("edge-on", json.dumps({"A": ["12", "cm"], "t": ["700", "ms"]})))
    expected = evaluate(calculators["edge-on"], {"A": "12 cm", "t": "700 ms"})
    for key, one in expected.outputs.items():
        assert found["outputs"][key]["value"] == one.value
        assert found["outputs"][key]["text"] == one.text
    assert found["inputs"]["t"] | {"value": 0.7, "chosen": "ms", "typed": "700", "plain": "700"} == found["inputs"]["t"]


def test_a_brief_answer_has_everything_but_working_and_table(service):
    given = json.dumps({"A": ["20", "cm"]})
    whole, brief = (json.loads(service.answer("edge-on", given, short)) for short in (False, True))
    assert set(whole["parts"]) == {"cautions", "working", "table"}
    assert whole["parts"].pop("working") and whole["parts"].pop("table")
    assert brief == whole


def test_numbers_stand_where_the_picture_says(service):
    found = json.loads(service.answer("edge-on", "{}"))
    first = found["picture"]["panels"][0]["curves"][0]
    assert service.numbers[first["start"] + first["count"]] == 12.0, "x at the start, in cm"
    last = found["picture"]["panels"][-1]["curves"][-1]
    assert service.count == last["start"] + 2 * last["count"]


def test_the_numbers_keep_their_place_while_they_are_lent_out(service):
    service.answer("edge-on", "{}")
    with memoryview(service.numbers):
        before = service.numbers
        for text in ("0.7", "later", "0.9"):
            service.answer("edge-on", json.dumps({"t": [text, "s"]}))
        assert service.numbers is before


def test_more_numbers_than_there_is_room_for_get_another_place(service):
    service.room = 8
    service.numbers = service.numbers[:8]
    service.answer("edge-on", "{}")
    assert service.room == len(service.numbers) == 2 * service.count
    assert service.count < FIRST_ROOM


def test_faults_come_as_data(service):
    found = json.loads(service.answer("edge-on", json.dumps({"A": ["-1", "cm"], "Q": ["1", ""]})))
    assert [fault["key"] for fault in found["faults"]] == ["Q", "A"]
    assert found["faults"][1]["allowed"] == "greater than zero"
    assert service.count == 0


@pytest.mark.parametrize(
    ("key", "text", "unit", "wanted", "typed"),
    [
        ("A", "12", "cm", "m", "0.12"),
        ("A", "12", "cm", "cm", "12"),
        ("A", "120 mm", "cm", "m", "0.12"),
        ("omega", "30", "rpm", "s", "2"),
        ("omega", "2", "s", "rpm", "30"),
        ("phi", "−90", "deg", "rad", "−1.57079632679"),
        ("A", "twelve", "cm", "m", None),
        ("A", "1e99", "cm", "m", None),
        ("A", "12", "cm", "rpm", None),
    ],
)
def test_another_unit(calculators, key, text, unit, wanted, typed):
    assert converted(calculators["edge-on"], key, text, unit, wanted) == typed


def test_what_a_unit_change_types_can_be_read_again(calculators):
    for unit in ("m", "mm"):
        typed = converted(calculators["edge-on"], "A", "0.00001", "cm", unit)
        again = evaluate(calculators["edge-on"], {"A": f"{typed} {unit}"})
        assert again.outputs["x_max"].value == pytest.approx(1e-7, rel=1e-12)


def test_the_working_has_a_line_for_every_result(calculators):
    for name, calculator in calculators.items():
        found, _ = shown(name, calculator, {})
        there = [key for key, one in found["outputs"].items() if one["value"] is not None]
        assert [found["parts"]["working"].count(f'data-key="{key}"') for key in there] == [1] * len(there), name


def test_the_table_has_the_ends_of_every_curve(calculators):
    found, numbers = shown("edge-on", calculators["edge-on"], {})
    table = found["parts"]["table"]
    assert table.count("<table") == 1, "three curves over the same times"
    assert table.count("<tr>") == TABLE_ROWS + 1
    assert '<th scope="col"><i>x</i> / cm</th><th scope="col"><i>v</i> / (m/s)</th>' in table
    assert "<td>0</td><td>12.0</td><td>0</td><td>−1.08</td>" in table
    assert table.rstrip().endswith("<td>4.19</td><td>12.0</td><td>0</td><td>−1.08</td></tr></tbody></table>")
    assert tables_html(found["picture"], numbers) == table


def test_text_in_a_table_heading_is_text():
    panel = {
        "horizontal": {"title": "t"},
        "vertical": {"title": "x/A_max"},
        "curves": [{"label": "a<b & c", "start": 0, "count": 1}],
    }
    assert "a&lt;b &amp; c: <i>x</i>/<i>A</i><sub>max</sub></th>" in tables_html({"panels": [panel]}, [0.0, 1.0])


def test_a_service_reads_the_calculators_of_an_archive_when_they_are_asked_for(tmp_path, calculators):
    archive = tmp_path / "course.zip"
    broken = tmp_path / "broken_one.py"
    broken.write_text("raise SystemExit('read without being asked for')", encoding="utf-8")
    archive.write_bytes(course_archive({**calculators.files, "broken-one": broken}, whole=False))
    found = json.loads(open_service(str(archive)).answer("turning-rate", "{}"))
    assert found["outputs"]["T"]["text"] == "15.0 s"


def test_the_page_side_needs_nothing_that_the_pages_python_lacks():
    source = (ROOT / "src/crankpin/service/service.py").read_text(encoding="utf-8")
    imported = {line.split()[1].split(".")[0] for line in source.splitlines() if line.startswith(("import ", "from "))}
    assert imported == {"array", "collections", "crankpin", "json", "typing", "zipimport"}
