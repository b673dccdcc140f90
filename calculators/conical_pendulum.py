"""Conical pendulum: a bob on a cord that goes round in a level circle, the cord tracing out a cone."""

from math import cos, pi, radians, tau

from crankpin.calculator.common import gravity, mass
from crankpin.calculator.curves import Axis, Curve, Drawing, Mark, Panel, Picture, spread
from crankpin.calculator.declaration import Calculator, Caution, Input, Output, PublishedCheck, Values
from crankpin.mechanics import circular, conical, pendulum, vertical_circle


def find(L: float, beta: float, m: float, g: float) -> dict[str, float]:
    """The circle, its period, and the forces."""
    r, omega = conical.circle_radius(L, beta), conical.angular_velocity(L, beta, g)
    a_c = circular.centripetal_acceleration(r, omega)
    return {
        "r": r,
        "h": conical.depth(L, beta),
        "omega": omega,
        "T": circular.period(omega),
        "T_narrow": pendulum.small_swing_period(L, g),
        "v": circular.rim_speed(r, omega),
        "a_c": a_c,
        "F_g": vertical_circle.weight(m, g),
        "F": conical.tension(m, beta, g),
        "F_c": m * a_c,
    }


def draw(values: Values) -> Drawing:
    """The cone from the side, and the period against its angle."""
    L, g, beta, r, h = (values[key] for key in ("L", "g", "beta", "r", "h"))
    around = spread(0.0, tau, 73)
    widest = max(radians(80.0), min(radians(89.0), 1.1 * beta))
    angles = spread(radians(0.5), widest)
    narrow = values["T_narrow"]
    return Drawing(
        {
            "cord": ([0.0, r], [0.0, -h]),
            "other": ([0.0, -r], [0.0, -h]),
            "upright": ([0.0, 0.0], [0.0, -h]),
            "circle": ([r * cos(one) for one in around], [-h + 0.12 * r * cos(one - 0.5 * pi) for one in around]),
            "T": (angles, [tau / conical.angular_velocity(L, one, g) for one in angles]),
            "narrow": ([0.0, widest], [narrow, narrow]),
        },
        {"bob": (r, -h), "here": (beta, values["T"])},
    )


calculator = Calculator(
    title="A conical pendulum",
    purpose="Circle, period and tension of a bob that goes round in a level circle on a cord.",
    inputs=(
        Input(
            key="L",
            symbol="L",
            meaning="length of the cord, to the centre of the bob",
            unit="m",
            also=("cm", "mm"),
            default="1.2 m",
            lowest="1e-6 m",
            highest="1e6 m",
            slider=("0.1 m", "5 m"),
            step="0.1 m",
            parameter="length",
        ),
        Input(
            key="beta",
            symbol=r"\beta",
            meaning="angle between the cord and the vertical",
            unit="rad",
            also=("deg",),
            default="30 deg",
            lowest="0.01 deg",
            highest="89.9 deg",
            slider=("1 deg", "80 deg"),
            step="1 deg",
            parameter="angle",
        ),
        mass("2 kg", meaning="mass of the bob", slider=("0.1 kg", "10 kg"), step="0.1 kg"),
        gravity(),
    ),
    outputs=(
        Output(
            key="r",
            symbol="r",
            meaning="radius of the circle",
            unit="m",
            formula="L*sin(beta)",
            shown_in="L",
        ),
        Output(
            key="h",
            symbol="h",
            meaning="depth of the circle below the point of suspension",
            unit="m",
            formula="L*cos(beta)",
            shown_in="L",
        ),
        Output(key="omega", symbol=r"\omega", meaning="angular velocity", unit="rad/s", formula="sqrt(g/h)"),
        Output(key="T", symbol="T", meaning="period", unit="s", formula="2*pi/omega"),
        Output(
            key="T_narrow",
            symbol="T_0",
            meaning="period of a very narrow cone",
            unit="s",
            formula="2*pi*sqrt(L/g)",
            method="It is also the period of small swings of the same cord and bob.",
        ),
        Output(key="v", symbol="v", meaning="speed of the bob", unit="m/s", formula="r*omega"),
        Output(
            key="a_c",
            symbol=r"a_{\mathrm{c}}",
            meaning="centripetal acceleration",
            unit="m/s2",
            formula="r*omega**2",
        ),
        Output(key="F_g", symbol=r"F_{\mathrm{g}}", meaning="weight", unit="N", formula="m*g"),
        Output(key="F", symbol="F", meaning="tension in the cord", unit="N", formula="F_g/cos(beta)"),
        Output(
            key="F_c",
            symbol=r"F_{\mathrm{c}}",
            meaning="centripetal force: the resultant of weight and tension",
            unit="N",
            formula="m*a_c",
        ),
    ),
    function=find,
    picture=Picture(
        caption="The cone seen from the side, a little from above; and the period against its angle",
        panels=(
            Panel(
                horizontal=Axis(symbol="x", meaning="distance from the middle", unit="m", shown_in="L"),
                vertical=Axis(symbol="y", meaning="height above the point of suspension", unit="m", shown_in="L"),
                curves=(
                    Curve(key="cord", label="cord"),
                    Curve(key="other", label="", role="second", line="dots"),
                    Curve(key="upright", label="vertical", role="third", line="dashes"),
                    Curve(key="circle", label="path", role="position"),
                ),
                marks=(Mark(key="bob", label="bob", role="position"),),
                square=True,
            ),
            Panel(
                horizontal=Axis(symbol=r"\beta", meaning="angle of the cord", unit="rad", shown_in="beta"),
                vertical=Axis(symbol="T", meaning="period", unit="s"),
                curves=(
                    Curve(key="T", label="period"),
                    Curve(key="narrow", label="very narrow cone", role="second", line="dashes"),
                ),
                marks=(Mark(key="here", label="this cone"),),
            ),
        ),
        draw=draw,
    ),
    cautions=(
        Caution(
            text="Do not whirl loads on strings. For the bench use a light rubber bung, wear eye protection, keep the "
            "circle clear of people, and follow your school’s own rules.",
        ),
    ),
    checks=(
        PublishedCheck(
            source="common practice, no source",
            note="At 60° the cosine is a half: the tension is twice the weight, and the circle lies half the cord’s "
            "length down.",
            given={"L": "2 m", "beta": "60 deg", "m": "1 kg", "g": "10 m/s2"},
            expect={"F": "20.000 N", "h": "1.0000 m", "omega": "3.1623 rad/s"},
        ),
        PublishedCheck(
            source="common practice, no source",
            note="At 45° the centripetal force equals the weight.",
            given={"beta": "45 deg", "m": "1 kg", "g": "9.81 m/s2"},
            expect={"F_c": "9.8100 N", "a_c": "9.8100 m/s2"},
        ),
    ),
)
