"""How long a course takes to build beside plain MkDocs with the same theme and the same Markdown.

Courses of 3, 30, 100 and 300 pages with formulas and a calculator on each: built anew (nothing kept from before), built
again with nothing changed, and after an edit of one page. Plain MkDocs sees the calculators as code blocks. Each build
is a process of its own; its start and the reading of the settings count on both sides. The sizes take turns, three
times, and the shortest time of each counts.

From 30 pages to 300 the cost should grow as a straight line, in seconds and in the processors' own time, which other
work on the machine changes less: what a page costs from 100 to 300 is put over what it costs from 30 to 100, what
every course pays whatever its size is told apart, and so is how far the three costs lie off the straight line nearest
to them.

Then a course of 100 pages is served, and a page of it edited several times: the seconds from writing the file until the
new text is served.

    .venv/bin/python -m tests.benchmarks.building

Prints one JSON object. Nothing that crankpin is made of may change during the run, else nothing is kept.
"""

import json
import resource
import shutil
import subprocess
import sys
import tempfile
import time
import urllib.request
from pathlib import Path
from statistics import median

ROOT = Path(__file__).resolve().parents[2]
SIZES = (3, 30, 100, 300)
LINE = (30, 100, 300)
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
    return cost_of_build(settings)[0]


def cost_of_build(settings: Path) -> tuple[float, float]:
    """Build once and return the seconds that it took, and those of all processors at work for it."""
    before, begin = resource.getrusage(resource.RUSAGE_CHILDREN), time.perf_counter()
    subprocess.run([sys.executable, "-c", OURS, str(settings)], check=True)
    seconds, after = time.perf_counter() - begin, resource.getrusage(resource.RUSAGE_CHILDREN)
    return seconds, after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def edit(folder: Path) -> None:
    """Change one page and a number of its calculator."""
    page = folder / "docs" / "page-1.md"
    page.write_text(page.read_text("utf-8").replace("A = 1 cm", "A = 7 cm") + "\nOne more line.\n", encoding="utf-8")


def built_anew(folder: Path) -> dict[str, float]:
    """Build both ways with nothing of an earlier build left, and return what it cost."""
    for left in ("plain", "site", "build"):
        shutil.rmtree(folder / left, ignore_errors=True)
    plain, anew = cost_of_build(folder / "plain.yml"), cost_of_build(folder / "mkdocs.yml")
    return {"plain": plain[0], "plain_processors": plain[1], "anew": anew[0], "anew_processors": anew[1]}


def seconds_of_all() -> dict[int, dict[str, float]]:
    """Return the seconds of each build of a course of each size."""
    with tempfile.TemporaryDirectory() as work:
        folders = {pages: Path(work) / f"course-{pages}" for pages in SIZES}
        for pages, folder in folders.items():
            write_course(folder, pages)
        rounds = [{pages: built_anew(folder) for pages, folder in folders.items()} for _ in range(REPEATS)]
        found = {}
        for pages, folder in folders.items():
            found[pages] = {way: min(one[pages][way] for one in rounds) for way in rounds[0][pages]}
            found[pages]["unchanged"] = min(build_seconds(folder / "mkdocs.yml") for _ in range(REPEATS))
            edit(folder)
            found[pages]["one_page"] = build_seconds(folder / "mkdocs.yml")
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
    return {
        name: {pages: round(one[name] / one["plain"], 2) for pages, one in found.items()}
        for name in ("anew", "unchanged", "one_page")
    }


def straight(seconds: dict[int, float]) -> dict[str, float]:
    """Return how straight the cost grows from the least course to the largest: 1 and 0 are a straight line.

    The line is the one of least squares of the shares by which the costs lie off it.
    """
    first, middle, last = sorted(seconds)
    early = (seconds[middle] - seconds[first]) / (middle - first)
    late = (seconds[last] - seconds[middle]) / (last - middle)
    fixed, each = nearest_line(seconds)
    off = {pages: one / (fixed + each * pages) - 1.0 for pages, one in seconds.items()}
    return {
        "page_ms_30_to_100": round(1e3 * early, 1),
        "page_ms_100_to_300": round(1e3 * late, 1),
        "later_page_over_earlier": round(late / early, 2),
        "fixed_seconds": round(fixed, 2),
        "farthest_off_the_line": round(max(map(abs, off.values())), 3),
    }


def nearest_line(seconds: dict[int, float]) -> tuple[float, float]:
    """Return the seconds without any page, and those for each page, that come nearest to all costs in proportion."""
    weights = {pages: one**-2 for pages, one in seconds.items()}
    whole = sum(weights.values())
    across = sum(weights[pages] * pages for pages in seconds) / whole
    up = sum(weights[pages] * one for pages, one in seconds.items()) / whole
    each = sum(weights[pages] * (pages - across) * (one - up) for pages, one in seconds.items())
    each /= sum(weights[pages] * (pages - across) ** 2 for pages in seconds)
    return up - each * across, each


def measured() -> dict[str, object]:
    """Measure everything in one run."""
    found = seconds_of_all()
    rounded = {pages: {name: round(value, 2) for name, value in one.items()} for pages, one in found.items()}
    shown = {name: round(value, 2) for name, value in edits_shown().items()}
    costs = ("anew", "anew_processors", "plain", "plain_processors")
    lines = {way: straight({pages: found[pages][way] for pages in LINE}) for way in costs}
    return {
        "ratio_to_plain": ratios(found),
        "from_30_to_300": lines,
        "seconds": rounded,
        "seconds_from_edit_to_page": shown,
    }


def main() -> None:
    """Print what was measured."""
    print(json.dumps(measured(), indent=2))


if __name__ == "__main__":
    main()
