"""A point on a turning wheel, with no line of motion yet: what its velocity and its acceleration do."""

from crankpin.calculator.common import radius, turning_rate
from crankpin.calculator.curves import Drawing, Picture
from crankpin.calculator.declaration import Calculator, Output, PublishedCheck, Values
from crankpin.calculator.tracks import track_panels, turning
from crankpin.mechanics import circular


def find(r: float, omega: float) -> dict[str, float]:
    """The period, the speed and the acceleration."""
    return {
        "T": circular.period(omega),
        "f": circular.frequency(omega),
        "v": circular.rim_speed(r, omega),
        "a_c": circular.centripetal_acceleration(r, omega),
    }


def draw(values: Values) -> Drawing:
    """One turn."""
    return turning(values["r"], values["omega"], 0.0)


calculator = Calculator(
    title="A point on a turning wheel",
    purpose="It goes round at a steady rate: its speed stays the same, and its direction changes all the time.",
    inputs=(
        radius(),
        turning_rate(key="omega", lowest="1e-6 rad/s", highest="1e6 rad/s"),
    ),
    outputs=(
        Output(key="T", symbol="T", meaning="period", unit="s", formula="2*pi/omega"),
        Output(key="f", symbol="f", meaning="frequency", unit="Hz", formula="1/T"),
        Output(key="v", symbol="v", meaning="speed along the circle", unit="m/s", formula="r*omega"),
        Output(
            key="a_c",
            symbol=r"a_{\mathrm{c}}",
            meaning="acceleration, towards the axle",
            unit="m/s2",
            formula="r*omega**2",
        ),
    ),
    function=find,
    picture=Picture(
        caption="A point on a turning wheel",
        panels=track_panels(length_in="r"),
        draw=draw,
    ),
    checks=(
        PublishedCheck(
            source="common practice, no source",
            note="Twice as fast on the same circle: twice the speed, four times the acceleration.",
            given={"r": "50 cm", "omega": "4 rad/s"},
            expect={"v": "2.000 m/s", "a_c": "8.000 m/s2"},
        ),
    ),
)
