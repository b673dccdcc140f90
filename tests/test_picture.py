"""Pictures and tables saved as files: the same bytes twice, and the numbers that made them inside."""

import csv
import json
import math
import re
from pathlib import Path
from xml.etree import ElementTree

import pytest
from click.testing import CliRunner, Result
from PIL import Image

from crankpin.calculator.catalogue import load_catalogue
from crankpin.calculator.evaluate import evaluate
from crankpin.calculator.tables import read_table
from crankpin.cli import main
from crankpin.figures.plots import INKS, LABEL_INKS
from crankpin.figures.saved import COLOURS

ROOT = Path(__file__).parents[1]
CALCULATORS = load_catalogue(ROOT / "calculators")
SVG = "{http://www.w3.org/2000/svg}"
TITLE = "The wheel seen edge-on: A = 7.00 cm; ω = 3.00 rad/s; φ = 0 rad; t = 0.400 s"


def picture(*words: str | Path) -> Result:
    return CliRunner().invoke(main, ["picture", "--course", str(ROOT), *map(str, words)])


def saved(file: Path, *words: str) -> bytes:
    told = picture(*words, "--table" if file.suffix == ".csv" else "--out", file)
    assert (told.exit_code, told.stdout) == (0, f"{file}\n"), told.output
    return file.read_bytes()


def rows_of(file: Path) -> tuple[str, list[list[str]]]:
    first, _, rest = file.read_text("utf-8-sig").partition("\n")
    return first, list(csv.reader(rest.splitlines()))


@pytest.mark.parametrize("name", ["a.svg", "a.png", "a.csv"])
def test_the_same_numbers_give_the_same_bytes_and_others_give_others(name: str, tmp_path: Path) -> None:
    first, again, other = (
        saved(tmp_path / f"{i}{name}", "driven", "--set", f"b={b}kg/s") for i, b in enumerate((0.2, 0.2, 0.3))
    )
    assert first == again
    assert first != other


def test_an_svg_holds_its_title_words_and_every_digit(tmp_path: Path) -> None:
    root = ElementTree.fromstring(saved(tmp_path / "a.svg", "edge-on", "--set", "A=7cm"))
    title, words, metadata = root[0], root[1], root[2]
    assert [one.tag for one in (title, words, metadata)] == [SVG + one for one in ("title", "desc", "metadata")]
    assert title.text == TITLE
    assert "highest 7.00 cm" in words.text
    assert json.loads(metadata.text)["outputs"]["x"]["value"] == pytest.approx(0.07 * math.cos(1.2), rel=1e-12)


def test_a_png_holds_the_same(tmp_path: Path) -> None:
    file = tmp_path / "a.png"
    saved(file, "edge-on", "--set", "A=7cm")
    with Image.open(file) as image:
        about, width = image.text, image.size[0]
    assert set(about) == {"Title", "Description", "Comment"}
    assert about["Title"] == TITLE
    assert json.loads(about["Comment"])["inputs"]["A"]["value"] == 0.07
    assert b"tEXtComment\0{" in file.read_bytes()
    assert width == 305 * 300 // 72


def test_what_was_asked_stands_in_the_title(tmp_path: Path) -> None:
    words = ("spring-mass", "--find", "k", "--set", "T=0.8s", "--set", "m=400g")
    root = ElementTree.fromstring(saved(tmp_path / "a.svg", *words))
    assert "k = 24.67 N/m; " in root[0].text
    assert root[0].text.endswith("found from T = 0.800 s")
    assert json.loads(root[2].text)["asked"] == "k"


@pytest.mark.parametrize("name", CALCULATORS)
def test_no_stand_in_colour_is_left_in_a_picture_of_any_calculator(name: str, tmp_path: Path) -> None:
    drawn = saved(tmp_path / "a.svg", name).decode()
    assert not set(re.findall("#[0-9a-f]{6}", drawn)) & {*INKS.values(), *LABEL_INKS.values()}
    assert set(re.findall("(?:fill|stroke): (#[0-9a-f]{6})", drawn)) <= set(COLOURS.values())


def test_the_inks_are_those_of_the_printed_sheet() -> None:
    rules = (ROOT / "src/crankpin/paper/print.css").read_text("utf-8")
    for role in ("position", "velocity", "acceleration"):
        assert f"--{role}: {COLOURS[role]};" in rules


@pytest.mark.parametrize("name", CALCULATORS)
def test_a_table_has_every_point_of_every_curve(name: str, tmp_path: Path) -> None:
    saved(tmp_path / "a.csv", name)
    _, (head, *rows) = rows_of(tmp_path / "a.csv")
    assert {len(row) for row in rows} == {len(head)}
    columns = [[float(cell) for cell in column if cell] for column in zip(*rows, strict=True)]
    drawn = evaluate(CALCULATORS[name], {}).picture()
    for panel in drawn.panels:
        for curve in panel.curves:
            assert any(column == pytest.approx(list(curve.xs), rel=1e-11, abs=1e-300) for column in columns)
            assert any(column == pytest.approx(list(curve.ys), rel=1e-11, abs=1e-300) for column in columns)


def test_headings_are_quantities_over_units_and_the_first_line_names_the_numbers(tmp_path: Path) -> None:
    saved(tmp_path / "a.csv", "edge-on", "--set", "A=7cm")
    first, (head, *rows) = rows_of(tmp_path / "a.csv")
    assert first == f"# crankpin picture: {TITLE}"
    assert head[:4] == ["t / s", "x / cm", "v / (m/s)", "a / (m/s²)"]
    assert head[4:6] == ["now: t / s", "now: x / cm"]
    for t, x, v, a in (map(float, row[:4]) for row in rows):
        assert x == pytest.approx(7.0 * math.cos(3.0 * t), abs=1e-9)
        assert v == pytest.approx(-0.21 * math.sin(3.0 * t), abs=1e-10)
        assert a == pytest.approx(-0.63 * math.cos(3.0 * t), abs=1e-10)


def test_a_calculator_reads_a_saved_table_back(tmp_path: Path) -> None:
    saved(tmp_path / "a.csv", "edge-on", "--set", "A=7cm")
    table = next(one for one in CALCULATORS["sine-fit"].inputs if one.key == "data")
    text = "columns: 1, 2\n" + (tmp_path / "a.csv").read_text("utf-8-sig")
    found = read_table(text, table)
    assert found.trouble == ""
    assert (found.rows[0][:2], found.units[:2]) == ((0.0, 7.0), ("s", "cm"))


def test_readings_are_drawn_from_a_file_and_never_written_over(tmp_path: Path) -> None:
    readings = tmp_path / "readings.csv"
    readings.write_text("x;y\n1;2\n2;4\n3;6.1\n", "utf-8")
    saved(tmp_path / "out.csv", "line-fit", "--readings", str(readings))
    _, (head, *rows) = rows_of(tmp_path / "out.csv")
    column = head.index("readings: y")
    assert [row[column] for row in rows if row[column]] == ["2", "4", "6.1"]
    told = picture("line-fit", "--table", readings)
    assert told.exit_code == 2
    assert "was not written by crankpin picture" in told.stderr
    assert readings.read_text("utf-8").startswith("x;y")
    saved(tmp_path / "out.csv", "line-fit")


def test_without_a_name_the_file_is_called_as_the_calculator(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    assert picture("edge-on").stdout == "edge-on.svg\n"
    assert (tmp_path / "edge-on.svg").read_bytes().startswith(b"<?xml")


@pytest.mark.parametrize(
    ("words", "message"),
    [
        (["edge-off"], "There is no calculator called 'edge-off'; did you mean edge-on? There are "),
        (["edge-on", "--out", "a.gif"], "--out a.gif: a picture is saved as .svg or .png; let the name end in"),
        (["edge-on", "--table", "a.txt"], "--table a.txt: a table is saved as .csv; let the name end in it."),
        (["edge-on", "--out", "none/a.png"], "--out none/a.png: it can not be written (No such file or directory)."),
        (["edge-on", "--set", "A=-3cm"], "A, amplitude: -3cm was given; it must be greater than zero."),
        (["edge-on", "--set", "B=3cm"], "There is no input called B; "),
        (["edge-on", "--find", "q"], ""),
        (["edge-on", "--readings", "a.csv"], "--readings: edge-on takes no table; its inputs are A, omega, phi, t."),
        (["line-fit", "--readings", "none.csv"], "--readings none.csv: it can not be read (No such file or directory)"),
    ],
)
def test_bad_input_is_one_message_and_status_two(
    words: list[str], message: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    told = picture(*words)
    assert (told.exit_code, told.stdout) == (2, "")
    assert told.stderr.startswith(message)
    assert told.stderr.count("\n") == 1
    assert list(tmp_path.iterdir()) == []
