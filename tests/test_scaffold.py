"""A course begun, and what is added to it: everything works at once."""

from pathlib import Path

import pytest
from click.testing import CliRunner

from crankpin.calculator.catalogue import load_catalogue
from crankpin.cli import main
from crankpin.problems.parsing import read_problems
from crankpin.problems.trial import try_problem


@pytest.fixture
def course(tmp_path: Path) -> Path:
    folder = tmp_path / "course"
    assert new(folder) == 0
    return folder


def new(*words) -> int:
    return CliRunner().invoke(main, ["new", *map(str, words)]).exit_code


def test_a_new_course_has_a_comment_where_it_is_to_be_changed(course: Path) -> None:
    for name in ("mkdocs.yml", "values.toml", "bench.toml", "docs/chapters/01-turning.md"):
        assert "CHANGE" in (course / name).read_text("utf-8"), name
    assert len(list((course / "docs/chapters").iterdir())) == 2
    assert list(load_catalogue(course / "calculators")) == ["bouncing-toy", "rope-drum"]


def test_the_problems_of_a_new_course_are_sound(course: Path) -> None:
    assert new("problem", "ten-turns", "--course", course) == 0
    calculators = load_catalogue(course / "calculators")
    for file in (course / "docs/problems").iterdir():
        for problem in read_problems(file.read_text("utf-8"), file.name, calculators, {}):
            assert try_problem(problem, calculators, 200).told() == []


def test_what_is_added_can_be_read_at_once(course: Path) -> None:
    assert new("chapter", "heavy-seas", "--course", course) == 0
    assert new("calculator", "ring-length", "--course", course) == 0
    assert new("calculator", "own-spring", "--like", "spring-mass", "--course", course) == 0
    assert new("card", "first-card", "--course", course) == 0
    assert (course / "docs/chapters/03-heavy-seas.md").is_file()
    assert {"ring-length", "own-spring"} <= set(load_catalogue(course / "calculators"))
    assert "[first-card-kit]" in (course / "bench.toml").read_text("utf-8")


@pytest.mark.parametrize(
    ("words", "message"),
    [
        (["chapter", "Heavy Seas"], "cannot be a name"),
        (["calculator", "rope-drum"], "is there already"),
        (["calculator", "spring", "--like", "sprng"], "no ready-made calculator sprng; there are"),
        (["chapter", "a", "b"], "give a folder, or one of chapter, calculator, problem, card and a name"),
        (["problem", "rope-speed"], ""),
    ],
)
def test_what_cannot_be_made_is_told_in_a_sentence(course: Path, words: list[str], message: str) -> None:
    told = CliRunner().invoke(main, ["new", *words, "--course", str(course)])
    assert message in told.output
    assert (told.exit_code != 0) is bool(message)


def test_nothing_is_written_over(course: Path) -> None:
    told = CliRunner().invoke(main, ["new", str(course)])
    assert told.exit_code == 1
    assert "is there already and not empty" in told.output
