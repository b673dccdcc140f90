"""Two means: the arithmetic and the geometric mean, taken again and again, close in on one number."""

from math import cos, sqrt

from crankpin.calculator.curves import Axis, Curve, Drawing, Panel, Picture
from crankpin.calculator.declaration import Calculator, Input, Output, PublishedCheck, Values
from crankpin.mechanics import pendulum

_ROUNDS = (1, 2, 3)


def find(theta_max: float) -> dict[str, float]:
    """Three rounds of the two means, and the number on which they close in."""
    ratio = pendulum.period_ratio(theta_max)
    a, b = 1.0, cos(theta_max / 2.0)
    found = {"b_0": b}
    for i in _ROUNDS:
        a, b = (a + b) / 2.0, sqrt(a * b)
        found |= {f"a_{i}": a, f"b_{i}": b}
    return {**found, "M": 1.0 / ratio, "ratio": ratio}


def draw(values: Values) -> Drawing:
    """The two means after each round."""
    rounds = [0.0, *map(float, _ROUNDS)]
    return Drawing(
        {
            "a": (rounds, [1.0, *(values[f"a_{i}"] for i in _ROUNDS)]),
            "b": (rounds, [values["b_0"], *(values[f"b_{i}"] for i in _ROUNDS)]),
        }
    )


def _arithmetic(i: int) -> Output:
    before = "(1 + b_0)/2" if i == 1 else f"(a_{i - 1} + b_{i - 1})/2"
    return Output(
        key=f"a_{i}",
        symbol=f"a_{i}",
        meaning=f"arithmetic mean, round {i}",
        unit="1",
        formula=before,
        digits=9,
    )


def _geometric(i: int) -> Output:
    before = "sqrt(b_0)" if i == 1 else f"sqrt(a_{i - 1}*b_{i - 1})"
    return Output(
        key=f"b_{i}",
        symbol=f"b_{i}",
        meaning=f"geometric mean, round {i}",
        unit="1",
        formula=before,
        digits=9,
    )


calculator = Calculator(
    title="Two means that meet",
    purpose="How the exact period of a wide swing is found: two means, taken again and again until they agree.",
    inputs=(
        Input(
            key="theta_max",
            symbol=r"\theta_{\max}",
            meaning="angular amplitude: greatest angle from the vertical",
            unit="rad",
            also=("deg",),
            default="90 deg",
            lowest="0 deg",
            highest="179.9 deg",
            slider=("1 deg", "179 deg"),
            step="1 deg",
            parameter="amplitude",
        ),
    ),
    outputs=(
        Output(
            key="b_0",
            symbol="b_0",
            meaning="cosine of half the angle; the other starting number is 1",
            unit="1",
            formula="cos(theta_max/2)",
            digits=9,
        ),
        *(make(i) for i in _ROUNDS for make in (_arithmetic, _geometric)),
        Output(
            key="M",
            symbol="M",
            meaning="arithmetic-geometric mean of 1 and the cosine of half the angle",
            unit="1",
            method="The number that both approach, found with as many rounds as it takes.",
            digits=9,
        ),
        Output(
            key="ratio",
            symbol="T/T_0",
            meaning="period divided by that of small swings",
            unit="1",
            formula="1/M",
            digits=9,
        ),
    ),
    function=find,
    picture=Picture(
        caption="The two means after each round",
        panels=(
            Panel(
                horizontal=Axis(symbol="n", meaning="round", unit="1"),
                vertical=Axis(symbol="M", meaning="mean", unit="1"),
                curves=(
                    Curve(key="a", label="arithmetic", role="plain"),
                    Curve(key="b", label="geometric", role="second", line="dashes"),
                ),
            ),
        ),
        draw=draw,
    ),
    checks=(
        PublishedCheck(
            source="mpmath reference documentation, K(1/2) = 1.854 074 677 301 3719; the ratio is 2 K over π",
            given={"theta_max": "90 deg"},
            expect={"ratio": "1.18034059901610"},
        ),
        PublishedCheck(
            source="J. Lebl, Notes on Diffy Qs, 6th edition, section 8.3: the small-angle period is 15 % short at 90 "
            "degrees, so its share of the exact one is 0.85",
            given={"theta_max": "90 deg"},
            expect={"M": "0.85"},
        ),
    ),
)
