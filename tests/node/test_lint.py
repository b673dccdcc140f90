"""ESLint's recommended rules hold over every script of the browser and of the build."""

import subprocess
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
ESLINT = ROOT / "node_modules" / "eslint" / "bin" / "eslint.js"


def linted(*arguments, text=None):
    assert ESLINT.is_file(), "ESLint is not there; run 'make setup'."
    command = ["node", str(ESLINT), *arguments]
    return subprocess.run(command, cwd=ROOT, input=text, capture_output=True, text=True, timeout=300, check=False)


def test_no_script_breaks_a_rule():
    run = linted(".", "--max-warnings=0")
    assert run.returncode == 0, run.stdout + run.stderr


@pytest.mark.parametrize(
    "place",
    [
        "src/crankpin/browser/static/new.mjs",
        "src/crankpin/browser/offline/new.js",
        "src/crankpin/paper/new.js",
        "src/crankpin/site/theme/scripts/new.js",
        "runtime/new.mjs",
        "tests/node/new.test.mjs",
    ],
)
def test_a_name_that_nobody_has_defined_is_found(place):
    run = linted("--stdin", "--stdin-filename", place, text="missing();\n")
    assert run.returncode == 1
    assert "no-undef" in run.stdout
