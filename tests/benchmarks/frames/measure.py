"""Frame times of moving pictures on a phone-sized screen, the processor slowed four times.

    .venv/bin/python tests/benchmarks/frames/measure.py SITE_FOLDER chapters/03-motion/ [seconds]

Starts every scene of the page, of which those on screen run, and compares with the same page at rest and with one line
that moves over an empty canvas. A frame is long when it lasts more than 1.5 of the median frame at rest. On a machine
without a graphics processor every canvas is slow: compare the scenes with the one line.
"""

import statistics
import sys
import threading
import time
from pathlib import Path

from playwright.sync_api import sync_playwright

from crankpin import server
from crankpin.chromium import find_browser, start_options

SLOWED = 4
LONG = 1.5
PREFIX = "/course/"
PHONE = {"width": 390, "height": 844}
COUNT = """() => {
  window.frames_ = [];
  let last = 0;
  const step = (now) => {
    if (last) window.frames_.push(now - last);
    last = now;
    window.frame_ = requestAnimationFrame(step);
  };
  window.frame_ = requestAnimationFrame(step);
}"""
#: The least that moves at all: one line on an empty canvas of the size of the first stage.
BARE = """() => {
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
  window.bare_ = canvas;
}"""
STOP = "() => { cancelAnimationFrame(window.frame_); return window.frames_; }"


def frames(page, seconds):
    """Return the durations of the frames in that time, in ms."""
    page.evaluate(COUNT)
    time.sleep(seconds)
    return page.evaluate(STOP)


def told(name, durations, usual):
    """Print how long the frames were, as ratios to the usual one."""
    long = sum(one > LONG * usual for one in durations) / len(durations)
    late = sorted(durations)[int(0.99 * len(durations))] / usual
    print(
        f"{name:8} {len(durations):6} frames, median {statistics.median(durations) / usual:.2f}, "
        f"99 % within {late:.2f} of a frame, {100 * long:.2f} % long"
    )


def main(folder, page_path, seconds=20.0):
    """Measure one page."""
    with server.open_server(server.Site(Path(folder), PREFIX), "127.0.0.1", 8470) as served:
        thread = threading.Thread(target=served.serve_forever)
        thread.start()
        try:
            measure(f"http://127.0.0.1:{served.server_port}{PREFIX}{page_path}", seconds)
        finally:
            served.shutdown()
            thread.join()


def measure(address, seconds):
    """Open the page on a slowed phone and measure it at rest and moving."""
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=str(find_browser()), args=start_options())
        context = browser.new_context(viewport=PHONE, device_scale_factor=2, has_touch=True, is_mobile=True)
        page = context.new_page()
        page.goto(address)
        page.wait_for_timeout(8000)
        context.new_cdp_session(page).send("Emulation.setCPUThrottlingRate", {"rate": SLOWED})
        scenes = page.locator("crankpin-scene")
        scenes.first.scroll_into_view_if_needed()
        at_rest = frames(page, seconds / 4)
        page.evaluate(BARE)
        bare = frames(page, seconds / 2)
        page.evaluate("() => window.bare_.remove()")
        for i in range(scenes.count()):
            scenes.nth(i).locator("[data-do=go]").dispatch_event("click")
        page.wait_for_timeout(500)
        moving = frames(page, seconds)
        usual = statistics.median(at_rest)
        told("at rest", at_rest, usual)
        told("one line", bare, usual)
        told("scenes", moving, usual)
        work = page.evaluate("performance.getEntriesByType('longtask').length")
        print(f"{scenes.count()} scenes, usual frame {usual:.1f} ms, long tasks {work}")
        browser.close()


if __name__ == "__main__":
    main(sys.argv[1], sys.argv[2], *map(float, sys.argv[3:]))
