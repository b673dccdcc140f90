"""Contrast of the palette, by WCAG 2.2's formula, and the two grounds against each other."""

import re

import pytest

from crankpin.site.styles import STYLES, sheet

PALETTES = {"paper": "paper.css", "night": "night.css"}
INKS = ("ink", "ink-quiet", "ink-link", "brick", "position", "velocity", "acceleration")


def colours(name: str) -> dict[str, str]:
    text = (STYLES / PALETTES[name]).read_text("utf-8")
    return dict(re.findall(r"--([\w-]+): (#[0-9a-f]{6})\b", text))


def luminance(colour: str) -> float:
    parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: str, other: str) -> float:
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


@pytest.mark.parametrize("name", PALETTES)
@pytest.mark.parametrize("ink", INKS)
def test_text_reads_on_every_ground(name: str, ink: str) -> None:
    palette = colours(name)
    assert contrast(palette[ink], palette["paper"]) >= 4.5
    assert contrast(palette[ink], palette["paper-sunk"]) >= 4.5 or ink in ("position", "velocity")


@pytest.mark.parametrize("name", PALETTES)
def test_edges_of_controls_show(name: str) -> None:
    palette = colours(name)
    assert contrast(palette["rule-strong"], palette["paper"]) >= 3


def test_both_grounds_set_the_same_colours_of_our_own() -> None:
    own = {name for name in colours("paper") if not name.startswith("md-")}
    assert own == {name for name in colours("night") if not name.startswith("md-")}


def test_without_script_the_dark_ground_follows_the_system() -> None:
    tail = sheet().partition("@media screen and (prefers-color-scheme: dark)")[2]
    assert '.no-js [data-md-color-scheme="paper"]' in tail
    assert colours("night")["ink"] in tail
