"""Inward force: a load carried round an upright wheel, and what its holder must do at the top and at the bottom."""

from math import pi

from crankpin.calculator.common import gravity, mass, radius, turning_rate
from crankpin.calculator.curves import Axis, Curve, Drawing, Mark, Panel, Picture, spread
from crankpin.calculator.declaration import Calculator, Caution, Output, PublishedCheck, Values
from crankpin.mechanics import bends, circular, vertical_circle


def find(m: float, r: float, rate: float, g: float) -> dict[str, float]:
    """The net force on the load, its weight, and the holder's force at the two ends of the upright diameter."""
    a_c = circular.centripetal_acceleration(r, rate)
    return {
        "v": circular.rim_speed(r, rate),
        "a_c": a_c,
        "F_c": bends.centripetal_force(m, a_c),
        "F_g": vertical_circle.weight(m, g),
        "F_top": vertical_circle.force_at_top(m, r, rate, g),
        "F_bottom": vertical_circle.force_at_bottom(m, r, rate, g),
    }


def draw(values: Values) -> Drawing:
    """The upward force of the holder through one turn from the bottom, as the angle from the right of the axle."""
    m, r, rate, g = (values[key] for key in ("m", "r", "rate", "g"))
    angles = spread(-0.5 * pi, 1.5 * pi)
    return Drawing(
        {
            "up": (angles, [vertical_circle.holding_force(m, r, rate, angle, g)[1] for angle in angles]),
            "weight": ([-0.5 * pi, 1.5 * pi], [values["F_g"], values["F_g"]]),
        },
        {"top": (0.5 * pi, values["F_top"]), "bottom": (-0.5 * pi, values["F_bottom"])},
    )


calculator = Calculator(
    title="What must the holder do?",
    purpose="The net force that keeps a load on its circle, and the force of its holder on an upright wheel.",
    inputs=(
        mass(
            "2.5 kg",
            meaning="mass of the load",
            also=("g",),
            lowest="1e-18 kg",
            slider=("0.1 kg", "10 kg"),
            step="0.1 kg",
        ),
        radius(help="From the axle to the load."),
        turning_rate(parameter="angular_velocity"),
        gravity(),
    ),
    outputs=(
        Output(key="v", symbol="v", meaning="speed along the circle", unit="m/s", formula="r*rate"),
        Output(
            key="a_c",
            symbol=r"a_{\mathrm{c}}",
            meaning="centripetal acceleration, towards the axle",
            unit="m/s2",
            formula="v**2/r",
        ),
        Output(
            key="F_c",
            symbol=r"F_{\mathrm{c}}",
            meaning="net force on the load, towards the axle",
            unit="N",
            formula="m*a_c",
        ),
        Output(key="F_g", symbol=r"F_{\mathrm{g}}", meaning="weight, downwards", unit="N", formula="m*g"),
        Output(
            key="F_top",
            symbol=r"F_{\mathrm{top}}",
            meaning="force of the holder at the top, upwards",
            unit="N",
            formula="F_g - F_c",
            dust_of="F_g",
            method="At the top the weight points to the axle; the holder makes up the difference. A negative value: "
            "the holder pulls down.",
        ),
        Output(
            key="F_bottom",
            symbol=r"F_{\mathrm{bottom}}",
            meaning="force of the holder at the bottom, upwards",
            unit="N",
            formula="F_g + F_c",
            method="At the bottom the weight points away from the axle; the holder must overcome it as well.",
        ),
    ),
    function=find,
    picture=Picture(
        caption="Upward force of the holder through one turn from the bottom; the angle is counted from the right",
        panels=(
            Panel(
                horizontal=Axis(symbol=r"\theta", meaning="angle of the load", unit="rad", shown_in="deg"),
                vertical=Axis(symbol="F", meaning="upward force of the holder", unit="N"),
                curves=(
                    Curve(key="up", label="holder"),
                    Curve(key="weight", label="weight", role="second", line="dashes"),
                ),
                marks=(Mark(key="top", label="top"), Mark(key="bottom", label="bottom")),
            ),
        ),
        draw=draw,
    ),
    cautions=(
        Caution(
            text="At the top of this wheel the holder must pull the load down: a load that only rests there would "
            "leave it. Guard a real wheel, leave nothing loose on it, and follow your school’s own rules.",
            when=lambda values: values["F_top"] < 0.0,
        ),
    ),
    checks=(
        PublishedCheck(
            source="OpenStax, College Physics 2e, section 6.2, problem 20: a speck of rubber on an aircraft’s tyre",
            note="The rate is the tyre’s 60.0 m/s over its radius of 0.425 m.",
            given={"m": "1e-15 kg", "r": "0.425 m", "rate": "141.1764706 rad/s"},
            expect={"v": "60.0 m/s", "a_c": "8.47e3 m/s2", "F_c": "8.47e-12 N"},
        ),
        PublishedCheck(
            source="common practice, no source",
            note="Where the centripetal acceleration equals g, the load is just free of its holder at the top.",
            given={"m": "1 kg", "r": "9.81 m", "rate": "1 rad/s", "g": "9.81 m/s2"},
            expect={"F_top": "0.00 N", "F_bottom": "19.62 N"},
        ),
    ),
)
