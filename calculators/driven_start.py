"""Driven from rest: how the forced oscillation of a mass on a damped spring builds up."""

from math import isclose, pi
from typing import Any

from crankpin.calculator.common import mass, or_absent, resistance, stiffness
from crankpin.calculator.curves import Axis, Curve, Drawing, Mark, Panel, Picture, spread
from crankpin.calculator.declaration import Calculator, Input, Output, PublishedCheck, Values
from crankpin.calculator.faults import Absent
from crankpin.mechanics import damping, driving

_MOST_POINTS = 720
_NO_SWING = Absent(
    "With this much damping the free part dies away without oscillating, so it has no single time constant."
)
_NO_BEAT = Absent("Driver and free oscillation have the same frequency, so there are no beats.")


def find(m: float, k: float, b: float, F_0: float, omega: float, t: float) -> dict[str, Any]:
    """The displacement at one instant, split into the steady state and what is left of the free oscillation."""
    now = driving.driven_motion(m, k, b, F_0, omega, t)
    steady = or_absent(driving.steady_motion, m, k, b, F_0, omega, t)
    exists = isinstance(steady, damping.Motion)
    omega_d = or_absent(damping.damped_angular_frequency, m, k, b)
    swings = damping.regime(m, k, b) is damping.Regime.UNDERDAMPED
    return {
        "omega_0": damping.natural_angular_frequency(m, k),
        "amplitude": or_absent(driving.amplitude, m, k, b, F_0, omega),
        "tau": or_absent(damping.time_constant, m, b) if swings else _NO_SWING,
        "share": damping.amplitude_share(m, b, t) if swings else _NO_SWING,
        "omega_d": omega_d if swings else _NO_SWING,
        "T_beat": _beat(omega, omega_d) if swings else _NO_SWING,
        "x": now.position,
        "x_steady": steady.position if exists else steady,
        "x_start": now.position - steady.position if exists else steady,
        "v": now.velocity,
    }


def _beat(omega: float, omega_d: float) -> float | Absent:
    return _NO_BEAT if isclose(omega, omega_d, rel_tol=1e-12) else 2.0 * pi / abs(omega - omega_d)


def draw(values: Values) -> Drawing:
    """The motion from rest, beside the steady state that it tends to."""
    m, k, b, F_0, omega, t = (values[key] for key in ("m", "k", "b", "F_0", "omega", "t"))
    quickest = 2.0 * pi / max(omega, values["omega_0"])
    end = max(min(4.0 * values.get("tau", 1e300), 18.0 * quickest), 4.0 * quickest)
    if t <= 3.0 * end:
        end = max(end, 1.05 * t)
    times = spread(0.0, end, int(min(_MOST_POINTS, max(240.0, 36.0 * end / quickest))))
    curves = {"x": (times, [driving.driven_motion(m, k, b, F_0, omega, one).position for one in times])}
    if "x_steady" in values:
        curves["steady"] = (times, [driving.steady_motion(m, k, b, F_0, omega, one).position for one in times])
    return Drawing(curves, {"now": (t, values["x"]) if t <= end else None})


def _displacement(values: Values) -> str:
    return "x_steady + x_start" if "x_steady" in values else ""


calculator = Calculator(
    title="Forced oscillation from rest",
    purpose="How the oscillation builds up, perhaps with beats, to the steady state.",
    inputs=(
        mass("40 t", slider=("5 t", "100 t"), step="5 t"),
        stiffness("10 kN/m", slider=("1 kN/m", "40 kN/m"), step="1 kN/m"),
        resistance("1500 kg/s", slider=("0 kg/s", "50000 kg/s"), step="500 kg/s"),
        Input(
            key="F_0",
            symbol="F_0",
            meaning="amplitude of the driving force",
            unit="N",
            also=("mN", "kN"),
            default="1 kN",
            lowest="1e-12 N",
            highest="1e12 N",
            slider=("0.1 kN", "5 kN"),
            step="0.1 kN",
            parameter="force",
            help="The force is at its maximum when the clock starts.",
        ),
        Input(
            key="omega",
            symbol=r"\omega",
            meaning="driving angular frequency",
            unit="rad/s",
            also=("rpm", "deg/s", "Hz", "s"),
            default="0.45 rad/s",
            lowest="1e-9 rad/s",
            highest="1e9 rad/s",
            slider=("0.05 rad/s", "1.5 rad/s"),
            step="0.01 rad/s",
            parameter="angular_frequency",
        ),
        Input(
            key="t",
            symbol="t",
            meaning="time since the driver was started",
            unit="s",
            also=("ms", "min"),
            default="120 s",
            lowest="0 s",
            highest="1e9 s",
            slider=("0 s", "600 s"),
            step="5 s",
            parameter="time",
        ),
    ),
    outputs=(
        Output(
            key="omega_0",
            symbol=r"\omega_0",
            meaning="natural angular frequency",
            unit="rad/s",
            formula="sqrt(k/m)",
        ),
        Output(
            key="amplitude",
            symbol="A",
            meaning="amplitude in the steady state",
            unit="m",
            formula="F_0/sqrt((k - m*omega**2)**2 + (b*omega)**2)",
        ),
        Output(
            key="tau",
            symbol=r"\tau",
            meaning="time constant of the free oscillation",
            unit="s",
            formula="2*m/b",
        ),
        Output(
            key="share",
            symbol=r"q",
            meaning="fraction of the amplitude of the free oscillation that is left",
            unit="1",
            formula="exp(-b*t/(2*m))",
            shown_in="%",
        ),
        Output(
            key="omega_d",
            symbol=r"\omega_{\mathrm{d}}",
            meaning="angular frequency of the free oscillation",
            unit="rad/s",
            formula="sqrt(omega_0**2 - (b/(2*m))**2)",
        ),
        Output(
            key="T_beat",
            symbol=r"T_{\mathrm{beat}}",
            meaning="time from one beat to the next while the free oscillation lasts",
            unit="s",
            formula="2*pi/abs(omega - omega_d)",
        ),
        Output(
            key="x_steady",
            symbol=r"x_{\mathrm{steady}}",
            meaning="displacement in the steady state",
            unit="m",
            method="The amplitude times the cosine of (driving angular frequency times time, minus phase lag).",
            dust_of="amplitude",
        ),
        Output(
            key="x_start",
            symbol=r"x_{\mathrm{free}}",
            meaning="what is left of the free oscillation",
            unit="m",
            method="The free, damped motion that makes displacement and velocity zero at the start.",
            dust_of="amplitude",
        ),
        Output(
            key="x",
            symbol="x",
            meaning="displacement",
            unit="m",
            formula=_displacement,
            method="The steady state and what is left of the free oscillation, added.",
            dust_of="amplitude",
        ),
        Output(key="v", symbol="v", meaning="velocity", unit="m/s", method="The derivative of the position."),
    ),
    function=find,
    picture=Picture(
        caption="Displacement against time from rest, and the steady state",
        panels=(
            Panel(
                horizontal=Axis(symbol="t", meaning="time", unit="s", shown_in="t"),
                vertical=Axis(symbol="x", meaning="displacement", unit="m"),
                curves=(
                    Curve(key="x", label="from rest", role="position"),
                    Curve(key="steady", label="steady", role="second", line="dashes"),
                ),
                marks=(Mark(key="now", label="now", role="position"),),
            ),
        ),
        draw=draw,
    ),
    checks=(
        PublishedCheck(
            source="J. Lebl, Notes on Diffy Qs, 6th edition, section 2.6, first example: from rest without damping, "
            "its closed form evaluated at 1 s",
            given={
                "m": "0.5 kg",
                "k": "8 N/m",
                "b": "0 kg/s",
                "F_0": "10 N",
                "omega": "3.14159265358979 rad/s",
                "t": "1 s",
            },
            expect={"omega_0": "4.0000 rad/s", "amplitude": "3.2624 m", "x": "-1.1300 m"},
        ),
    ),
)
