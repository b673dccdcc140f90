"""Checking a whole course: a new one is sound, and each kind of mistake is told with its place."""

import json
from pathlib import Path

import pytest
from click.testing import CliRunner

from crankpin.build import build_site
from crankpin.cli import main
from crankpin.scaffold import new_course


@pytest.fixture
def course(tmp_path: Path) -> Path:
    new_course(tmp_path / "course")
    return tmp_path / "course"


def check(course: Path) -> dict:
    told = CliRunner().invoke(
        main, ["check", "--course", str(course), "--variants", "20", "--json"], catch_exceptions=False
    )
    assert told.stdout, f"{told.exception!r}: {told.output}"
    report = json.loads(told.stdout)
    assert told.exit_code == (0 if report["sound"] else 1)
    return report


def change(course: Path, name: str, old: str, new: str) -> None:
    text = (course / name).read_text("utf-8")
    assert old in text
    (course / name).write_text(text.replace(old, new, 1), "utf-8")


def test_a_new_course_is_sound(course: Path) -> None:
    report = check(course)
    assert report["sound"]
    assert report["checked"]["published checks"] == report["checked"]["calculators"] == 2
    assert report["checked"]["problems"] == 1
    assert {one["topic"] for one in report["findings"]} <= {"problems"}


@pytest.mark.parametrize(
    ("name", "old", "new", "topic", "place", "message", "sound"),
    [
        ("docs/chapters/01-turning.md", "drum.v =", "drum.q =", "pages", "", "drum has no quantity q", False),
        ("calculators/rope_drum.py", "0.628 m/s", "0.629 m/s", "pages", "", "the check of v: expected 0.629", False),
        ("calculators/rope_drum.py", "from crank", "import csv\nfrom crank", "pages", "", "csv is not in the", False),
        ("docs/index.md", "Every", "[here](nowhere.md) Every", "links", "", "nowhere.md", False),
        ("values.toml", "3.0 s", "3.0", "units", "values.toml:5", "has no unit and is read in s", True),
        ("docs/index.md", "Every", "It takes 77 s. Every", "numbers and pictures", "docs/index.md:10", "77 s", True),
        ("docs/problems/01-turning.md", 'd/2 in cm"', 'd/2 in kg"', "pages", "", "kg", False),
    ],
)
def test_a_mistake_is_found(course, name, old, new, topic, place, message, sound) -> None:
    change(course, name, old, new)
    report = check(course)
    found = [one for one in report["findings"] if one["topic"] == topic and message in one["message"]]
    assert found, report["findings"]
    assert found[0]["place"] == place
    assert report["sound"] is sound


def test_a_course_is_checked_for_itself_after_another_was_built(course: Path, tmp_path: Path) -> None:
    """MkDocs keeps its plugins from one course to the next in a process; what printed the first must not print this."""
    new_course(tmp_path / "other")
    (tmp_path / "other" / "calculators" / "rope_drum.py").rename(tmp_path / "other" / "calculators" / "winch.py")
    values = tmp_path / "other" / "values.toml"
    values.write_text(values.read_text("utf-8").replace("rope-drum", "winch"), "utf-8")
    for page in (tmp_path / "other" / "docs").rglob("*.md"):
        page.write_text(page.read_text("utf-8").replace("rope-drum", "winch").replace("rope_drum", "winch"), "utf-8")
    build_site(tmp_path / "other")
    assert check(course)["sound"]


def test_a_report_in_words_says_what_to_do(course: Path) -> None:
    change(course, "docs/chapters/01-turning.md", "drum.v =", "drum.q =")
    told = CliRunner().invoke(main, ["check", "--course", str(course)])
    assert told.exit_code == 1
    assert "WRONG  pages: chapters/01-turning.md:" in told.output
    assert told.output.rstrip().endswith("1 to mend before you publish")
