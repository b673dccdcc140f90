"""The turning wheel: a point on a circle, and where it stands on a line."""

from crankpin.calculator.common import amplitude
from crankpin.calculator.curves import Drawing, Picture
from crankpin.calculator.declaration import Calculator, Input, Output, PublishedCheck, Values
from crankpin.calculator.tracks import track_panels, turning
from crankpin.mechanics import circular, harmonic


def find(A: float, omega: float, phi: float) -> dict[str, float]:
    """The period, and the greatest sizes of what the pictures show."""
    return {
        "T": circular.period(omega),
        "f": circular.frequency(omega),
        "v_max": harmonic.greatest_speed(A, omega),
        "a_max": harmonic.greatest_acceleration(A, omega),
    }


def draw(values: Values) -> Drawing:
    """One turn."""
    return turning(values["A"], values["omega"], values["phi"])


calculator = Calculator(
    title="The turning wheel",
    purpose="A point goes round at a steady rate; seen edge-on, it moves to and fro along a line.",
    inputs=(
        amplitude(meaning="radius of the circle, and amplitude on the line"),
        Input(
            key="omega",
            symbol=r"\omega",
            meaning="angular frequency",
            unit="rad/s",
            also=("rpm", "deg/s", "Hz", "s"),
            default="18 rpm",
            lowest="1e-6 rad/s",
            highest="1e6 rad/s",
            slider=("1 rpm", "60 rpm"),
            step="1 rpm",
            parameter="angular_frequency",
            help="Or turns per minute in rpm, a frequency in Hz, a period in s: choose the unit.",
        ),
        Input(
            key="phi",
            symbol=r"\varphi",
            meaning="angle at t = 0",
            unit="rad",
            also=("deg",),
            default="0 deg",
            lowest="-100 rad",
            highest="100 rad",
            slider=("-180 deg", "180 deg"),
            step="15 deg",
            parameter="phase",
            help="Where on the circle the point is at t = 0: the initial phase φ.",
        ),
    ),
    outputs=(
        Output(
            key="T",
            symbol="T",
            meaning="period, the same on the circle and on the line",
            unit="s",
            formula="2*pi/omega",
        ),
        Output(key="f", symbol="f", meaning="frequency", unit="Hz", formula="1/T"),
        Output(key="v_max", symbol=r"v_{\max}", meaning="greatest speed", unit="m/s", formula="A*omega"),
        Output(key="a_max", symbol=r"a_{\max}", meaning="greatest acceleration", unit="m/s2", formula="A*omega**2"),
    ),
    function=find,
    picture=Picture(
        caption="A turning wheel and its projection on a line",
        panels=track_panels(length_in="A", angle_in="phi"),
        draw=draw,
    ),
    checks=(
        PublishedCheck(
            source="OpenStax, University Physics Volume 1, section 15.3, exercise 41: the shadow of a roundabout",
            given={"A": "2 m", "omega": "5 rpm"},
            expect={"v_max": "1.05 m/s"},
        ),
        PublishedCheck(
            source="common practice, no source",
            note="The greatest displacement, speed and acceleration are A, A omega and A omega squared.",
            given={"A": "50 cm", "omega": "4 rad/s"},
            expect={"v_max": "2.000 m/s", "a_max": "8.000 m/s2"},
        ),
    ),
)
