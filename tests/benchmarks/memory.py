"""How much memory a page with five calculators takes, all of them live, beside a bare Pyodide that evaluates the same.

All five have had their answers from Python, results, working, table and curves. Their pictures stand in the page as
drawn at build time, all five, near the screen and far: an answer for the numbers as printed has nothing to draw anew.
One slider is then moved, so that one picture has been drawn by the page too.

What is measured is the browser's process that holds the page: its share of the machine's memory (Pss, from Linux).
"""

import json
import logging
import os
import statistics
import tempfile
from pathlib import Path
from typing import Any

from playwright.sync_api import Playwright, sync_playwright

from tests.benchmarks import network, phone
from tests.benchmarks.start import LIVE, STORE, WATCH, wait_for_live, write_bare
from tests.browser.conftest import build_course

CALCULATORS = ["edge-on", "turning-rate", "passing-times", "starting-state", "spring-mass"]
VISITS = 3
REST_MS = 5000
MOVE_ONE = """() => {
  const slider = document.querySelector("crankpin-calculator input[type=range]");
  if (!slider) return;
  slider.value = slider.max;
  slider.dispatchEvent(new Event("input", {bubbles: true}));
}"""
ALL_LIVE = "document.querySelectorAll('crankpin-calculator:not([data-state=live])').length === 0"


def share_kb(pid: int) -> int:
    """Return a process's share of the memory, in kB."""
    lines = Path(f"/proc/{pid}/smaps_rollup").read_text().splitlines()
    return next(int(line.split()[1]) for line in lines if line.startswith("Pss:"))


def page_mb(playwright: Playwright, address: str, selector: str) -> float:
    """Open a page, wait until all of it is live and at rest, and return its memory in MB."""
    with (
        tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as profile,
        phone.browser(playwright, Path(profile)) as context,
    ):
        page = context.new_page()
        page.add_init_script(WATCH.replace("SELECTOR", json.dumps(selector)))
        page.goto(address, wait_until="commit")
        wait_for_live(page)
        while not page.evaluate(ALL_LIVE):
            page.wait_for_timeout(50)
        page.evaluate(MOVE_ONE)
        page.wait_for_timeout(REST_MS)
        return max(share_kb(pid) for pid in phone.processes_below(os.getpid()) if phone.is_renderer(pid)) / 1e3


def measured() -> dict[str, Any]:
    """Measure both in one run, in turns."""
    logging.getLogger("mkdocs").setLevel(logging.ERROR)
    taken: dict[str, list[float]] = {"course": [], "bare": []}
    fences = "".join(f"```calculator {name}\n```\n\n" for name in CALCULATORS)
    with tempfile.TemporaryDirectory() as name, sync_playwright() as playwright:
        site = build_course(Path(name) / "course", {"index": "# Five\n\n" + fences})
        bare = write_bare(Path(name) / "bare", CALCULATORS)
        with (
            network.serving(site, STORE, prefix="/course/", slow=False) as (course_address, _),
            network.serving(bare, STORE, slow=False) as (bare_address, _),
        ):
            for _ in range(VISITS):
                taken["course"].append(page_mb(playwright, course_address, LIVE["course"]))
                taken["bare"].append(page_mb(playwright, bare_address, LIVE["bare"]))
    course, yardstick = (statistics.median(found) for found in taken.values())
    return {"ratio": round(course / yardstick, 3), "course_mb": round(course, 1), "bare_mb": round(yardstick, 1)}


if __name__ == "__main__":
    print(json.dumps(measured(), indent=2))
