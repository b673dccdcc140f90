"""Write both locks again: ``requirements.lock`` and ``package-lock.json``.

Run it after a change of the dependencies in ``pyproject.toml`` or ``package.json``. Neither lock names
the host or the folder that a package came from; ``tests/test_house.py`` holds them to that.
"""

from __future__ import annotations

import json
import shutil
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
REQUIREMENTS = ROOT / "requirements.lock"
NODE_PACKAGES = ROOT / "package-lock.json"
RESOLVER = "uv==0.13.9"
HEADER = """\
# Every Python package that crankpin is built, checked and served with, pinned and hashed.
# Written by `make lock` from pyproject.toml; do not edit by hand.
"""


def resolver() -> str:
    """Return the path of uv, put into a folder of its own under build/ when the machine has none."""
    found = shutil.which("uv")
    if found:
        return found
    folder = ROOT / "build" / "resolver"
    scripts = folder / ("Scripts" if sys.platform == "win32" else "bin")
    subprocess.run([sys.executable, "-m", "venv", str(folder)], check=True)
    subprocess.run([str(scripts / "python"), "-m", "pip", "install", "--quiet", RESOLVER], check=True)
    return str(scripts / "uv")


def lock_python() -> None:
    """Resolve for every system and for each Python from 3.11 on, with the hash of every file."""
    command = [resolver(), "pip", "compile", "pyproject.toml", "--quiet"]
    command += ["--group", "dev"]
    command += ["--universal", "--python-version", "3.11", "--fork-strategy", "fewest"]
    command += ["--generate-hashes", "--no-annotate", "--no-header"]
    command += ["--no-emit-index-url", "--no-emit-find-links"]
    answer = subprocess.run(command, cwd=ROOT, check=True, capture_output=True, text=True)
    REQUIREMENTS.write_text(HEADER + answer.stdout, encoding="utf-8")


def lock_node() -> None:
    """Resolve package.json; its lock keeps neither the addresses of packages (.npmrc) nor those for donations."""
    npm = shutil.which("npm")
    if npm is None:
        sys.exit("npm was not found; install Node.js 20 or later, which brings it.")
    subprocess.run([npm, "install", "--package-lock-only", "--no-audit", "--no-fund"], cwd=ROOT, check=True)
    lock = json.loads(NODE_PACKAGES.read_text(encoding="utf-8"))
    for package in lock["packages"].values():
        package.pop("funding", None)
    NODE_PACKAGES.write_text(json.dumps(lock, indent=2, ensure_ascii=False) + "\n", encoding="utf-8")


if __name__ == "__main__":
    lock_python()
    lock_node()
    print("requirements.lock and package-lock.json are written; run `make test`, then commit both.")
