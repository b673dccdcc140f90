"""Edge-on: the pin of a turning wheel, seen from the wheel's own plane, moves to and fro along a line."""

from math import pi

from crankpin.calculator.curves import Axis, Curve, Drawing, Mark, Panel, Picture, two_periods
from crankpin.calculator.declaration import Calculator, Input, Output, PublishedCheck, Values
from crankpin.mechanics import harmonic


def find(A: float, omega: float, phi: float, t: float) -> dict[str, float]:
    """Position, velocity and acceleration at one instant, and their greatest sizes."""
    return {
        "theta": harmonic.phase_angle(omega, phi, t),
        "x": harmonic.position(A, omega, phi, t),
        "v": harmonic.velocity(A, omega, phi, t),
        "a": harmonic.acceleration(A, omega, phi, t),
        "x_max": A,
        "v_max": harmonic.greatest_speed(A, omega),
        "a_max": harmonic.greatest_acceleration(A, omega),
    }


def draw(values: Values) -> Drawing:
    """Two periods of the motion round the instant asked for, with that instant marked."""
    A, omega, phi, t = (values[key] for key in ("A", "omega", "phi", "t"))
    period = 2.0 * pi / omega
    start = max(0.0, (t // period - 0.5) * period) if t > 2.0 * period else 0.0
    times = two_periods(start, period)
    return Drawing(
        {
            "x": (times, [harmonic.position(A, omega, phi, one) for one in times]),
            "v": (times, [harmonic.velocity(A, omega, phi, one) for one in times]),
            "a": (times, [harmonic.acceleration(A, omega, phi, one) for one in times]),
        },
        {f"{key}_now": (t, values[key]) for key in ("x", "v", "a")},
    )


_TIME = Axis(symbol="t", meaning="time", unit="s", shown_in="t")

calculator = Calculator(
    title="The wheel seen edge-on",
    purpose="Position, velocity and acceleration of the projection of a point on a turning wheel, at any time.",
    inputs=(
        Input(
            key="A",
            symbol="A",
            meaning="amplitude",
            unit="m",
            also=("cm", "mm"),
            default="12 cm",
            lowest="1e-9 m",
            highest="1e9 m",
            slider=("1 cm", "50 cm"),
            step="1 cm",
            parameter="amplitude",
            help="The radius of the reference circle.",
        ),
        Input(
            key="omega",
            symbol=r"\omega",
            meaning="angular frequency",
            unit="rad/s",
            also=("rpm", "deg/s", "Hz", "s"),
            default="3 rad/s",
            lowest="1e-9 rad/s",
            highest="1e9 rad/s",
            slider=("0.5 rad/s", "12 rad/s"),
            step="0.5 rad/s",
            parameter="angular_frequency",
            help="Or type turns per minute (rpm), a frequency (Hz) or a period (s): choose the unit.",
        ),
        Input(
            key="phi",
            symbol=r"\varphi",
            meaning="initial phase",
            unit="rad",
            also=("deg",),
            default="0 rad",
            lowest="-100 rad",
            highest="100 rad",
            slider=("-3.14 rad", "3.14 rad"),
            step="0.1 rad",
            parameter="phase",
            help="The angle of the wheel when the clock starts.",
        ),
        Input(
            key="t",
            symbol="t",
            meaning="time",
            unit="s",
            also=("ms",),
            default="0.4 s",
            lowest="0 s",
            highest="1e9 s",
            slider=("0 s", "10 s"),
            step="0.1 s",
            parameter="time",
        ),
    ),
    outputs=(
        Output(
            key="theta",
            symbol=r"\theta",
            meaning="phase angle: the angle that the wheel has reached",
            unit="rad",
            formula="omega*t + phi",
            shown_in="phi",
        ),
        Output(
            key="x",
            symbol="x",
            meaning="position",
            unit="m",
            formula="A*cos(omega*t + phi)",
            shown_in="A",
            dust_of="x_max",
        ),
        Output(
            key="v",
            symbol="v",
            meaning="velocity",
            unit="m/s",
            formula="-A*omega*sin(omega*t + phi)",
            dust_of="v_max",
        ),
        Output(
            key="a",
            symbol="a",
            meaning="acceleration",
            unit="m/s2",
            formula="-A*omega**2*cos(omega*t + phi)",
            dust_of="a_max",
        ),
        Output(
            key="x_max",
            symbol=r"x_{\max}",
            meaning="greatest distance from equilibrium: the amplitude",
            unit="m",
            formula="A",
            shown_in="A",
        ),
        Output(key="v_max", symbol=r"v_{\max}", meaning="maximum speed", unit="m/s", formula="A*omega"),
        Output(
            key="a_max",
            symbol=r"a_{\max}",
            meaning="maximum acceleration",
            unit="m/s2",
            formula="A*omega**2",
        ),
    ),
    function=find,
    picture=Picture(
        caption="Position, velocity and acceleration against time",
        panels=(
            Panel(
                horizontal=_TIME,
                vertical=Axis(symbol="x", meaning="position", unit="m", shown_in="A"),
                curves=(Curve(key="x", label="x", role="position"),),
                marks=(Mark(key="x_now", label="now", role="position"),),
            ),
            Panel(
                horizontal=_TIME,
                vertical=Axis(symbol="v", meaning="velocity", unit="m/s"),
                curves=(Curve(key="v", label="v", role="velocity"),),
                marks=(Mark(key="v_now", label="now", role="velocity"),),
            ),
            Panel(
                horizontal=_TIME,
                vertical=Axis(symbol="a", meaning="acceleration", unit="m/s2"),
                curves=(Curve(key="a", label="a", role="acceleration"),),
                marks=(Mark(key="a_now", label="now", role="acceleration"),),
            ),
        ),
        draw=draw,
    ),
    checks=(
        PublishedCheck(
            source="OpenStax, University Physics Volume 1, section 15.1, example 15.2: a block on a spring",
            given={"A": "0.02 m", "omega": "4.00 rad/s", "phi": "0 rad", "t": "0 s"},
            expect={"x": "0.02 m", "v_max": "0.08 m/s", "a_max": "0.32 m/s2"},
        ),
        PublishedCheck(
            source="OpenStax, University Physics Volume 1, section 15.3, exercise 41: the shadow of a roundabout",
            given={"A": "2 m", "omega": "5 rpm"},
            expect={"v_max": "1.05 m/s"},
        ),
        PublishedCheck(
            source="common practice, no source",
            note="A quarter of a period after the start the speed is greatest and the body is at equilibrium.",
            given={"A": "1 m", "omega": "1 Hz", "phi": "0 rad", "t": "0.25 s"},
            expect={"x": "0.000 m", "v": "-6.283 m/s", "a": "0.000 m/s2"},
        ),
    ),
)
