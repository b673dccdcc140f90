"""Falling on a spring: a body that drops onto an upright spring, is thrown down at it, or runs at one on the level."""

from math import pi
from typing import Any

from crankpin.calculator.common import gravity, mass, or_absent, stiffness
from crankpin.calculator.curves import Axis, Curve, Drawing, Mark, Panel, Picture, spread
from crankpin.calculator.declaration import Calculator, Caution, Choice, Input, Output, PublishedCheck, Values
from crankpin.calculator.faults import RefusedError
from crankpin.mechanics import circular, energy, spring_buffer, springs

_DOWN = "down"


def find(way: str, m: float, k: float, h: float, v_0: float, g: float) -> dict[str, Any]:
    """How fast it meets the spring, how far the spring gives, and how long they touch."""
    if way != _DOWN and v_0 == 0.0:
        raise RefusedError("v_0", "greater than 0, since on the level nothing else takes the body to the spring")
    pull, fall = _pull(way, g), h if way == _DOWN else 0.0
    v = spring_buffer.speed_after_fall(v_0, fall, pull)
    y = spring_buffer.greatest_compression(m, k, v, pull)
    omega = springs.angular_frequency(k, m)
    return {
        "v": v,
        "stretch": m * pull / k,
        "A": spring_buffer.amplitude_on_touch(m, k, v, pull),
        "y": y,
        "E": energy.potential(k, y),
        "F_max": k * y,
        "force_ratio": k * y / (m * g),
        "a_max": k * y / m - pull,
        "omega": omega,
        "T": circular.period(omega),
        "t_touch": or_absent(spring_buffer.contact_time, m, k, v, pull),
    }


def _pull(way: str, g: float) -> float:
    return g if way == _DOWN else 0.0


def draw(values: Values) -> Drawing:
    """The compression against time while they touch, and the energies against the compression."""
    m, k, v, y = (values[key] for key in ("m", "k", "v", "y"))
    pull = _pull(values["way"], values["g"])
    times = spread(0.0, values.get("t_touch", values["T"]))
    ways = spread(0.0, y)
    meets = energy.kinetic(m, v)
    stored = [energy.potential(k, one) for one in ways]
    return Drawing(
        {
            "y": (times, [spring_buffer.compression_after(m, k, v, pull, time) for time in times]),
            "rest": ([0.0, times[-1]], [values["stretch"], values["stretch"]]),
            "U": (ways, stored),
            "K": (ways, [meets + m * pull * one - in_spring for one, in_spring in zip(ways, stored, strict=True)]),
        },
        {"deepest": (_deepest_time(values), y), "all": (y, values["E"])},
    )


def _deepest_time(values: Values) -> float:
    return 0.5 * values.get("t_touch", 2.0 * pi / values["omega"])


calculator = Calculator(
    title="A body falls onto a spring",
    purpose="How far a body that falls on a spring, or runs into it, compresses it, and how hard the spring pushes.",
    inputs=(
        Choice(
            key="way",
            meaning="how the body comes",
            options=((_DOWN, "from above, onto an upright spring"), ("level", "on the level, without friction")),
            default=_DOWN,
        ),
        mass("20 kg", slider=("1 kg", "200 kg"), step="1 kg"),
        stiffness("8 kN/m", slider=("0.5 kN/m", "50 kN/m"), step="0.5 kN/m"),
        Input(
            key="h",
            symbol="h",
            meaning="height of the fall, down to the top of the spring",
            unit="m",
            also=("cm", "mm"),
            default="0.5 m",
            lowest="0 m",
            highest="1e6 m",
            slider=("0 m", "5 m"),
            step="0.1 m",
            parameter="height",
            help="Zero for a body that is set on the spring and let go. On the level it does not count.",
        ),
        Input(
            key="v_0",
            symbol="v_0",
            meaning="speed at the start, towards the spring",
            unit="m/s",
            also=("cm/s", "km/h"),
            default="0 m/s",
            lowest="0 m/s",
            highest="1e6 m/s",
            slider=("0 m/s", "10 m/s"),
            step="0.1 m/s",
            parameter="speed",
            help="Zero for a body that is dropped.",
        ),
        gravity(),
    ),
    outputs=(
        Output(
            key="v",
            symbol="v",
            meaning="speed at which it meets the spring",
            unit="m/s",
            formula=lambda values: "sqrt(v_0**2 + 2*g*h)" if values["way"] == _DOWN else "v_0",
        ),
        Output(
            key="stretch",
            symbol="s",
            meaning="compression at which spring and weight balance",
            unit="m",
            formula=lambda values: "m*g/k" if values["way"] == _DOWN else "",
            method="On the level the weight does not press on the spring.",
            shown_in="cm",
        ),
        Output(
            key="A",
            symbol="A",
            meaning="amplitude of the motion about the balance",
            unit="m",
            formula=lambda values: "sqrt(stretch**2 + m*v**2/k)" if values["way"] == _DOWN else "v*sqrt(m/k)",
            shown_in="cm",
        ),
        Output(
            key="y",
            symbol=r"y_{\max}",
            meaning="greatest compression",
            unit="m",
            formula="stretch + A",
            shown_in="cm",
        ),
        Output(key="E", symbol="E", meaning="energy stored in the spring at that moment", unit="J", formula="k*y**2/2"),
        Output(key="F_max", symbol=r"F_{\max}", meaning="greatest force of the spring", unit="N", formula="k*y"),
        Output(
            key="force_ratio",
            symbol=r"F_{\max}/F_{\mathrm{g}}",
            meaning="greatest force over the weight",
            unit="1",
            formula="F_max/(m*g)",
        ),
        Output(
            key="a_max",
            symbol=r"a_{\max}",
            meaning="greatest acceleration, away from the spring",
            unit="m/s2",
            formula="A*k/m",
        ),
        Output(key="omega", symbol=r"\omega", meaning="angular frequency", unit="rad/s", formula="sqrt(k/m)"),
        Output(key="T", symbol="T", meaning="period of the mass on this spring", unit="s", formula="2*pi/omega"),
        Output(
            key="t_touch",
            symbol=r"t_{\mathrm{touch}}",
            meaning="time for which body and spring touch",
            unit="s",
            formula=lambda values: "2*(pi - arctan(v*omega/g))/omega" if values["way"] == _DOWN else "T/2",
        ),
    ),
    function=find,
    picture=Picture(
        caption="The compression while body and spring touch, and the energies on the way down",
        panels=(
            Panel(
                horizontal=Axis(symbol="t", meaning="time since the first touch", unit="s"),
                vertical=Axis(symbol="y", meaning="compression", unit="m", shown_in="cm"),
                curves=(
                    Curve(key="y", label="compression", role="position"),
                    Curve(key="rest", label="balance", role="second", line="dashes"),
                ),
                marks=(Mark(key="deepest", label="greatest", role="position"),),
            ),
            Panel(
                horizontal=Axis(symbol="y", meaning="compression", unit="m", shown_in="cm"),
                vertical=Axis(symbol="E", meaning="energy", unit="J"),
                curves=(
                    Curve(key="U", label="in the spring"),
                    Curve(key="K", label="kinetic", role="second", line="dashes"),
                ),
                marks=(Mark(key="all", label=""),),
            ),
        ),
        draw=draw,
    ),
    cautions=(
        Caution(
            text="Drop nothing onto a spring that could tip over or throw it back at you: guide it, stand clear, wear "
            "eye protection, and follow your school’s own rules.",
        ),
    ),
    checks=(
        PublishedCheck(
            source="OpenStax, University Physics Volume 1, section 15.2, exercise 37: a climber falls into the rope",
            note="The rope is the spring, and its stretch the compression.",
            given={"way": "down", "m": "90.0 kg", "k": "1.40e4 N/m", "h": "2.00 m", "g": "9.80 m/s2"},
            expect={"y": "56.9 cm"},
        ),
        PublishedCheck(
            source="common practice, no source",
            note="A body set on the spring and let go compresses it by twice what it will when it has come to rest.",
            given={"way": "down", "m": "1 kg", "k": "100 N/m", "h": "0 m", "g": "10 m/s2"},
            expect={"stretch": "10.000 cm", "y": "20.000 cm", "force_ratio": "2.0000"},
        ),
        PublishedCheck(
            source="common practice, no source",
            note="On the level they touch for half a period.",
            given={"way": "level", "m": "1 kg", "k": "100 N/m", "v_0": "2 m/s"},
            expect={"y": "20.000 cm", "t_touch": "0.31416 s", "F_max": "20.000 N"},
        ),
    ),
)
