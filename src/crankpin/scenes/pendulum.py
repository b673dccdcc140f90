"""A pendulum in step with the point on its reference circle, and the exact swing, which falls behind."""

from crankpin.calculator.common import gravity
from crankpin.calculator.curves import Drawing, Picture, spread
from crankpin.calculator.declaration import Calculator, Input, Output, PublishedCheck, Values
from crankpin.calculator.tracks import STEPS_A_TURN, Words, track_panels, tracks
from crankpin.mechanics import circular, pendulum

#: The run ends after so many turns of the circle: not at a whole turn, where it would begin again.
_QUARTERS = 13


def find(L: float, g: float, theta_max: float) -> dict[str, float]:
    """The rate and the period of small swings, the exact period, and the arc to the end of the swing."""
    small = pendulum.small_swing_period(L, g)
    return {
        "A": circular.arc_length(L, theta_max),
        "omega": circular.angular_frequency_from_period(small),
        "T_small": small,
        "f": circular.frequency(circular.angular_frequency_from_period(small)),
        "T": pendulum.swing_period(L, g, theta_max),
    }


def draw(values: Values) -> Drawing:
    """A few swings from the release at rest: the circle of the small-angle law, and the exact motion on the arc."""
    L, A, omega = values["L"], values["A"], values["omega"]
    times = spread(0.0, _QUARTERS / 4 * values["T_small"], _QUARTERS * STEPS_A_TURN // 4 + 1)
    angles = [circular.angle(omega, one) for one in times]
    exact = [circular.arc_length(L, pendulum.swing(L, values["g"], values["theta_max"], one).angle) for one in times]
    return tracks(times, [circular.plane_motion(A, omega, one) for one in angles], angles, exact=exact)


calculator = Calculator(
    title="A pendulum and its reference circle",
    purpose="By the small-angle law the bob keeps in step with a point on a circle. The exact swing, drawn thin, "
    "falls behind. The thread is not drawn to scale.",
    inputs=(
        Input(
            key="L",
            symbol="L",
            meaning="length, from the pivot to the centre of the bob",
            unit="m",
            also=("cm", "mm"),
            default="6 m",
            lowest="1e-6 m",
            highest="1e6 m",
            slider=("0.1 m", "10 m"),
            step="0.1 m",
            parameter="length",
        ),
        gravity(),
        Input(
            key="theta_max",
            symbol=r"\theta_{\max}",
            meaning="angle of the thread at the end of the swing, from the vertical",
            unit="rad",
            also=("deg",),
            default="60 deg",
            lowest="1e-6 rad",
            highest="90 deg",
            slider=("1 deg", "90 deg"),
            step="1 deg",
            parameter="amplitude",
            help="From the lowest point to one side. Beyond 90° a thread would go slack.",
        ),
    ),
    outputs=(
        Output(
            key="A",
            symbol="A",
            meaning="arc length from the lowest point to the end of the swing",
            unit="m",
            formula="L*theta_max",
        ),
        Output(
            key="omega",
            symbol=r"\omega_0",
            meaning="angular frequency of small swings",
            unit="rad/s",
            formula="sqrt(g/L)",
        ),
        Output(key="T_small", symbol="T_0", meaning="period of small swings", unit="s", formula="2*pi*sqrt(L/g)"),
        Output(key="f", symbol="f_0", meaning="frequency of small swings", unit="Hz", formula="1/T_small"),
        Output(
            key="T",
            symbol="T",
            meaning="exact period of this swing",
            unit="s",
            method="From the arithmetic-geometric mean, as in the chapter on pendulums.",
        ),
    ),
    function=find,
    picture=Picture(
        caption="A pendulum above its reference circle",
        panels=track_panels(
            length_in="L",
            exact=True,
            words=Words(
                position_symbol="s",
                position="position along the arc",
                angle_symbol=r"\alpha",
                angle="angle on the circle",
            ),
        ),
        draw=draw,
    ),
    checks=(
        PublishedCheck(
            source="common practice, no source",
            note="A pendulum about a metre long beats seconds: it takes two seconds to swing to and fro.",
            given={"L": "99.4 cm", "g": "9.81 m/s2", "theta_max": "2 deg"},
            expect={"T_small": "2.000 s"},
        ),
    ),
)
