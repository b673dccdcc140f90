"""The package as a teacher gets it: installed alone, on a machine with neither Node nor a clone."""

import os
import shutil
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
SCRIPTS = "Scripts" if sys.platform == "win32" else "bin"
pytestmark = pytest.mark.package


def run(*command, folder, path):
    environment = {**os.environ, "PATH": str(path), "NO_MKDOCS_2_WARNING": "1"}
    environment.pop("PYTHONPATH", None)
    done = subprocess.run(
        [str(word) for word in command],
        check=False,
        cwd=folder,
        env=environment,
        capture_output=True,
        text=True,
        timeout=900,
    )
    assert done.returncode == 0, done.stdout + done.stderr
    return done.stdout


def build(source, out, *targets):
    return subprocess.run(
        [sys.executable, "-m", "hatchling", "build", *targets, "-d", str(out)],
        check=False,
        cwd=source,
        capture_output=True,
        text=True,
        timeout=900,
    )


@pytest.fixture(scope="module")
def packages(tmp_path_factory):
    out = tmp_path_factory.mktemp("packages")
    done = build(ROOT, out)
    assert done.returncode == 0, done.stderr
    return out


@pytest.fixture(scope="module")
def from_sdist(packages, tmp_path_factory):
    folder = tmp_path_factory.mktemp("sdist")
    shutil.unpack_archive(next(packages.glob("*.tar.gz")), folder)
    done = build(next(folder.iterdir()), folder / "wheel", "-t", "wheel")
    assert done.returncode == 0, done.stderr
    return next((folder / "wheel").glob("*.whl"))


def test_the_sdist_gives_the_same_wheel(packages, from_sdist):
    def contents(wheel):
        with zipfile.ZipFile(wheel) as archive:
            return {entry.filename: entry.CRC for entry in archive.infolist() if not entry.filename.endswith("RECORD")}

    own = contents(next(packages.glob("*.whl")))
    assert contents(from_sdist) == own
    assert {"crankpin/py.typed", "crankpin/THIRD_PARTY.md", "crankpin/starter/mkdocs.yml"} <= own.keys()
    assert "crankpin/browser/runtime_files/manifest.json" in own


def test_no_package_is_built_without_the_python_of_the_page(tmp_path):
    names = ["pyproject.toml", "hatch_build.py", "README.md", "LICENSE", "LICENSE-docs", "THIRD_PARTY.md"]
    for name in names:
        shutil.copy(ROOT / name, tmp_path)
    for name in ("src", "calculators", "starter"):
        shutil.copytree(ROOT / name, tmp_path / name, ignore=shutil.ignore_patterns("runtime_files*", "__pycache__"))
    for target in ("wheel", "sdist"):
        done = build(tmp_path, tmp_path / "out", "-t", target)
        assert done.returncode != 0
        assert "run 'make runtime' (it needs Node) first" in done.stderr


@pytest.mark.parametrize("kind", ["wheel", "sdist"])
def test_a_new_course_is_built_checked_and_asked_from_the_package_alone(packages, from_sdist, tmp_path, kind):
    wheel = from_sdist if kind == "sdist" else next(packages.glob("*.whl"))
    own = tmp_path / "own"
    subprocess.run([sys.executable, "-m", "venv", str(own)], check=True, timeout=300)
    subprocess.run([str(own / SCRIPTS / "python"), "-m", "pip", "install", "-q", str(wheel)], check=True, timeout=900)
    scripts, course = own / SCRIPTS, tmp_path / "course"
    assert shutil.which("npm", path=str(scripts)) is None
    crankpin = scripts / "crankpin"
    run(crankpin, "new", course, folder=tmp_path, path=scripts)
    told = run(crankpin, "site", "--no-paper", folder=course, path=scripts)
    assert "warning" not in told
    page = (course / "site/chapters/01-turning/index.html").read_text("utf-8")
    assert "<mn>0.471</mn><mtext>\u00a0m/s</mtext>" in page
    assert "start." in page
    assert "MPL" in (course / "site/reference/notices/index.html").read_text("utf-8")
    assert "0.628" in run(crankpin, "calc", "bouncing-toy", folder=course, path=scripts)
