"""A mass on a spring, in step with the point on its reference circle."""

from crankpin.calculator.common import amplitude, mass, stiffness
from crankpin.calculator.curves import Drawing, Picture
from crankpin.calculator.declaration import Calculator, Output, PublishedCheck, Values
from crankpin.calculator.tracks import track_panels, turning
from crankpin.mechanics import circular, harmonic, springs


def find(m: float, k: float, A: float) -> dict[str, float]:
    """The rate that mass and spring set, and the greatest sizes of what the pictures show."""
    omega = springs.angular_frequency(k, m)
    return {
        "omega": omega,
        "T": circular.period(omega),
        "f": circular.frequency(omega),
        "v_max": harmonic.greatest_speed(A, omega),
        "a_max": harmonic.greatest_acceleration(A, omega),
    }


def draw(values: Values) -> Drawing:
    """One period from the release at rest."""
    return turning(values["A"], values["omega"], 0.0)


calculator = Calculator(
    title="A mass on a spring and its reference circle",
    purpose="Released from rest, the mass keeps in step with a point on a circle of radius A, although nothing turns.",
    inputs=(
        mass("400 g"),
        stiffness("25 N/m"),
        amplitude("6 cm", slider=("1 cm", "20 cm")),
    ),
    outputs=(
        Output(key="omega", symbol=r"\omega", meaning="angular frequency", unit="rad/s", formula="sqrt(k/m)"),
        Output(key="T", symbol="T", meaning="period", unit="s", formula="2*pi/omega"),
        Output(key="f", symbol="f", meaning="frequency", unit="Hz", formula="1/T"),
        Output(key="v_max", symbol=r"v_{\max}", meaning="greatest speed", unit="m/s", formula="A*omega"),
        Output(key="a_max", symbol=r"a_{\max}", meaning="greatest acceleration", unit="m/s2", formula="A*omega**2"),
    ),
    function=find,
    picture=Picture(
        caption="A mass on a spring beside its reference circle",
        panels=track_panels(length_in="A"),
        draw=draw,
    ),
    checks=(
        PublishedCheck(
            source="common practice, no source",
            note="Four times the mass, twice the period; the amplitude plays no part.",
            given={"m": "4 kg", "k": "1 N/m", "A": "3 cm"},
            expect={"omega": "0.5000 rad/s", "T": "12.566 s"},
        ),
    ),
)
