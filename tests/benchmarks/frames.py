"""Frame times of moving pictures on a phone-sized screen, the main thread slowed four times.

Two pages: a small course's own, with three scenes among words and formulas, and a chapter of the built site. All scenes
are started; those on screen run. In turns, so that what else the machine does falls on all: the page at rest, one line
that moves over an empty canvas of the stage's size, and the scenes. A frame is long when it lasts more than 1.5 of the
median frame at rest. Work is the main thread's time a frame, in ms at the slowed pace: script, and all of it. Without a
graphics processor every canvas is slow: compare with the one line. Prints one JSON object.
"""

import json
import logging
import statistics
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from threading import Thread
from typing import Any

from playwright.sync_api import CDPSession, Page, sync_playwright

from crankpin import server
from crankpin.build import built_site
from tests.benchmarks import phone
from tests.browser.conftest import build_course

ROOT = Path(__file__).resolve().parents[2]
CHAPTER = "chapters/03-motion/"
PREFIX = "/course/"
LONG = 1.5
ROUNDS = 4
SECONDS = {"rest": 1.5, "line": 2.5, "scenes": 5.0}
WORDS = "A wheel turns, and what is seen of it edge-on goes to and fro.\n\n$$x = A\\cos(\\omega t + \\varphi)$$\n\n"
PAGE = (
    "# Three scenes\n\n"
    + WORDS * 8
    + "```scene wheel\nbody = rod\narrows = v a\ncurves = x v a\n```\n\n"
    + WORDS
    + "```scene spring\nbody = spring\narrows = v a\ncurves = x\n```\n\n"
    + WORDS
    + "```scene spiral\nbody = buoy\ncurves = x\n```\n\n"
    + WORDS * 8
    + "```calculator edge-on\n```\n"
)
COUNT = """(seconds) => new Promise((done) => {
  const frames = [];
  let first = 0, last = 0;
  const step = (now) => {
    first ||= now;
    if (last) frames.push(now - last);
    last = now;
    if (now - first < 1000 * seconds) requestAnimationFrame(step);
    else done(frames);
  };
  requestAnimationFrame(step);
})"""
#: The least that moves at all.
LINE = """() => {
  const stage = document.querySelector(".scene-stage");
  const canvas = document.createElement("canvas");
  Object.assign(canvas, {width: 2 * stage.clientWidth, height: 2 * stage.clientHeight});
  canvas.style.cssText = "position: absolute; inset: 0; width: 100%; height: 100%";
  stage.append(canvas);
  const pen = canvas.getContext("2d");
  const step = (now) => {
    pen.clearRect(0, 0, canvas.width, canvas.height);
    pen.fillRect((now / 10) % canvas.width, 0, 4, canvas.height);
    if (canvas.isConnected) requestAnimationFrame(step);
  };
  requestAnimationFrame(step);
  window.line_ = canvas;
}"""
NO_LINE = "() => window.line_.remove()"
PRESS = "() => document.querySelectorAll('crankpin-scene [data-do=go]').forEach((button) => button.click())"
#: What is begun before frames are counted, and ended after.
SET_UP = {"rest": (None, None), "line": (LINE, NO_LINE), "scenes": (PRESS, PRESS)}


@dataclass
class Seen:
    """Durations of frames in ms, and the main thread's time in s."""

    frames: list[float] = field(default_factory=list)
    work: float = 0.0
    script: float = 0.0

    def add(self, page: Page, phone_: CDPSession, seconds: float) -> None:
        """Count frames for so long."""
        before = spent(phone_)
        self.frames += page.evaluate(COUNT, seconds)
        after = spent(phone_)
        self.work += after["TaskDuration"] - before["TaskDuration"]
        self.script += after["ScriptDuration"] - before["ScriptDuration"]

    def summary(self, usual: float) -> dict[str, Any]:
        """Return what the frames were like, in terms of the usual one."""
        count = len(self.frames)
        return {
            "frames": count,
            "long_percent": round(100 * sum(one > LONG * usual for one in self.frames) / count, 2),
            "median": round(statistics.median(self.frames) / usual, 2),
            "within_99_percent": round(sorted(self.frames)[int(0.99 * count)] / usual, 2),
            "work_ms": round(1000 * self.work / count, 2),
            "script_ms": round(1000 * self.script / count, 2),
        }


def spent(phone_: CDPSession) -> dict[str, float]:
    """Return what the browser says about the page's work so far."""
    return {one["name"]: one["value"] for one in phone_.send("Performance.getMetrics")["metrics"]}


@contextmanager
def served(site: server.Site) -> Iterator[str]:
    """Serve a site, and yield its address."""
    with server.open_server(site, "127.0.0.1", 8470) as running:
        thread = Thread(target=running.serve_forever)
        thread.start()
        try:
            yield f"http://127.0.0.1:{running.server_port}{site.prefix}"
        finally:
            running.shutdown()
            thread.join()


def watched(page: Page, address: str) -> dict[str, Any]:
    """Open a page on a slowed phone, and measure it in turns."""
    page.goto(address)
    page.locator("crankpin-scene").first.scroll_into_view_if_needed()
    page.locator("crankpin-scene[data-state=ready]").first.wait_for()
    page.wait_for_timeout(8000)  # the worker has started
    phone_ = page.context.new_cdp_session(page)
    phone_.send("Performance.enable")
    taken = {name: Seen() for name in SECONDS}
    for name in [*SECONDS] * ROUNDS:
        begin, end = SET_UP[name]
        if begin:
            page.evaluate(begin)
        page.wait_for_timeout(300)
        taken[name].add(page, phone_, SECONDS[name])
        if end:
            page.evaluate(end)
    usual = statistics.median(taken["rest"].frames)
    scenes = page.locator("crankpin-scene").count()
    return {"scenes_on_page": scenes, "usual_ms": round(usual, 2)} | {k: one.summary(usual) for k, one in taken.items()}


def measured() -> dict[str, Any]:
    """Measure both pages."""
    logging.getLogger("mkdocs").setLevel(logging.ERROR)
    with tempfile.TemporaryDirectory() as name, sync_playwright() as playwright:
        folder = build_course(Path(name) / "course", {"index": PAGE})
        sites = {"three": (server.Site(folder, PREFIX), ""), "chapter": (server.Site(*built_site(ROOT)), CHAPTER)}
        found = {}
        for key, (site, path) in sites.items():
            with served(site) as address, phone.browser(playwright, Path(name) / key) as context:
                found[key] = watched(phone.slowed(context), address + path)
        return found


if __name__ == "__main__":
    print(json.dumps(measured(), indent=2))
