"""Set-up drawings: every part has its name, stands where the text says, and is named in the card that shows it."""

import math
import re
from pathlib import Path
from xml.etree import ElementTree

import pytest

from crankpin.figures.setups import DRAWINGS, parts_of

ROOT = Path(__file__).parents[2]
CARDS = sorted((ROOT / "cards").glob("*.md"))
#: Every name of a part that any drawing uses: a card that speaks of one in its steps must show it.
PARTS = {part for draw in DRAWINGS.values() for part in parts_of(draw(lambda case, key: "1.25 m"))}
#: Words that are not parts in the steps: you clamp a stand, and read this card.
VERBS = {"clamp", "card"}


def drawn(name):
    """Return a drawing as elements."""
    return ElementTree.fromstring(f"<figure>{DRAWINGS[name](lambda case, key: f'{key} of {case}')}</figure>")


def view(name, seen_from):
    return drawn(name).find(f".//g[@data-view='{seen_from}']")


def circle(scope, part):
    """Return the middle of the first circle of a part."""
    found = scope.find(f".//g[@data-part='{part}']/circle")
    return float(found.get("cx")), float(found.get("cy"))


def box(scope, part):
    """Return the middle of the first box of a part."""
    found = scope.find(f".//g[@data-part='{part}']/rect")
    x, y, width, height = (float(found.get(key)) for key in ("x", "y", "width", "height"))
    return x + width / 2, y + height / 2


def line(scope, part):
    """Return the ends of the first straight line of a part."""
    way = scope.find(f".//g[@data-part='{part}']/path").get("d")
    numbers = [float(number) for number in re.findall(r"-?[\d.]+", way)]
    return (numbers[0], numbers[1]), (numbers[2], numbers[3])


def lines(scope):
    """Return the ends of every straight line."""
    ways = [path.get("d") for path in scope.iter("path")]
    found = [re.fullmatch(r"M(\S+) (\S+)L(\S+) (\S+)", way) for way in ways]
    return [((float(m[1]), float(m[2])), (float(m[3]), float(m[4]))) for m in found if m]


def off_the_ray(point, start, end):
    (x, y), (x1, y1), (x2, y2) = point, start, end
    return abs((x2 - x1) * (y - y1) - (y2 - y1) * (x - x1)) / math.dist(start, end)


@pytest.mark.parametrize("name", DRAWINGS)
def test_each_part_carries_its_name(name):
    for part in drawn(name).iterfind(".//g[@data-part]"):
        assert [text.text for text in part.iter("text")] == [part.get("data-part")]


@pytest.mark.parametrize("name", DRAWINGS)
def test_words_stay_inside_the_picture(name):
    for svg in drawn(name):
        left, top, width, height = map(float, svg.get("viewBox").split())
        for text in svg.iter("text"):
            x, y = float(text.get("x")), float(text.get("y"))
            long = 5.3 * len("".join(text.itertext()).replace(" of disc-lamp", "").replace(" of peg-lamp", ""))
            begin = x - {"start": 0, "middle": long / 2, "end": long}[text.get("text-anchor")]
            assert top < y <= top + height
            if " of " not in "".join(text.itertext()):
                assert left - 1 <= begin and begin + long <= left + width + 4, "".join(text.itertext())


@pytest.mark.parametrize("name", DRAWINGS)
def test_a_drawing_says_that_it_is_not_to_scale(name):
    assert "not to scale" in [text.text for text in drawn(name).iter("text")]
    assert all("Not to scale" in svg.get("aria-label") for svg in drawn(name))


@pytest.mark.parametrize("name", ["lamp-and-disc", "disc-and-spring"])
def test_the_shadow_lies_on_the_ray_from_the_lamp_past_the_ball(name):
    scope = view(name, "above")
    lamp, ball = circle(scope, "lamp"), circle(scope, "ball")
    screen = line(scope, "screen")[0][0]
    assert lamp[0] < ball[0] < screen
    assert any(
        end[0] == screen and off_the_ray(lamp, start, end) < 0.1 and off_the_ray(ball, start, end) < 0.5
        for start, end in lines(scope)
    )


def test_the_lamp_is_in_the_plane_in_which_the_ball_goes_round():
    above, side = view("disc-and-spring", "above"), view("disc-and-spring", "side")
    disc = line(above, "disc")
    assert disc[0][1] == disc[1][1], "the disc is seen edge-on from above, along the light"
    assert circle(above, "lamp")[1] == circle(above, "ball")[1]
    assert circle(side, "lamp")[1] == circle(side, "disc")[1], "the lamp is level with the axle"
    turntable = view("lamp-and-disc", "side")
    assert circle(turntable, "lamp")[1] == circle(turntable, "ball")[1]


def test_the_mass_hangs_beside_the_disc_as_far_from_the_lamp_as_the_axle():
    above = view("disc-and-spring", "above")
    drive, mass, disc = box(above, "drive"), box(above, "mass"), line(above, "disc")
    assert mass[0] == drive[0] == (disc[0][0] + disc[1][0]) / 2
    lamp, ball, screen = circle(above, "lamp"), circle(above, "ball"), line(above, "screen")[0][0]
    assert off_the_ray(mass, lamp, (screen, ball[1])) > 20, "the mass leaves the light to the ball free"
    rod = circle(above, "stand")
    assert off_the_ray(rod, lamp, mass) > 10, "the stand leaves the light to the mass free"
    side = view("disc-and-spring", "side")
    assert circle(side, "ball")[1] == box(side, "mass")[1], "ball and mass are at the same height"


def test_the_counterweight_is_opposite_the_ball():
    side = view("disc-and-spring", "side")
    (x, y), ball, axle = circle(side, "counterweight"), circle(side, "ball"), circle(side, "disc")
    assert (x + ball[0]) / 2 == pytest.approx(axle[0], abs=0.1)
    assert (y + ball[1]) / 2 == pytest.approx(axle[1], abs=0.1)


@pytest.mark.parametrize("name", ["hung-mass", "damped-mass"])
def test_foam_is_under_the_mass_and_the_marker_level_with_it(name):
    scope = drawn(name)
    mass, foam = box(scope, "mass"), box(scope, "foam box")
    assert mass[0] == foam[0] and mass[1] < foam[1]
    marker = re.match(r"M\S+ (\S+)l", scope.find(".//g[@data-part='marker']/path").get("d"))
    assert float(marker[1]) == mass[1]


@pytest.mark.parametrize("card", CARDS, ids=lambda path: path.stem)
def test_a_part_that_the_steps_speak_of_stands_in_the_drawing(card):
    text = card.read_text("utf-8")
    name = re.search(r"^drawing: (\S+)$", text, re.MULTILINE)[1]
    kit = text.partition("## Kit")[2].partition("\n## ")[0]
    steps = re.sub(r"\{=.*?=\}", "", text.partition("## Steps")[2].partition("\n## ")[0]).lower()
    shown = set(parts_of(DRAWINGS[name](lambda case, key: "1 m")))
    on_hand = kit.partition("to hand:")[2]
    for name_of_several_words in sorted(shown, key=len, reverse=True):
        steps = steps.replace(name_of_several_words.lower(), "")
    spoken = {part for part in PARTS - shown if re.search(rf"\b{part.lower()}\b", steps)} - VERBS
    assert {part for part in spoken if part not in on_hand} == set()
