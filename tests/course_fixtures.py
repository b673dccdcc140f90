"""A small course for tests: two cases over the harbour's calculators."""

from pathlib import Path

import pytest

from crankpin.calculator.catalogue import Catalogue, load_catalogue
from crankpin.notation.cases import Case, by_name, read_cases
from crankpin.notation.course import Course

VALUES = """\
[pier-wheel]
calculator = "turning-rate"
r = "1.8 m"
rate = "4 rpm"

[pump-rod]
calculator = "edge-on"
A = "12 cm"
omega = "= pier-wheel.omega"
"""


@pytest.fixture(scope="session")
def calculators() -> Catalogue:
    return load_catalogue(Path(__file__).parents[1] / "calculators")


@pytest.fixture
def course(calculators: Catalogue) -> Course:
    return course_with(VALUES, calculators)


def course_with(values: str, calculators: Catalogue) -> Course:
    return Course(calculators, named(read_cases(values, "harbour.toml"), calculators))


def named(cases: list[Case], calculators: Catalogue) -> dict[str, Case]:
    return by_name(cases, calculators)
