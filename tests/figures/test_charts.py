"""The charts as built into a page."""

import math
import re
from itertools import pairwise
from pathlib import Path

import pytest

from crankpin.browser.bundle import STATIC
from crankpin.calculator.catalogue import load_catalogue
from crankpin.calculator.evaluate import evaluate
from crankpin.calculator.serialise import answer
from crankpin.figures import charts, plots
from crankpin.figures.charts import chart_svg
from crankpin.site import policy

ROOT = Path(__file__).resolve().parents[2]
CATALOGUE = load_catalogue(ROOT / "calculators")


def svg_of(name, given=None):
    """Return a calculator's chart, "" where it has none."""
    told, numbers = answer(name, CATALOGUE[name], given or {})
    return chart_svg(told["picture"], numbers, prefix="one") if told["picture"] else ""


def points_of(path):
    """Return the points of a path that is drawn by one move and lines from each point to the next."""
    start, _, steps = path.removeprefix("M").partition("l")
    number = re.compile(r"-?(?:\d+\.?\d*|\.\d+)")
    x, y = (float(one) for one in number.findall(start))
    out = [(x, y)]
    numbers = [float(one) for one in number.findall(steps)]
    for dx, dy in zip(numbers[::2], numbers[1::2], strict=True):
        x, y = x + dx, y + dy
        out.append((x, y))
    return out


def distance(point, points):
    """Return how far a point is from a line through points."""
    best = math.inf
    for (x0, y0), (x1, y1) in pairwise(points):
        dx, dy = x1 - x0, y1 - y0
        square = dx * dx + dy * dy
        share = min(1.0, max(0.0, ((point[0] - x0) * dx + (point[1] - y0) * dy) / square)) if square else 0.0
        best = min(best, math.hypot(point[0] - x0 - share * dx, point[1] - y0 - share * dy))
    return best


def test_a_curve_is_where_its_numbers_are():
    given = {"A": "10 cm", "omega": "2 rad/s"}
    curve = evaluate(CATALOGUE["edge-on"], given).picture().panels[0].curves[0]
    path = re.search(r'class="ink-position" fill="none"[^>]* d="([^"]+)"', svg_of("edge-on", given))
    points = points_of(path[1])
    low, high = min(curve.ys), max(curve.ys)
    room = 0.12 * (high - low)
    for x, y in zip(curve.xs, curve.ys, strict=True):
        at = (
            52 + (x - curve.xs[0]) / (curve.xs[-1] - curve.xs[0]) * (360 - 52 - 12),
            20 + (high + room - y) / (high - low + 2 * room) * (138 - 20 - 36),
        )
        assert distance(at, points) < 0.2
    assert len(points) < 0.8 * len(curve.xs)


@pytest.mark.parametrize("name", sorted(CATALOGUE))
def test_every_chart_stands_under_the_content_policy_and_within_its_bounds(name):
    drawn = evaluate(CATALOGUE[name], {}).picture()
    if drawn is None:
        pytest.skip("it has no picture")
    svg = svg_of(name)
    policy.check_part(svg)
    assert svg == svg_of(name)
    assert not re.search(r"nan|inf\b|#[0-9a-f]{3}", svg)
    assert re.findall(r'\bid="([^"]+)"', svg) == ["one-title", "one-words"]
    height = float(re.search(r'viewBox="0 0 360 ([\d.]+)"', svg)[1])
    for path in re.findall(r'fill="none" stroke-width="(?:2.2|1.7)"[^>]* d="([^"]+)"', svg):
        for x, y in points_of(path):
            assert 51.5 <= x <= 348.5
            assert 0 <= y <= height
    for role in {curve.curve.role for panel in drawn.panels for curve in panel.curves}:
        assert f"ink-{role}" in svg


@pytest.mark.parametrize(
    ("ends", "length", "space", "expected"),
    [
        ((0.0, 10.0), 296.0, 46, [0, 2, 4, 6, 8, 10]),
        ((-0.25, 0.25), 82.0, 19, [-0.2, 0, 0.2]),
        ((-1.24, 1.24), 82.0, 19, [-1, 0, 1]),
        ((3.0e-9, 5.0e-9), 296.0, 46, [3.0e-9, 3.5e-9, 4.0e-9, 4.5e-9, 5.0e-9]),
    ],
)
def test_ticks_are_round_and_apart(ends, length, space, expected):
    assert charts._ticks(ends, length, space) == pytest.approx(expected, rel=1e-12, abs=1e-20)


@pytest.mark.parametrize(
    ("value", "text"),
    [(0.0, "0"), (-0.0, "0"), (-2.5, "−2.5"), (0.1 + 0.2, "0.3"), (40.0, "40"), (2.5e-5, "2.5×10⁻⁵"), (-1e6, "−1×10⁶")],
)
def test_what_stands_at_a_tick(value, text):
    assert charts._tick(value) == text


def test_the_live_chart_has_the_same_measures():
    code = (STATIC / "chart.mjs").read_text("utf-8")
    assert f"const WIDTH = {charts.WIDTH};" in code
    heights = f"square: {charts.SQUARE_HEIGHT}, tall: {charts.TALL_HEIGHT}, plain: {charts.PANEL_HEIGHT}"
    assert f"const HEIGHT = {{{heights}}};" in code
    margins = f"left: {charts._LEFT}, right: {charts._RIGHT}, top: {charts._TOP}, bottom: {charts._BOTTOM}"
    assert f"const MARGIN = {{{margins}}};" in code
    across, up = charts._TICK_SPACE
    assert f"const TICK_SPACE = {{across: {across}, up: {up}}};" in code
    for role, line in plots._ROLE_LINES.items():
        assert f'{role}: "{line}"' in code
    for name, dashes in charts._DASHES.items():
        assert f'{name}: "{dashes}"' in code
