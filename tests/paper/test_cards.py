"""Bench cards and what is handed to the printer: faults named, inputs written out."""

import re
from pathlib import Path

import pytest

from crankpin.calculator.catalogue import load_catalogue
from crankpin.calculator.evaluate import evaluate
from crankpin.elements.embedded import Embedded, as_typed
from crankpin.faults import CourseFaultsError
from crankpin.paper.cards import read_cards
from crankpin.paper.source import Source, SourcePage, load_source

from .conftest import CARD, KIT, ROOT

CALCULATORS = load_catalogue(Path(__file__).parents[2] / "calculators")
SOURCE = Source("A course", "https://harbour.example/course/", "en", ())


def write(folder: Path, card: str = CARD, kit: str = KIT) -> Path:
    (folder / "cards").mkdir()
    (folder / "cards/bench.md").write_text(card, "utf-8")
    (folder / "bench.toml").write_text(kit, "utf-8")
    return folder


def test_a_course_without_a_kit_has_no_cards(tmp_path):
    assert read_cards(tmp_path, SOURCE, CALCULATORS) == []


def test_the_kits_lengths_stand_on_the_drawing(tmp_path):
    (card,) = read_cards(write(tmp_path, kit=KIT.replace("3.6 m", "4.25 m")), SOURCE, CALCULATORS)
    assert "4.25 m" in card.html
    assert card.leads_to is None


def test_the_code_leads_to_the_page_with_the_kits_numbers(tmp_path):
    page = SourcePage("chapters/02-b.md", "chapters/02-b/", "B", 2, "", (Embedded("wheel", "edge-on", {"A": "1 m"}),))
    source = Source("A course", "https://harbour.example/course/", "en", (page,))
    (card,) = read_cards(write(tmp_path), source, CALCULATORS)
    assert card.leads_to is not None
    assert card.leads_to.calculators[0].query() == "?wheel.A=9cm&wheel.omega=3s&wheel.phi=0rad&wheel.t=0.5s#wheel"


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("drawing: disc-and-spring", "drawing: harp", "drawing: harp is none of hung-mass"),
        ("## Steps", "## Stairs", "the section Steps is missing"),
        ("**lamp**", "lamp", "the drawing shows what Kit does not name in bold: lamp"),
        ("**lamp**", "**lamp**, **siren**", "Kit names in bold what the drawing does not show: siren"),
        ("mine.v_max", "mine.v_mix", "mine has no quantity v_mix"),
        ("code: mine", "code: yours", "no calculator or case yours"),
    ],
)
def test_a_fault_names_the_card(tmp_path, old, new, said):
    with pytest.raises(CourseFaultsError) as told:
        read_cards(write(tmp_path, card=CARD.replace(old, new)), SOURCE, CALCULATORS)
    assert "cards/bench.md" in str(told.value) and said in str(told.value)


def test_every_input_is_written_out_with_its_unit():
    given = as_typed(evaluate(CALCULATORS["edge-on"], {"A": "7 cm"}))
    assert given["A"] == "7 cm"
    assert set(given) == {"A", "omega", "phi", "t"} and all(" " in text for text in given.values())


def test_what_is_saved_is_read_back(tmp_path):
    page = SourcePage("a.md", "a/", "A", 1, "<p>x</p>", (Embedded("e", "edge-on", {"A": "1 m"}),))
    source = Source("A course", "", "en", (page,), "Letter")
    source.save(tmp_path)
    assert load_source(tmp_path) == source


@pytest.mark.parametrize("card", sorted((ROOT / "cards").glob("*.md")), ids=lambda path: path.stem)
def test_no_number_of_the_kit_is_typed_in_a_card(card):
    """Loads, lengths and angles stand in the kit alone."""
    text = card.read_text("utf-8")
    numbers = text.partition("## Numbers")[2].partition("## Look for")[0]
    typed = re.sub(r"\{=.*?=\}|\$.*?\$|^\d+\. ", "", numbers, flags=re.MULTILINE)
    assert not re.findall(r"\d+(?:\.\d+)?\s*(?:°|g|kg|cm|m|s|N|rpm|Hz)\b|\d°", typed)
    assert " | " not in "".join(re.findall(r"\{=.*?=\}", text))
