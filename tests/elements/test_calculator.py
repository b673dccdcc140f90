import re
from dataclasses import replace
from html import unescape
from html.parser import HTMLParser

import pytest

from crankpin.calculator.declaration import Choice, Input, Table
from crankpin.calculator.evaluate import evaluate
from crankpin.elements.calculator import calculator_html
from crankpin.faults import AuthorError
from crankpin.site import policy


class Elements(HTMLParser):
    """Every element of a piece of HTML, with its attributes and its own text."""

    def __init__(self, html):
        super().__init__()
        self.found = []
        self.open = []
        self.feed(html)
        assert not self.open, f"left open: {self.open}"

    def handle_starttag(self, tag, attributes):
        one = {"tag": tag, "text": "", **dict(attributes)}
        self.found.append(one)
        if tag not in ("input", "br"):
            self.open.append(one)

    def handle_endtag(self, tag):
        assert self.open.pop()["tag"] == tag, f"</{tag}> closes another element"

    def handle_data(self, data):
        for one in self.open:
            one["text"] += data

    def all(self, tag, **attributes):
        wanted = {key.replace("_", "-"): value for key, value in attributes.items()}
        return [one for one in self.found if one["tag"] == tag and wanted.items() <= one.items()]

    def one(self, tag, **attributes):
        (found,) = self.all(tag, **attributes)
        return found


@pytest.fixture
def edge_on(calculators):
    return Elements(calculator_html("edge-on", {}, "edge-on", calculators=calculators))


def test_the_element_is_the_one_of_the_contract(edge_on):
    element = edge_on.found[0]
    assert element["id"] == element["data-calculator"] == "edge-on"
    assert element["data-state"] == "printed"


def test_every_calculator_has_each_control_and_each_result_once(calculators):
    for name, calculator in calculators.items():
        page = Elements(calculator_html(name, {}, "one", calculators=calculators))
        names = [one["name"] for one in page.found if "name" in one]
        assert len(names) == len(set(names)), name
        for one in calculator.inputs:
            tag = {Input: "input", Choice: "select", Table: "textarea"}[type(one)]
            assert page.one(tag, name=one.key), (name, one.key)
        for found in evaluate(calculator).outputs.values():
            shown = page.one("output", name=found.key)
            if found.value is None:
                assert shown["text"] == found.reason
                assert shown["data-value"] == ""
            else:
                assert shown["text"] == found.text
                same = shown["data-value"] if isinstance(found.value, str) else float(shown["data-value"])
                assert same == found.value


def test_a_number_keeps_what_was_typed_and_its_unit(calculators):
    page = Elements(calculator_html("edge-on", {"A": "0,130 m", "omega": "33.3rpm"}, "x", calculators=calculators))
    assert page.one("input", name="A")["value"] == "0,130"
    assert [one["value"] for one in page.all("option") if "selected" in one] == ["m", "rpm", "rad", "s"]
    assert page.one("output", name="x_max")["text"] == "0.130 m"


def test_a_number_field_suits_a_phone(edge_on):
    for key in ("A", "omega", "phi", "t"):
        field = edge_on.one("input", name=key)
        assert (field["inputmode"], field["autocomplete"]) == ("decimal", "off")
        assert edge_on.one("label", **{"for": field["id"]})["text"]
        assert edge_on.one("p", id=field["aria-describedby"])


def test_ids_are_unique_also_with_two_of_a_kind(calculators):
    html = "".join(calculator_html("edge-on", {}, f"edge-on{tail}", calculators=calculators) for tail in ("", "-2"))
    ids = re.findall(r'\sid="([^"]*)"', html)
    assert len(ids) == len(set(ids))
    pointers = re.findall(r'\s(?:for|aria-labelledby|aria-describedby)="([^"]*)"', html)
    assert {one for pointer in pointers for one in pointer.split()} <= set(ids)


@pytest.mark.parametrize(
    ("unit", "low", "high", "step", "same"),
    [
        ("cm", "1", "50", "1", "12"),
        ("m", "0.01", "0.5", "0.01", "0.12"),
        ("mm", "10", "500", "10", "120"),
    ],
)
def test_the_slider_is_known_in_every_unit(edge_on, unit, low, high, step, same):
    option = edge_on.one("option", value=unit)
    assert [option[f"data-{name}"] for name in ("low", "high", "step", "same")] == [low, high, step, same]


def test_sliders_stop_at_whole_steps(calculators):
    for name in calculators:
        for option in Elements(calculator_html(name, {}, "x", calculators=calculators)).all("option"):
            if "data-step" not in option:
                continue
            low, high, step = (float(option[f"data-{end}"]) for end in ("low", "high", "step"))
            assert low < high, (name, option)
            assert low / step == pytest.approx(round(low / step), abs=1e-6), (name, option)
            assert high / step == pytest.approx(round(high / step), abs=1e-6), (name, option)


def test_a_period_slides_between_the_periods_of_the_ends(edge_on):
    seconds = edge_on.all("option", value="s")[0]
    assert 0.52 <= float(seconds["data-low"]) < float(seconds["data-high"]) <= 12.57


def test_only_a_number_that_may_be_negative_can_change_its_sign(edge_on):
    assert [one["aria-label"] for one in edge_on.all("button", data_do="sign")] == ["initial phase: change the sign"]


def test_an_absent_result_says_why(calculators):
    given = {"omega": "2 rad/s", "x0": "0 m", "v0": "0 m/s"}
    reason = evaluate(calculators["starting-state"], given).outputs["phi"].reason
    page = Elements(calculator_html("starting-state", given, "x", calculators=calculators))
    assert reason
    assert page.one("output", name="phi")["text"] == reason
    assert "data-absent" in page.one("output", name="phi")


def test_the_figure_and_its_words_are_printed(edge_on, calculators):
    drawing = edge_on.one("svg", role="img")
    assert drawing["viewbox"].startswith("0 0 ")
    words = edge_on.one("desc")["text"]
    assert unescape(words) == evaluate(calculators["edge-on"]).picture().words


def test_nothing_in_it_breaks_the_content_policy(calculators):
    for name in calculators:
        moved = policy.Moved()
        page = f"<meta charset='utf-8'>{calculator_html(name, {}, name, calculators=calculators)}"
        policy.strict(page.replace("'", '"', 2), "./", moved)
        assert not moved.files
        assert not moved.rules, name


def test_the_same_calculator_gives_the_same_html(calculators):
    first, second = (calculator_html("edge-on", {"t": "1 s"}, "x", calculators=calculators) for _ in range(2))
    assert first == second


def test_what_cannot_be_used_is_told_with_the_elements_name(calculators):
    with pytest.raises(AuthorError, match=r"^pump: There is no input called B; .*A, amplitude: -1 cm was given"):
        calculator_html("edge-on", {"A": "-1 cm", "B": "2"}, "pump", calculators=calculators)


def test_text_is_text(calculators):
    odd = replace(calculators["edge-on"], title="A < B & 'C'")
    html = calculator_html("edge-on", {}, "x", calculators={"edge-on": odd})
    assert "A &lt; B &amp; &#x27;C&#x27;</p>" in html


@pytest.mark.parametrize(
    ("mass", "low", "high", "step"),
    [("1000 g", "50", "1000", "50"), ("1.5 t", "0.1", "2", "0.1"), ("2.1 kg", "0.4", "5", "0.2")],
)
def test_a_slider_reaches_the_printed_number(calculators, mass, low, high, step):
    page = Elements(calculator_html("spring-mass", {"m": mass}, "one", calculators=calculators))
    slider = page.one("input", type="range", aria_label="mass, slider")
    assert (slider["min"], slider["max"], slider["step"]) == (low, high, step)
