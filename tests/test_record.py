"""The history of the benchmarks, and the page that shows it."""

import json

from tests.benchmarks.record import HISTORY, MEASURES, PAGE, page, with_run


def test_the_page_is_that_of_the_history() -> None:
    """Else: ``.venv/bin/python -m tests.benchmarks.record --draw``."""
    assert PAGE.read_text("utf-8") == page(json.loads(HISTORY.read_text("utf-8")))


def test_a_run_of_the_same_day_takes_the_place_of_what_it_measured_again() -> None:
    first, second = {"memory": {"ratio": 2.0}, "latency": {"painted": 3.0}}, {"memory": {"ratio": 1.0}}
    (entry,) = with_run(with_run([], first), second)
    assert entry["ratios"] == {"Memory of five calculators": 1.0, "Slider to painted numbers and curves": 3.0}


def test_every_measure_has_words_of_its_own() -> None:
    assert len({words for words, _, _ in MEASURES}) == len(MEASURES)
