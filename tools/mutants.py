"""Mutation testing of the mechanics: change it in thousands of small ways and see whether a test fails each time.

    python tools/mutants.py                  everything that is not known to be killed
    python tools/mutants.py "damping.*"      some functions, with wildcards
    python tools/mutants.py --report         how many were killed, and each survivor as a difference

Nothing of the working tree is touched: mutmut writes the mutants into a copy of the mechanics and its tests in a folder
of its own (``--folder``), with its own packages beside it. A run that was stopped goes on where it was; a module that
was edited since is tried anew. What lives on, and why, stands in ``tests/mechanics/survivors.md``. Not for Windows.
"""

import argparse
import ast
import difflib
import fnmatch
import hashlib
import json
import re
import shutil
import subprocess
import tempfile
import tomllib
import venv
from collections import Counter
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
MECHANICS = "src/crankpin/mechanics"
COPIED = [MECHANICS, "tests/mechanics", "src/crankpin/__init__.py"]
COPIED += ["tests/__init__.py", "tests/conftest.py", "tests/strategies.py"]
PACKAGES = ["mutmut==3.8.1", "click!=8.3.*"]
SETTINGS = """
[tool.pytest.ini_options]
filterwarnings = ["error"]
markers = ["browser", "pyodide"]

[tool.mutmut]
source_paths = ["src"]
"""


def main() -> None:
    """Try mutants on a fresh copy, then report what is known."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("functions", nargs="*", default=["*"], help="such as 'damping.*'; all if none is given")
    parser.add_argument("--report", action="store_true", help="only report what is already known")
    parser.add_argument("--folder", type=Path, default=Path(tempfile.gettempdir()) / "crankpin-mutants")
    parser.add_argument("--processes", type=int, default=2)
    options = parser.parse_args()
    if not options.report:
        run(options.folder, options.functions, options.processes)
    report(options.folder, options.functions)


def run(folder: Path, functions: list[str], processes: int) -> None:
    """Copy the mechanics and its tests, and try the mutants there."""
    forget_edited(folder)
    for name in COPIED:
        source, target = ROOT / name, folder / name
        target.parent.mkdir(parents=True, exist_ok=True)
        if source.is_dir():
            shutil.rmtree(target, ignore_errors=True)
            shutil.copytree(source, target, ignore=shutil.ignore_patterns("__pycache__"))
        else:
            shutil.copy2(source, target)
    (folder / "pyproject.toml").write_text(SETTINGS, encoding="utf-8")
    runner = ROOT / "tools/mutant_runner.py"
    subprocess.run([python(folder), runner, str(processes), *functions], cwd=folder, check=True)


def forget_edited(folder: Path) -> None:
    """Drop what is known of the mutants of modules that were edited since."""
    now = {path.stem: hashlib.sha256(path.read_bytes()).hexdigest() for path in (ROOT / MECHANICS).glob("*.py")}
    before = known(folder / "modules.json")
    edited = {module for module in now if now[module] != before.get(module)}
    results = {
        name: how for name, how in known(folder / "results.json").items() if name.partition(".")[0] not in edited
    }
    folder.mkdir(parents=True, exist_ok=True)
    (folder / "results.json").write_text(json.dumps(results))
    (folder / "modules.json").write_text(json.dumps(now))


def known(path: Path) -> dict[str, str]:
    """Return what a file of an earlier run holds, nothing without one."""
    return json.loads(path.read_text(encoding="utf-8")) if path.exists() else {}


def python(folder: Path) -> Path:
    """Return the Python of an environment of its own, made if there is none."""
    place = folder / "packages"
    if not (place / "bin/mutmut").exists():
        declared = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["dependency-groups"]["dev"]
        needed = [name for name in declared if re.match("pytest|hypothesis", name)]
        venv.create(place, with_pip=True)
        subprocess.run([place / "bin/python", "-m", "pip", "install", "-q", *PACKAGES, *needed], check=True)
    return place / "bin/python"


def report(folder: Path, functions: list[str]) -> None:
    """Print the differences that live on, then the counts by module."""
    counts: dict[str, Counter[str]] = {}
    for name, how in sorted(known(folder / "results.json").items()):
        if not any(fnmatch.fnmatch(name, pattern) for pattern in functions):
            continue
        module, _, mutant = name.partition(".")
        counts.setdefault(module, Counter())[how] += 1
        if how != "killed":
            print(f"{module}.{mutant.removeprefix('x_')} {how}", *difference(folder, module, mutant), sep="\n    ")
    print(f"\n{'module':18}{'mutants':>9}{'killed':>9}{'timed out':>11}{'survived':>10}{'caught':>9}")
    for module, found in [*sorted(counts.items()), ("all", sum(counts.values(), Counter()))]:
        caught = 1 - found["survived"] / max(found.total(), 1)
        cells = f"{found['killed']:9}{found['timed out']:11}{found['survived']:10}{caught:9.1%}"
        print(f"{module:18}{found.total():9}{cells}")


def difference(folder: Path, module: str, mutant: str) -> list[str]:
    """Return the lines that a mutant changes, before and after."""
    text = (folder / MECHANICS / f"{module}.py").read_text(encoding="utf-8")
    functions = {node.name: node for node in ast.walk(ast.parse(text)) if isinstance(node, ast.FunctionDef)}
    original = re.sub(r"__mutmut_\d+$", "__mutmut_orig", mutant)
    before, after = (ast.get_source_segment(text, functions[name]) or "" for name in (original, mutant))
    changed = difflib.unified_diff(before.splitlines()[1:], after.splitlines()[1:], n=0, lineterm="")
    return [line[0] + " " + line[1:].strip() for line in changed if not line.startswith(("---", "+++", "@@"))]


if __name__ == "__main__":
    main()
