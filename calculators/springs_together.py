"""Springs together: two springs that share one load, side by side or end to end."""

from crankpin.calculator.common import mass, stiffness
from crankpin.calculator.curves import Axis, Curve, Drawing, Mark, Panel, Picture
from crankpin.calculator.declaration import Calculator, Caution, Choice, Output, PublishedCheck, Values
from crankpin.mechanics import circular, springs
from crankpin.mechanics.constants import STANDARD_GRAVITY

_SUMS = {
    "side-by-side": (springs.side_by_side, "k_1 + k_2"),
    "end-to-end": (springs.end_to_end, "1/(1/k_1 + 1/k_2)"),
}


def find(k_1: float, k_2: float, m: float, arrangement: str) -> dict[str, float]:
    """The one spring that would do the same, and the motion of the mass on it."""
    together, _ = _SUMS[arrangement]
    k = together(k_1, k_2)
    omega = springs.angular_frequency(k, m)
    return {"k": k, "omega": omega, "f": circular.frequency(omega), "T": circular.period(omega)}


def draw(values: Values) -> Drawing:
    """Pull against stretch of each spring and of both, to a little beyond where both carry the load at rest."""
    load = springs.static_stretch(values["m"], values["k"], STANDARD_GRAVITY)
    end = 1.25 * load
    pulls = {key: ([0.0, end], [0.0, -springs.force(values[key], end)]) for key in ("k_1", "k_2", "k")}
    return Drawing(pulls, {"load": (load, -springs.force(values["k"], load))})


calculator = Calculator(
    title="Two springs together",
    purpose="The spring constant of two springs that carry one mass, and how the mass moves on them.",
    inputs=(
        stiffness(key="k_1", symbol="k_1", meaning="constant of the first spring"),
        stiffness("30 N/m", key="k_2", symbol="k_2", meaning="constant of the second spring"),
        mass(),
        Choice(
            key="arrangement",
            meaning="how the springs are joined",
            options=(
                ("side-by-side", "side by side, or the mass between them"),
                ("end-to-end", "end to end"),
            ),
            default="side-by-side",
        ),
    ),
    outputs=(
        Output(
            key="k",
            symbol="k",
            meaning="spring constant of both together",
            unit="N/m",
            formula=lambda values: _SUMS[values["arrangement"]][1],
            shown_in="k_1",
        ),
        Output(key="omega", symbol=r"\omega", meaning="angular frequency", unit="rad/s", formula="sqrt(k/m)"),
        Output(key="f", symbol="f", meaning="frequency", unit="Hz", formula="omega/(2*pi)"),
        Output(key="T", symbol="T", meaning="period", unit="s", formula="1/f"),
    ),
    function=find,
    picture=Picture(
        caption="Pull against stretch; marked is the stretch with which both together carry the weight of the mass",
        panels=(
            Panel(
                horizontal=Axis(symbol="x", meaning="stretch", unit="m", shown_in="cm"),
                vertical=Axis(symbol="F", meaning="pull", unit="N"),
                curves=(
                    Curve(key="k_1", label="first", role="second", line="dashes"),
                    Curve(key="k_2", label="second", role="third", line="dots"),
                    Curve(key="k", label="together"),
                ),
                marks=(Mark(key="load", label="the weight"),),
            ),
        ),
        draw=draw,
    ),
    cautions=(
        Caution(
            text="Stretched springs can let go: wear eye protection, tie the hooks, put something soft under a hung "
            "mass, and follow your school’s own rules.",
        ),
    ),
    checks=(
        PublishedCheck(
            source="R. Fitzpatrick, Classical Mechanics: An Introductory Course, chapter 11, worked example 11.3",
            given={"k_1": "1200 N/m", "k_2": "400 N/m", "m": "3 kg", "arrangement": "end-to-end"},
            expect={"k": "300 N/m", "omega": "10 rad/s", "T": "0.6283 s"},
        ),
        PublishedCheck(
            source="OpenStax, College Physics 2e, section 16.5, problem 35: twice the rope, two equal ropes in a row",
            given={"k_1": "1.40e4 N/m", "k_2": "1.40e4 N/m", "m": "90.0 kg", "arrangement": "end-to-end"},
            expect={"f": "1.40 Hz"},
        ),
        PublishedCheck(
            source="OpenStax, University Physics Volume 1, chapter 15, problem 73: the four springs of a truck",
            note="Two of the four are taken as one; the book’s 1.30×10⁵ N/m for all four is 3.25×10⁴ N/m for each.",
            given={"k_1": "6.50e4 N/m", "k_2": "6.50e4 N/m", "m": "1000 kg", "arrangement": "side-by-side"},
            expect={"k": "1.30e5 N/m"},
        ),
    ),
)
