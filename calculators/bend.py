"""Bend: a car on a flat or a banked bend, the friction it needs, and the speeds between which friction holds it."""

from math import cos, sin
from typing import Any

from crankpin.calculator.common import gravity, mass, or_absent, speed, static_friction
from crankpin.calculator.curves import Axis, Curve, Drawing, Mark, Panel, Picture, spread
from crankpin.calculator.declaration import Calculator, Caution, Input, Output, PublishedCheck, Values
from crankpin.calculator.faults import Absent
from crankpin.mechanics import bends, circular, vertical_circle

_FLAT = Absent("A flat bend needs friction at every speed.")


def find(m: float, v: float, r: float, beta: float, mu: float, g: float) -> dict[str, Any]:
    """The forces at this speed, and the speeds at which friction is not needed or no longer enough."""
    a_c = circular.centripetal_acceleration_from_speed(v, r)
    R = bends.normal_force(m, a_c, beta, g)
    F_f = bends.friction_on_bank(m, a_c, beta, g)
    return {
        "a_c": a_c,
        "F_c": bends.centripetal_force(m, a_c),
        "F_g": vertical_circle.weight(m, g),
        "R": R,
        "F_f": F_f,
        "mu_needed": abs(F_f) / R,
        "beta_ideal": bends.banking_angle(a_c, g),
        "v_ideal": bends.speed_for_bank(beta, r, g) if beta > 0.0 else _FLAT,
        "v_max": or_absent(bends.greatest_speed_on_bank, mu, r, beta, g),
        "v_min": or_absent(bends.least_speed_on_bank, mu, r, beta, g),
    }


def draw(values: Values) -> Drawing:
    """The forces tip to tail, and the friction needed against the speed."""
    r, beta, mu, g, F_g, F_c, R = (values[key] for key in ("r", "beta", "mu", "g", "F_g", "F_c", "R"))
    push = (R * sin(beta), R * cos(beta) - F_g)
    fastest = 1.25 * max(values["v"], values.get("v_max", 0.0), values.get("v_ideal", 0.0))
    speeds = spread(0.0, fastest)
    marks: dict[str, tuple[float, float] | None] = {"here": (values["v"], values["mu_needed"])}
    marks |= {"tip_weight": (0.0, -F_g), "tip_push": (0.5 * push[0], 0.5 * (push[1] - F_g)), "tip_friction": (F_c, 0.0)}
    marks |= {key: (values[key], mu) for key in ("v_min", "v_max") if key in values}
    return Drawing(
        {
            "weight": ([0.0, 0.0], [0.0, -F_g]),
            "push": ([0.0, push[0]], [-F_g, push[1]]),
            "friction": ([push[0], F_c], [push[1], 0.0]),
            "resultant": ([0.0, F_c], [0.0, 0.0]),
            "needed": (speeds, [_friction_needed(speed, r, beta, g) for speed in speeds]),
            "grip": ([0.0, fastest], [mu, mu]),
        },
        marks,
    )


def _friction_needed(v: float, r: float, beta: float, g: float) -> float:
    a_c = circular.centripetal_acceleration_from_speed(v, r)
    return abs(bends.friction_on_bank(1.0, a_c, beta, g)) / bends.normal_force(1.0, a_c, beta, g)


calculator = Calculator(
    title="Round a bend",
    purpose="The forces on a car in a flat or banked bend, and the speeds at which friction is enough.",
    inputs=(
        mass("1200 kg", meaning="mass of the car", slider=("100 kg", "5000 kg"), step="100 kg"),
        speed("15 m/s", also=("km/h",)),
        Input(
            key="r",
            symbol="r",
            meaning="radius of the bend",
            unit="m",
            also=("km",),
            default="50 m",
            lowest="1e-6 m",
            highest="1e12 m",
            slider=("5 m", "500 m"),
            step="5 m",
            parameter="radius",
            help="Measured on the level.",
        ),
        Input(
            key="beta",
            symbol=r"\beta",
            meaning="angle of the bank to the horizontal",
            unit="rad",
            also=("deg",),
            default="10 deg",
            lowest="0 deg",
            highest="89.9 deg",
            slider=("0 deg", "60 deg"),
            step="1 deg",
            parameter="angle",
            help="Zero for a flat road.",
        ),
        static_friction(
            "0.5",
            help="Tyres on a dry road about 0.7, on a wet one about 0.4, on ice 0.1 (common practice, no source).",
        ),
        gravity(),
    ),
    outputs=(
        Output(
            key="a_c",
            symbol=r"a_{\mathrm{c}}",
            meaning="centripetal acceleration",
            unit="m/s2",
            formula="v**2/r",
        ),
        Output(
            key="F_c",
            symbol=r"F_{\mathrm{c}}",
            meaning="centripetal force needed, on the level towards the centre",
            unit="N",
            formula="m*a_c",
        ),
        Output(key="F_g", symbol=r"F_{\mathrm{g}}", meaning="weight", unit="N", formula="m*g"),
        Output(
            key="R",
            symbol="R",
            meaning="normal contact force",
            unit="N",
            formula="F_g*cos(beta) + F_c*sin(beta)",
        ),
        Output(
            key="F_f",
            symbol=r"F_{\mathrm{f}}",
            meaning="friction needed along the slope; positive down the bank",
            unit="N",
            formula="F_c*cos(beta) - F_g*sin(beta)",
            dust_of="F_g",
        ),
        Output(
            key="mu_needed",
            symbol=r"\mu_{\mathrm{need}}",
            meaning="least coefficient of friction at this speed",
            unit="1",
            formula="abs(F_f)/R",
        ),
        Output(
            key="beta_ideal",
            symbol=r"\beta_0",
            meaning="bank at which this speed needs no friction",
            unit="rad",
            formula="arctan(a_c/g)",
            shown_in="beta",
        ),
        Output(
            key="v_ideal",
            symbol="v_0",
            meaning="speed at which this bank needs no friction",
            unit="m/s",
            formula="sqrt(r*g*tan(beta))",
            shown_in="v",
        ),
        Output(
            key="v_max",
            symbol=r"v_{\max}",
            meaning="greatest speed at which friction holds",
            unit="m/s",
            formula="sqrt(r*g*(tan(beta) + mu)/(1 - mu*tan(beta)))",
            shown_in="v",
        ),
        Output(
            key="v_min",
            symbol=r"v_{\min}",
            meaning="least speed at which friction holds",
            unit="m/s",
            formula="sqrt(r*g*(tan(beta) - mu)/(1 + mu*tan(beta)))",
            shown_in="v",
        ),
    ),
    function=find,
    picture=Picture(
        caption="The forces drawn tip to tail, the resultant at right angles to the weight; and "
        "the friction needed at each speed",
        panels=(
            Panel(
                horizontal=Axis(symbol="F_x", meaning="force towards the centre", unit="N"),
                vertical=Axis(symbol="F_y", meaning="force upwards", unit="N"),
                curves=(
                    Curve(key="weight", label="weight"),
                    Curve(key="push", label="normal force", role="second", line="dashes"),
                    Curve(key="friction", label="friction", role="third", line="dots"),
                    Curve(key="resultant", label="resultant", role="acceleration"),
                ),
                marks=(
                    Mark(key="tip_weight", label="weight"),
                    Mark(key="tip_push", label="normal force", role="second"),
                    Mark(key="tip_friction", label="friction", role="third"),
                ),
                square=True,
            ),
            Panel(
                horizontal=Axis(symbol="v", meaning="speed", unit="m/s", shown_in="v"),
                vertical=Axis(symbol=r"\mu", meaning="coefficient of friction", unit="1"),
                curves=(
                    Curve(key="needed", label="needed"),
                    Curve(key="grip", label="there is", role="second", line="dashes"),
                ),
                marks=(
                    Mark(key="here", label="this speed"),
                    Mark(key="v_min", label="least", role="second"),
                    Mark(key="v_max", label="greatest", role="second"),
                ),
            ),
        ),
        draw=draw,
    ),
    cautions=(
        Caution(
            text="Friction is not enough at this speed: the car slides. A real driver keeps far below the limit, and "
            "the law and the state of the road come before any number here.",
            when=lambda values: values["mu_needed"] > values["mu"] * (1.0 + 1e-9),
        ),
        Caution(
            text="So much friction is more than any ordinary tyre and road have.",
            when=lambda values: values["mu_needed"] > 1.2 or values["mu"] > 1.2,
        ),
    ),
    checks=(
        PublishedCheck(
            source="OpenStax, University Physics Volume 1, section 6.3, check 6.9: a car on a flat bend",
            given={"v": "96.8 km/h", "r": "182.9 m", "beta": "0 deg", "g": "9.80 m/s2"},
            expect={"mu_needed": "0.40"},
        ),
        PublishedCheck(
            source="OpenStax, University Physics Volume 1, section 6.3, exercise 77: the greatest speed on the flat",
            given={"r": "65 m", "beta": "0 deg", "mu": "0.70", "g": "9.80 m/s2"},
            expect={"v_max": "21 m/s"},
        ),
        PublishedCheck(
            source="OpenStax, University Physics Volume 1, section 6.3, exercise 75: banked rails",
            given={"r": "500 m", "beta": "5.0 deg", "g": "9.80 m/s2"},
            expect={"v_ideal": "20.7 m/s"},
        ),
        PublishedCheck(
            source="OpenStax, College Physics 2e, section 6.3, example 6.5: a steep bank",
            given={"r": "100 m", "beta": "65.0 deg", "g": "9.80 m/s2"},
            expect={"v_ideal": "45.8 m/s"},
        ),
        PublishedCheck(
            source="common practice, no source",
            note="Where the tangent of the bank is 1 and the coefficient of friction 1/3, the two limits are √2 times "
            "and 1/√2 times the speed that needs no friction, here 10 m/s.",
            given={"r": "10 m", "beta": "45 deg", "mu": "0.3333333333333333", "g": "10 m/s2"},
            expect={"v_ideal": "10.000 m/s", "v_max": "14.142 m/s", "v_min": "7.071 m/s"},
        ),
    ),
)
