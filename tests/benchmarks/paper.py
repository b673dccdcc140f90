"""How long printing takes: every document anew, nothing changed, and the same HTML through the bare browser.

Needs a course that was built with ``crankpin site``. Prints one JSON object: seconds a document, and the ratio of
printing to the bare browser (one process, no finishing) in the same run.
"""

import json
import shutil
import tempfile
import time
from pathlib import Path

from playwright.sync_api import sync_playwright

from crankpin.calculator.catalogue import load_catalogue
from crankpin.chromium import find_browser, start_options
from crankpin.paper.edition import print_edition
from crankpin.paper.source import FILE, Source, load_source

COURSE = Path(__file__).resolve().parents[2]


def print_seconds(source: Source, work: Path) -> float:
    """Print the course into a folder and return the seconds that it took."""
    begin = time.perf_counter()
    catalogue = load_catalogue(COURSE / source.calculators)
    print_edition(source, catalogue, course=work, site=work / "site", tell=lambda line: None)
    return time.perf_counter() - begin


def bare_seconds(files: list[Path]) -> float:
    """Print HTML files as they are with one bare browser and return the seconds that it took."""
    begin = time.perf_counter()
    with sync_playwright() as started:
        browser = started.chromium.launch(executable_path=str(find_browser()), args=start_options())
        for file in files:
            page = browser.new_page()
            page.goto(file.as_uri())
            page.pdf(prefer_css_page_size=True, tagged=True, outline=True)
            page.close()
        browser.close()
    return time.perf_counter() - begin


if __name__ == "__main__":
    source = load_source(COURSE)
    with tempfile.TemporaryDirectory() as name:
        work = Path(name)
        (work / "site").mkdir()
        for part in ("bench.toml", "cards"):
            whole = COURSE / part
            shutil.copytree(whole, work / part) if whole.is_dir() else shutil.copy(whole, work)
        cold, again = print_seconds(source, work), print_seconds(source, work)
        files = sorted((work / FILE.parent).glob("*.html"))
        bare = bare_seconds(files)
    print(
        json.dumps(
            {
                "documents": len(files),
                "cold_s": round(cold / len(files), 2),
                "unchanged_s": round(again / len(files), 3),
                "bare_s": round(bare / len(files), 2),
                "cold_to_bare": round(cold / bare, 2),
                "unchanged_to_bare": round(again / bare, 3),
            }
        )
    )
