"""Driven: a mass on a damped spring with a periodic driving force, in the steady state."""

from typing import Any

from crankpin.calculator.common import mass, or_absent, resistance, stiffness
from crankpin.calculator.curves import Axis, Curve, Drawing, Mark, Panel, Picture, spread
from crankpin.calculator.declaration import Calculator, Caution, Input, Output, PublishedCheck, Values
from crankpin.mechanics import damping, driving


def find(m: float, k: float, b: float, F_0: float, omega: float) -> dict[str, Any]:
    """The steady answer to the drive, and the resonance it is part of."""
    still = driving.static_displacement(k, F_0)
    steady = (m, k, b, F_0, omega)
    amplitude = or_absent(driving.amplitude, *steady)
    band = driving.half_power_band(m, k, b)
    return {
        "omega_0": damping.natural_angular_frequency(m, k),
        "gamma": damping.damping_coefficient(m, b),
        "zeta": damping.damping_ratio(m, k, b),
        "x_static": still,
        "amplitude": amplitude,
        "gain": amplitude / still if isinstance(amplitude, float) else amplitude,
        "phase_lag": or_absent(driving.phase_lag, m, k, b, omega),
        "v_amplitude": or_absent(driving.velocity_amplitude, *steady),
        "P_mean": or_absent(driving.mean_power, *steady),
        "omega_res": or_absent(driving.peak_angular_frequency, m, k, b),
        "amplitude_res": or_absent(driving.peak_amplitude, m, k, b, F_0),
        "bandwidth": driving.bandwidth(m, b),
        "omega_2": band.upper,
        "omega_1": band.lower,
        "Q": or_absent(damping.quality_factor, m, k, b),
    }


def draw(values: Values) -> Drawing:
    """Amplitude, phase lag and mean power against the drive's angular frequency."""
    m, k, b, F_0, omega, omega_0 = (values[key] for key in ("m", "k", "b", "F_0", "omega", "omega_0"))
    rates = _rates(omega_0, values["bandwidth"], max(2.0 * omega_0, 1.2 * omega))
    if b == 0.0:
        rates = [one for one in rates if abs(one - omega_0) > 0.04 * omega_0]
    below = [one for one in rates if b > 0.0 or one < omega_0]
    above = rates[len(below) :]
    curves = {}
    for name, part in (("", below), ("_above", above)):
        curves["amplitude" + name] = (part, [driving.amplitude(m, k, b, F_0, one) for one in part])
        curves["lag" + name] = (part, [driving.phase_lag(m, k, b, one) for one in part])
    curves["power"] = (rates, [driving.mean_power(m, k, b, F_0, one) for one in rates])
    marks: dict[str, tuple[float, float] | None] = {}
    if "amplitude" in values:
        marks["here"] = (omega, values["amplitude"])
        marks["lag_here"] = (omega, values["phase_lag"])
        marks["power_here"] = (omega, values["P_mean"])
    if "omega_res" in values and "amplitude_res" in values:
        marks["peak"] = (values["omega_res"], values["amplitude_res"])
    return Drawing(curves, marks)


def _rates(omega_0: float, width: float, end: float) -> list[float]:
    """Return angular frequencies from 0 to the end, close together round resonance."""
    near = spread(max(0.0, omega_0 - 4.0 * width), omega_0 + 4.0 * width, 161) if 0.0 < width < omega_0 else []
    return sorted({*spread(0.0, end), *(one for one in near if one < end)})


def _lag(values: Values) -> str:
    """The formula of the phase lag: the arc tangent, on the branch that lies between 0 and π."""
    m, k, b, omega = (values[key] for key in ("m", "k", "b", "omega"))
    net = k - m * omega * omega
    if abs(net) <= 1e-9 * b * omega:
        return "pi/2"
    return "arctan(b*omega/(k - m*omega**2))" if net > 0.0 else "pi - arctan(b*omega/(m*omega**2 - k))"


_RATE = Axis(symbol=r"\omega", meaning="driving angular frequency", unit="rad/s", shown_in="omega")

calculator = Calculator(
    title="Forced oscillation",
    purpose="Amplitude, phase lag and power of a damped mass on a spring with a periodic driving force, in the "
    "steady state.",
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
            help="Or type a frequency (Hz), a period (s) or turns per minute (rpm): choose the unit.",
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
        Output(key="gamma", symbol=r"\gamma", meaning="damping coefficient", unit="1/s", formula="b/(2*m)"),
        Output(key="zeta", symbol=r"\zeta", meaning="damping ratio", unit="1", formula="b/(2*sqrt(m*k))"),
        Output(
            key="x_static",
            symbol=r"A_{\mathrm{s}}",
            meaning="displacement that a constant force of this size would give",
            unit="m",
            formula="F_0/k",
        ),
        Output(
            key="amplitude",
            symbol="A",
            meaning="amplitude in the steady state",
            unit="m",
            formula="F_0/sqrt((k - m*omega**2)**2 + (b*omega)**2)",
        ),
        Output(
            key="gain",
            symbol=r"A/A_{\mathrm{s}}",
            meaning="amplitude as a multiple of that displacement",
            unit="1",
            formula="1/sqrt((1 - (omega/omega_0)**2)**2 + (2*zeta*omega/omega_0)**2)",
        ),
        Output(
            key="phase_lag",
            symbol=r"\varphi_{\mathrm{lag}}",
            meaning="phase lag of the displacement behind the driving force",
            unit="rad",
            formula=_lag,
            method="Between 0 and π. Driven above its natural frequency it lags by more than π/2: there the "
            "arctangent is taken "
            "from π. At the natural frequency it lags by π/2.",
        ),
        Output(
            key="v_amplitude",
            symbol=r"v_{\max}",
            meaning="maximum speed",
            unit="m/s",
            formula="omega*amplitude",
        ),
        Output(
            key="P_mean",
            symbol=r"P_{\mathrm{mean}}",
            meaning="mean power supplied by the driver and dissipated by the damping",
            unit="W",
            formula="b*v_amplitude**2/2",
        ),
        Output(
            key="omega_res",
            symbol=r"\omega_{\mathrm{res}}",
            meaning="driving angular frequency for the greatest amplitude",
            unit="rad/s",
            formula="sqrt(omega_0**2 - 2*gamma**2)",
        ),
        Output(
            key="amplitude_res",
            symbol=r"A_{\mathrm{res}}",
            meaning="greatest amplitude, at that frequency",
            unit="m",
            formula="F_0/(b*sqrt(omega_0**2 - gamma**2))",
        ),
        Output(
            key="bandwidth",
            symbol="B",
            meaning="bandwidth: width of the power curve at half its greatest value",
            unit="rad/s",
            formula="b/m",
        ),
        Output(
            key="omega_2",
            symbol=r"\omega_2",
            meaning="upper half-power angular frequency",
            unit="rad/s",
            formula="sqrt(omega_0**2 + gamma**2) + gamma",
        ),
        Output(
            key="omega_1",
            symbol=r"\omega_1",
            meaning="lower half-power angular frequency",
            unit="rad/s",
            formula="omega_0**2/omega_2",
        ),
        Output(key="Q", symbol="Q", meaning="quality factor", unit="1", formula="sqrt(m*k)/b"),
    ),
    function=find,
    picture=Picture(
        caption="Amplitude, phase lag and mean power against the driving frequency",
        panels=(
            Panel(
                horizontal=_RATE,
                vertical=Axis(symbol="A", meaning="amplitude", unit="m"),
                curves=(
                    Curve(key="amplitude", label="A", role="position"),
                    Curve(key="amplitude_above", label="", role="position"),
                ),
                marks=(
                    Mark(key="here", label="here", role="position"),
                    Mark(key="peak", label="peak", role="position"),
                ),
            ),
            Panel(
                horizontal=_RATE,
                vertical=Axis(symbol=r"\varphi_{\mathrm{lag}}", meaning="phase lag", unit="rad"),
                curves=(Curve(key="lag", label="lag"), Curve(key="lag_above", label="")),
                marks=(Mark(key="lag_here", label="here"),),
            ),
            Panel(
                horizontal=_RATE,
                vertical=Axis(symbol="P", meaning="mean power", unit="W"),
                curves=(Curve(key="power", label="P", role="second"),),
                marks=(Mark(key="power_here", label="here", role="second"),),
            ),
        ),
        draw=draw,
    ),
    cautions=(
        Caution(
            text="Near resonance a small force builds up a large oscillation: on the bench start with a weak driver, "
            "be "
            "ready to stop it, catch anything that could fly off, and follow your school’s own rules.",
            when=lambda values: (
                values["zeta"] < 0.5 and abs(values["omega"] - values["omega_0"]) < 0.2 * values["omega_0"]
            ),
        ),
    ),
    checks=(
        PublishedCheck(
            source="OpenStax, University Physics Volume 2, section 15.5, example 15.5: a circuit with the same "
            "equation (inductance for mass, inverse capacitance for stiffness, resistance for damping)",
            given={"m": "0.004 kg", "k": "500000 N/m", "b": "0.2 kg/s", "F_0": "4 N", "omega": "11180.3398875 rad/s"},
            expect={"omega_0": "1.12e4 rad/s", "P_mean": "40.0 W", "Q": "224", "bandwidth": "50.0 rad/s"},
        ),
        PublishedCheck(
            source="OpenStax, University Physics Volume 2, section 15.5, example 15.4: the same likeness; the peak "
            "current is the velocity’s amplitude",
            given={"m": "0.003 kg", "k": "1250 N/m", "b": "4 kg/s", "F_0": "0.1 N", "omega": "645.497224368 rad/s"},
            expect={"v_amplitude": "0.0250 m/s"},
        ),
        PublishedCheck(
            source="common practice, no source",
            note="At the natural frequency the displacement lags by a quarter of a period, whatever the damping.",
            given={"m": "1 kg", "k": "16 N/m", "b": "0.5 kg/s", "F_0": "2 N", "omega": "4 rad/s"},
            expect={"phase_lag": "90.0000 deg", "amplitude": "1.0000 m"},
        ),
    ),
)
