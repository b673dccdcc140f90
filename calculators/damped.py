"""Damped: a mass on a spring that loses its motion to a resistance proportional to the velocity."""

from typing import Any

from crankpin.calculator.common import mass, or_absent, resistance, stiffness
from crankpin.calculator.curves import Axis, Curve, Drawing, Mark, Panel, Picture, spread
from crankpin.calculator.declaration import Calculator, Caution, Input, Output, PublishedCheck, Values
from crankpin.calculator.faults import Absent
from crankpin.mechanics import damping

_MOST_POINTS = 720
_NO_CONSTANT = Absent("A return without oscillation is the sum of two exponentials, so it has no single time constant.")
_NEAR_CRITICAL = 1e-4


def find(m: float, k: float, b: float, x0: float, v0: float, t: float) -> dict[str, Any]:
    """The constants of the motion, those that exist in its regime, and where it is at one instant."""
    regime = damping.regime(m, k, b)
    swings = regime is damping.Regime.UNDERDAMPED
    rates = or_absent(damping.decay_rates, m, k, b)
    exists = isinstance(rates, damping.DecayRates)
    now = damping.damped_motion(m, k, b, x0, v0, t)
    return {
        "omega_0": damping.natural_angular_frequency(m, k),
        "gamma": damping.damping_coefficient(m, b),
        "b_critical": damping.critical_damping(m, k),
        "zeta": damping.damping_ratio(m, k, b),
        "regime": str(regime),
        "omega_d": or_absent(damping.damped_angular_frequency, m, k, b),
        "T_d": or_absent(damping.damped_period, m, k, b),
        "rate_fast": rates.fast if exists else rates,
        "rate_slow": rates.slow if exists else rates,
        "Q": or_absent(damping.quality_factor, m, k, b),
        "log_decrement": or_absent(damping.log_decrement, m, k, b),
        "loss": or_absent(_loss, m, k, b),
        "tau": or_absent(damping.time_constant, m, b) if swings else _NO_CONSTANT,
        "t_half": or_absent(damping.half_life, m, k, b),
        "x": now.position,
        "v": now.velocity,
    }


def _loss(m: float, k: float, b: float) -> float:
    return 1.0 - damping.energy_share(m, b, damping.damped_period(m, k, b))


def draw(values: Values) -> Drawing:
    """The motion from its start until little is left, between the curves that the peaks follow."""
    m, k, b, x0, v0, t = (values[key] for key in ("m", "k", "b", "x0", "v0", "t"))
    T_d = values.get("T_d")
    if T_d:
        swings = min(12.0, max(3.0, 3.0 * values["tau"] / T_d)) if "tau" in values else 4.0
        end = swings * T_d
    else:
        end = 5.0 / values["rate_slow"]
    if t <= 3.0 * end:
        end = max(end, 1.05 * t)
    count = int(min(_MOST_POINTS, max(240.0, 40.0 * end / T_d if T_d else 0.0)))
    times = spread(0.0, end, count)
    curves = {"x": (times, [damping.damped_motion(m, k, b, x0, v0, one).position for one in times])}
    if T_d and b > 0.0:
        heights = [damping.envelope(m, k, b, x0, v0, one) for one in times]
        curves |= {"above": (times, heights), "below": (times, [-one for one in heights])}
    return Drawing(curves, {"now": (t, values["x"]) if t <= end else None})


def _position(values: Values) -> str:
    if values["regime"] == "underdamped":
        return "exp(-gamma*t)*(x0*cos(omega_d*t) + (v0 + gamma*x0)/omega_d*sin(omega_d*t))"
    if values["regime"] == "critical":
        return "exp(-gamma*t)*(x0 + (v0 + gamma*x0)*t)"
    if values["zeta"] < 1.0 + _NEAR_CRITICAL:
        return ""
    return "((v0 + rate_fast*x0)*exp(-rate_slow*t) - (v0 + rate_slow*x0)*exp(-rate_fast*t))/(rate_fast - rate_slow)"


def _velocity(values: Values) -> str:
    if values["regime"] == "underdamped":
        return "exp(-gamma*t)*(v0*cos(omega_d*t) - (gamma*v0 + omega_0**2*x0)/omega_d*sin(omega_d*t))"
    if values["regime"] == "critical":
        return "exp(-gamma*t)*(v0 - gamma*(v0 + gamma*x0)*t)"
    if values["zeta"] < 1.0 + _NEAR_CRITICAL:
        return ""
    return (
        "(rate_fast*(v0 + rate_slow*x0)*exp(-rate_fast*t) - rate_slow*(v0 + rate_fast*x0)*exp(-rate_slow*t))"
        "/(rate_fast - rate_slow)"
    )


def _fast(values: Values) -> str:
    return "gamma" if values["regime"] == "critical" else "gamma + sqrt(gamma**2 - omega_0**2)"


calculator = Calculator(
    title="Damped oscillation",
    purpose="How a mass on a spring comes to rest when the resistive force is proportional to its velocity.",
    inputs=(
        mass("1000 kg", slider=("100 kg", "3000 kg"), step="100 kg"),
        stiffness("6.3 kN/m", slider=("1 kN/m", "20 kN/m"), step="0.1 kN/m"),
        resistance("250 kg/s", slider=("0 kg/s", "8000 kg/s"), step="50 kg/s"),
        Input(
            key="x0",
            symbol="x_0",
            meaning="initial displacement",
            unit="m",
            also=("cm", "mm"),
            default="30 cm",
            lowest="-1e9 m",
            highest="1e9 m",
            slider=("-50 cm", "50 cm"),
            step="5 cm",
            parameter="position",
        ),
        Input(
            key="v0",
            symbol="v_0",
            meaning="initial velocity",
            unit="m/s",
            also=("cm/s", "mm/s"),
            default="0 m/s",
            lowest="-1e9 m/s",
            highest="1e9 m/s",
            slider=("-2 m/s", "2 m/s"),
            step="0.1 m/s",
            parameter="velocity",
        ),
        Input(
            key="t",
            symbol="t",
            meaning="time",
            unit="s",
            also=("ms", "min"),
            default="2 s",
            lowest="0 s",
            highest="1e9 s",
            slider=("0 s", "20 s"),
            step="0.1 s",
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
            key="gamma",
            symbol=r"\gamma",
            meaning="damping coefficient",
            unit="1/s",
            formula="b/(2*m)",
        ),
        Output(
            key="b_critical",
            symbol=r"b_{\mathrm{c}}",
            meaning="damping constant for critical damping",
            unit="kg/s",
            formula="2*sqrt(m*k)",
            shown_in="b",
        ),
        Output(key="zeta", symbol=r"\zeta", meaning="damping ratio", unit="1", formula="b/(2*sqrt(m*k))"),
        Output(
            key="regime",
            symbol="",
            meaning="kind of damping",
            unit="",
            method="Damping ratio below 1: underdamped, it oscillates. Equal to 1: critical. Above 1: overdamped, it "
            "returns "
            "slowly without oscillating.",
        ),
        Output(
            key="omega_d",
            symbol=r"\omega_{\mathrm{d}}",
            meaning="angular frequency of the damped oscillation",
            unit="rad/s",
            formula="sqrt(omega_0**2 - gamma**2)",
        ),
        Output(
            key="T_d",
            symbol=r"T_{\mathrm{d}}",
            meaning="period of the damped oscillation",
            unit="s",
            formula="2*pi/omega_d",
        ),
        Output(
            key="rate_fast",
            symbol=r"\gamma_{\mathrm{fast}}",
            meaning="faster decay rate",
            unit="1/s",
            formula=_fast,
        ),
        Output(
            key="rate_slow",
            symbol=r"\gamma_{\mathrm{slow}}",
            meaning="slower decay rate, which decides how long the return takes",
            unit="1/s",
            formula="omega_0**2/rate_fast",
        ),
        Output(key="Q", symbol="Q", meaning="quality factor", unit="1", formula="sqrt(m*k)/b"),
        Output(
            key="log_decrement",
            symbol=r"\Lambda",
            meaning="logarithmic decrement",
            unit="1",
            formula="gamma*T_d",
        ),
        Output(
            key="loss",
            symbol=r"E_{\mathrm{lost}}/E",
            meaning="fraction of the energy lost in each period",
            unit="1",
            formula="1 - exp(-2*log_decrement)",
            shown_in="%",
            dust_of="zeta",
        ),
        Output(
            key="tau",
            symbol=r"\tau",
            meaning="time constant",
            unit="s",
            formula="1/gamma",
        ),
        Output(
            key="t_half",
            symbol=r"t_{1/2}",
            meaning="time for the amplitude to halve",
            unit="s",
            formula="ln(2)/gamma",
        ),
        Output(
            key="x",
            symbol="x",
            meaning="displacement",
            unit="m",
            formula=_position,
            method="In the form that belongs to this kind of damping.",
            shown_in="x0",
            dust_of="x0",
        ),
        Output(
            key="v",
            symbol="v",
            meaning="velocity",
            unit="m/s",
            formula=_velocity,
            method="The derivative of the position.",
            dust_of="v0",
        ),
    ),
    function=find,
    picture=Picture(
        caption="Displacement against time, with the envelope if it oscillates",
        panels=(
            Panel(
                horizontal=Axis(symbol="t", meaning="time", unit="s", shown_in="t"),
                vertical=Axis(symbol="x", meaning="displacement", unit="m", shown_in="x0"),
                curves=(
                    Curve(key="x", label="x", role="position"),
                    Curve(key="above", label="envelope", role="second", line="dashes"),
                    Curve(key="below", label="", role="second", line="dashes"),
                ),
                marks=(Mark(key="now", label="now", role="position"),),
            ),
        ),
        draw=draw,
    ),
    cautions=(
        Caution(
            text="The damping is within 0.1 % of critical: rounding alone decides on which side of it these numbers "
            "fall.",
            when=lambda values: values["regime"] != "critical" and abs(values["zeta"] - 1.0) < 1e-3,
        ),
    ),
    checks=(
        PublishedCheck(
            source="B. Crowell, Light and Matter, self-check on damping and energy: the amplitude halves in each "
            "cycle, so three quarters of the energy go; the damping that does it is computed here",
            given={"m": "1 kg", "k": "1 N/m", "b": "0.219305162 kg/s"},
            expect={"loss": "75.000 %", "log_decrement": "0.69315"},
        ),
        PublishedCheck(
            source="OpenStax, Calculus Volume 3, section 7.3, checkpoint 7.19: an underdamped mass of 1 kg",
            given={"m": "1 kg", "k": "20 N/m", "b": "4 kg/s", "x0": "-0.24 m"},
            expect={"gamma": "2.0000 1/s", "omega_d": "4.0000 rad/s", "regime": "underdamped"},
        ),
        PublishedCheck(
            source="OpenStax, Calculus Volume 3, section 7.3, example 7.22: a motorcycle’s suspension, overdamped; the "
            "same numbers in SI units",
            given={"m": "12 kg", "k": "1152 N/m", "b": "240 kg/s"},
            expect={"rate_slow": "8.0000 1/s", "rate_fast": "12.0000 1/s", "regime": "overdamped"},
        ),
        PublishedCheck(
            source="OpenStax, Calculus Volume 3, section 7.3, checkpoint 7.18: critical; the same numbers in SI units, "
            "its closed form evaluated at 0.25 s",
            given={"m": "0.03125 kg", "k": "2 N/m", "b": "0.5 kg/s", "x0": "0.5 m", "t": "0.25 s"},
            expect={"gamma": "8.0000 1/s", "x": "0.2030029 m", "regime": "critical"},
        ),
        PublishedCheck(
            source="OpenStax, Calculus Volume 3, section 7.3, exercise 95: called underdamped there, but critical by "
            "its own numbers",
            given={"m": "1 kg", "k": "16 N/m", "b": "8 kg/s", "x0": "5 m", "v0": "-10 m/s"},
            expect={"regime": "critical"},
        ),
        PublishedCheck(
            source="B. Crowell, Simple Nature, chapter on oscillations, output of its listing: successive turning "
            "points of a swing released at 1 m",
            given={"m": "1 kg", "k": "39.4784 N/m", "b": "0.211 kg/s", "x0": "1 m", "t": "1.00014 s"},
            expect={"T_d": "1.00 s", "x": "0.900 m"},
        ),
    ),
)
