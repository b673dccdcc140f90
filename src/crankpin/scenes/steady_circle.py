"""The steady state of a driven swing: the point goes round with the drive, some way behind it."""

from crankpin.calculator.common import mass, resistance, stiffness
from crankpin.calculator.curves import Drawing, Picture, spread
from crankpin.calculator.declaration import Calculator, Input, Output, PublishedCheck, Values
from crankpin.calculator.tracks import STEPS_A_TURN, track_panels, tracks
from crankpin.mechanics import circular, driving


def find(m: float, k: float, b: float, F_0: float, omega: float) -> dict[str, float]:
    """The circle of the swing and that of the drive, and the angle between them."""
    return {
        "s": driving.static_displacement(k, F_0),
        "A": driving.amplitude(m, k, b, F_0, omega),
        "lag": driving.phase_lag(m, k, b, omega),
        "T": circular.period(omega),
        "f": circular.frequency(omega),
    }


def draw(values: Values) -> Drawing:
    """One period of the drive, from a peak of the force."""
    omega, lag = values["omega"], values["lag"]
    times = spread(0.0, values["T"], STEPS_A_TURN + 1)
    ahead = [circular.angle(omega, one) for one in times]
    angles = [one - lag for one in ahead]
    swing, drive = (
        [circular.plane_motion(radius, omega, one) for one in turned]
        for radius, turned in ((values["A"], angles), (values["s"], ahead))
    )
    return tracks(times, swing, angles, drive)


calculator = Calculator(
    title="A driven oscillation in its steady state",
    purpose="Driver and oscillator go round at the same rate, the oscillator behind by the phase lag.",
    inputs=(
        mass("40 t", slider=("5 t", "100 t"), step="5 t"),
        stiffness("10 kN/m", slider=("1 kN/m", "30 kN/m"), step="1 kN/m"),
        resistance("1500 kg/s", slider=("500 kg/s", "40000 kg/s"), step="500 kg/s", lowest="1e-9 kg/s"),
        Input(
            key="F_0",
            symbol="F_0",
            meaning="greatest driving force",
            unit="N",
            also=("kN", "mN"),
            default="1 kN",
            lowest="1e-9 N",
            highest="1e12 N",
            slider=("0.1 kN", "5 kN"),
            step="0.1 kN",
            parameter="force",
        ),
        Input(
            key="omega",
            symbol=r"\omega",
            meaning="angular frequency of the driver",
            unit="rad/s",
            also=("rpm", "Hz", "s"),
            default="0.45 rad/s",
            lowest="1e-6 rad/s",
            highest="1e6 rad/s",
            slider=("0.05 rad/s", "1.5 rad/s"),
            step="0.05 rad/s",
            parameter="angular_frequency",
        ),
    ),
    outputs=(
        Output(
            key="s",
            symbol="F_0/k",
            meaning="displacement by the same force held steady, radius of the driver’s circle",
            unit="m",
            formula="F_0/k",
            shown_in="cm",
        ),
        Output(
            key="A",
            symbol="A",
            meaning="amplitude, radius of the oscillator’s circle",
            unit="m",
            formula="F_0/sqrt((k - m*omega**2)**2 + (b*omega)**2)",
            shown_in="cm",
        ),
        Output(
            key="lag",
            symbol=r"\varphi",
            meaning="phase lag of the position behind the force",
            unit="rad",
            method="Its tangent is b omega divided by (k minus m omega squared); it lies between 0 and half a turn.",
            shown_in="deg",
        ),
        Output(key="T", symbol="T", meaning="period of both", unit="s", formula="2*pi/omega"),
        Output(key="f", symbol="f", meaning="frequency of both", unit="Hz", formula="1/T"),
    ),
    function=find,
    picture=Picture(
        caption="Driver and oscillator on their circles, and the oscillator’s projection on a line",
        panels=track_panels(length_in="cm", drive=True),
        draw=draw,
    ),
    checks=(
        PublishedCheck(
            source="common practice, no source",
            note="Driven at its natural frequency, the oscillator is a quarter of a turn behind the force.",
            given={"m": "1 kg", "k": "16 N/m", "b": "0.5 kg/s", "F_0": "2 N", "omega": "4 rad/s"},
            expect={"A": "1.000 m", "lag": "1.5708 rad"},
        ),
    ),
)
