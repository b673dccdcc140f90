"""Starting state: amplitude and initial phase of the motion that begins at x0 with the velocity v0."""

from math import pi
from typing import Any

from crankpin.calculator.curves import Axis, Curve, Drawing, Mark, Panel, Picture, two_periods
from crankpin.calculator.declaration import Calculator, Input, Output, PublishedCheck, Values
from crankpin.calculator.faults import Absent
from crankpin.mechanics import harmonic
from crankpin.mechanics.errors import AbsentError


def find(omega: float, x0: float, v0: float) -> dict[str, Any]:
    """Amplitude, initial phase, greatest speed and acceleration, and the first peak."""
    A = harmonic.amplitude_from_start(omega, x0, v0)
    found: dict[str, Any] = {
        "A": A,
        "v_max": harmonic.greatest_speed(A, omega),
        "a_max": harmonic.greatest_acceleration(A, omega),
    }
    try:
        found["phi"] = harmonic.phase_from_start(omega, x0, v0)
        found["t_peak"] = harmonic.peak_time(omega, found["phi"])
    except AbsentError as error:
        found["phi"] = found["t_peak"] = Absent(error.reason)
    return found


def draw(values: Values) -> Drawing:
    """Two periods from the start, with the start and the first peak marked."""
    A, omega, phi = values["A"], values["omega"], values.get("phi", 0.0)
    times = two_periods(0.0, 2.0 * pi / omega)
    peak = values.get("t_peak")
    return Drawing(
        {"x": (times, [harmonic.position(A, omega, phi, one) for one in times])},
        {"start": (0.0, values["x0"]), "peak": None if peak is None else (peak, A)},
    )


def _phase(values: Values) -> str:
    """The formula of the initial phase: the arc tangent, half a turn off on the negative side."""
    x0, v0 = values["x0"], values["v0"]
    if not values["omega"] * x0:
        return "-pi/2" if v0 > 0.0 else "pi/2"
    added = "" if x0 > 0.0 else " + pi" if v0 <= 0.0 else " - pi"
    return f"arctan(-v0/(omega*x0)){added}"


calculator = Calculator(
    title="From the starting state",
    purpose="Amplitude and initial phase from the position and the velocity at the start.",
    inputs=(
        Input(
            key="omega",
            symbol=r"\omega",
            meaning="angular frequency",
            unit="rad/s",
            also=("rpm", "deg/s", "Hz", "s"),
            default="2.5 rad/s",
            lowest="1e-9 rad/s",
            highest="1e9 rad/s",
            slider=("0.5 rad/s", "12 rad/s"),
            step="0.5 rad/s",
            parameter="angular_frequency",
        ),
        Input(
            key="x0",
            symbol="x_0",
            meaning="initial position",
            unit="m",
            also=("cm", "mm"),
            default="6 cm",
            lowest="-1e9 m",
            highest="1e9 m",
            slider=("-20 cm", "20 cm"),
            step="1 cm",
            parameter="position",
        ),
        Input(
            key="v0",
            symbol="v_0",
            meaning="initial velocity",
            unit="m/s",
            also=("cm/s",),
            default="-20 cm/s",
            lowest="-1e9 m/s",
            highest="1e9 m/s",
            slider=("-100 cm/s", "100 cm/s"),
            step="5 cm/s",
            parameter="velocity",
            help="Positive in the direction in which positions are positive.",
        ),
    ),
    outputs=(
        Output(
            key="A",
            symbol="A",
            meaning="amplitude",
            unit="m",
            formula="sqrt(x0**2 + (v0/omega)**2)",
            shown_in="x0",
        ),
        Output(
            key="phi",
            symbol=r"\varphi",
            meaning="initial phase",
            unit="rad",
            formula=_phase,
            method="The cosine of this angle has the sign of the initial position, and its sine the opposite sign to "
            "the "
            "initial velocity: that decides whether half a turn is added to the arctangent.",
        ),
        Output(
            key="v_max",
            symbol=r"v_{\max}",
            meaning="maximum speed",
            unit="m/s",
            formula="A*omega",
            shown_in="v0",
        ),
        Output(
            key="a_max",
            symbol=r"a_{\max}",
            meaning="maximum acceleration",
            unit="m/s2",
            formula="A*omega**2",
        ),
        Output(
            key="t_peak",
            symbol=r"t_{\mathrm{peak}}",
            meaning="first time at the positive end",
            unit="s",
            formula=lambda values: "-phi/omega" if values["phi"] <= 0.0 else "(2*pi - phi)/omega",
        ),
    ),
    function=find,
    picture=Picture(
        caption="Position against time",
        panels=(
            Panel(
                horizontal=Axis(symbol="t", meaning="time", unit="s"),
                vertical=Axis(symbol="x", meaning="position", unit="m", shown_in="x0"),
                curves=(Curve(key="x", label="x", role="position"),),
                marks=(
                    Mark(key="start", label="start"),
                    Mark(key="peak", label="first peak", role="position"),
                ),
            ),
        ),
        draw=draw,
    ),
    checks=(
        PublishedCheck(
            source="J. Lebl, Notes on Diffy Qs, 6th ed., section 2.4, first numbered example: a truck against a buffer",
            note="The book subtracts its angle where we add ours, so the signs differ.",
            given={"omega": "2 rad/s", "x0": "0.5 m", "v0": "1 m/s"},
            expect={"A": "0.707 m", "phi": "-0.785 rad"},
        ),
    ),
)
