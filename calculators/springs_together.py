"""Springs together: two springs and one mass, in parallel or in series."""

from crankpin.calculator.common import mass, stiffness
from crankpin.calculator.curves import Axis, Curve, Drawing, Panel, Picture
from crankpin.calculator.declaration import Calculator, Caution, Choice, Output, PublishedCheck, Values
from crankpin.mechanics import circular, springs

#: The lines are drawn up to this extension in m; they are straight, so any would do.
_EXTENSION = 0.1
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
    """Force against extension, for each spring and for the combination."""
    end = _EXTENSION
    pulls = {key: ([0.0, end], [0.0, -springs.force(values[key], end)]) for key in ("k_1", "k_2", "k")}
    return Drawing(pulls)


calculator = Calculator(
    title="Two springs, in parallel or in series",
    purpose="The spring constant of the combination, and how a mass oscillates on it.",
    inputs=(
        stiffness(key="k_1", symbol="k_1", meaning="spring constant of the first spring"),
        stiffness("30 N/m", key="k_2", symbol="k_2", meaning="spring constant of the second spring"),
        mass(),
        Choice(
            key="arrangement",
            meaning="arrangement",
            options=(
                ("side-by-side", "in parallel: side by side, or with the mass between them"),
                ("end-to-end", "in series: end to end"),
            ),
            default="side-by-side",
            also=(
                ("parallel", "side-by-side"),
                ("in parallel", "side-by-side"),
                ("series", "end-to-end"),
                ("in series", "end-to-end"),
            ),
        ),
    ),
    outputs=(
        Output(
            key="k",
            symbol="k",
            meaning="spring constant of the combination",
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
        caption="Force against extension: the steeper the line, the stiffer the spring",
        panels=(
            Panel(
                horizontal=Axis(symbol="x", meaning="extension", unit="m", shown_in="cm"),
                vertical=Axis(symbol="F", meaning="force", unit="N"),
                curves=(
                    Curve(key="k_1", label="first", role="second", line="dashes"),
                    Curve(key="k_2", label="second", role="third", line="dots"),
                    Curve(key="k", label="combination"),
                ),
            ),
        ),
        draw=draw,
    ),
    cautions=(
        Caution(
            text="Stretched springs can fly off: wear eye protection, tie the hooks, put something soft under a "
            "hanging "
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
            source="OpenStax, College Physics 2e, section 16.5, problem 35: twice the rope, two equal ropes in series",
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
