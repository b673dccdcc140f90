"""Hump and dip: how hard the road pushes a car at the top of a hump and at the bottom of a dip."""

from typing import Any

from crankpin.calculator.common import gravity, mass, speed
from crankpin.calculator.curves import Axis, Curve, Drawing, Mark, Panel, Picture, spread
from crankpin.calculator.declaration import Calculator, Input, Output, PublishedCheck, Values
from crankpin.calculator.faults import Absent
from crankpin.mechanics import bends, circular, vertical_circle

_DUST = 1e-12
_LEAVES = Absent("At this speed the wheels leave the road at the top: it would have to pull.")


def find(m: float, v: float, r: float, g: float) -> dict[str, Any]:
    """The push of the road above and below, and the speed at which the wheels leave the hump."""
    a_c = circular.centripetal_acceleration_from_speed(v, r)
    F_g = vertical_circle.weight(m, g)
    on_hump = vertical_circle.force_over_hump(m, r, v, g)
    stays = on_hump >= -_DUST * F_g
    return {
        "a_c": a_c,
        "F_c": bends.centripetal_force(m, a_c),
        "F_g": F_g,
        "R_hump": on_hump if stays else _LEAVES,
        "share": 1.0 - a_c / g if stays else _LEAVES,
        "R_dip": vertical_circle.force_through_dip(m, r, v, g),
        "v_leave": vertical_circle.weightless_speed(r, g),
    }


def draw(values: Values) -> Drawing:
    """The push of the road against the speed."""
    m, r, g, F_g, leave = (values[key] for key in ("m", "r", "g", "F_g", "v_leave"))
    fastest = 1.2 * max(leave, values["v"])
    over, speeds = spread(0.0, leave), spread(0.0, fastest)
    return Drawing(
        {
            "dip": (speeds, [vertical_circle.force_through_dip(m, r, speed, g) for speed in speeds]),
            "weight": ([0.0, fastest], [F_g, F_g]),
            "hump": (over, [vertical_circle.force_over_hump(m, r, speed, g) for speed in over]),
        },
        {
            "below": (values["v"], values["R_dip"]),
            "above": (values["v"], values["R_hump"]) if "R_hump" in values else None,
            "leave": (leave, 0.0),
        },
    )


calculator = Calculator(
    title="Over a hump and through a dip",
    purpose="How hard a road pushes at the top of a hump and at the bottom of a dip, and when the wheels lift off.",
    inputs=(
        mass("1200 kg", meaning="mass of the car, or of a passenger", slider=("50 kg", "5000 kg"), step="50 kg"),
        speed(
            "10 m/s",
            meaning="speed at the top or at the bottom",
            also=("km/h",),
            lowest="0 m/s",
            slider=("0 m/s", "40 m/s"),
        ),
        Input(
            key="r",
            symbol="r",
            meaning="radius of the road’s curve",
            unit="m",
            also=("km",),
            default="30 m",
            lowest="1e-6 m",
            highest="1e9 m",
            slider=("2 m", "200 m"),
            step="1 m",
            parameter="radius",
            help="Of the circle, seen from the side, that fits the top of the hump or the bottom of the dip.",
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
        Output(key="F_c", symbol=r"F_{\mathrm{c}}", meaning="resultant force needed", unit="N", formula="m*a_c"),
        Output(key="F_g", symbol=r"F_{\mathrm{g}}", meaning="weight", unit="N", formula="m*g"),
        Output(
            key="R_hump",
            symbol=r"R_{\mathrm{hump}}",
            meaning="push of the road at the top of the hump, upwards",
            unit="N",
            formula="F_g - F_c",
            method="The centre is below: the weight must win.",
            dust_of="F_g",
        ),
        Output(
            key="share",
            symbol=r"R_{\mathrm{hump}}/F_{\mathrm{g}}",
            meaning="how heavy a passenger feels at the top",
            unit="1",
            formula="1 - a_c/g",
            shown_in="%",
        ),
        Output(
            key="R_dip",
            symbol=r"R_{\mathrm{dip}}",
            meaning="push of the road at the bottom of the dip, upwards",
            unit="N",
            formula="F_g + F_c",
            method="The centre is above: the push must win.",
        ),
        Output(
            key="v_leave",
            symbol=r"v_{\max}",
            meaning="speed at which the wheels leave the hump",
            unit="m/s",
            formula="sqrt(r*g)",
            shown_in="v",
        ),
    ),
    function=find,
    picture=Picture(
        caption="The push of the road against the speed",
        panels=(
            Panel(
                horizontal=Axis(symbol="v", meaning="speed", unit="m/s", shown_in="v"),
                vertical=Axis(symbol="R", meaning="push of the road", unit="N"),
                curves=(
                    Curve(key="dip", label="dip"),
                    Curve(key="weight", label="weight", role="third", line="dots"),
                    Curve(key="hump", label="hump", role="second", line="dashes"),
                ),
                marks=(
                    Mark(key="below", label=""),
                    Mark(key="above", label="", role="second"),
                    Mark(key="leave", label="lifts off", role="second"),
                ),
            ),
        ),
        draw=draw,
    ),
    checks=(
        PublishedCheck(
            source="common practice, no source",
            note="At the root of r g the road does not push at all on the hump, and with twice the weight in the dip.",
            given={"m": "1 kg", "v": "10 m/s", "r": "10 m", "g": "10 m/s2"},
            expect={"R_hump": "0.000 N", "R_dip": "20.000 N", "v_leave": "10.000 m/s"},
        ),
        PublishedCheck(
            source="common practice, no source",
            note="At half that speed a quarter of the weight is used up.",
            given={"m": "1 kg", "v": "5 m/s", "r": "10 m", "g": "10 m/s2"},
            expect={"share": "75.000 %", "R_dip": "12.500 N"},
        ),
    ),
)
