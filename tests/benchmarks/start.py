"""How heavy a page is and how soon its calculators answer, on a slow network, beside a bare Pyodide.

Needs a course that was built with ``crankpin site``. Each visit is a phone-sized page at 9 Mbit/s and 60 ms, its main
thread slowed four times (the browser cannot slow a worker, so both sides compute at full speed there). The bare page
loads Pyodide as its makers deliver it, in a worker, and adds one and one; it carries no course, nor a page to show, so
that the ratio is on the careful side. Prints one JSON object.
"""

import json
import shutil
import statistics
import tempfile
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from playwright.sync_api import Browser, BrowserContext, Page, sync_playwright

from crankpin import server
from crankpin.build import built_site
from crankpin.chromium import find_browser, start_options

ROOT = Path(__file__).resolve().parents[2]
CHAPTER = "chapters/02-edge-on/"
VISITS = 3
PHONE = {"width": 390, "height": 844}
NETWORK = {"offline": False, "latency": 60, "downloadThroughput": 9e6 / 8, "uploadThroughput": 9e6 / 8}
SLOWED = 4
BARE_PAGE = '<!doctype html><html lang="en"><title>Bare</title><script type="module" src="page.mjs"></script>'
BARE_SCRIPT = """
const worker = new Worker(new URL("worker.mjs", import.meta.url), {type: "module"});
worker.onmessage = () => (document.documentElement.dataset.state = "live");
"""
BARE_WORKER = """
import {loadPyodide} from "./pyodide/pyodide.mjs";
const python = await loadPyodide();
self.postMessage(python.runPython("1 + 1"));
"""
WATCH = """
const look = () => {
  if (document.querySelector("[data-state=live]")) window.answered_ = performance.now();
  else setTimeout(look, 10);
};
look();
"""


def bare_site(folder: Path) -> Path:
    """Write the page that Pyodide alone would make."""
    (folder / "index.html").write_text(BARE_PAGE, encoding="utf-8")
    (folder / "page.mjs").write_text(BARE_SCRIPT, encoding="utf-8")
    (folder / "worker.mjs").write_text(BARE_WORKER, encoding="utf-8")
    shutil.copytree(ROOT / "node_modules" / "pyodide", folder / "pyodide")
    return folder


@contextmanager
def serving(folder: Path, prefix: str) -> Iterator[str]:
    """Serve a folder and yield its address; its files are compressed before the first visit."""
    site = server.Site(folder, prefix)
    for path in folder.rglob("*"):
        if path.is_file():
            site.asset(path)
    with server.open_server(site, "127.0.0.1", 8500) as served:
        thread = threading.Thread(target=served.serve_forever)
        thread.start()
        try:
            yield f"http://127.0.0.1:{served.server_port}{site.prefix}"
        finally:
            served.shutdown()
            thread.join()


def slow_page(context: BrowserContext) -> Page:
    """Open a page on a slow phone."""
    page = context.new_page()
    phone = context.new_cdp_session(page)
    phone.send("Network.enable")
    phone.send("Network.emulateNetworkConditions", NETWORK)
    phone.send("Emulation.setCPUThrottlingRate", {"rate": SLOWED})
    page.add_init_script(WATCH)
    return page


def visit(context: BrowserContext, address: str) -> dict[str, float]:
    """Return the seconds until a calculator answers, and the kilobytes asked for (also those kept), of one visit."""
    page = slow_page(context)
    weights: list[int] = []
    page.on("response", lambda answer: weights.append(int(answer.headers.get("content-length", 0))))
    page.goto(address)
    while not (answered := page.evaluate("window.answered_ ?? 0")):
        page.wait_for_timeout(50)
    page.close()
    return {"answers_s": answered / 1e3, "kB": sum(weights) / 1e3}


def visits(browser: Browser, addresses: dict[str, str]) -> dict[str, dict[str, dict[str, float]]]:
    """Return the medians of first visits, and of second visits with what the first one left in the cache.

    The pages take turns, so that what else the machine does falls on each of them.
    """
    taken: dict[str, dict[str, list[dict[str, float]]]] = {name: {"first": [], "second": []} for name in addresses}
    for _ in range(VISITS):
        for name, address in addresses.items():
            context = browser.new_context(viewport=PHONE, has_touch=True, service_workers="block")
            for found in taken[name].values():
                found.append(visit(context, address))
            context.close()
    return {name: {kind: medians(found) for kind, found in kinds.items()} for name, kinds in taken.items()}


def medians(found: list[dict[str, float]]) -> dict[str, float]:
    """Return the median of each measure over several visits."""
    return {measure: round(statistics.median(one[measure] for one in found), 3) for measure in found[0]}


def main() -> None:
    """Measure both pages in one run."""
    program = find_browser()
    if program is None:
        raise SystemExit("This benchmark needs a Chromium, Chrome or Edge.")
    folder, prefix = built_site(ROOT)
    with (
        tempfile.TemporaryDirectory() as work,
        serving(folder, prefix) as course,
        serving(bare_site(Path(work)), "/") as bare,
        sync_playwright() as started,
    ):
        browser = started.chromium.launch(executable_path=str(program), args=start_options())
        found = visits(browser, {"course": course + CHAPTER, "bare": bare})
        browser.close()
    ratios = {
        kind: round(found["course"][kind]["answers_s"] / found["bare"][kind]["answers_s"], 2)
        for kind in ("first", "second")
    }
    print(json.dumps({**found, "ratio of course to bare, seconds to an answer": ratios}, indent=2))


if __name__ == "__main__":
    main()
