"""Mutation testing of the mechanics: change it in thousands of small ways and see whether a test fails each time.

    python tools/mutants.py                  everything; an hour or two on two processors
    python tools/mutants.py "damping.*"      some functions, with mutmut's wildcards
    python tools/mutants.py --report         how many were killed, and each survivor as a difference

Nothing of the working tree is touched: mutmut works on a copy of the mechanics and its tests in a folder of its own
(``--folder``), with its own packages beside it. A run that was stopped goes on where it was; what has been edited
since is tried anew. What lives on, and why, stands in ``tests/mechanics/survivors.md``.
"""

import argparse
import ast
import difflib
import fnmatch
import json
import re
import shutil
import subprocess
import sys
import tempfile
import tomllib
import venv
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
FOLDER = Path(tempfile.gettempdir()) / "crankpin-mutants"
MUTMUT = ["mutmut==3.8.1", "click!=8.3.*"]
COPIED = ["src/crankpin/__init__.py", "src/crankpin/mechanics", "tests/__init__.py", "tests/conftest.py"]
COPIED += ["tests/strategies.py", "tests/mechanics"]
SETTINGS = """
[tool.pytest.ini_options]
addopts = "-q -x"
filterwarnings = ["error"]
markers = ["browser", "pyodide"]

[tool.mutmut]
source_paths = ["src/crankpin/mechanics"]
pytest_add_cli_args_test_selection = ["tests/mechanics"]
pytest_add_cli_args = ["--hypothesis-profile=mutants", "--tb=no", "-p", "no:cacheprovider"]
also_copy = ["tests", "src"]
"""
SURVIVED, KILLED, NOT_RUN = 0, {1, 3}, None


def main() -> None:
    """Run mutmut on a fresh copy, or report what it found."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("functions", nargs="*", help="such as 'damping.*'; all if none is given")
    parser.add_argument("--report", action="store_true", help="only report what is already known")
    parser.add_argument("--folder", type=Path, default=FOLDER)
    parser.add_argument("--processes", type=int, default=2)
    options = parser.parse_args()
    if not options.report:
        run(options.folder, options.functions, options.processes)
    report(options.folder, options.functions or ["*"])


def run(folder: Path, functions: list[str], processes: int) -> None:
    """Copy the mechanics and its tests, and run mutmut on them."""
    for name in COPIED:
        source, target = ROOT / name, folder / name
        target.parent.mkdir(parents=True, exist_ok=True)
        if source.is_dir():
            shutil.rmtree(target, ignore_errors=True)
            shutil.copytree(source, target, ignore=shutil.ignore_patterns("__pycache__"))
        else:
            shutil.copy2(source, target)
    (folder / "pyproject.toml").write_text(SETTINGS, encoding="utf-8")
    command = [program(folder), "run", "--max-children", str(processes)]
    subprocess.run([*command, *(f"crankpin.mechanics.{name}" for name in functions)], cwd=folder, check=True)


def program(folder: Path) -> Path:
    """Return mutmut in an environment of its own, made if there is none."""
    place = folder / "packages"
    scripts = place / ("Scripts" if sys.platform == "win32" else "bin")
    if not (scripts / "mutmut").exists():
        declared = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["dependency-groups"]["dev"]
        needed = [name for name in declared if re.match("pytest|hypothesis", name)]
        venv.create(place, with_pip=True)
        subprocess.run([scripts / "python", "-m", "pip", "install", "-q", *MUTMUT, *needed], check=True)
    return scripts / "mutmut"


def report(folder: Path, functions: list[str]) -> None:
    """Print the differences that live on, then the counts by module."""
    counts: dict[str, Counter[str]] = {}
    for module, mutant, code in results(folder):
        name = f"{module}.{mutant.removeprefix('x_')}"
        if not any(fnmatch.fnmatch(f"{module}.{mutant}", pattern) for pattern in functions):
            continue
        kind = {SURVIVED: "survived", NOT_RUN: "not run"}.get(code, "killed" if code in KILLED else "timed out")
        counts.setdefault(module, Counter())[kind] += 1
        if kind in {"survived", "timed out"}:
            print(f"{name} ({kind})", *difference(folder, module, mutant), sep="\n    ")
    print(f"\n{'module':20}{'mutants':>9}{'killed':>9}{'timed out':>11}{'survived':>10}{'not run':>9}")
    for module, found in [*sorted(counts.items()), ("all", sum(counts.values(), Counter()))]:
        cells = f"{found['killed']:9}{found['timed out']:11}{found['survived']:10}{found['not run']:9}"
        print(f"{module:20}{found.total():9}{cells}")


def results(folder: Path) -> Iterator[tuple[str, str, int | None]]:
    """Yield module, mutant and exit code of its tests."""
    for path in sorted((folder / "mutants/src/crankpin/mechanics").glob("*.meta")):
        for name, code in json.loads(path.read_text(encoding="utf-8"))["exit_code_by_key"].items():
            yield path.name.removesuffix(".py.meta"), name.rpartition(".")[2], code


def difference(folder: Path, module: str, mutant: str) -> list[str]:
    """Return the lines that a mutant changes, before and after."""
    text = (folder / "mutants/src/crankpin/mechanics" / f"{module}.py").read_text(encoding="utf-8")
    functions = {node.name: node for node in ast.walk(ast.parse(text)) if isinstance(node, ast.FunctionDef)}
    original = re.sub(r"__mutmut_\d+$", "__mutmut_orig", mutant)
    before, after = (ast.get_source_segment(text, functions[name]) or "" for name in (original, mutant))
    changed = difflib.unified_diff(before.splitlines()[1:], after.splitlines()[1:], n=0, lineterm="")
    return [line[0] + " " + line[1:].strip() for line in changed if not line.startswith(("---", "+++", "@@"))]


if __name__ == "__main__":
    main()
