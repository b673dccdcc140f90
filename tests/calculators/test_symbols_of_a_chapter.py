"""In a chapter a symbol stands for one quantity: whatever the page's calculators print under it has one dimension."""

import re
import tomllib
from collections import defaultdict
from pathlib import Path

import pytest

from crankpin.calculator.declaration import Input, Output
from crankpin.calculator.dimensions import dimension_of, said
from tests.calculators.test_all import CATALOGUE

ROOT = Path(__file__).parents[2]
CASES = tomllib.loads((ROOT / "harbour.toml").read_text("utf-8"))
CHAPTERS = sorted((ROOT / "docs" / "chapters").glob("*.md"))


def calculators_of(chapter: Path) -> set[str]:
    """The ids of the calculators that a chapter embeds, by themselves, by a case of the course or by one of its own."""
    text = chapter.read_text("utf-8")
    own = dict(re.findall(r"```case (\S+) (\S+)", text))
    named = re.findall(r"```calculator (\S+)", text)
    found = {own.get(name) or CASES.get(name, {}).get("calculator", name) for name in named}
    return (found | set(own.values())) & set(CATALOGUE)


@pytest.mark.parametrize("chapter", CHAPTERS, ids=lambda chapter: chapter.stem)
def test_a_symbol_has_one_dimension(chapter: Path) -> None:
    names = calculators_of(chapter)
    assert names
    found: dict[str, dict[str, str]] = defaultdict(dict)
    for name in sorted(names):
        for one in (*CATALOGUE[name].inputs, *CATALOGUE[name].outputs):
            if isinstance(one, (Input, Output)) and one.symbol and not getattr(one, "any_unit", False):
                found[one.symbol].setdefault(said(dimension_of(one.unit)), f"{name}.{one.key}")
    twice = {symbol: kinds for symbol, kinds in found.items() if len(kinds) > 1}
    assert twice == {}
