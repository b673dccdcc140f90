"""Lamp and shadow: the pin of a turning disc throws its shadow on a screen; the lamp is not far away."""

from math import cos, pi

from crankpin.calculator.curves import Axis, Curve, Drawing, Mark, Panel, Picture, spread
from crankpin.calculator.declaration import Calculator, Caution, Input, Output, PublishedCheck, Values
from crankpin.calculator.faults import RefusedError
from crankpin.mechanics import projection


def find(A: float, D: float, S: float) -> dict[str, float]:
    """Scale and reach of the shadow."""
    if not D > A:
        raise RefusedError("D", "greater than the radius A, for the lamp stands outside the circle", above=A)
    if not S > D + A:
        raise RefusedError("S", "greater than D + A, for the screen stands beyond the circle", above=D + A)
    found = projection.lamp_shadow(A, D, S)
    return {
        "magnification": found.magnification,
        "theta_max": found.extreme_angle,
        "X_max": found.extreme,
        "excess": found.excess,
        "off_45": projection.shadow_departure(A, D, 0.25 * pi) / A,
    }


def draw(values: Values) -> Drawing:
    """One turn: the shadow, what a lamp far away would give on the same scale, and the difference."""
    A, D, S, M = (values[key] for key in ("A", "D", "S", "magnification"))
    angles = spread(0.0, 2.0 * pi)
    theta, X = values["theta_max"], values["X_max"]
    return Drawing(
        {
            "shadow": (angles, [projection.shadow(A, D, S, angle) for angle in angles]),
            "far": (angles, [M * A * cos(angle) for angle in angles]),
            "off": (angles, [M * projection.shadow_departure(A, D, angle) for angle in angles]),
        },
        {"positive": (theta, X), "negative": (pi - theta, -X)},
    )


_ANGLE = Axis(symbol=r"\theta", meaning="angle of the pin", unit="rad", shown_in="deg")

calculator = Calculator(
    title="The lamp and the shadow",
    purpose="How far the shadow of a turning pin moves on a screen, and how much a nearby lamp distorts the "
    "projection.",
    inputs=(
        Input(
            key="A",
            symbol="A",
            meaning="radius of the pin’s circle",
            unit="m",
            also=("cm", "mm"),
            default="12 cm",
            lowest="1e-9 m",
            highest="1e9 m",
            slider=("1 cm", "50 cm"),
            step="1 cm",
            parameter="radius",
        ),
        Input(
            key="D",
            symbol="D",
            meaning="distance from the lamp to the centre of the disc",
            unit="m",
            also=("cm", "mm"),
            default="1.5 m",
            lowest="1e-9 m",
            highest="1e9 m",
            slider=("0.5 m", "6 m"),
            step="0.1 m",
            parameter="lamp_distance",
            help="The lamp is in the plane in which the pin turns.",
        ),
        Input(
            key="S",
            symbol="S",
            meaning="distance from the lamp to the screen",
            unit="m",
            also=("cm", "mm"),
            default="2.5 m",
            lowest="1e-9 m",
            highest="1e9 m",
            slider=("1 m", "8 m"),
            step="0.1 m",
            parameter="screen_distance",
            help="The screen is beyond the disc, at right angles to the line from the lamp to the centre.",
        ),
    ),
    outputs=(
        Output(
            key="magnification",
            symbol="M",
            meaning="magnification when the pin is as far from the lamp as the centre",
            unit="1",
            formula="S/D",
        ),
        Output(
            key="theta_max",
            symbol=r"\theta_{\max}",
            meaning="angle of the pin when the shadow is farthest out",
            unit="rad",
            formula="arcsin(A/D)",
            shown_in="deg",
            method="There the ray just touches the circle. The angle is measured from the line at right angles to the "
            "ray through the centre, towards the lamp.",
        ),
        Output(
            key="X_max",
            symbol=r"X_{\max}",
            meaning="greatest distance of the shadow from the middle",
            unit="m",
            formula="S*A/sqrt(D**2 - A**2)",
            shown_in="A",
        ),
        Output(
            key="excess",
            symbol=r"\eta",
            meaning="how much farther the shadow reaches than magnification times radius",
            unit="1",
            formula="X_max/(magnification*A) - 1",
            shown_in="%",
        ),
        Output(
            key="off_45",
            symbol="d",
            meaning="error of the shadow with the pin at 45°, as a fraction of magnification times radius",
            unit="1",
            formula="A*sin(pi/4)*cos(pi/4)/(D - A*sin(pi/4))",
            shown_in="%",
            method="A nearby lamp distorts the projection most when the pin is near 45° or 135°, on the side of the "
            "lamp.",
        ),
    ),
    function=find,
    picture=Picture(
        caption="The shadow during one turn of the pin, and the shadow that a distant lamp would give, to the same "
        "scale",
        panels=(
            Panel(
                horizontal=_ANGLE,
                vertical=Axis(symbol="X", meaning="position of the shadow", unit="m", shown_in="A"),
                curves=(
                    Curve(key="shadow", label="shadow", role="position"),
                    Curve(key="far", label="distant lamp", role="second", line="dashes"),
                ),
                marks=(
                    Mark(key="positive", label="positive end", role="position"),
                    Mark(key="negative", label="negative end", role="position"),
                ),
            ),
            Panel(
                horizontal=_ANGLE,
                vertical=Axis(symbol=r"X_{\mathrm{off}}", meaning="difference between the two", unit="m", shown_in="A"),
                curves=(Curve(key="off", label="difference"),),
            ),
        ),
        draw=draw,
    ),
    cautions=(
        Caution(
            text="A small bright lamp gets hot and dazzles: nobody should look into it. Keep cables out of the way "
            "and dry.",
        ),
    ),
    checks=(
        PublishedCheck(
            source="common practice, no source",
            note="A triangle with the sides 3, 4 and 5: the ray that touches the circle is 0.8 m long.",
            given={"A": "0.6 m", "D": "1 m", "S": "2 m"},
            expect={"magnification": "2.00", "X_max": "1.500 m", "excess": "25.00 %", "theta_max": "36.87 deg"},
        ),
        PublishedCheck(
            source="common practice, no source",
            note="A distant lamp shows the plain projection.",
            given={"A": "12 cm", "D": "1000 m", "S": "1002 m"},
            expect={"magnification": "1.00", "X_max": "12.0 cm", "excess": "0.0 %"},
        ),
    ),
)
