"""Rigid pendulum: a body of any shape that swings on a pivot."""

from typing import Any

from crankpin.calculator.common import gravity, mass
from crankpin.calculator.curves import Axis, Curve, Drawing, Mark, Panel, Picture, spread
from crankpin.calculator.declaration import Calculator, Caution, Input, Output, PublishedCheck, Values
from crankpin.calculator.faults import Absent
from crankpin.mechanics import inertia, pendulum

_IN_ONE_POINT = Absent(
    "All the mass is at one point, as in a bob on a thread, so no second pivot gives the same period."
)


def find(I_c: float, m: float, d: float, g: float) -> dict[str, Any]:
    """The period, the simple pendulum that keeps time with the body, and the other pivot with the same period."""
    I = inertia.about_parallel_axis(I_c, m, d)  # noqa: E741 - the symbol of the field
    return {
        "I": I,
        "L_eq": pendulum.equivalent_length(I, m, d),
        "T": pendulum.rigid_pendulum_period(I, m, d, g),
        "d_other": _IN_ONE_POINT if I_c == 0.0 else pendulum.conjugate_distance(I_c, m, d),
    }


def draw(values: Values) -> Drawing:
    """The period for every distance of the pivot from the centre of mass of the same body."""
    I_c, m, d, g = (values[key] for key in ("I_c", "m", "d", "g"))
    other = values.get("d_other", d)
    distances = spread(0.3 * min(d, other), 1.5 * max(d, other))
    periods = [pendulum.rigid_pendulum_period(inertia.about_parallel_axis(I_c, m, one), m, one, g) for one in distances]
    marks = {"here": (d, values["T"])}
    if "d_other" in values:
        marks["other"] = (other, values["T"])
    return Drawing({"T": (distances, periods)}, marks)


calculator = Calculator(
    title="A rigid body on a pivot",
    purpose="The period of small swings of a bar, a plate or any other rigid body on a pivot.",
    inputs=(
        Input(
            key="I_c",
            symbol=r"I_{\mathrm{c}}",
            meaning="moment of inertia about the centre of mass",
            unit="kg m2",
            also=("g m2", "kg cm2"),
            default="0.36 kg m2",
            lowest="0 kg m2",
            highest="1e15 kg m2",
            slider=("0 kg m2", "2 kg m2"),
            step="0.01 kg m2",
            parameter="inertia",
            help="It belongs to the body, wherever the pivot is: a uniform bar has a twelfth of its mass times its "
            "length "
            "squared, a uniform disc half its mass times its radius squared.",
        ),
        mass("3 kg", slider=("0.1 kg", "4 kg"), step="0.1 kg"),
        Input(
            key="d",
            symbol="d",
            meaning="distance from the pivot to the centre of mass",
            unit="m",
            also=("cm", "mm"),
            default="60 cm",
            lowest="1e-6 m",
            highest="1e6 m",
            slider=("5 cm", "69 cm"),
            step="1 cm",
            parameter="distance",
        ),
        gravity(),
    ),
    outputs=(
        Output(
            key="I",
            symbol="I",
            meaning="moment of inertia about the pivot",
            unit="kg m2",
            formula="I_c + m*d**2",
            method="The parallel-axis theorem.",
            shown_in="I_c",
        ),
        Output(
            key="L_eq",
            symbol=r"L_{\mathrm{eq}}",
            meaning="length of the simple pendulum with the same period",
            unit="m",
            formula="I/(m*d)",
            shown_in="d",
        ),
        Output(key="T", symbol="T", meaning="period", unit="s", formula="2*pi*sqrt(I/(m*g*d))"),
        Output(
            key="d_other",
            symbol=r"d_{\mathrm{other}}",
            meaning="other distance of the pivot that gives the same period",
            unit="m",
            formula="I_c/(m*d)",
            method="On the same line through the centre of mass, or at this distance on the other side of it.",
            shown_in="d",
        ),
    ),
    function=find,
    picture=Picture(
        caption="The period of the same body against the distance from the pivot to its centre of mass",
        panels=(
            Panel(
                horizontal=Axis(symbol="d", meaning="distance", unit="m", shown_in="d"),
                vertical=Axis(symbol="T", meaning="period", unit="s"),
                curves=(Curve(key="T", label="period"),),
                marks=(Mark(key="here", label="this pivot"), Mark(key="other", label="same period")),
            ),
        ),
        draw=draw,
    ),
    cautions=(
        Caution(
            text="A heavy body on a pivot has a lot of energy even when it swings slowly: secure the pivot, keep "
            "fingers and heads out of the plane of the swing, and follow your school’s own rules.",
            when=lambda values: values["m"] >= 1.0,
        ),
    ),
    checks=(
        PublishedCheck(
            source="Halliday and Resnick, Fundamentals of Physics, disk on a pivot at its rim (as quoted in a forum): "
            "radius 40.0 cm, so per kilogram the moment of inertia about its centre is 0.08 kg m²",
            given={"I_c": "0.08 kg m2", "m": "1 kg", "d": "40.0 cm", "g": "9.81 m/s2"},
            expect={"T": "1.55 s", "d_other": "20.0 cm"},
            note="The distance of the other pivot, half the radius, is from memory.",
        ),
        PublishedCheck(
            source="OpenStax, University Physics Volume 1, section 15.4, example 15.4: a rod swinging from its end "
            "keeps time with a simple pendulum two thirds as long",
            note="A rod of 1.5 m and 1 kg: a twelfth of its mass times its length squared is 0.1875 kg m².",
            given={"I_c": "0.1875 kg m2", "m": "1 kg", "d": "0.75 m"},
            expect={"I": "0.7500 kg m2", "L_eq": "1.000000 m"},
        ),
    ),
)
