"""The command line: the same calculation through its own door."""

import json
import math
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from crankpin.calc import find_calculators
from crankpin.cli import main

ROOT = Path(__file__).parents[1]


def calc(*words: str) -> Result:
    return CliRunner().invoke(main, ["calc", "--course", str(ROOT), *words])


def test_json_is_the_contract() -> None:
    told = calc("edge-on", "--set", "A=12cm", "--set", "omega=33.3rpm", "--set", "t=0.4s", "--json")
    assert told.exit_code == 0
    found = json.loads(told.stdout)
    assert found["calculator"] == "edge-on"
    assert found["inputs"]["A"] == {"value": 0.12, "unit": "m", "text": "12.0 cm"}
    assert set(found["outputs"]) == {"theta", "x", "v", "a", "x_max", "v_max", "a_max"}
    assert found["outputs"]["x"]["text"] == "2.10 cm"
    assert found["cautions"] == []


def test_an_absent_quantity_is_null_with_a_reason() -> None:
    found = json.loads(calc("starting-state", "--set", "x0=0", "--set", "v0=0", "--json").stdout)
    assert found["outputs"]["phi"]["value"] is None
    assert "no phase" in found["outputs"]["phi"]["reason"]


def test_text_has_the_table_and_the_working() -> None:
    told = calc("edge-on")
    assert told.exit_code == 0
    assert "  x                   4.35 cm                position" in told.stdout
    assert "  x = A cos(ω t + φ) = 0.12 m × cos(3 rad/s × 0.4 s + 0 rad) = 4.35 cm" in told.stdout


@pytest.mark.parametrize(
    ("words", "message"),
    [
        (["edge-on", "--set", "A=-3cm"], "A, amplitude: -3cm was given; it must be greater than zero.\n"),
        (["edge-on", "--set", "A"], "--set 'A': write a key, = and a value, for example --set A=12cm.\n"),
        (["edge-off"], "There is no calculator called 'edge-off'; did you mean edge-on? There are "),
        (["edge-on", "--table", "none.csv"], "--table: edge-on takes no table; its inputs are A, omega, phi, t.\n"),
    ],
)
def test_bad_input_is_one_message_and_status_two(words: list[str], message: str) -> None:
    told = calc(*words)
    assert told.exit_code == 2
    assert told.stdout == ""
    assert told.stderr.startswith(message)


def test_calculators_are_found_from_a_folder_of_the_course_below(tmp_path: Path) -> None:
    assert find_calculators(ROOT / "docs") == ROOT / "calculators"
    assert find_calculators(tmp_path).name == "ready_made"


def test_results_carry_the_uncertainty_of_what_is_given() -> None:
    told = json.loads(calc("spring-mass", "--set", "k=25.0(5) N/m", "--set", "m=400 ± 2 g", "--json").stdout)
    period = told["outputs"]["T"]
    assert math.isclose(period["uncertainty"], period["value"] * math.hypot(0.01, 0.0025), rel_tol=1e-9)
    assert period["text"] == "0.7948(82) s"
    assert set(period["contributions"]) == {"k", "m"}
    assert told["inputs"]["k"]["uncertainty"] == 0.5


def test_columns_of_a_file_are_chosen_and_utf_16_is_read(tmp_path: Path) -> None:
    file = tmp_path / "phone.csv"
    file.write_text("No;time (ms);ax;ay\n1;0;9;1\n2;500;9;3\n3;1000;9;5", encoding="utf-16")
    told = json.loads(calc("line-fit", "--table", str(file), "--columns", "2,4", "--json").stdout)
    assert told["outputs"]["slope"]["value"] == pytest.approx(0.004)
