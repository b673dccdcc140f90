"""A page, the library and the command line give the same numbers for the same inputs."""

import json
import math
import random

import pytest
from click.testing import CliRunner

from crankpin import cli
from crankpin.calculator.declaration import Input
from crankpin.calculator.evaluate import evaluate
from crankpin.calculator.faults import InputFaultsError
from crankpin.calculator.parsing import quantity_of
from tests.browser.conftest import ROOT
from tests.browser.pages import results, type_into, wait_for_state

pytestmark = pytest.mark.browser

DRAWS = 200


def ulps(a, b):
    """Return how many doubles lie from a to b, at most a thousand."""
    count = 0
    while a != b and count < 1000:
        a = math.nextafter(a, b)
        count += 1
    return count


def drawn_inputs(calculator, rng):
    """Return a text with unit for every input that is a number: inside its slider, in any of its units."""
    texts = {}
    for one in calculator.inputs:
        if isinstance(one, Input):
            low, high = (quantity_of(end, one.unit) for end in one.slider)
            number = low + (high - low) * rng.random()
            text = f"{number:.{rng.randint(2, 5)}g}"
            texts[one.key] = text if one.unit == "1" else f"{text} {one.unit}"
    return texts


def compare(shown, evaluation, where, *, most):
    """Hold a page's results against the library's: doubles within ``most`` units in the last place, texts alike."""
    for key, found in evaluation.outputs.items():
        one = shown[key]
        if found.value is None:
            assert one["absent"], f"{where}: {key}"
            assert one["text"] == found.reason, f"{where}: {key}"
        elif isinstance(found.value, str):
            assert one["value"] == one["text"] == found.value, f"{where}: {key}"
        else:
            value = float(one["value"])
            dust = 1e-14 * abs(evaluation.values.get(evaluation.calculator.output(key).dust_of, 0.0))
            near = ulps(value, found.value) <= most or abs(value - found.value) <= dust
            assert near, f"{where}: {key} {value!r} {found.value!r}"
            assert one["text"] == found.text, f"{where}: {key}"


@pytest.fixture(scope="module")
def everything(course, chromium):
    """One page with every calculator, all of them live."""
    context = chromium.new_context(viewport={"width": 390, "height": 844})
    page = context.new_page()
    page.goto(course.page("all"))
    page.locator("crankpin-calculator input").first.focus()
    for name in course.calculators:
        wait_for_state(page, "live", name)
    yield page
    context.close()


@pytest.fixture
def rng():
    return random.Random(20261125)


def test_every_calculator_at_its_defaults(everything, catalogue):
    for name, calculator in catalogue.items():
        compare(results(everything, name), evaluate(calculator), name, most=8)


def test_every_calculator_at_drawn_inputs(everything, catalogue, rng):
    for name, calculator in catalogue.items():
        for _ in range(8):
            texts = drawn_inputs(calculator, rng)
            try:
                evaluation = evaluate(calculator, texts)
            except InputFaultsError:
                continue  # inputs that do not go together
            type_into(everything, texts, name)
            compare(results(everything, name), evaluation, f"{name} {texts}", most=64)


def test_a_wheel_seen_edge_on_at_many_drawn_inputs(everything, catalogue, rng):
    apart = []
    for _ in range(DRAWS):
        texts = drawn_inputs(catalogue["edge-on"], rng)
        type_into(everything, texts)
        shown, evaluation = results(everything), evaluate(catalogue["edge-on"], texts)
        compare(shown, evaluation, str(texts), most=1)
        apart += [ulps(float(shown[key]["value"]), found.value) for key, found in evaluation.outputs.items()]
    assert sum(apart) < 0.1 * len(apart), "doubles that differ are rare"


def test_the_command_line_gives_what_the_page_gives(everything, catalogue, rng):
    for _ in range(5):
        texts = drawn_inputs(catalogue["edge-on"], rng)
        settings = [part for key, text in texts.items() for part in ("--set", f"{key}={text.replace(' ', '')}")]
        printed = CliRunner().invoke(cli.main, ["calc", "edge-on", *settings, "--json", "--course", str(ROOT)])
        said = json.loads(printed.output)
        type_into(everything, texts)
        for key, one in results(everything).items():
            assert one["text"] == said["outputs"][key]["text"], f"{texts}: {key}"
            assert ulps(float(one["value"]), said["outputs"][key]["value"]) <= 1, f"{texts}: {key}"
