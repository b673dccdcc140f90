"""Rigid pendulum: a body of any shape that swings on a pivot."""

from typing import Any

from crankpin.calculator.common import gravity, mass
from crankpin.calculator.curves import Axis, Curve, Drawing, Mark, Panel, Picture, spread
from crankpin.calculator.declaration import Calculator, Caution, Input, Output, PublishedCheck, Values
from crankpin.calculator.faults import Absent, RefusedError
from crankpin.mechanics import pendulum

_IN_ONE_POINT = Absent(
    "All the mass is in one point, as in a bob on a thread, so no second pivot gives the same period."
)


def find(I: float, m: float, d: float, g: float) -> dict[str, Any]:  # noqa: E741 - the symbol of the field
    """The period, the thread that keeps time with the body, and the other pivot with the same period."""
    least = m * d * d
    if least * (1.0 - 1e-12) > I:
        raise RefusedError(
            "I", "that about the pivot, where no body has less than mass times distance squared", lowest=least
        )
    I_c = I - least
    in_one_point = I_c <= 1e-12 * I
    return {
        "L_eq": pendulum.equivalent_length(I, m, d),
        "T": pendulum.rigid_pendulum_period(I, m, d, g),
        "I_c": 0.0 if in_one_point else I_c,
        "d_other": _IN_ONE_POINT if in_one_point else pendulum.conjugate_distance(I_c, m, d),
    }


def draw(values: Values) -> Drawing:
    """The period for every distance of the pivot from the centre of mass, the shape kept."""
    I_c, m, d, g = (values[key] for key in ("I_c", "m", "d", "g"))
    other = values.get("d_other", d)
    distances = spread(0.3 * min(d, other), 1.5 * max(d, other))
    periods = [pendulum.rigid_pendulum_period(I_c + m * one * one, m, one, g) for one in distances]
    marks = {"here": (d, values["T"])}
    if "d_other" in values:
        marks["other"] = (other, values["T"])
    return Drawing({"T": (distances, periods)}, marks)


calculator = Calculator(
    title="A rigid body on a pivot",
    purpose="The period of a bar, a plate or any other body that swings on a pivot, for small swings.",
    inputs=(
        Input(
            key="I",
            symbol="I",
            meaning="moment of inertia about the pivot",
            unit="kg m2",
            also=("g m2", "kg cm2"),
            default="1.44 kg m2",
            lowest="1e-15 kg m2",
            highest="1e15 kg m2",
            slider=("1.1 kg m2", "5 kg m2"),
            step="0.01 kg m2",
            parameter="inertia",
            help="About the pivot, not about the centre of mass: a uniform bar on a pivot at its end has a third of "
            "its mass times its length squared.",
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
            key="L_eq",
            symbol=r"L_{\mathrm{eq}}",
            meaning="length of the thread pendulum that keeps time with it",
            unit="m",
            formula="I/(m*d)",
            shown_in="d",
        ),
        Output(key="T", symbol="T", meaning="period", unit="s", formula="2*pi*sqrt(I/(m*g*d))"),
        Output(
            key="I_c",
            symbol=r"I_{\mathrm{c}}",
            meaning="moment of inertia about the centre of mass",
            unit="kg m2",
            formula="I - m*d**2",
            shown_in="I",
            dust_of="I",
        ),
        Output(
            key="d_other",
            symbol=r"d_{\mathrm{other}}",
            meaning="the other distance of a pivot with the same period",
            unit="m",
            formula="I_c/(m*d)",
            method="With the pivot there, on the same line through the centre of mass, the period is the same.",
            shown_in="d",
        ),
    ),
    function=find,
    picture=Picture(
        caption="The period against the distance from the pivot to the centre of mass, for the same body",
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
            text="A heavy body on a pivot carries much energy even when it swings slowly: secure the pivot, keep "
            "fingers and heads out of its plane, and follow your school’s own rules.",
            when=lambda values: values["m"] >= 1.0,
        ),
    ),
    checks=(
        PublishedCheck(
            source="Halliday and Resnick, Fundamentals of Physics, disk on a pivot at its rim (as quoted in a forum): "
            "radius 40.0 cm, so per kilogram the moment of inertia is 0.24 kg m²",
            given={"I": "0.24 kg m2", "m": "1 kg", "d": "40.0 cm", "g": "9.81 m/s2"},
            expect={"T": "1.55 s", "d_other": "20.0 cm"},
            note="The distance of the other pivot, half the radius, is from memory.",
        ),
        PublishedCheck(
            source="OpenStax, University Physics Volume 1, section 15.4, example 15.4: a rod swinging from its end "
            "keeps time with a simple pendulum two thirds as long",
            given={"I": "0.75 kg m2", "m": "1 kg", "d": "0.75 m"},
            expect={"L_eq": "1.000000 m"},
        ),
    ),
)
