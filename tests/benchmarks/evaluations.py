"""How long one evaluation takes: every calculator, at random inputs over the whole range allowed.

Prints one JSON object: the median and the slowest of each calculator in milliseconds, and the slowest of all.
"""

import json
import statistics
import time
from pathlib import Path

from crankpin.calculator.catalogue import load_catalogue
from crankpin.calculator.evaluate import evaluate
from crankpin.calculator.faults import InputFaultsError
from crankpin.calculator.working import working
from tests.calculators.test_all import drawn_inputs

ROUNDS = 200


def times_ms(name: str) -> list[float]:
    """Return the time of each evaluation, its working and picture included."""
    calculator = CATALOGUE[name]
    taken = []
    for seed in range(ROUNDS):
        given = drawn_inputs(calculator, seed, bench=seed % 2 == 0)
        begin = time.perf_counter()
        try:
            found = evaluate(calculator, given)
            working(found)
            found.picture()
        except InputFaultsError:
            pass
        taken.append(1000.0 * (time.perf_counter() - begin))
    return taken


CATALOGUE = load_catalogue(Path(__file__).parents[2] / "calculators")

if __name__ == "__main__":
    found = {}
    for name in CATALOGUE:
        taken = times_ms(name)
        found[name] = {"median_ms": round(statistics.median(taken), 2), "slowest_ms": round(max(taken), 2)}
    worst = max(found, key=lambda name: found[name]["slowest_ms"])
    print(json.dumps({"slowest": {"calculator": worst, **found[worst]}, "calculators": found}, indent=2))
