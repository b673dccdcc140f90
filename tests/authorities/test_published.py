"""Every published record is reproduced by the mechanics, or listed with the reason why not."""

import importlib
import pkgutil
from collections.abc import Callable

import pytest

import tests.authorities
from tests.authorities.printed import Expected, Record, agrees, records

Reproduction = Callable[[Record], dict[str, float]]

RECORDS = {record.id: record for record in records()}
MODULES = [
    importlib.import_module(f"tests.authorities.{found.name}")
    for found in pkgutil.iter_modules(tests.authorities.__path__)
    if found.name.startswith("reproduce_")
]
REPRODUCTIONS: dict[str, Reproduction] = {
    key: value for module in MODULES for key, value in module.REPRODUCTIONS.items()
}
NOT_REPRODUCED: dict[str, str] = {
    key: value for module in MODULES for key, value in getattr(module, "NOT_REPRODUCED", {}).items()
}


def test_every_record_is_spoken_for_once():
    named = [key for module in MODULES for key in [*module.REPRODUCTIONS, *getattr(module, "NOT_REPRODUCED", {})]]
    assert sorted(named) == sorted(RECORDS)
    assert all(reason.strip() for reason in NOT_REPRODUCED.values())


@pytest.mark.parametrize("name", [name for name in RECORDS if name in REPRODUCTIONS])
def test_against_published(name):
    record = RECORDS[name]
    found = REPRODUCTIONS[name](record)
    assert found.keys() == record.expect.keys()
    for key, expected in record.expect.items():
        told = f"{record.source}, {record.where}: {key} = {expected.in_unit(found[key])!r} {expected.unit}"
        assert expected.agrees(found[key]), f"{told}; printed {expected.number!r}"
        assert expected.agrees_with_recomputed(found[key]), f"{told}; recomputed {expected.recomputed!r}"


@pytest.mark.parametrize(
    ("value", "printed", "digits", "same"),
    [
        (1225.0, 1230.0, 3, True),
        (1224.9, 1230.0, 3, False),
        (0.56249999999999, 0.5625, 4, True),
        (48_970_751.7, 5e7, 1, True),
        (44_999_999.0, 5e7, 1, False),
        (-0.0955, -0.095, 2, True),
        (-0.0956, -0.095, 2, False),
        (96.971, 97.0, "dp1", True),
        (97.06, 97.0, "dp1", False),
        (2.0 / 3.0, 0.6666666666, "exact", True),
        (0.66666, 0.6666666666, "exact", False),
        (float("nan"), 1.0, 3, False),
    ],
)
def test_half_a_unit_of_the_last_digit(value, printed, digits, same):
    assert agrees(value, printed, digits) is same


def test_a_print_that_slipped_is_not_asked_for():
    slipped = Expected(number=865.0, unit="1", digits=3, recomputed=864.3457383, follows=False)
    assert slipped.agrees(864.34573830)
    assert not slipped.agrees(865.0)
