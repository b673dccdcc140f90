"""Pendulum: the period of a bob on a thread, for small swings and for the swing it has."""

from math import cos, pi, radians, tau

from crankpin.calculator.common import gravity, mass
from crankpin.calculator.curves import Axis, Curve, Drawing, Mark, Panel, Picture, spread
from crankpin.calculator.declaration import Calculator, Caution, Input, Output, PublishedCheck, Values
from crankpin.mechanics import pendulum, vertical_circle


def find(L: float, g: float, theta_max: float, m: float) -> dict[str, float]:
    """The period two ways, their difference, and what it does to a clock."""
    T = pendulum.swing_period(L, g, theta_max)
    v_low = vertical_circle.lowest_speed(L, theta_max, g)
    return {
        "T_small": pendulum.small_swing_period(L, g),
        "first_term": theta_max * theta_max / 16.0,
        "excess": pendulum.period_excess(theta_max),
        "ratio": pendulum.period_ratio(theta_max),
        "T": T,
        "f": 1.0 / T,
        "drift": pendulum.daily_drift(theta_max),
        "v_low": v_low,
        "F_low": vertical_circle.inward_force_round_circle(m, L, v_low, 0.0, g),
    }


def draw(values: Values) -> Drawing:
    """Three swings beside those of the small-angle law, and the period against the amplitude."""
    L, g, theta_max, T_small = (values[key] for key in ("L", "g", "theta_max", "T_small"))
    times = spread(0.0, 3.0 * values["T"])
    widest = max(radians(120.0), min(radians(179.0), 1.2 * theta_max))
    amplitudes = spread(0.0, widest)
    return Drawing(
        {
            "swing": (times, [pendulum.swing(L, g, theta_max, one).angle for one in times]),
            "small": (times, [theta_max * cos(tau * one / T_small) for one in times]),
            "ratio": (amplitudes, [pendulum.period_ratio(one) for one in amplitudes]),
            "first": (amplitudes, [1.0 + one * one / 16.0 for one in amplitudes]),
        },
        {"end": (values["T"], theta_max), "here": (theta_max, values["ratio"])},
    )


calculator = Calculator(
    title="A pendulum: small swings and wide ones",
    purpose="The period of a simple pendulum, and how much longer a wide swing takes.",
    inputs=(
        Input(
            key="L",
            symbol="L",
            meaning="length from the pivot to the centre of the bob",
            unit="m",
            also=("cm", "mm"),
            default="99.4 cm",
            lowest="1e-6 m",
            highest="1e6 m",
            slider=("10 cm", "300 cm"),
            step="1 cm",
            parameter="length",
        ),
        gravity(),
        Input(
            key="theta_max",
            symbol=r"\theta_{\max}",
            meaning="angular amplitude: greatest angle from the vertical",
            unit="rad",
            also=("deg",),
            default="2 deg",
            lowest="0 deg",
            highest="179.9 deg",
            slider=("1 deg", "170 deg"),
            step="1 deg",
            parameter="amplitude",
            help="From the vertical to one side, not from side to side. On a thread it must be less than 90°; on a "
            "light stiff "
            "rod it may be more.",
        ),
        mass(
            "1 kg",
            meaning="mass of the bob",
            help="Only the tension depends on it.",
            slider=("0.1 kg", "5 kg"),
            step="0.1 kg",
        ),
    ),
    outputs=(
        Output(
            key="T_small",
            symbol="T_0",
            meaning="period of small swings",
            unit="s",
            formula="2*pi*sqrt(L/g)",
            digits=4,
        ),
        Output(
            key="first_term",
            symbol=r"\epsilon_1",
            meaning="fraction by which this swing takes longer, first term only",
            unit="1",
            formula="theta_max**2/16",
            method="The angle must be in radians here.",
            shown_in="%",
        ),
        Output(
            key="excess",
            symbol=r"\epsilon",
            meaning="fraction by which this swing takes longer, exactly",
            unit="1",
            method="One divided by the arithmetic-geometric mean of 1 and the cosine of half the angle, minus 1.",
            shown_in="%",
        ),
        Output(
            key="ratio",
            symbol="T/T_0",
            meaning="period divided by that of small swings",
            unit="1",
            formula="1 + excess",
            digits=6,
        ),
        Output(
            key="T",
            symbol="T",
            meaning="period of this swing",
            unit="s",
            formula="T_small*(1 + excess)",
            digits=4,
        ),
        Output(key="f", symbol="f", meaning="frequency of this swing", unit="Hz", formula="1/T", digits=4),
        Output(
            key="drift",
            symbol="D",
            meaning="gain per day of a clock set for small swings; negative: it loses",
            unit="s/d",
            formula='-quantity(86400, "s/d")*excess/(1 + excess)',
            method="The clock counts each swing as if it were a small one.",
        ),
        Output(
            key="v_low",
            symbol=r"v_{\mathrm{low}}",
            meaning="speed at the lowest point",
            unit="m/s",
            formula="sqrt(2*g*L*(1 - cos(theta_max)))",
        ),
        Output(
            key="F_low",
            symbol=r"F_{\mathrm{low}}",
            meaning="tension in the thread at the lowest point",
            unit="N",
            formula="m*g*(3 - 2*cos(theta_max))",
            method="It holds the weight and provides the centripetal force.",
        ),
    ),
    function=find,
    picture=Picture(
        caption="The swing against time, and the period against the angular amplitude",
        panels=(
            Panel(
                horizontal=Axis(symbol="t", meaning="time", unit="s"),
                vertical=Axis(symbol=r"\theta", meaning="angle from the vertical", unit="rad", shown_in="theta_max"),
                curves=(
                    Curve(key="swing", label="the swing", role="position"),
                    Curve(key="small", label="small-angle law", role="second", line="dashes"),
                ),
                marks=(Mark(key="end", label="one period", role="position"),),
            ),
            Panel(
                horizontal=Axis(symbol=r"\theta_{\max}", meaning="angular amplitude", unit="rad", shown_in="theta_max"),
                vertical=Axis(symbol="T/T_0", meaning="period divided by that of small swings", unit="1"),
                curves=(
                    Curve(key="ratio", label="exact"),
                    Curve(key="first", label="first term", role="second", line="dashes"),
                ),
                marks=(Mark(key="here", label="this swing"),),
            ),
        ),
        draw=draw,
    ),
    cautions=(
        Caution(
            text="A swinging bob hits hard: clamp the stand, keep heads and hands out of the plane of the swing, check "
            "thread and pivot, put something soft underneath, and follow your school’s own rules.",
            when=lambda values: values["theta_max"] > pi / 6.0 or values["L"] >= 2.0,
        ),
        Caution(
            text="Beyond 90° a thread goes slack: these numbers then hold only for a light stiff rod.",
            when=lambda values: values["theta_max"] > pi / 2.0,
        ),
    ),
    checks=(
        PublishedCheck(
            source="OpenStax, College Physics 2e, section 16.4, exercise 24: a pendulum of one metre",
            given={"L": "1.00 m", "g": "9.80 m/s2"},
            expect={"T_small": "2.01 s"},
        ),
        PublishedCheck(
            source="OpenStax, University Physics Volume 1, section 15.4, exercise 45: a child’s swing",
            given={"L": "4.00 m", "g": "9.80 m/s2"},
            expect={"T_small": "4.01 s"},
        ),
        PublishedCheck(
            source="George Mason University, exercise page of a computing course, table of period against amplitude",
            given={"L": "1 m", "g": "9.81 m/s2", "theta_max": "70 deg"},
            expect={"T": "2.210976180542 s"},
        ),
        PublishedCheck(
            source="mpmath reference documentation, K(1/2) = 1.854 074 677 301 3719; the ratio is 2 K over π",
            given={"theta_max": "90 deg"},
            expect={"ratio": "1.18034059901610"},
        ),
        PublishedCheck(
            source="common practice, no source",
            note="Let go at 60°, the bob pulls with twice its weight at the lowest point.",
            given={"L": "1 m", "g": "10 m/s2", "theta_max": "60 deg", "m": "1 kg"},
            expect={"F_low": "20.000 N", "v_low": "3.1623 m/s"},
        ),
        PublishedCheck(
            source="common practice, no source",
            note="The first term is 0.43 % at 15 degrees and 0.19 % at 10.",
            given={"theta_max": "15 deg"},
            expect={"first_term": "0.43 %", "excess": "0.43 %"},
        ),
    ),
)
