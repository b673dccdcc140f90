"""Every calculator the other way round: a result is given back, and its input must be among the answers."""

import math
from collections import Counter
from pathlib import Path

import pytest

from crankpin.calculator import solving
from crankpin.calculator.catalogue import load_catalogue
from crankpin.calculator.evaluate import FIND, Evaluation, evaluate
from crankpin.calculator.faults import InputFaultsError
from crankpin.calculator.question import targets
from crankpin.calculator.serialise import result

from .test_all import TRIALS, drawn_inputs

CATALOGUE = load_catalogue(Path(__file__).parents[2] / "calculators")
ASKED = [name for name, calculator in CATALOGUE.items() if calculator.askable]
#: A search asks a thousand times; so many a pair are enough.
MOST_SEARCHED = 2
#: Pairs that the issue of a lesson turns on: (calculator, asked, from).
PAIRS = [
    *(("turning-rate", asked, given) for asked in ("r", "rate") for given in ("v", "a_c")),
    *(("inward-force", asked, "F_c") for asked in ("m", "r", "rate")),
    *(("spring-mass", asked, "T") for asked in ("k", "m")),
    ("hanging-spring", "k", "stretch"),
    ("springs-together", "k_1", "T"),
    *(("pendulum", asked, "T") for asked in ("L", "g", "theta_max")),
    ("rigid-pendulum", "m", "T"),
    *(("torsion-pendulum", asked, "T") for asked in ("kappa", "I")),
    ("energy-share", "x", "v"),
    *(("energy-share", asked, "E") for asked in ("k", "A")),
    ("energy-share", "m", "v"),
    ("edge-on", "t", "v"),
    ("damped", "b", "zeta"),
    ("damped", "m", "zeta"),
    *(("driven", asked, "amplitude") for asked in ("b", "omega")),
    ("two-wheels", "A_1", "A_now"),
    ("lamp-shadow", "S", "X_max"),
    ("disc-match", "k", "T"),
]


@pytest.fixture(autouse=True)
def all_are_listed(monkeypatch: pytest.MonkeyPatch) -> None:
    """Have every solution listed, not only as many as a page has room for."""
    monkeypatch.setattr(solving, "MOST", 100_000)


def start_of(evaluation: Evaluation, key: str) -> float:
    return float(evaluation.inputs[key].value)


def is_among(start: float, back: Evaluation) -> bool:
    """Tell whether a value is a solution, or one of those that come again beyond the list."""
    asked = back.asked
    assert asked is not None
    for solution in asked.solutions:
        gap = solution.value - start
        if asked.repeat:
            gap = math.remainder(gap, asked.repeat)
        if abs(gap) <= 1e-6 * max(abs(start), 1e-6):
            return True
    return False


def asked_back(name: str, key: str, target: str, seed: int) -> tuple[float, Evaluation] | None:
    """Return the start and the answer for drawn inputs, None where there is nothing to ask."""
    calculator = CATALOGUE[name]
    given = drawn_inputs(calculator, seed, bench=True)
    try:
        forth = evaluate(calculator, given)
    except InputFaultsError:
        return None
    value = forth.outputs[target].value
    if not isinstance(value, float) or abs(value) < 1e-9:
        return None
    try:
        back = evaluate(calculator, {**given, target: value, FIND: key})
    except InputFaultsError as error:
        said = str(error)
        assert "does not depend on" in said or "does not tell" in said, f"{key} from {target}, seed {seed}: {said}"
        return None
    return start_of(forth, key), back


@pytest.mark.parametrize("name", ASKED)
def test_asked_back_from_its_own_results(name: str) -> None:
    calculator = CATALOGUE[name]
    pairs = [(key, target.key) for key in calculator.askable for target in targets(calculator)]
    tried, searched = 0, Counter[tuple[str, str]]()
    for seed in range(TRIALS):
        key, target = pairs[seed % len(pairs)]
        if searched[key, target] >= MOST_SEARCHED:
            continue
        found = asked_back(name, key, target, seed)
        if found is None:
            continue
        start, back = found
        searched[key, target] += back.asked is not None and not back.asked.steps
        assert is_among(start, back), f"{key} from {target}, seed {seed}: {start!r} is not in {back.asked}"
        tried += 1
    assert tried >= TRIALS / 20


@pytest.mark.parametrize(("name", "key", "target"), PAIRS)
def test_what_a_lesson_asks_is_found_and_gives_the_result_to_a_billionth(name: str, key: str, target: str) -> None:
    found = [one for seed in range(10) if (one := asked_back(name, key, target, seed))]
    assert len(found) >= 3
    for start, back in found:
        assert is_among(start, back)
        assert back.asked is not None
        reached = back.outputs[target].value
        assert isinstance(reached, float)
        assert math.isclose(reached, float(back.asked.wanted.value), rel_tol=1e-9)


@pytest.mark.parametrize("given", [{"x": "-6 cm"}, {"v": "30 cm/s"}, {"a": "0.2 m/s2"}])
def test_times_come_again_after_a_period(given: dict[str, str]) -> None:
    asked = evaluate(CATALOGUE["edge-on"], {"omega": "3 rad/s", **given, FIND: "t"}).asked
    assert asked is not None
    assert asked.repeat == pytest.approx(math.tau / 3.0)


def test_two_crossings_between_neighbouring_places_of_the_search_are_both_found() -> None:
    """A height just below a peak is passed twice within a few thousandths of a second."""
    damped, settled = CATALOGUE["damped"], {"m": "0.5 kg", "k": "20 N/m", "b": "0.2 kg/s"}
    heights = [evaluate(damped, {**settled, "t": i / 2000.0}).values["x"] for i in range(4000)]
    peak = next(i for i in range(1, 3999) if heights[i - 1] < heights[i] > heights[i + 1]) / 2000.0
    wanted = evaluate(damped, {**settled, "t": peak - 1e-3}).values["x"]
    asked = evaluate(damped, {**settled, "x": wanted, FIND: "t"}).asked
    assert asked is not None
    near = [one.value for one in asked.solutions if abs(one.value - peak) < 5e-3]
    assert len(near) == 2


def test_the_command_line_gives_asked_and_solutions_as_json() -> None:
    evaluation = evaluate(CATALOGUE["spring-mass"], {FIND: "k", "T": "0.8 s", "m": "400 g"})
    told = result("spring-mass", evaluation)
    assert told["asked"] == "k"
    assert told["solutions"][0]["value"] == pytest.approx(0.4 * (math.tau / 0.8) ** 2, rel=1e-12)
    assert told["inputs"]["k"]["value"] == told["solutions"][0]["value"]


@pytest.mark.parametrize(
    ("given", "said"),
    [
        ({"find": "k"}, "give one result"),
        ({"find": "k", "T": "1 s", "f": "1 Hz"}, "2 results are given"),
        ({"find": "k", "T": "abc"}, "“abc” was given"),
        ({"find": "A", "T": "1 s"}, "does not depend on"),
        ({"find": "q", "T": "1 s"}, "can not be asked for"),
        ({"find": "k", "T": "1e9 s"}, "can be from"),
    ],
)
def test_what_can_not_be_asked_is_said_in_words(given: dict[str, str], said: str) -> None:
    with pytest.raises(InputFaultsError, match=said):
        evaluate(CATALOGUE["spring-mass"], given)
