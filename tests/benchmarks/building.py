"""How long a course takes to build beside plain MkDocs with the same theme and the same Markdown.

Courses of 3, 30 and 300 pages with formulas and a calculator on each: built anew (nothing kept from before), built
again with nothing changed, and after an edit of one page. Plain MkDocs sees the calculators as code blocks. Each build
is a process of its own; its start and the reading of the settings count on both sides. Then a course of 100 pages is
served, and a page of it edited several times: the seconds from writing the file until the new text is served.

    .venv/bin/python -m tests.benchmarks.building

Prints one JSON object. Nothing that crankpin is made of may change during the run, else nothing is kept.
"""

import json
import shutil
import subprocess
import sys
import tempfile
import time
import urllib.request
from pathlib import Path
from statistics import median

ROOT = Path(__file__).resolve().parents[2]
SIZES = (3, 30, 300)
SERVED = 100
EDITS = 5
REPEATS = 3
OURS = """
import logging, sys
from pathlib import Path
from mkdocs.commands.build import build
from mkdocs.config import load_config
logging.getLogger("mkdocs").setLevel(logging.ERROR)
build(load_config(sys.argv[1]))
"""
PAGE = """# Page {number}

The pin of wheel {number} goes round steadily; $\\theta = \\omega t$ and $T = \\dfrac{{2\\pi}}{{\\omega}}$.

$$x = A\\cos(\\omega t + \\varphi),\\qquad v = -A\\omega\\sin(\\omega t + \\varphi)$$

The largest speed is $v_\\text{{max}} = A\\omega$, and it is reached where $x = 0$.

```calculator edge-on
A = {number} cm
omega = 3 rad/s
```
"""


def write_course(folder: Path, pages: int) -> None:
    """Write a course, and the settings of both builds of it."""
    (folder / "docs").mkdir(parents=True)
    for number in range(1, pages + 1):
        text = PAGE.format(number=number)
        (folder / "docs" / f"page-{number}.md").write_text(text, encoding="utf-8")
    (folder / "docs" / "index.md").write_text("# Course\n\nThe first page.\n", encoding="utf-8")
    shutil.copytree(ROOT / "calculators", folder / "calculators")
    settings = (ROOT / "mkdocs.yml").read_text("utf-8")
    ours = settings.replace("  logo: assets/wheel.svg\n  favicon: assets/wheel.svg\n", "")
    (folder / "mkdocs.yml").write_text(ours, encoding="utf-8")
    (folder / "plain.yml").write_text(ours.replace("  - crankpin\n", "") + "\nsite_dir: plain\n", encoding="utf-8")


def build_seconds(settings: Path) -> float:
    """Build once and return the seconds that it took."""
    begin = time.perf_counter()
    subprocess.run([sys.executable, "-c", OURS, str(settings)], check=True)
    return time.perf_counter() - begin


def edit(folder: Path) -> None:
    """Change one page and a number of its calculator."""
    page = folder / "docs" / "page-1.md"
    page.write_text(page.read_text("utf-8").replace("A = 1 cm", "A = 7 cm") + "\nOne more line.\n", encoding="utf-8")


def seconds_of(pages: int) -> dict[str, float]:
    """Return the seconds of each build of a course of so many pages."""
    with tempfile.TemporaryDirectory() as work:
        folder = Path(work) / "course"
        write_course(folder, pages)
        found = {"plain": build_seconds(folder / "plain.yml"), "anew": build_seconds(folder / "mkdocs.yml")}
        again = [(build_seconds(folder / "plain.yml"), build_seconds(folder / "mkdocs.yml")) for _ in range(REPEATS)]
        found["plain_again"] = min(plain for plain, _ in again)
        found["unchanged"] = min(ours for _, ours in again)
        edit(folder)
        found["one_page"] = build_seconds(folder / "mkdocs.yml")
    return found


def edits_shown() -> dict[str, float]:
    """Return the seconds from an edit to the page that shows it: of its text, and of a number of its calculator."""
    with tempfile.TemporaryDirectory() as work:
        folder = Path(work) / "course"
        write_course(folder, SERVED)
        build_seconds(folder / "mkdocs.yml")
        command = [sys.executable, "-c", "from crankpin.cli import main; main()", "serve", "--here-only"]
        server = subprocess.Popen([*command, "--course", str(folder)], stdout=subprocess.PIPE, text=True)
        try:
            assert server.stdout is not None
            address = next(line for line in server.stdout if "http" in line).split()[-1] + "page-1/"
            time.sleep(10)  # until the first draft is there
            page = folder / "docs" / "page-1.md"
            text = page.read_text("utf-8")
            texts = [_until(address, page, f"{text}\nEdit {i} of its text.\n", f"Edit {i} of") for i in range(EDITS)]
            values = [
                _until(address, page, text.replace("A = 1 cm", f"A = {i}.75 cm"), f">{i}.75") for i in range(2, 7)
            ]
        finally:
            server.terminate()
            server.wait()
            server.stdout.close()
    return {"text": median(texts), "text_slowest": max(texts), "number": median(values), "number_slowest": max(values)}


def _until(address: str, page: Path, text: str, sign: str) -> float:
    begin = time.perf_counter()
    page.write_text(text, encoding="utf-8")
    while True:
        with urllib.request.urlopen(address) as answer:
            if sign in answer.read().decode():
                break
        if time.perf_counter() - begin > 60:
            raise TimeoutError(f"{sign!r} was never served")
        time.sleep(0.01)
    shown = time.perf_counter() - begin
    time.sleep(4)  # until the whole course has followed
    return shown


def ratios(found: dict[int, dict[str, float]]) -> dict[str, object]:
    """Return what the bars are about."""
    plain = {pages: min(one["plain"], one["plain_again"]) for pages, one in found.items()}
    small, large = SIZES[1], SIZES[-1]
    first, later = (
        (found[end]["anew"] - found[begin]["anew"]) / (end - begin) for begin, end in ((3, small), (small, large))
    )
    return {
        name: {pages: round(one[name] / plain[pages], 2) for pages, one in found.items()}
        for name in ("anew", "unchanged", "one_page")
    } | {"cost_of_a_page_30_to_300_over_3_to_30": round(later / first, 2)}


def measured() -> dict[str, object]:
    """Measure everything in one run."""
    found = {pages: seconds_of(pages) for pages in SIZES}
    rounded = {pages: {name: round(value, 2) for name, value in one.items()} for pages, one in found.items()}
    shown = {name: round(value, 2) for name, value in edits_shown().items()}
    return {"ratio_to_plain": ratios(found), "seconds": rounded, "seconds_from_edit_to_page": shown}


def main() -> None:
    """Print what was measured."""
    print(json.dumps(measured(), indent=2))


if __name__ == "__main__":
    main()
