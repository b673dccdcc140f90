"""Wrong declarations are told with file and line, all at once."""

from pathlib import Path

import pytest

from crankpin.calculator.catalogue import load_catalogue, load_one, names_in
from crankpin.calculator.checks import check_differences, last_place
from crankpin.calculator.declaration import PublishedCheck
from crankpin.calculator.declared import read_calculator
from crankpin.calculator.faults import DeclarationFaultsError
from tests.calculator.test_evaluate import calculator

GOOD = """
from crankpin.calculator.declaration import Calculator, Input, Output, PublishedCheck

calculator = Calculator(
    title="A title",
    purpose="A purpose.",
    inputs=(
        Input(
            key="A", symbol="A", meaning="amplitude", unit="m", also=("cm",), default="12 cm",
            lowest="1 mm", highest="10 m", slider=("1 cm", "50 cm"), step="1 cm",
        ),
    ),
    outputs=(
        Output(key="d", symbol="d", meaning="diameter", unit="m", formula="2*A"),
    ),
    function=lambda A: {"d": 2.0 * A},
    checks=(PublishedCheck(source="common practice, no source", given={"A": "1 m"}, expect={"d": "2.0 m"}),),
)
"""


def told(source: str, tmp_path: Path) -> list[str]:
    (tmp_path / "try_it.py").write_text(source, encoding="utf-8")
    with pytest.raises(DeclarationFaultsError) as caught:
        load_catalogue(tmp_path)
    return [str(fault).removeprefix(str(tmp_path) + "/") for fault in caught.value.faults]


def test_a_good_declaration_is_read(tmp_path: Path) -> None:
    (tmp_path / "try_it.py").write_text(GOOD, encoding="utf-8")
    (tmp_path / "_shared.py").write_text("raise RuntimeError", encoding="utf-8")
    catalogue = load_catalogue(tmp_path)
    assert list(catalogue) == ["try-it"] == names_in(tmp_path)
    assert catalogue["try-it"].title == load_one(tmp_path, "try-it").title == "A title"
    with pytest.raises(KeyError):
        load_one(tmp_path, "no-such")


@pytest.mark.parametrize(
    ("right", "wrong", "line", "message"),
    [
        ('symbol="A"', 'symbol="AB"', 8, "A: the symbol 'AB' is not a letter or Greek command"),
        ('key="A"', 'key="A b"', 8, "the key 'A b' must be letters, digits and _ and begin with a letter"),
        ('meaning="amplitude"', 'meaning=" "', 8, "A: the meaning is empty"),
        ('unit="m", also', 'unit="ell", also', 8, "A: the unit 'ell' is unknown; there are"),
        ('also=("cm",)', 'also=("kg",)', 8, "A: the unit 'kg' does not belong to 'm'"),
        ('default="12 cm"', 'default="12 kg"', 8, "A: default: '12 kg' is not a quantity with a unit"),
        ('default="12 cm"', 'default="12 m"', 8, "A: the default lies outside the allowed range"),
        ('slider=("1 cm", "50 cm")', 'slider=("0 cm", "50 cm")', 8, "A: the slider from lies outside"),
        ('step="1 cm"', 'step="0 cm"', 8, "A: the step '0 cm' must be a quantity above 0"),
        ('step="1 cm"', 'step="1 mm"', 8, "A: the step must be in the unit of the default ('cm')"),
        ('formula="2*A"', 'formula="2*B"', 14, "d: the formula uses B, which is not known above it"),
        ('formula="2*A"', 'formula="2*A["', 14, "d: the formula '2*A[' can not be read"),
        ('formula="2*A"', 'formula=""', 14, "d: give a formula, or say in method how it is found"),
        ('formula="2*A"', 'formula="3*A"', 14, "d: formula and function differ by 3.3e-01 of the value"),
        ('{"d": 2.0 * A}', '{"e": 2.0 * A}', 4, "the function failed at the defaults: KeyError: 'd'"),
        ('{"d": 2.0 * A}', '{"d": A / 0.0}', 4, "the defaults do not work: These numbers together"),
        ('title="A title"', 'title=""', 4, "the title is empty"),
        ('source="common practice, no source"', 'source=""', 17, "a check names its source"),
        ('given={"A"', 'given={"B"', 17, "the check gives 'B', which is no input"),
        ('expect={"d"', 'expect={"e"', 17, "the check expects 'e', which is no output"),
        ('"2.0 m"', '"2.0 kg"', 17, "the check expects d = '2.0 kg', which is no quantity in m"),
        ("calculator = C", "other = C", 1, "the file must set the name `calculator` to a Calculator"),
        ('title="A title"', 'titel="A title"', 4, "Calculator has no titel"),
        ('title="A title",', 'title="A title"', 5, "this is not Python:"),
    ],
)  # fmt: skip
def test_each_mistake_is_told_at_its_line(right: str, wrong: str, line: int, message: str, tmp_path: Path) -> None:
    assert right in GOOD
    faults = told(GOOD.replace(right, wrong), tmp_path)
    assert any(fault.startswith(f"try_it.py:{line}: {message}") for fault in faults), faults


def test_all_mistakes_of_all_files_are_told_at_once(tmp_path: Path) -> None:
    (tmp_path / "another.py").write_text("x = ", encoding="utf-8")
    faults = told(GOOD.replace('symbol="A"', 'symbol="AB"').replace('"2*A"', '"2*B"'), tmp_path)
    assert [fault.split(":")[0] for fault in faults] == ["another.py", "try_it.py", "try_it.py"]


def test_a_file_name_must_make_an_id(tmp_path: Path) -> None:
    (tmp_path / "Try-It.py").write_text(GOOD, encoding="utf-8")
    with pytest.raises(DeclarationFaultsError, match="small letters, digits and _"):
        load_catalogue(tmp_path)


def test_a_source_text_alone_can_be_read() -> None:
    assert read_calculator(GOOD, "calculators/try_it.py").title == "A title"
    with pytest.raises(DeclarationFaultsError, match=r"try_it\.py:1: the name nothing is not known here"):
        read_calculator("nothing", "try_it.py")


@pytest.mark.parametrize(
    ("printed", "agrees"), [("0.24 m", True), ("0.2 m", True), ("24 cm", True), ("0.25 m", False), ("0.241 m", False)]
)
def test_a_published_check_agrees_to_its_printed_digits(printed: str, agrees: bool) -> None:
    check = PublishedCheck(source="common practice, no source", given={"A": "12 cm"}, expect={"d": printed})
    assert (check_differences(calculator(), check) == {}) is agrees


def test_the_place_of_the_last_digit() -> None:
    assert [last_place(text) for text in ("0.12", "12", "4.63e6", "1.50")] == [-2, 0, 4, -2]
