"""Evaluations: what is given, what is found, what is refused."""

import math
from fractions import Fraction
from typing import Any

import pytest

from crankpin.calculator.declaration import Calculator, Caution, Choice, Column, Input, Output, PublishedCheck, Table
from crankpin.calculator.evaluate import evaluate
from crankpin.calculator.faults import Absent, InputFaultsError, RefusedError
from crankpin.mechanics.errors import AbsentError, OutOfDomainError


def length(key: str = "A", **changes: Any) -> Input:
    settings: dict[str, Any] = {
        "key": key,
        "symbol": "A",
        "meaning": "amplitude",
        "unit": "m",
        "also": ("cm",),
        "default": "12 cm",
        "lowest": "1 mm",
        "highest": "10 m",
        "slider": ("1 cm", "50 cm"),
        "step": "1 cm",
    }
    return Input(**(settings | changes))


def calculator(**changes: Any) -> Calculator:
    settings: dict[str, Any] = {
        "title": "A title",
        "purpose": "A purpose.",
        "inputs": (length(),),
        "outputs": (Output(key="d", symbol="d", meaning="diameter", unit="m", formula="2*A", shown_in="A"),),
        "function": lambda A: {"d": 2.0 * A},
        "checks": (PublishedCheck(source="common practice, no source", given={"A": "1 m"}, expect={"d": "2.0 m"}),),
    }
    return Calculator(**(settings | changes))


def messages(one: Calculator, **given: str | float) -> list[str]:
    with pytest.raises(InputFaultsError) as caught:
        evaluate(one, given)
    return [fault.message for fault in caught.value.faults]


def test_defaults_texts_and_numbers_in_si() -> None:
    assert evaluate(calculator()).outputs["d"].value == 0.24
    assert evaluate(calculator(), {"A": "50cm"}).outputs["d"].value == 1.0
    assert evaluate(calculator(), {"A": 0.5}).outputs["d"].value == 1.0


def test_a_number_without_a_unit_has_that_of_the_default_and_it_is_said() -> None:
    found = evaluate(calculator(), {"A": "0.5"}).inputs["A"]
    assert (found.value, found.note) == (0.005, "no unit was given; 0.5 cm was understood")


def test_a_result_follows_the_unit_that_was_chosen() -> None:
    assert evaluate(calculator(), {"A": "50 cm"}).outputs["d"].text == "100 cm"
    assert evaluate(calculator(), {"A": "0.5 m"}).outputs["d"].text == "1.00 m"


def test_what_is_read_back_of_an_input() -> None:
    reading = evaluate(calculator(), {"A": "12,34 cm"}).inputs["A"]
    assert (reading.text, reading.typed, reading.chosen, reading.value) == ("12.34 cm", "12,34", "cm", 0.1234)


@pytest.mark.parametrize(
    ("typed", "message"),
    [
        ("twelve", "A, amplitude: “twelve” is not a number; type a number such as 12 cm, from 0.1 cm to 1000 cm."),
        ("", "A, amplitude: nothing was given; type a number such as 12 cm, from 0.1 cm to 1000 cm."),
        ("3 kg", "A, amplitude: the unit “kg” is not known here; use m, cm."),
        ("24,000", "A, amplitude: “24,000” can be 24000 or 24.000; type the one that is meant, without the comma."),
        ("12 Mm", "A, amplitude: the capital M of “Mm” stands for a million; if mm is meant, type mm."),
        (
            "12 cm ± 2 kg",
            "A, amplitude: “12 cm ± 2 kg” was given; the uncertainty must be in the unit of the number, cm.",
        ),
        ("20 m", "A, amplitude: 20 m was given; it must be at most 10 m."),
        ("-5 cm", "A, amplitude: -5 cm was given; it must be greater than zero."),
    ],
)
def test_one_message_says_what_was_given_and_what_is_allowed(typed: str, message: str) -> None:
    assert messages(calculator(), A=typed) == [message]


@pytest.mark.parametrize(
    ("typed", "value", "uncertainty", "text", "rest"),
    [
        ("12.0(5) cm", 0.12, 0.005, "12.0(5) cm", ("12.0 ± 0.5", "cm")),
        ("12 ± 0.25 cm", 0.12, 0.0025, "12.00(25) cm", ("12 ± 0.25", "cm")),
        ("12 cm ± 2 %", 0.12, 0.0024, "12.00(24) cm", ("12 ± 0.24", "cm")),
        ("1 m ± 2 mm", 1.0, 0.002, "1.000(2) m", ("1 ± 0.002", "m")),
        ("250 mm ± 1 mm", 0.25, 0.001, "25.0(1) cm", ("25 ± 0.1", "cm")),
        ("0.005 km", 5.0, 0.0, "5.00 m", ("5", "m")),
    ],
)
def test_an_uncertainty_is_understood_beside_its_value(
    typed: str, value: float, uncertainty: float, text: str, rest: tuple[str, str]
) -> None:
    found = evaluate(calculator(), {"A": typed}).inputs["A"]
    assert (found.value, found.text, (found.typed, found.chosen)) == (value, text, rest)
    assert found.uncertainty == pytest.approx(uncertainty, rel=1e-12)
    again = evaluate(calculator(), {"A": f"{found.typed} {found.chosen}"}).inputs["A"]
    assert (again.value, again.uncertainty) == (value, pytest.approx(uncertainty, rel=1e-12))


def test_a_period_with_its_uncertainty_makes_a_rate_with_the_same_relative_one() -> None:
    rate = length("A", symbol=r"\\omega", meaning="rate", unit="rad/s", also=("s",), default="2 s", lowest="0.1 rad/s",
                  highest="10 rad/s", slider=("1 s", "9 s"), step="1 s")  # fmt: skip
    for typed in ("2.00(1) s", "2 s ± 10 ms"):
        found = evaluate(calculator(inputs=(rate,)), {"A": typed}).inputs["A"]
        assert found.uncertainty / found.value == pytest.approx(0.005)


def test_every_fault_is_told_at_once() -> None:
    two = calculator(inputs=(length(), length("B")), function=lambda A, B: {"d": A + B})
    assert len(messages(two, A="x", B="y", C="3")) == 3


def test_an_unknown_input_is_named_with_those_that_exist() -> None:
    assert messages(calculator(), R="1") == ["There is no input called R; there are A."]


def test_a_number_without_a_unit_may_come_as_text_or_as_a_number() -> None:
    share = length("q", symbol="q", meaning="share", unit="1", also=("%",), default="0.5", lowest="0", highest="1",
                   slider=("0", "1"), step="0.1")  # fmt: skip
    one = calculator(inputs=(share,), function=lambda q: {"d": q}, outputs=(Output(
        key="d", symbol="d", meaning="d", unit="1", formula="q"),))  # fmt: skip
    assert [evaluate(one, {"q": given}).inputs["q"].value for given in ("0.25", "25 %", 0.25)] == [0.25, 0.25, 0.25]


def test_a_count_is_a_whole_number() -> None:
    count = length("N", symbol="N", meaning="turns", unit="1", also=(), default="10", lowest="1", highest="50",
                   slider=("1", "50"), step="1", whole=True)  # fmt: skip
    one = calculator(inputs=(count,), function=lambda N: {"d": N}, outputs=(Output(
        key="d", symbol="d", meaning="d", unit="1", formula="N"),))  # fmt: skip
    assert evaluate(one, {"N": "12.0"}).outputs["d"].value == 12.0
    assert messages(one, N="2,5") == ["N, turns: 2,5 was given; it must be a whole number from 1 to 50."]


def test_both_ends_of_the_range_are_allowed() -> None:
    assert evaluate(calculator(), {"A": "0.1 cm"}).inputs["A"].value == 0.001
    assert evaluate(calculator(), {"A": "10 m"}).inputs["A"].value == 10.0


def test_a_period_of_zero_is_out_of_range_not_a_division_by_zero() -> None:
    rate = length("A", symbol=r"\omega", meaning="rate", unit="rad/s", also=("s",), default="2 s", lowest="0.1 rad/s",
                  highest="10 rad/s", slider=("1 s", "9 s"), step="1 s")  # fmt: skip
    assert messages(calculator(inputs=(rate,)), A="0 s") == [
        "A (T), rate: 0 s was given; it must be greater than zero."
    ]


def refuse(A: float) -> dict[str, float]:
    raise RefusedError("A", "within the basin", lowest=0.2, highest=0.5)


def outside(A: float) -> dict[str, float]:
    raise OutOfDomainError("radius", "above zero", A)


def absent(A: float) -> dict[str, float]:
    raise AbsentError("Nothing turns.")


@pytest.mark.parametrize(
    ("function", "message"),
    [
        (refuse, "A, amplitude: 12.0 cm was given; it must be within the basin, from 20 cm to 50 cm."),
        (outside, "A, amplitude: 12.0 cm was given; it must be above zero."),
        (absent, "Nothing turns."),
        (lambda A: {"d": 1.0 / 0.0}, None),
        (lambda A: {"d": math.exp(1e6)}, None),
        (lambda A: {"d": math.nan}, None),
        (lambda A: {"d": -math.inf}, None),
    ],
)
def test_what_the_function_raises_becomes_one_message(function: Any, message: str | None) -> None:
    one = calculator(inputs=(length(parameter="radius"),), function=function)
    told = messages(one)
    assert told == [message] if message else told[0].startswith("These numbers together give a result too large")


def test_an_absent_output_has_a_reason_and_no_number() -> None:
    found = evaluate(calculator(function=lambda A: {"d": Absent("There is no peak.")})).outputs["d"]
    assert (found.value, found.reason, found.text) == (None, "There is no peak.", "")


def test_dust_beside_a_scale_is_written_as_zero_but_kept_in_full() -> None:
    outputs = (Output(key="d", symbol="d", meaning="d", unit="m", method="-", dust_of="A"),)
    found = evaluate(calculator(outputs=outputs, function=lambda A: {"d": 7e-18})).outputs["d"]
    assert (found.text, found.value) == ("0 m", 7e-18)


def test_choices_tables_and_exact_numbers() -> None:
    seen: dict[str, Any] = {}

    def look(**given: Any) -> dict[str, Any]:
        seen.update(given)
        return {"d": "side by side"}

    one = calculator(
        inputs=(
            Choice(key="way", meaning="arrangement", default="beside",
                   options=(("beside", "side by side"), ("chain", "end to end"))),
            Table(key="data", meaning="readings", default="0; 1 cm\n1; 2 cm", columns=(
                Column(key="t", symbol="t", meaning="time", unit="s"),
                Column(key="x", symbol="x", meaning="position", unit="m"))),
            length("f", unit="Hz", also=(), default="0.1 Hz", lowest="0 Hz", highest="9 Hz", slider=("0 Hz", "9 Hz"),
                   step="1 Hz", exact=True),
        ),
        outputs=(Output(key="d", symbol="", meaning="words", unit="", method="-"),),
        function=look,
    )  # fmt: skip
    found = evaluate(one)
    assert seen == {"way": "beside", "data": ((0.0, 0.01), (1.0, 0.02)), "f": Fraction(1, 10)}
    assert found.outputs["d"].value == "side by side"
    assert found.inputs["f"].number == 0.1
    assert messages(one, way="across") == ["way: “across” was given; choose beside or chain."]


def test_cautions_are_shown_when_they_hold() -> None:
    always, sometimes = Caution(text="Guard it."), Caution(text="Slow down.", when=lambda v: v["d"] > 1.0)
    one = calculator(cautions=(always, sometimes))
    assert evaluate(one).cautions == ("Guard it.",)
    assert evaluate(one, {"A": "1 m"}).cautions == ("Guard it.", "Slow down.")
