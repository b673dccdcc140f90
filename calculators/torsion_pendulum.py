"""Torsion pendulum: a body that turns to and fro on a twisted wire."""

from math import cos, tau

from crankpin.calculator.curves import Axis, Curve, Drawing, Mark, Panel, Picture, two_periods
from crankpin.calculator.declaration import Calculator, Caution, Input, Output, PublishedCheck, Values
from crankpin.mechanics import pendulum


def find(kappa: float, I: float) -> dict[str, float]:  # noqa: E741 - the symbol of the field
    """Period, frequency and angular frequency."""
    return {
        "T": pendulum.torsion_period(kappa, I),
        "f": pendulum.torsion_frequency(kappa, I),
        "omega": pendulum.torsion_angular_frequency(kappa, I),
    }


def draw(values: Values) -> Drawing:
    """Two swings of one turn to each side: the period is the same at any angle."""
    T = values["T"]
    times = two_periods(0.0, T)
    return Drawing(
        {
            "wide": (times, [tau * cos(tau * one / T) for one in times]),
            "narrow": (times, [0.5 * cos(tau * one / T) for one in times]),
        },
        {"end": (T, tau)},
    )


calculator = Calculator(
    title="A body on a twisted wire",
    purpose="The period of a disc, a bar or a vane that twists to and fro on a wire, through any angle.",
    inputs=(
        Input(
            key="kappa",
            symbol=r"\kappa",
            meaning="torsion constant: torque per unit angle",
            unit="N m/rad",
            also=("mN m/rad", "N m/deg"),
            default="30 mN m/rad",
            lowest="1e-15 N m/rad",
            highest="1e12 N m/rad",
            slider=("1 mN m/rad", "200 mN m/rad"),
            step="1 mN m/rad",
            parameter="stiffness",
        ),
        Input(
            key="I",
            symbol="I",
            meaning="moment of inertia about the wire",
            unit="kg m2",
            also=("g m2", "kg cm2", "g cm2"),
            default="0.012 kg m2",
            lowest="1e-15 kg m2",
            highest="1e15 kg m2",
            slider=("0.001 kg m2", "0.1 kg m2"),
            step="0.001 kg m2",
            parameter="inertia",
            help="For a uniform disc, hung horizontally from its centre: half its mass times its radius squared.",
        ),
    ),
    outputs=(
        Output(key="T", symbol="T", meaning="period", unit="s", formula="2*pi*sqrt(I/kappa)"),
        Output(key="f", symbol="f", meaning="frequency", unit="Hz", formula="1/T"),
        Output(key="omega", symbol=r"\omega", meaning="angular frequency", unit="rad/s", formula="2*pi*f"),
    ),
    function=find,
    picture=Picture(
        caption="A wide oscillation (a whole turn to each side) and a narrow one (half a radian) take the same time",
        panels=(
            Panel(
                horizontal=Axis(symbol="t", meaning="time", unit="s"),
                vertical=Axis(symbol=r"\theta", meaning="angle of twist", unit="rad", shown_in="deg"),
                curves=(
                    Curve(key="wide", label="wide", role="position"),
                    Curve(key="narrow", label="narrow", role="second", line="dashes"),
                ),
                marks=(Mark(key="end", label="one period", role="position"),),
            ),
        ),
        draw=draw,
    ),
    cautions=(
        Caution(
            text="A wire can snap and its load fall: put something soft underneath, keep feet and faces away, wear "
            "eye protection, and follow your school’s own rules.",
        ),
    ),
    checks=(
        PublishedCheck(
            source="NCERT Physics, class XI, Oscillations, a disc on a wire (as seen in a worked copy)",
            note="A disc of 10 kg and radius 15 cm has the moment of inertia 0.1125 kg m². The copy prints "
            "1.972 N m/rad, having rounded π; the period it starts from is 1.5 s.",
            given={"kappa": "1.972 N m/rad", "I": "0.1125 kg m2"},
            expect={"T": "1.50 s"},
        ),
        PublishedCheck(
            source="Halliday and Resnick, Fundamentals of Physics, chapter 15, problem 38 (from memory): a sphere on a "
            "wire, 95 kg and 15 cm, so the moment of inertia is 0.855 kg m²",
            given={"kappa": "0.235 N m/rad", "I": "0.855 kg m2"},
            expect={"T": "12 s"},
        ),
    ),
)
