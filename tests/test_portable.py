"""The portable copy of a site, and changes between commits of a course."""

import subprocess
import sys
import urllib.request
import zipfile
from pathlib import Path

import pytest
from click.testing import CliRunner

from crankpin.cli import main
from crankpin.scaffold import new_course


def run(*words) -> str:
    told = CliRunner().invoke(main, list(map(str, words)))
    assert told.exit_code == 0, told.output
    return told.output


@pytest.fixture(scope="module")
def course(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("own") / "course"
    new_course(folder)
    run("site", "--no-paper", "--course", folder)
    return folder


def test_the_copy_is_served_with_python_alone(course: Path, tmp_path: Path) -> None:
    out = tmp_path / "copy.zip"
    run("pack", "--course", course, "--out", out)
    with zipfile.ZipFile(out) as archive:
        archive.extractall(tmp_path)
    process = subprocess.Popen(
        [sys.executable, "-I", "start.py", "quiet"], cwd=tmp_path / "copy", stdout=subprocess.PIPE, text=True
    )
    try:
        assert process.stdout
        address = process.stdout.readline().partition(": ")[2].strip()
        with urllib.request.urlopen(f"{address}chapters/01-turning/", timeout=20) as page:
            assert "0.471" in page.read().decode()
        live = next((tmp_path / "copy/site/assets/crankpin/live").glob("start.*.mjs")).name
        with urllib.request.urlopen(f"{address}assets/crankpin/live/{live}", timeout=20) as script:
            assert script.headers["Content-Type"] == "text/javascript"
    finally:
        process.kill()
        process.communicate()


def test_the_copy_opens_from_a_stick_and_says_what_does_not_work_there(course: Path, tmp_path: Path) -> None:
    run("pack", "--course", course, "--out", tmp_path / "one" / "copy.zip")
    run("pack", "--course", course, "--out", tmp_path / "two" / "copy.zip")
    assert (tmp_path / "one/copy.zip").read_bytes() == (tmp_path / "two/copy.zip").read_bytes()
    with zipfile.ZipFile(tmp_path / "one/copy.zip") as archive:
        page = archive.read("copy/open-me.html").decode()
    assert 'href="site/chapters/01-turning/index.html"' in page
    assert "does not run the calculators" in " ".join(page.split())


def test_changes_between_two_commits_are_listed_page_by_page(course: Path) -> None:
    def git(*words: str) -> None:
        named = ["-c", "user.name=A", "-c", "user.email=a@school.example"]
        subprocess.run(["git", *named, *words], cwd=course, check=True, capture_output=True)

    git("init")
    git("add", "-A")
    git("commit", "-m", "one")
    values = course / "values.toml"
    values.write_text(values.read_text("utf-8").replace("45 cm", "50 cm"), "utf-8")
    git("commit", "-am", "two")
    told = run("changes", "HEAD~1", "HEAD", "--course", course)
    assert "chapters/01-turning/index.html\n" in told
    assert "behind “A rope runs off a drum of diameter”: 45.0 cm → 50.0 cm" in told.replace("\u00a0", " ")
    assert "Nothing came out differently." in run("changes", course / "site", course / "site", "--course", course)


def test_what_is_neither_site_nor_commit_is_told(tmp_path: Path) -> None:
    new_course(tmp_path / "course")
    told = CliRunner().invoke(main, ["changes", "no-such", "HEAD", "--course", str(tmp_path / "course")])
    assert told.exit_code == 1
    assert "no-such is neither the folder of a built site nor a commit" in told.output
