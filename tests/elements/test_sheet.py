"""A calculator on paper, from what is given alone."""

import re

from crankpin.calculator.catalogue import load_catalogue
from crankpin.elements.embedded import Embedded
from crankpin.elements.sheet import sheet_html
from tests.paper.conftest import ROOT

CALCULATORS = load_catalogue(ROOT / "calculators")


def sheet(name, given, **more):
    return sheet_html(CALCULATORS[name], given, element_id="one", figure="", **{"address": "", **more})


def readings(html):
    tables = re.findall(r'<table class="ruled readings">(.*?)</table>', html, re.DOTALL)
    heads = [re.findall(r'<th scope="col">(.*?)</th>', table, re.DOTALL) for table in tables]
    return heads, [cell for table in tables for cell in re.findall(r"<td>(.*?)</td>", table)]


def test_readings_stand_under_their_headings_with_a_true_minus():
    heads, cells = readings(sheet("sine-fit", {"data": WAVE}))
    assert len(heads) == 3 and all(head == ["t / h", "x"] for head in heads)
    assert "−2" in cells and "-2" not in cells and "t / h" not in cells


WAVE = "t / h; x\n" + "\n".join(f"{i}; {value}" for i, value in enumerate((0, 2, 0, -2, 0.1, 2, 0.2, -2)))


def test_readings_without_headings_get_those_of_the_columns():
    rows = CALCULATORS["tide-height"].inputs
    table = next(one for one in rows if type(one).__name__ == "Table")
    heads, cells = readings(sheet("tide-height", {table.key: table.default}))
    assert all(len(head) == 4 and head[0] == "name" and all(head) for head in heads)
    assert " / m" in heads[0][1] and "deg" not in "".join(heads[0])
    assert "M2" in cells


def test_a_count_is_printed_as_typed():
    html = sheet("repeated-readings", {"times": "7.86\n7.95\n7.91", "N": "10"})
    assert "<td>10</td>" in html and "10.0" not in html


def test_readings_travel_in_the_link_unless_they_are_too_many():
    few = Embedded("fit", "line-fit", {"rows": "mass / kg; T / s\n0.1; 0.477\n0.2; -0.6", "x": "1 kg"})
    assert few.is_carried()
    assert few.query() == "?fit.rows=mass%20/%20kg;T%20/%20s%0A0.1;0.477%0A0.2;-0.6&fit.x=1kg#fit"
    many = Embedded("fit", "line-fit", {"rows": "\n".join(f"{i}; {i}" for i in range(900)), "x": "1 kg"})
    assert not many.is_carried()
    assert many.query() == "?fit.x=1kg#fit"
    told = "without these readings"
    given = {"data": WAVE}
    address = "https://harbour.example/q/abcdef/"
    assert told in sheet("sine-fit", given, address=address, carried=False)
    assert told not in sheet("sine-fit", given, address=address)


def test_an_input_that_was_asked_stands_among_what_is_found():
    pendulum = CALCULATORS["pendulum"]
    printed = sheet_html(pendulum, {"find": "L", "T": "2.00 s"}, element_id="p", figure="", address="")
    given, found = printed.split("</table>")[0], printed.split('<p class="sheet-part">Found</p>')[1]
    assert "2.00 s" in given
    assert "99.38 cm" not in given
    assert "99.38 cm" in found
