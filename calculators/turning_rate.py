"""Turning rate: one number says how fast a wheel turns; its unit says which quantity was typed."""

from math import cos, pi, sin

from crankpin.calculator.common import radius, turning_rate
from crankpin.calculator.curves import Axis, Curve, Drawing, Mark, Panel, Picture, spread
from crankpin.calculator.declaration import Calculator, Caution, Output, PublishedCheck, Values
from crankpin.mechanics import circular
from crankpin.mechanics.constants import STANDARD_GRAVITY


def find(r: float, rate: float) -> dict[str, float]:
    """Every way of saying how fast the rim goes round."""
    a_c = circular.centripetal_acceleration(r, rate)
    return {
        "omega": rate,
        "f": circular.frequency(rate),
        "T": circular.period(rate),
        "n": circular.rotational_frequency_rpm(rate),
        "v": circular.rim_speed(r, rate),
        "a_c": a_c,
        "g_n": STANDARD_GRAVITY,
        "g_ratio": circular.gravity_ratio(a_c),
    }


def draw(values: Values) -> Drawing:
    """The circle, with the places reached after each tenth of a turn."""
    r = values["r"]
    angles = spread(0.0, 2.0 * pi)
    tenths = [2.0 * pi * i / 10.0 for i in range(10)]
    return Drawing(
        {
            "rim": ([r * cos(a) for a in angles], [r * sin(a) for a in angles]),
            "tenths": ([r * cos(a) for a in tenths], [r * sin(a) for a in tenths]),
        },
        {"start": (r, 0.0)},
    )


calculator = Calculator(
    title="How fast does it turn?",
    purpose="From the radius, and how fast it turns in any unit, to period, frequency, speed and acceleration at the "
    "rim.",
    inputs=(
        radius(),
        turning_rate(),
    ),
    outputs=(
        Output(
            key="omega",
            symbol=r"\omega",
            meaning="angular velocity",
            unit="rad/s",
            formula="rate",
            form_of="rate",
        ),
        Output(key="T", symbol="T", meaning="period", unit="s", formula="2*pi/omega", form_of="rate"),
        Output(key="f", symbol="f", meaning="frequency", unit="Hz", formula="1/T", form_of="rate"),
        Output(
            key="n",
            symbol="n",
            meaning="rotational frequency, in turns per minute",
            unit="rpm",
            formula='quantity(60, "s/min")*f',
            form_of="rate",
        ),
        Output(key="v", symbol="v", meaning="speed along the circle", unit="m/s", formula="r*omega"),
        Output(
            key="a_c",
            symbol=r"a_{\mathrm{c}}",
            meaning="centripetal acceleration, towards the axle",
            unit="m/s2",
            formula="r*omega**2",
        ),
        Output(
            key="g_n",
            symbol=r"g_{\mathrm{n}}",
            meaning="standard acceleration of free fall, for comparison",
            unit="m/s2",
            method="A conventional value, agreed in 1901.",
            digits=6,
        ),
        Output(
            key="g_ratio",
            symbol=r"a_{\mathrm{c}}/g_{\mathrm{n}}",
            meaning="centripetal acceleration as a multiple of the standard acceleration of free fall",
            unit="1",
            formula="r*omega**2/g_n",
        ),
    ),
    function=find,
    picture=Picture(
        caption="The path of a point on the rim, with its position after each tenth of a period",
        panels=(
            Panel(
                horizontal=Axis(symbol="x", meaning="distance across", unit="m", shown_in="r"),
                vertical=Axis(symbol="y", meaning="distance up", unit="m", shown_in="r"),
                curves=(
                    Curve(key="rim", label="path"),
                    Curve(key="tenths", label="every tenth of a period", role="position", line="points"),
                ),
                marks=(Mark(key="start", label="start", role="position"),),
                square=True,
            ),
        ),
        draw=draw,
    ),
    cautions=(
        Caution(
            text="At this rate anything on the rim needs a resultant force greater than its own weight: guard a real "
            "wheel, tie back hair, sleeves and cords, leave nothing loose on it, and follow your school’s own rules.",
            when=lambda values: values["g_ratio"] > 1.0,
        ),
    ),
    checks=(
        PublishedCheck(
            source="OpenStax, University Physics Volume 1, section 4.4, exercise 67: a point on a fan blade",
            given={"r": "10.0 cm", "rate": "360 rpm"},
            expect={"f": "6 Hz", "v": "3.8 m/s"},
        ),
        PublishedCheck(
            source="OpenStax, College Physics 2e, section 6.2, example 6.3: an ultracentrifuge",
            given={"r": "7.50 cm", "rate": "75000 rpm"},
            expect={"omega": "7854 rad/s", "a_c": "4.63e6 m/s2"},
        ),
        PublishedCheck(
            source="common practice, no source",
            note="The electron’s wheel in the oldest model of the hydrogen atom: radius, rate and speed from memory.",
            given={"r": "5.29e-11 m", "rate": "4.13e16 rad/s"},
            expect={"v": "2.18e6 m/s", "T": "1.52e-16 s"},
        ),
        PublishedCheck(
            source="common practice, no source",
            note="The Sun goes round the middle of its galaxy, 2.5 × 10²⁰ m away, in about 7 × 10¹⁵ s (from memory).",
            given={"r": "2.5e20 m", "rate": "7.0e15 s"},
            expect={"v": "2.24e5 m/s"},
        ),
    ),
)
