"""Puts the ratios of the last ``make bench`` into the history, and draws the history for the documentation.

    .venv/bin/python -m tests.benchmarks.record            adds build/bench.json to history.json, and draws
    .venv/bin/python -m tests.benchmarks.record --draw     draws only

One entry a version and day: a later run of the same day adds to it, and replaces what it measured again.
"""

import datetime
import json
import sys
from pathlib import Path
from typing import Any

import crankpin
from crankpin.figures.plots import INKS, inline_svg
from tests.benchmarks.__main__ import FILE

HISTORY = Path(__file__).with_name("history.json")
PAGE = Path(__file__).resolve().parents[2] / "docs" / "reference" / "speed-and-size.md"
#: What is kept of a run: its words, where it stands in the result, and the goal set for it.
MEASURES: tuple[tuple[str, tuple[str, ...], float | None], ...] = (
    ("First visit until live, brotli", ("start", "br", "cold"), 0.38),
    ("First visit until live, gzip", ("start", "gz", "cold"), 0.44),
    ("Second visit until live", ("start", "br", "second"), 0.10),
    ("Bytes until live, brotli", ("start", "br", "bytes_ratio"), 0.59),
    ("Bytes until live, gzip", ("start", "gz", "bytes_ratio"), 0.66),
    ("Slider to painted numbers and curves", ("latency", "painted"), 1.1),
    ("Memory of five calculators", ("memory", "ratio"), 0.95),
    ("Building 300 pages anew", ("building", "ratio_to_plain", "anew", "300"), 1.5),
    ("Building 300 pages, nothing changed", ("building", "ratio_to_plain", "unchanged", "300"), 1.15),
    ("30 to 300 pages, off a straight line", ("building", "from_30_to_300", "anew", "farthest_off_the_line"), 0.20),
    ("Printing every document anew", ("paper", "cold_to_bare"), None),
)
BEFORE = """---
title: Speed and size
description: How fast the course starts, answers and builds beside plain tools, and how that went over time.
search:
  exclude: true
---

# Speed and size

Each number is a ratio, measured side by side in one run on one machine; smaller is better. Starting, bytes and memory
stand beside a page that loads Pyodide as its makers deliver it, fetches the same Python and evaluates the same
calculator. The phone is slow (its processor a quarter as fast), and so is its network (9 Mbit/s, 60 ms). The second
visit stands beside that page’s first. Moving a slider stands beside plain JavaScript, building beside MkDocs without
crankpin, printing beside the bare browser. How far the time for 30, 100 or 300 pages lies off the straight line nearest
to the three is a share of that time. `make bench` measures all this again.
"""
ROW, WIDTH, LEFT, RIGHT, TOP, BOTTOM = 40, 360, 190, 16, 6, 26


def ratio(found: dict[str, Any], path: tuple[str, ...]) -> float | None:
    """Return one ratio of a result, None where that benchmark has not run."""
    inside: Any = found
    for key in path:
        inside = inside.get(key) if isinstance(inside, dict) else None
    return inside


def with_run(history: list[dict[str, Any]], found: dict[str, Any]) -> list[dict[str, Any]]:
    """Return the history with the ratios of one run at its end."""
    stamp = {"version": crankpin.__version__, "date": datetime.date.today().isoformat()}
    same = [one for one in history if {key: one[key] for key in stamp} == stamp]
    ratios = {words: value for words, path, _ in MEASURES if (value := ratio(found, path)) is not None}
    before = same[0]["ratios"] if same else {}
    return [one for one in history if one not in same] + [{**stamp, "ratios": before | ratios}]


def drawn(history: list[dict[str, Any]]) -> str:
    """Return the history as a figure: one row a measure, one spot a run, a dashed line for the goal."""
    height = ROW * len(MEASURES) + TOP + BOTTOM

    def draw(figure: Any) -> None:
        for row, measure in enumerate(MEASURES):
            draw_row(figure, history, measure, 1 - (TOP + ROW * (row + 1)) / height, height)
        axes = figure.axes[-1]
        axes.set_xticks(range(len(history)), [one["date"][2:] for one in history])
        axes.tick_params(colors=INKS["text"], labelsize=10, length=3)

    title = "Ratios to the yardsticks, run by run"
    return inline_svg(draw, (WIDTH, height), title=title, words="The table has the same numbers.", prefix="speed")


def draw_row(
    figure: Any, history: list[dict[str, Any]], measure: tuple[str, Any, float | None], low: float, height: int
) -> None:
    """Draw one measure over all runs."""
    words, _, bar = measure
    known = [(at, one["ratios"][words]) for at, one in enumerate(history) if words in one["ratios"]]
    axes = figure.add_axes((LEFT / WIDTH, low, 1 - (LEFT + RIGHT) / WIDTH, 0.72 * ROW / height))
    axes.patch.set_visible(False)
    for side in ("top", "right", "left"):
        axes.spines[side].set_visible(False)
    axes.spines["bottom"].set_color(INKS["axis"])
    axes.set_xlim(-0.5, max(2.5, len(history) - 0.5))
    axes.set_ylim(0, 1.25 * max([value for _, value in known] + [bar or 0.1]))
    axes.set_xticks([])
    axes.set_yticks([])
    if bar is not None:
        axes.axhline(bar, color=INKS["second"], linewidth=1.0, linestyle=(0, (4, 3)))
    if known:
        axes.plot(*zip(*known, strict=True), color=INKS["position"], marker="o", markersize=4.2, linewidth=1.4)
    ink = INKS["text"]
    where = ((LEFT - 8) / WIDTH, low + 0.3 * ROW / height)
    figure.text(*where, words, ha="right", va="center", color=ink, fontsize=10.5)


def table(history: list[dict[str, Any]]) -> str:
    """Return the last runs as a table, the newest first."""
    shown = history[:-7:-1]
    heads = ["Measure", "Goal", *(f"{one['version']}, {one['date']}" for one in shown)]
    rows = [[words, number(bar), *(number(one["ratios"].get(words)) for one in shown)] for words, _, bar in MEASURES]
    lines = [heads, ["---", *("---:" for _ in heads[1:])], *rows]
    return "\n".join("| " + " | ".join(line) + " |" for line in lines)


def remarks(history: list[dict[str, Any]]) -> list[str]:
    """Return what was written beside runs that are not to be read like the others, the newest first."""
    return [f"{one['version']}, {one['date']}: {one['remark']}" for one in history[::-1] if "remark" in one]


def number(value: float | None) -> str:
    """Return a ratio for the table."""
    return "–" if value is None else f"{value:.2f}"


def page(history: list[dict[str, Any]]) -> str:
    """Return the page of the documentation."""
    caption = "One spot a run, the newest at the right; the dashed line is the goal."
    figure = f"<figure>\n{drawn(history)}\n<figcaption>{caption}</figcaption>\n</figure>"
    return "\n\n".join([f"{BEFORE}\n{figure}", table(history), *remarks(history)]) + "\n"


def main() -> None:
    """Add the last run, unless only drawing was asked for, and write the page."""
    history = json.loads(HISTORY.read_text("utf-8")) if HISTORY.exists() else []
    if "--draw" not in sys.argv:
        history = with_run(history, json.loads(FILE.read_text("utf-8")))
        HISTORY.write_text(json.dumps(history, indent=1) + "\n", "utf-8")
    PAGE.write_text(page(history), "utf-8")


if __name__ == "__main__":
    main()
