"""How long from moving a slider to the numbers and the curves as painted, on a slow phone, beside plain JavaScript.

Needs a course that was built with ``crankpin site``. Both times it is the course's own page. For the yardstick its
worker is another one, written for this benchmark alone: it does the arithmetic of the same calculator in a few lines of
JavaScript and gives the results and curves in the same form, without working, other units, cautions or tables.
While the slider moves, both workers leave working and table out of their answers; the page asks for them at rest,
outside these times.

Beside both stands a bare page: a slider, a worker that computes the curves in plain JavaScript, one number and one
canvas with three lines, and nothing else. Every time ends with a frame, and frames come every 16.7 ms, so that the
bare page's times are the least that can be had here.
"""

import json
import statistics
import tempfile
from pathlib import Path
from typing import Any

from playwright.sync_api import Page, Playwright, sync_playwright

from crankpin.build import built_site
from crankpin.calculator.catalogue import load_one
from crankpin.service import service
from tests.benchmarks import network, phone
from tests.benchmarks.start import CALCULATOR, CHAPTER, LIVE, ROOT, STORE, WATCH, wait_for_live

CHANGES = 150
PLAIN_WORKER = """
const found = FOUND;
const POINTS = found.picture.panels[0].curves[0].count;
function answer({given, brief}) {
  const {A: [typed, unit], ...rest} = JSON.parse(given);
  const number = (key) => Number(rest[key][0].replace("−", "-"));
  const A = Number(typed) * {m: 1, cm: 0.01, mm: 0.001}[unit];
  const omega = number("omega") * {"rad/s": 1, rpm: Math.PI / 30}[rest.omega[1]];
  const phi = number("phi"), t = number("t");
  const period = 2 * Math.PI / omega;
  const begin = t > 2 * period ? Math.max(0, (Math.floor(t / period) - 0.5) * period) : 0;
  const at = (time) => {
    const angle = omega * time + phi;
    return [A * Math.cos(angle), -A * omega * Math.sin(angle), -A * omega * omega * Math.cos(angle)];
  };
  const numbers = new Float64Array(6 * POINTS);
  for (let i = 0; i < POINTS; i++) {
    const time = begin + 2 * period * i / (POINTS - 1);
    at(time).forEach((value, curve) => {
      numbers[2 * curve * POINTS + i] = time;
      numbers[(2 * curve + 1) * POINTS + i] = curve === 0 ? 100 * value : value;
    });
  }
  const [x, v, a] = at(t);
  const results = {theta: omega * t + phi, x, v, a, x_max: A, v_max: A * omega, a_max: A * omega * omega};
  for (const [key, value] of Object.entries(results)) {
    Object.assign(found.outputs[key], {value, text: value.toPrecision(3), full: String(value)});
  }
  Object.assign(found.inputs.A, {typed, plain: typed, text: `${typed} ${unit}`, value: A});
  const {cautions} = found.parts;
  const told = brief ? {...found, parts: {cautions}} : found;
  return [{value: JSON.stringify(told), numbers}, [numbers.buffer]];
}
self.addEventListener("message", ({data}) => {
  const others = data.ask === "answer" && data.calculator !== found.calculator;
  const [reply, moved] = others
    ? [{error: {name: "Error", message: "another calculator"}}, []]
    : data.ask === "answer" ? answer(data) : [{value: null}, []];
  self.postMessage({number: data.number, ...reply}, moved);
});
"""
BARE_PAGE = """<!doctype html><html lang="en"><meta charset="utf-8"><meta name="viewport" content="width=device-width">
<title>Bare</title><div id="bare"><div data-key="A"><input type="range" min="1" max="50" value="12"></div>
<p><output>12.0 cm</output></p><canvas data-part="picture" width="716" height="828" style="width: 358px; height: 414px">
</canvas></div><script type="module" src="page.mjs"></script></html>"""
BARE_SCRIPT = """
const box = document.getElementById("bare");
const slider = box.querySelector("input"), output = box.querySelector("output"), canvas = box.querySelector("canvas");
const pen = canvas.getContext("2d");
const worker = new Worker("./worker.mjs", {type: "module"});
slider.addEventListener("input", () => {
  box.setAttribute("aria-busy", "true");
  worker.postMessage(Number(slider.value));
});
worker.addEventListener("message", ({data: {text, numbers}}) => {
  output.textContent = text;
  pen.clearRect(0, 0, canvas.width, canvas.height);
  pen.lineWidth = 4;
  for (let curve = 0; curve < 3; curve++) {
    pen.beginPath();
    for (let i = 0; i < 240; i++) pen.lineTo(3 * i, 138 + 276 * curve - 130 * numbers[240 * curve + i]);
    pen.stroke();
  }
  box.removeAttribute("aria-busy");
});
"""
BARE_WORKER = """
self.addEventListener("message", ({data: A}) => {
  const numbers = new Float64Array(720);
  for (let i = 0; i < 240; i++) {
    const angle = 4 * Math.PI * i / 239;
    [Math.cos(angle), -Math.sin(angle), -Math.cos(angle)].forEach((value, curve) => {
      numbers[240 * curve + i] = A / 50 * value;
    });
  }
  self.postMessage({text: `${A.toPrecision(3)} cm`, numbers}, [numbers.buffer]);
});
"""
#: Moves the slider again and again; returns how long each time, in ms, until the answer and until its frame was made.
MOVE = """async ([element, changes]) => {
  const box = document.getElementById(element);
  const slider = box.querySelector('[data-key="A"] input[type=range]');
  const rest = (time) => new Promise((go) => setTimeout(go, time));
  const answered = () => new Promise((go) => {
    const watcher = new MutationObserver(() => !box.hasAttribute("aria-busy") && (watcher.disconnect(), go()));
    watcher.observe(box, {attributes: true, attributeFilter: ["aria-busy"]});
  });
  const framed = () => new Promise((go) => requestAnimationFrame(() => {
    const {port1, port2} = new MessageChannel();
    port1.onmessage = go;
    port2.postMessage(null);
  }));
  box.querySelector('[data-part="picture"]').scrollIntoView({block: "center"});
  await rest(500);
  const taken = [];
  for (let i = 0; i < changes; i++) {
    await rest(40 + 97 * i % 83);
    slider.value = String(10 + 7 * i % 29);
    const begin = performance.now();
    slider.dispatchEvent(new Event("input", {bubbles: true}));
    await answered();
    const worked = performance.now();
    await framed();
    taken.push([worked - begin, performance.now() - begin]);
  }
  return taken;
}"""


def plain_worker() -> str:
    """Return the yardstick's worker, with the form of an answer in it."""
    found, _ = service.shown(CALCULATOR, load_one(ROOT / "calculators", CALCULATOR), {})
    return PLAIN_WORKER.replace("FOUND", json.dumps(found))


def moved(page: Page, address: str) -> list[list[float]]:
    """Open the page, wait until it is live, move its slider, and return the times."""
    page.add_init_script(WATCH.replace("SELECTOR", json.dumps(LIVE["course"])))
    page.goto(address, wait_until="commit")
    wait_for_live(page)
    page.wait_for_timeout(3000)
    element = page.evaluate("name => document.querySelector(`[data-calculator=${name}]`).id", CALCULATOR)
    page.evaluate(MOVE, [element, 30])  # until the browser knows the code
    times: list[list[float]] = page.evaluate(MOVE, [element, CHANGES])
    return times


def write_bare(folder: Path) -> Path:
    """Write the bare page."""
    folder.mkdir()
    for name, text in (("index.html", BARE_PAGE), ("page.mjs", BARE_SCRIPT), ("worker.mjs", BARE_WORKER)):
        (folder / name).write_text(text, encoding="utf-8")
    return folder


def moved_bare(page: Page, address: str) -> list[list[float]]:
    """Open the bare page, move its slider, and return the times."""
    page.goto(address)
    page.wait_for_timeout(1000)
    page.evaluate(MOVE, ["bare", 30])
    times: list[list[float]] = page.evaluate(MOVE, ["bare", CHANGES])
    return times


def times_of(playwright: Playwright, address: str, name: str) -> list[list[float]]:
    """Return the times of one of the pages."""
    with (
        tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as profile,
        phone.browser(playwright, Path(profile)) as context,
    ):
        page = phone.slowed(context)
        if name == "bare":
            return moved_bare(page, address)
        if name == "plain":
            code = plain_worker()
            page.route("**/worker.*.mjs", lambda route: route.fulfill(body=code, content_type="text/javascript"))
        return moved(page, address)


def summary(taken: list[list[float]]) -> dict[str, float]:
    """Return the median and what 95 % are within, until answered and until painted."""
    found = {}
    for i, name in enumerate(("answered", "painted")):
        ordered = sorted(one[i] for one in taken)
        found[f"{name}_median_ms"] = round(statistics.median(ordered), 1)
        found[f"{name}_p95_ms"] = round(ordered[int(0.95 * len(ordered))], 1)
    return found


def measured() -> dict[str, Any]:
    """Measure all in one run, in turns."""
    taken: dict[str, list[list[float]]] = {"course": [], "plain": [], "bare": []}
    folder, prefix = built_site(ROOT)
    with (
        tempfile.TemporaryDirectory() as work,
        phone.SlowWorkers() as workers,
        network.serving(folder, STORE, prefix=prefix, slow=False) as (address, _),
        network.serving(write_bare(Path(work) / "bare"), STORE, slow=False) as (bare_address, _),
        sync_playwright() as playwright,
    ):
        for _ in range(2):
            for name in taken:
                where = bare_address if name == "bare" else address + CHAPTER
                taken[name] += times_of(playwright, where, name)
        how = workers.how
    course, plain, bare = (summary(one) for one in taken.values())
    return {
        "painted": round(course["painted_median_ms"] / plain["painted_median_ms"], 2),
        "painted_p95": round(course["painted_p95_ms"] / plain["painted_p95_ms"], 2),
        "course": course,
        "plain": plain,
        "bare": bare,
        "workers": how,
    }


if __name__ == "__main__":
    print(json.dumps(measured(), indent=2))
