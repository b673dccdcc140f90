"""Problems to try things on."""

from pathlib import Path

import pytest

from crankpin.calculator.catalogue import load_catalogue
from crankpin.problems.parsing import read_problems
from crankpin.problems.variants import Variant

ROOT = Path(__file__).resolve().parents[2]

DRUM = """
~~~problem drum
title = "The drum"
level = "standard"
needs = ["01-turning"]

[draw]
n = "20 to 75 rpm step 5 as Hz"
d = "30 to 60 cm step 2"

[work]
omega = "circular.angular_frequency_from_frequency(n) in rad/s"
r = "d/2 in cm"
v = "circular.rim_speed(r, omega) in m/s"

[part.a]
answer = "omega"
[part.a.slips]
two_pi_forgotten = "n"

[part.b]
answer = "v"
goes_on_from = "a"
[part.b.slips]
diameter_for_radius = "r"
centimetres_left_in = "r"
---
A drum of diameter {= d =} turns at {= n =}.

# Part a
What is its angular velocity?
## Hints
1. a
2. b
3. c
## Solution
- $\\omega = 2\\pi f = {= omega =}$ (M1 A1)

# Part b
How fast does the rope run?
## Hints
1. a
2. b
3. c
## Solution
- $v = r\\omega$ (M1)
- $v = {= r in m =} \\times {= omega to 4 =} = {= v =}$ (A1)
~~~
"""


@pytest.fixture(scope="session")
def calculators():
    return load_catalogue(ROOT / "calculators", known_sound=lambda _: True)


@pytest.fixture(scope="session")
def drum(calculators):
    return read_problems(DRUM, "drum.md", calculators)[0]


@pytest.fixture(scope="session")
def variant(drum, calculators):
    return Variant(drum, 3, calculators)
