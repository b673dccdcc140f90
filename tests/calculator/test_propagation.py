"""Uncertainties of results: against exact derivatives, against the GUM, and where first order does not do."""

import math
from random import Random

import pytest

from crankpin.calculator.evaluate import evaluate
from crankpin.calculator.uncertainty import propagated
from tests.calculator.test_evaluate import calculator, length

#: Functions of x and y with their exact derivatives.
EXACT = {
    "x*y": (lambda x, y: x * y, lambda x, y: (y, x)),
    "sqrt(x/y)": (lambda x, y: math.sqrt(x / y), lambda x, y: (0.5 / math.sqrt(x * y), -0.5 * math.sqrt(x / y**3))),
    "x cos(y)": (lambda x, y: x * math.cos(y), lambda x, y: (math.cos(y), -x * math.sin(y))),
    "exp(-x) y^3": (
        lambda x, y: math.exp(-x) * y**3,
        lambda x, y: (-math.exp(-x) * y**3, 3.0 * math.exp(-x) * y**2),
    ),
    "atan2": (math.atan2, lambda x, y: (y / (x * x + y * y), -x / (x * x + y * y))),
}


@pytest.mark.parametrize("name", EXACT)
def test_numerical_derivatives_are_the_exact_ones(name):
    function, derivatives = EXACT[name]
    random = Random(name)
    for _ in range(200):
        values = {"x": random.uniform(0.2, 9.0), "y": random.uniform(0.2, 9.0)}
        sizes = {key: value * 10.0 ** random.uniform(-5.0, -1.0) for key, value in values.items()}
        found = propagated(lambda at: {"f": function(at["x"], at["y"])}, values, sizes)["f"]
        exact = [abs(slope) * size for slope, size in zip(derivatives(**values), sizes.values(), strict=True)]
        assert found.size == pytest.approx(math.hypot(*exact), rel=1e-7)
        assert list(found.parts.values()) == pytest.approx(exact, rel=1e-6, abs=1e-7 * found.size)


def test_against_gum_5_1_5():
    # JCGM 100:2008, 5.1.5 and 5.1.6: a product of powers has relative uncertainties that add as squares, each times
    # its exponent.
    found = propagated(lambda at: {"P": at["V"] ** 2 / at["R"]}, {"V": 10.0, "R": 50.0}, {"V": 0.1, "R": 0.5})["P"]
    assert found.size / 2.0 == pytest.approx(math.hypot(2 * 0.01, 0.01), rel=1e-9)
    assert found.share("V") == pytest.approx(0.8)


def test_at_a_peak_first_order_gives_nothing_and_it_is_told():
    found = propagated(lambda at: {"x": math.cos(at["t"])}, {"t": 0.0}, {"t": 0.2})["x"]
    assert found.size == pytest.approx(0.0, abs=1e-12)
    assert not found.is_good_enough
    # of the square of a normal quantity the standard deviation is the root of 2 times the square of its own
    assert found.second == pytest.approx(math.sqrt(2.0) * 0.5 * 0.2**2, rel=0.03)


def test_a_neighbour_out_of_range_is_told():
    model = lambda at: {"y": math.sqrt(at["x"])} if at["x"] >= 0.0 else None  # noqa: E731
    assert propagated(model, {"x": 1.0}, {"x": 0.01})["y"].is_good_enough
    assert not propagated(model, {"x": 1.0}, {"x": 0.9})["y"].is_good_enough


def test_a_result_is_written_with_its_uncertainty():
    found = evaluate(calculator(), {"A": "12.0(5) cm"})
    assert found.outputs["d"].text == "24.0(10) cm"
    assert found.outputs["d"].uncertainty.size == pytest.approx(0.01)
    assert evaluate(calculator()).outputs["d"].uncertainty is None


def test_a_rough_uncertainty_is_a_caution():
    one = calculator(function=lambda A: {"d": 2.0 * A if A > 0.0 else 1.0 / 0.0})
    told = evaluate(one, {"A": "12 ± 8 cm"}).cautions
    assert told == ("The uncertainty of the diameter, d is a rough one: within it an input leaves the range allowed.",)
    assert length().key == "A"
