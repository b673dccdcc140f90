"""Figures as they are printed: letters large enough, and whole over the curves."""

import re
from itertools import pairwise

import pytest

from crankpin.calculator.catalogue import load_catalogue
from crankpin.calculator.evaluate import evaluate
from crankpin.figures import plots
from crankpin.figures.plots import figure_svg
from tests.paper.conftest import ROOT

CALCULATORS = load_catalogue(ROOT / "calculators")
RULES = (ROOT / "src/crankpin/paper/print.css").read_text("utf-8")
#: The width that the sheet gives a figure, in points.
WIDTH = float(re.search(r"\.sheet figure \{[^}]*width: ([\d.]+)mm", RULES)[1]) / 25.4 * 72
LEAST = 8.5


@pytest.fixture(params=("edge-on", "driven", "two-wheels", "line-fit"))
def printed_figure(request):
    picture = evaluate(CALCULATORS[request.param], {}).picture()
    return figure_svg(picture, prefix="one")


def test_no_letter_is_printed_too_small(printed_figure):
    width = float(re.search(r'viewBox="0 0 ([\d.]+)', printed_figure)[1])
    sizes = [
        100 * float(size) for size in re.findall(r'<g class="[^"]*" transform="[^"]*scale\(([\d.]+) ', printed_figure)
    ]
    assert len(sizes) > 8
    assert min(sizes) * WIDTH / width >= LEAST


def test_the_paper_about_a_label_lies_below_all_of_its_letters(printed_figure):
    groups = re.findall(r'<g class="([^"]*)" transform="([^"]*)">(.*?)</g>', printed_figure, re.DOTALL)
    halos = [i for i, (kind, _, _) in enumerate(groups) if "halo" in kind]
    assert halos
    for i in halos:
        assert groups[i][0] == "halo"
        assert groups[i + 1][0].startswith("fill-") and groups[i + 1][1:] == groups[i][1:]


@pytest.mark.parametrize("name", ["energy-share", "two-wheels", "springs-together", "edge-on"])
def test_the_names_of_curves_do_not_lie_on_each_other(name):
    axes = []
    picture = evaluate(CALCULATORS[name], {}).picture()

    class Axes:
        def __init__(self, panel):
            self.low = min(min(curve.ys) for curve in panel.curves)
            self.high = max(max(curve.ys) for curve in panel.curves)
            self.places = []

        def get_ylim(self):
            return self.low, self.high

        def annotate(self, text, at, **_):
            self.places.append(at[1])

    for panel in picture.panels:
        axes.append(Axes(panel))
        plots._name_curves(axes[-1], panel)
    for one in axes:
        ordered = sorted(one.places)
        assert all(b - a > 0.17 for a, b in pairwise(ordered)), (name, ordered)
        assert all(0 < place < 1.05 for place in ordered)
