import pytest

from crankpin.problems.cases import quoted, typed_inputs
from crankpin.problems.drawing import read_drawn
from crankpin.problems.faults import WordingError
from crankpin.problems.generator import Generator
from crankpin.problems.quantities import quantity_text


def drawn_texts(text):
    drawn = read_drawn("q", text)
    return {quantity_text(*drawn.value(value)) for value in drawn.values}


def test_a_range_keeps_the_digits_it_is_written_with():
    assert drawn_texts("1.8 to 2.1 m step 0.1") == {"1.8 m", "1.9 m", "2.0 m", "2.1 m"}
    assert drawn_texts("-2 to 2 cm step 2") == {"−2 cm", "0 cm", "2 cm"}


def test_a_range_holds_no_dust():
    assert read_drawn("q", "0.1 to 0.5 m step 0.1").values == ("0.1", "0.2", "0.3", "0.4", "0.5")


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("one of 100, 150 g", {"100 g", "150 g"}),
        ("one of 5, 10", {"5", "10"}),
        ("9.81 m/s2", {"9.81 m/s²"}),
        ("60 rpm as Hz", {"60 rpm"}),
    ],
)
def test_other_ways_to_give_a_quantity(text, shown):
    assert {told.replace(" ", " ") for told in drawn_texts(text)} == shown


def test_words_can_be_drawn():
    drawn = read_drawn("way", "one of up, down")
    assert {drawn.draw(Generator(seed))[0] for seed in range(20)} == {"up", "down"}


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("2 to 1 m step 0.1", "must go up"),
        ("1 to 2 m step 0.3", "meet both ends"),
        ("1 to 2 m", "is not a range"),
        ("1 to 2 furlong step 1", "is not a unit known here"),
        ("one of 5", "must name two or more"),
        ("much", "none of the ways"),
        ("60 rpm as kg", "is not a unit of kg"),
    ],
)
def test_what_is_no_quantity_is_told(text, told):
    with pytest.raises(WordingError, match=told):
        read_drawn("q", text)


def test_an_input_of_a_case_can_be_quoted():
    cases = typed_inputs('[wheel]\ncalculator = "turning-rate"\nr = "1.8 m"\n[lamp]\nr = "= wheel.r"\n')
    assert quoted("= lamp.r", cases) == "1.8 m"
    with pytest.raises(WordingError, match=r"there are wheel\.r"):
        quoted("= wheel.q", cases)
    with pytest.raises(WordingError, match="refers to itself"):
        quoted("= a.b", {"a.b": "= a.b"})


def test_another_value_of_a_drawn_quantity_is_written_with_its_own_number():
    value, form = read_drawn("T", "2.4 s").value("2.4")
    assert quantity_text(value, form) == "2.4 s"
    assert quantity_text(value / 2.0, form) == "1.2 s"
