"""Rolling: a wheel that rolls without slipping, and how fast a point of its rim moves over the ground."""

from math import cos, floor, sin, tau

from crankpin.calculator.common import radius, speed
from crankpin.calculator.curves import Axis, Curve, Drawing, Mark, Panel, Picture, spread
from crankpin.calculator.declaration import Calculator, Input, Output, PublishedCheck, Values
from crankpin.mechanics import circular, rolling


def find(r: float, v: float, s: float, theta: float) -> dict[str, float]:
    """The turning that goes with the speed, and the speed and the place of one point of the rim."""
    omega = circular.angular_velocity_from_speed(v, r)
    x, y = rolling.place_of_rim_point(r, theta)
    return {
        "omega": omega,
        "n": circular.rotational_frequency_rpm(omega),
        "T": circular.period(omega),
        "N": circular.rolled_turns(s, r),
        "t": s / v,
        "v_top": rolling.speed_of_rim_point(v, 0.5 * tau),
        "v_point": rolling.speed_of_rim_point(v, theta),
        "y": y,
        "x": x,
        "a_c": circular.centripetal_acceleration(r, omega),
    }


def draw(values: Values) -> Drawing:
    """The path of a rim point through one turn, the wheel as it stands, and the speed of the point."""
    r, v, theta = values["r"], values["v"], values["theta"]
    first = tau * floor(theta / tau)
    angles = spread(first, first + tau)
    path = [rolling.place_of_rim_point(r, one) for one in angles]
    eighths = [rolling.place_of_rim_point(r, first + tau * i / 8.0) for i in range(9)]
    middle = r * theta
    return Drawing(
        {
            "path": ([x for x, _ in path], [y for _, y in path]),
            "eighths": ([x for x, _ in eighths], [y for _, y in eighths]),
            "wheel": ([middle + r * sin(one) for one in angles], [r + r * cos(one) for one in angles]),
            "spoke": ([middle, values["x"]], [r, values["y"]]),
            "speed": (angles, [rolling.speed_of_rim_point(v, one) for one in angles]),
            "body": ([angles[0], angles[-1]], [v, v]),
        },
        {"axle": (middle, r), "point": (values["x"], values["y"]), "here": (theta, values["v_point"])},
    )


calculator = Calculator(
    title="Rolling without slipping",
    purpose="How fast a rolling wheel turns, how often, and how a point of its rim moves over the ground.",
    inputs=(
        radius("35 cm", slider=("5 cm", "100 cm"), step="1 cm", help="From the axle to the ground."),
        speed("5 m/s", meaning="speed of the axle", slider=("0.5 m/s", "30 m/s"), step="0.5 m/s"),
        Input(
            key="s",
            symbol="s",
            meaning="distance rolled",
            unit="m",
            also=("cm", "km"),
            default="100 m",
            lowest="0 m",
            highest="1e15 m",
            slider=("1 m", "1000 m"),
            step="1 m",
            parameter="distance",
        ),
        Input(
            key="theta",
            symbol=r"\theta",
            meaning="angle turned since the point touched the ground",
            unit="rad",
            also=("deg",),
            default="90 deg",
            lowest="0 deg",
            highest="1000 rad",
            slider=("0 deg", "720 deg"),
            step="15 deg",
            parameter="angle",
            help="At 180° the point is at the top.",
        ),
    ),
    outputs=(
        Output(key="omega", symbol=r"\omega", meaning="angular velocity", unit="rad/s", formula="v/r"),
        Output(
            key="n",
            symbol="n",
            meaning="rotational frequency, in turns per minute",
            unit="rpm",
            formula='quantity(60, "s/min")*omega/(2*pi)',
        ),
        Output(key="T", symbol="T", meaning="time for one turn", unit="s", formula="2*pi/omega"),
        Output(key="N", symbol="N", meaning="turns in this distance", unit="1", formula="s/(2*pi*r)"),
        Output(key="t", symbol="t", meaning="time for this distance", unit="s", formula="s/v"),
        Output(
            key="v_top",
            symbol=r"v_{\mathrm{top}}",
            meaning="speed of the top of the rim over the ground",
            unit="m/s",
            formula="2*v",
            shown_in="v",
        ),
        Output(
            key="v_point",
            symbol=r"v_{\mathrm{p}}",
            meaning="speed of the point over the ground",
            unit="m/s",
            formula="2*v*abs(sin(theta/2))",
            method="Two velocities of the same size, that of the axle and that round the axle, added as arrows.",
            shown_in="v",
            dust_of="v",
        ),
        Output(
            key="y",
            symbol="y",
            meaning="height of the point above the ground",
            unit="m",
            formula="r*(1 - cos(theta))",
            shown_in="r",
            dust_of="r",
        ),
        Output(
            key="x",
            symbol="x",
            meaning="distance of the point along the ground from where it touched",
            unit="m",
            formula="r*(theta - sin(theta))",
            shown_in="r",
            dust_of="r",
        ),
        Output(
            key="a_c",
            symbol=r"a_{\mathrm{c}}",
            meaning="acceleration of the point, towards the axle",
            unit="m/s2",
            formula="v**2/r",
        ),
    ),
    function=find,
    picture=Picture(
        caption="The path of a point of the rim through one turn, with its place after each eighth, and the wheel as "
        "it stands; and the speed of the point",
        panels=(
            Panel(
                horizontal=Axis(symbol="x", meaning="distance along the ground", unit="m", shown_in="r"),
                vertical=Axis(symbol="y", meaning="height above the ground", unit="m", shown_in="r"),
                curves=(
                    Curve(key="path", label="rim point"),
                    Curve(key="eighths", label="", role="position", line="points"),
                    Curve(key="wheel", label="wheel", role="second", line="dashes"),
                    Curve(key="spoke", label="", role="second"),
                ),
                marks=(
                    Mark(key="axle", label="", role="second"),
                    Mark(key="point", label="the point", role="position"),
                ),
                square=True,
            ),
            Panel(
                horizontal=Axis(symbol=r"\theta", meaning="angle turned", unit="rad", shown_in="theta"),
                vertical=Axis(symbol="v", meaning="speed over the ground", unit="m/s", shown_in="v"),
                curves=(
                    Curve(key="speed", label="rim point", role="velocity"),
                    Curve(key="body", label="axle", role="second", line="dashes"),
                ),
                marks=(Mark(key="here", label="the point", role="velocity"),),
            ),
        ),
        draw=draw,
    ),
    checks=(
        PublishedCheck(
            source="OpenStax, College Physics 2e, section 6.1, exercise 7: the tyres of a truck",
            given={"r": "0.420 m", "v": "32.0 m/s"},
            expect={"omega": "76.2 rad/s", "n": "728 rpm"},
        ),
        PublishedCheck(
            source="OpenStax, College Physics 2e, section 6.1, exercise 3: turns in the life of a tyre",
            given={"r": "0.260 m", "s": "80000 km"},
            expect={"N": "5e7"},
        ),
        PublishedCheck(
            source="common practice, no source",
            note="Level with the axle a point of the rim moves at the root of two times the wheel’s speed.",
            given={"r": "1 m", "v": "1 m/s", "theta": "90 deg"},
            expect={"v_point": "1.41421 m/s", "v_top": "2.00000 m/s", "y": "1.00000 m"},
        ),
    ),
)
