"""How soon the calculators of a page answer, on a slow phone behind a slow network, beside a bare Pyodide.

Needs a course that was built with ``crankpin site``. The course's page is a whole chapter. The bare page loads Pyodide
as its makers deliver it, on the main thread (which the browser can slow), fetches crankpin's packages and calculators
as one archive beside it, evaluates the same calculator, and shows one line; it has no text to show meanwhile.

A visit is live when the numbers and the curves of the first calculator have been worked out by Python and painted. Each
visit starts the browser anew; the second finds what the first left in its caches, the third what both left.
"""

import json
import shutil
import statistics
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from playwright.sync_api import Page, Playwright, sync_playwright

from crankpin.browser.bundle import course_archive
from crankpin.build import built_site
from crankpin.calculator.catalogue import load_catalogue
from tests.benchmarks import network, phone

ROOT = Path(__file__).resolve().parents[2]
STORE = ROOT / "build" / "bench" / "compressed"
CHAPTER = "chapters/02-edge-on/"
CALCULATOR = "edge-on"
VISITS = 3
#: A reader stays longer than this. The browser keeps the engine as compiled some seconds after it last improved code.
STAY_MS = 10_000
BARE_PAGE = (
    '<!doctype html><html lang="en"><title>Bare</title><output></output><script type="module" src="page.mjs"></script>'
)
BARE_SCRIPT = """
import {loadPyodide} from "./pyodide/pyodide.mjs";
const archive = fetch("./course.zip").then((response) => response.arrayBuffer());
const python = await loadPyodide();
python.FS.writeFile("/course.zip", new Uint8Array(await archive));
python.pyimport("sys").path.insert(0, "/course.zip");
const service = python.pyimport("crankpin.service.service").open_service("/course.zip");
for (const name of NAMES) {
  const found = JSON.parse(service.answer(name, "{}"));
  document.querySelector("output").textContent = Object.values(found.outputs)[0].text;
}
document.documentElement.dataset.state = "live";
"""
LIVE = {
    "course": "crankpin-calculator[data-state=live] [data-live]",
    "bare": "html[data-state=live]",
}
WATCH = """(() => {
  window.seen_ = {shift: 0};
  const look = () => {
    if (!document.querySelector(SELECTOR)) return;
    watcher.disconnect();
    requestAnimationFrame(() => setTimeout(() => (window.seen_.live = performance.now())));
  };
  const watcher = new MutationObserver(look);
  watcher.observe(document, {subtree: true, attributes: true, attributeFilter: ["data-state", "data-live"]});
  new PerformanceObserver((list) => {
    for (const one of list.getEntries()) window.seen_.shift += one.value;
  }).observe({type: "layout-shift", buffered: true});
  new PerformanceObserver((list) => {
    for (const one of list.getEntries()) if (one.name === "first-contentful-paint") window.seen_.paint = one.startTime;
  }).observe({type: "paint", buffered: true});
})()"""


@dataclass(frozen=True)
class Visit:
    """One visit: seconds from its start until its calculator is live, and bytes over the network until then."""

    live_s: float
    bytes: int
    paint_s: float
    shift: float


def write_bare(folder: Path, calculators: list[str]) -> Path:
    """Write the page that Pyodide alone would make, with these calculators."""
    folder.mkdir()
    (folder / "index.html").write_text(BARE_PAGE, encoding="utf-8")
    (folder / "page.mjs").write_text(BARE_SCRIPT.replace("NAMES", json.dumps(calculators)), encoding="utf-8")
    files = load_catalogue(ROOT / "calculators").files
    (folder / "course.zip").write_bytes(course_archive(files, whole=True))
    shutil.copytree(ROOT / "node_modules" / "pyodide", folder / "pyodide")
    return folder


def visit(playwright: Playwright, profile: Path, address: str, selector: str, line: network.Line) -> Visit:
    """Start the browser, open a page, wait until it is live and its caches are written, and end the browser."""
    with phone.browser(playwright, profile) as context:
        page = phone.slowed(context)
        page.add_init_script(WATCH.replace("SELECTOR", json.dumps(selector)))
        before = line.sent
        page.goto(address, wait_until="commit")
        seen = wait_for_live(page)
        sent = line.sent - before
        page.wait_for_timeout(STAY_MS)
        return Visit(seen["live"] / 1e3, sent, seen.get("paint", seen["live"]) / 1e3, seen["shift"])


def wait_for_live(page: Page) -> dict[str, Any]:
    """Wait until a page is live, and return what it has seen."""
    while True:
        seen: dict[str, Any] = page.evaluate("window.seen_ ?? {}")
        if "live" in seen:
            return seen
        page.wait_for_timeout(50)


@contextmanager
def hosts(work: Path, coding: str, *, slow: bool = True) -> Iterator[dict[str, tuple[str, network.Line]]]:
    """Serve the course and the bare page; yield the address of the page to visit and the line to it, for each."""
    folder, prefix = built_site(ROOT)
    bare = work / "bare"
    if not bare.exists():
        write_bare(bare, [CALCULATOR])
    with (
        network.serving(folder, STORE, prefix=prefix, coding=coding, slow=slow) as (course, course_line),
        network.serving(bare, STORE, coding=coding, slow=slow) as (yardstick, bare_line),
    ):
        yield {"course": (course + CHAPTER, course_line), "bare": (yardstick, bare_line)}


def visits(playwright: Playwright, work: Path, coding: str) -> dict[str, dict[str, list[Visit]]]:
    """Visit both pages several times, in turns, so that what else the machine does falls on both."""
    taken: dict[str, dict[str, list[Visit]]] = {name: {"cold": [], "second": []} for name in LIVE}
    with hosts(work, coding) as addresses:
        for _ in range(VISITS):
            for name, (address, line) in addresses.items():
                with tempfile.TemporaryDirectory(dir=work, ignore_cleanup_errors=True) as profile:
                    for found in taken[name].values():
                        found.append(visit(playwright, Path(profile), address, LIVE[name], line))
    return taken


def median(found: list[Visit], measure: str) -> float:
    """Return the median of one measure over several visits."""
    return statistics.median(getattr(one, measure) for one in found)


def compared(taken: dict[str, dict[str, list[Visit]]]) -> dict[str, Any]:
    """Return the ratios to the bare page's cold start, and the sizes."""
    cold = {name: median(found["cold"], "live_s") for name, found in taken.items()}
    second = {name: median(found["second"], "live_s") for name, found in taken.items()}
    ours = taken["course"]["cold"] + taken["course"]["second"]
    return {
        "cold": round(cold["course"] / cold["bare"], 3),
        "second": round(second["course"] / cold["bare"], 3),
        "bare_second": round(second["bare"] / cold["bare"], 3),
        "bare_cold_s": round(cold["bare"], 2),
        "bytes": round(median(taken["course"]["cold"], "bytes")),
        "bytes_ratio": round(median(taken["course"]["cold"], "bytes") / median(taken["bare"]["cold"], "bytes"), 3),
        "first_paint": round(median(taken["course"]["cold"], "paint_s") / cold["bare"], 3),
        "layout_shift": max(one.shift for one in ours),
    }


def measured() -> dict[str, Any]:
    """Measure both pages, by brotli and by gzip, in one run."""
    with tempfile.TemporaryDirectory() as name, phone.SlowWorkers() as workers, sync_playwright() as playwright:
        found = {coding: compared(visits(playwright, Path(name), coding)) for coding in network.CODINGS}
        return {**found, "workers": workers.how}


if __name__ == "__main__":
    print(json.dumps(measured(), indent=2))
