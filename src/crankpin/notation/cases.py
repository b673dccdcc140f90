"""The course's values: each case is a calculator with some inputs given, under a name that every page can use.

Cases stand in a file beside `mkdocs.yml` (a table each: `[pier-wheel]`, `calculator = "turning-rate"`, then inputs),
or in a page in a fenced block `case NAME CALCULATOR`. A value that starts with `=` is another case's quantity, at full
precision: `omega = "= pier-wheel.omega"`.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from crankpin.faults import AuthorError, CourseFault, CourseFaultsError, Place
from crankpin.notation.blocks import read_pairs
from crankpin.notation.passages import Fence, fences

NAME = re.compile(r"^[a-z][a-z0-9-]*$")


@dataclass(frozen=True)
class Case:
    """A named set of inputs of one calculator, as written."""

    name: str
    calculator: str
    given: Mapping[str, str]
    place: Place
    places: Mapping[str, Place] = field(default_factory=dict)
    """Where each input is given."""

    def place_of(self, key: str) -> Place:
        """Return where an input is given, or the case's own place."""
        return self.places.get(key, self.place)


def read_cases(text: str, file: str) -> list[Case]:
    """Return the cases of a values file (TOML). Raises `CourseFaultsError` with all that is wrong in it."""
    try:
        tables = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        line = re.search(r"line (\d+)", str(error))
        raise CourseFaultsError(
            [CourseFault(Place(file, int(line[1]) if line else None), f"not TOML: {error}")]
        ) from None
    lines = _lines_of(text)
    faults: list[CourseFault] = []
    cases = []
    for name, table in tables.items():
        place = Place(file, lines.get((name, ""), lines.get(("", name))))
        try:
            cases.append(_case_from_table(name, table, place, lines))
        except AuthorError as told:
            faults.append(CourseFault(place, str(told)))
    if faults:
        raise CourseFaultsError(faults)
    return cases


def _case_from_table(name: str, table: object, place: Place, lines: Mapping[tuple[str, str], int]) -> Case:
    if not isinstance(table, dict):
        raise AuthorError(f"{name} stands outside a case; put it under a heading such as [pier-wheel]")
    _check_name(name)
    given = {key: value for key, value in table.items() if key != "calculator"}
    calculator = table.get("calculator")
    if not isinstance(calculator, str):
        raise AuthorError(f'the case {name} does not say its calculator; add, for example, calculator = "edge-on"')
    for key, value in given.items():
        if not isinstance(value, str):
            raise AuthorError(f'{key} of the case {name} must be a text with its unit, such as {key} = "12 cm"')
    places = {key: Place(place.file, lines.get((name, key))) for key in given}
    return Case(name, calculator, given, place, places)


def _check_name(name: str) -> None:
    if not NAME.match(name):
        raise AuthorError(f'"{name}" cannot name a case; use small letters, digits and hyphens, such as pier-wheel')


def _lines_of(text: str) -> dict[tuple[str, str], int]:
    """Return the line of each (table, key), with an empty key for the table's heading."""
    found: dict[tuple[str, str], int] = {}
    table = ""
    for number, line in enumerate(text.splitlines(), 1):
        if heading := re.match(r"\s*\[\s*\"?([^\]\"]+?)\"?\s*\]", line):
            table = heading[1]
            found.setdefault((table, ""), number)
        elif key := re.match(r"\s*\"?([\w-]+)\"?\s*=", line):
            found.setdefault((table, key[1]), number)
    return found


def case_from_fence(fence: Fence, start: Place) -> Case:
    """Return the case in a fenced block `case NAME CALCULATOR`; `start` is the place of the page's first line."""
    words = fence.info.split()
    if len(words) != 3:
        raise AuthorError(f'"{fence.info}" must be "case", a name and a calculator, such as "case pump-rod edge-on"')
    _check_name(words[1])
    given = read_pairs(fence.body)
    places: dict[str, Place] = {}
    for number, line in enumerate(fence.body, fence.first + 1):
        places.setdefault(line.partition("=")[0].strip(), start.below(number))
    return Case(words[1], words[2], given, start.below(fence.first), {key: places[key] for key in given})


def cases_in_page(text: str, start: Place) -> list[Case]:
    """Return the cases made in the fenced blocks of a page. Raises `CourseFaultsError`."""
    cases, faults = [], []
    for fence in fences(text.split("\n")):
        if fence.info.split()[:1] == ["case"]:
            try:
                cases.append(case_from_fence(fence, start))
            except AuthorError as told:
                faults.append(CourseFault(start.below(fence.first), str(told)))
    if faults:
        raise CourseFaultsError(faults)
    return cases


def by_name(cases: Iterable[Case], calculators: Iterable[str]) -> dict[str, Case]:
    """Return the cases by name. Raises `CourseFaultsError` for names taken twice, also by a calculator."""
    taken = set(calculators)
    named: dict[str, Case] = {}
    faults = []
    for case in cases:
        if case.name in taken:
            faults.append(CourseFault(case.place, f"the case {case.name} has the name of a calculator; choose another"))
        elif case.name in named:
            first = named[case.name].place
            faults.append(
                CourseFault(case.place, f"the case {case.name} is already made in {first}; choose another name")
            )
        else:
            named[case.name] = case
    if faults:
        raise CourseFaultsError(faults)
    return named
