"""Inward force: a load on a vertical wheel, and the force of its bracket at the top, at the bottom and at the side."""

from math import hypot, pi

from crankpin.calculator.common import gravity, mass, radius, turning_rate
from crankpin.calculator.curves import Axis, Curve, Drawing, Mark, Panel, Picture, spread
from crankpin.calculator.declaration import Calculator, Caution, Output, PublishedCheck, Values
from crankpin.mechanics import bends, circular, vertical_circle


def find(m: float, r: float, rate: float, g: float) -> dict[str, float]:
    """The resultant force on the load, its weight, and the force of the bracket at the top, the bottom and the side."""
    a_c = circular.centripetal_acceleration(r, rate)
    return {
        "v": circular.rim_speed(r, rate),
        "a_c": a_c,
        "F_c": bends.centripetal_force(m, a_c),
        "F_g": vertical_circle.weight(m, g),
        "F_top": vertical_circle.force_at_top(m, r, rate, g),
        "F_bottom": vertical_circle.force_at_bottom(m, r, rate, g),
        "F_side": hypot(*vertical_circle.holding_force(m, r, rate, 0.0, g)),
    }


def draw(values: Values) -> Drawing:
    """The force of the bracket during one turn from the bottom: its size and its vertical part."""
    m, r, rate, g = (values[key] for key in ("m", "r", "rate", "g"))
    angles = spread(-0.5 * pi, 1.5 * pi)
    forces = [vertical_circle.holding_force(m, r, rate, angle, g) for angle in angles]
    return Drawing(
        {
            "up": (angles, [up for _, up in forces]),
            "size": (angles, [hypot(across, up) for across, up in forces]),
            "weight": ([-0.5 * pi, 1.5 * pi], [values["F_g"], values["F_g"]]),
        },
        {"top": (0.5 * pi, values["F_top"]), "bottom": (-0.5 * pi, values["F_bottom"])},
    )


calculator = Calculator(
    title="What force must the bracket exert?",
    purpose="The resultant force that keeps a load on its circle, and the force of its bracket on a vertical wheel.",
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
            meaning="resultant force on the load, towards the axle",
            unit="N",
            formula="m*a_c",
        ),
        Output(key="F_g", symbol=r"F_{\mathrm{g}}", meaning="weight, downwards", unit="N", formula="m*g"),
        Output(
            key="F_top",
            symbol=r"F_{\mathrm{top}}",
            meaning="force of the bracket at the top; positive: upwards",
            unit="N",
            formula="F_g - F_c",
            dust_of="F_g",
            method="At the top the weight acts towards the axle, and the bracket makes up the difference. If this is "
            "negative, the bracket pulls down.",
        ),
        Output(
            key="F_bottom",
            symbol=r"F_{\mathrm{bottom}}",
            meaning="force of the bracket at the bottom, upwards",
            unit="N",
            formula="F_g + F_c",
            method="At the bottom the weight acts away from the axle, and the bracket must balance it as well.",
        ),
        Output(
            key="F_side",
            symbol=r"F_{\mathrm{side}}",
            meaning="force of the bracket level with the axle, inwards and upwards at once",
            unit="N",
            formula="sqrt(F_c**2 + F_g**2)",
            method="At the side the weight is at right angles to the resultant, so the two add by Pythagoras.",
        ),
    ),
    function=find,
    picture=Picture(
        caption="Force of the bracket during one turn from the bottom, its size and its vertical part (positive "
        "upwards); "
        "the angle is measured from the right",
        panels=(
            Panel(
                horizontal=Axis(symbol=r"\theta", meaning="angle of the load", unit="rad", shown_in="deg"),
                vertical=Axis(symbol="F", meaning="force of the bracket", unit="N"),
                curves=(
                    Curve(key="up", label="vertical part"),
                    Curve(key="size", label="size", role="third", line="dots"),
                    Curve(key="weight", label="weight", role="second", line="dashes"),
                ),
                marks=(Mark(key="top", label="top"), Mark(key="bottom", label="bottom")),
            ),
        ),
        draw=draw,
    ),
    cautions=(
        Caution(
            text="At the top of this wheel the bracket must pull the load down: a load that only rests there would fly "
            "off. Guard a real wheel, tie back hair, sleeves and cords, leave nothing loose on it, and follow your "
            "school’s "
            "own rules.",
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
            note="Where the centripetal acceleration equals g, the bracket exerts no force on the load at the top.",
            given={"m": "1 kg", "r": "9.81 m", "rate": "1 rad/s", "g": "9.81 m/s2"},
            expect={"F_top": "0.00 N", "F_bottom": "19.62 N"},
        ),
    ),
)
