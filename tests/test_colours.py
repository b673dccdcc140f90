"""The colours of position, velocity and acceleration can be told apart by every eye, and on a grey copier.

Dichromatic sight by the linear simulation of F. Vienot, H. Brettel and J. D. Mollon, "Digital video colourmaps for
checking the legibility of displays by dichromats", Color Research and Application 24 (1999); its numbers, and those of
CIELAB with its distance of 1976 for the white point D65, are from memory.
"""

import itertools
import math
import re

import pytest

from crankpin.site.styles import STYLES

ROLES = ("position", "velocity", "acceleration")
#: Linear RGB to the answers of the long, middle and short cones, and back; each sight keeps what its two cones say.
TO_CONES = ((17.8824, 43.5161, 4.11935), (3.45565, 27.1554, 3.86714), (0.0299566, 0.184309, 1.46709))
FROM_CONES = (
    (0.0809444479, -0.130504409, 0.116721066),
    (-0.0102485335, 0.0540193266, -0.113614708),
    (-0.000365296938, -0.00412161469, 0.693511405),
)
SIGHT = {
    "normal": ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)),
    "protan": ((0.0, 2.02344, -2.52581), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)),
    "deutan": ((1.0, 0.0, 0.0), (0.494207, 0.0, 1.24827), (0.0, 0.0, 1.0)),
}
TO_XYZ = ((0.4124, 0.3576, 0.1805), (0.2126, 0.7152, 0.0722), (0.0193, 0.1192, 0.9505))
WHITE = (0.95047, 1.0, 1.08883)
LEAST = {"paper": 26.0, "night": 20.0}


def inks(sheet):
    text = (STYLES / f"{sheet}.css").read_text("utf-8")
    found = dict(re.findall(r"--(\w+): (#[0-9a-f]{6});", text))
    return {role: found[role] for role in ROLES}


def applied(matrix, vector):
    return [math.fsum(a * b for a, b in zip(row, vector, strict=True)) for row in matrix]


def linear(colour):
    parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    return [one / 12.92 if one <= 0.04045 else ((one + 0.055) / 1.055) ** 2.4 for one in parts]


def lab(light):
    ratios = [max(one, 0.0) / white for one, white in zip(applied(TO_XYZ, light), WHITE, strict=True)]
    x, y, z = (one ** (1 / 3) if one > 216 / 24389 else (24389 / 27 * one + 16) / 116 for one in ratios)
    return 116 * y - 16, 500 * (x - y), 200 * (y - z)


def smallest_distance(colours, sight):
    seen = [lab(applied(FROM_CONES, applied(SIGHT[sight], applied(TO_CONES, linear(one))))) for one in colours]
    return min(math.dist(one, other) for one, other in itertools.combinations(seen, 2))


def test_white_black_and_red_are_where_the_scale_puts_them():
    assert lab(linear("#ffffff")) == pytest.approx((100, 0, 0), abs=0.1)
    assert lab(linear("#000000")) == pytest.approx((0, 0, 0), abs=0.1)
    assert lab(linear("#ff0000")) == pytest.approx((53.2, 80.1, 67.2), abs=0.2)


@pytest.mark.parametrize("sight", SIGHT)
def test_every_sight_leaves_white_white(sight):
    assert applied(FROM_CONES, applied(SIGHT[sight], applied(TO_CONES, [1, 1, 1]))) == pytest.approx([1] * 3, abs=2e-3)


def test_red_and_green_of_one_lightness_come_close_for_protan_and_deutan_sight():
    pair = ("#c05000", "#708000")
    for sight in ("protan", "deutan"):
        assert smallest_distance(pair, sight) < 0.5 * smallest_distance(pair, "normal")


@pytest.mark.parametrize("sight", SIGHT)
@pytest.mark.parametrize("sheet", LEAST)
def test_the_three_stay_apart(sheet, sight):
    assert smallest_distance(inks(sheet).values(), sight) >= LEAST[sheet]


@pytest.mark.parametrize("sheet", LEAST)
def test_the_three_differ_in_grey(sheet):
    greys = sorted(lab(linear(one))[0] for one in inks(sheet).values())
    assert min(b - a for a, b in itertools.pairwise(greys)) > 2.0
