"""A calculator from lines of formulas."""

import math
from pathlib import Path

import pytest

from crankpin.calculator.catalogue import load_catalogue
from crankpin.calculator.evaluate import evaluate
from crankpin.calculator.faults import DeclarationFaultsError

SOURCE = '''"""A drum."""

from crankpin.calculator.short_form import calculator_from

calculator = calculator_from(
    title="A rope on a drum",
    purpose="How fast the rope runs off.",
    given=[
        "d = 40 cm, from 10 cm to 1.2 m: diameter",
        "T = 2.0 s, from 0.5 s to 10 s: period",
    ],
    found=[
        "omega = 2*pi/T in rad/s: angular velocity",
        "v = d/2*omega in cm/s to 4: speed of the rope",
    ],
    check="d = 40 cm, T = 2.0 s gives v = 62.8 cm/s",
)
'''


def read(folder: Path, source: str):
    (folder / "rope_drum.py").write_text(source, "utf-8")
    return load_catalogue(folder)["rope-drum"]


def test_formulas_are_computed_in_si_and_shown_in_the_unit_named(tmp_path: Path) -> None:
    found = evaluate(read(tmp_path, SOURCE), {"d": "0.5 m"})
    assert found.outputs["v"].value == 0.25 * math.pi
    assert found.outputs["v"].text == "78.54 cm/s"
    assert found.inputs["d"].value == 0.5


def test_symbols_ranges_steps_and_picture_have_good_defaults(tmp_path: Path) -> None:
    calculator = read(tmp_path, SOURCE)
    diameter = calculator.inputs[0]
    assert (diameter.unit, diameter.also, diameter.step) == ("m", ("cm",), "5 cm")
    assert calculator.outputs[0].symbol == "\\omega"
    picture = evaluate(calculator).picture()
    assert picture.caption == "Speed of the rope against diameter"
    assert picture.panels[0].curves[0].ys[-1] == pytest.approx(60 * math.pi)


def test_a_formula_without_a_value_says_so(tmp_path: Path) -> None:
    source = SOURCE.replace("d/2*omega", "d/2*omega*sqrt(T - 1)/sqrt(T - 1)").replace("T - 1", "1 - 1*T/T")
    with pytest.raises(DeclarationFaultsError, match="too large or too small"):
        read(tmp_path, source)
    source = SOURCE.replace("2*pi/T", "2*pi/T*sqrt(d/d - 2)*0 + 2*pi/T")
    with pytest.raises(DeclarationFaultsError, match="The formula has no value for these numbers"):
        read(tmp_path, source)


@pytest.mark.parametrize(
    ("right", "wrong", "line", "message"),
    [
        ("d = 40 cm, from", "d = 40 cm,", 9, "write key = value, from lowest to highest: meaning"),
        ("from 0.5 s to", "from 0.5 kg to", 10, "kg does not go with s"),
        ("d = 40 cm, from", "d = 40 ell, from", 9, "the unit ell is unknown; there are m, cm"),
        ("d = 40 cm, from", "width = 40 cm, from", 9, "width is no symbol"),
        ("v = d/2*omega in cm/s", "v = d/2*omega", 14, "write key = formula in unit: meaning"),
        ("v = d/2*omega in", "v = d/2**omega) in", 14, "can not be read"),
        ("in cm/s to 4", "in kg to 4", 5, "the check expects v = '62.8 cm/s', which is no quantity in kg"),
        (" gives ", " makes ", 16, "write what is given, “gives”, and what comes out"),
        ("62.8", "62.9", 5, "the check of v: expected 62.9 cm/s, found 62.8"),
        ("    purpose=", "    purpos=", 5, "calculator_from has no purpos"),
        ("from crankpin.calculator.short_form", "from crankpin.calculator.shrt", 3, "there is no module"),
        ("calculator = calculator_from", "calculator = calculator_fro", 5, "the name calculator_fro is not known here"),
    ],
)
def test_a_mistake_is_told_at_its_line(tmp_path: Path, right: str, wrong: str, line: int, message: str) -> None:
    assert SOURCE.count(right) >= 1
    with pytest.raises(DeclarationFaultsError) as told:
        read(tmp_path, SOURCE.replace(right, wrong, 1))
    assert message in str(told.value)
    assert told.value.faults[0].line == line
    assert "Traceback" not in str(told.value)


def test_a_file_in_another_encoding_is_told(tmp_path: Path) -> None:
    (tmp_path / "rope_drum.py").write_bytes('"""Für"""'.encode("latin-1"))
    with pytest.raises(DeclarationFaultsError, match="save it as UTF-8"):
        load_catalogue(tmp_path)
