"""A swing that dies away is the projection of a point that turns steadily on a shrinking radius."""

import math

from crankpin.calculator.common import mass, resistance, stiffness
from crankpin.calculator.curves import Drawing, Picture, spread
from crankpin.calculator.declaration import Calculator, Input, Output, PublishedCheck, Values
from crankpin.calculator.faults import RefusedError
from crankpin.calculator.tracks import STEPS_A_TURN, track_panels, tracks
from crankpin.mechanics import circular, damping
from crankpin.mechanics.circular import PlaneMotion

#: The run ends after so many swings.
_SWINGS = 5


def find(m: float, k: float, b: float, x0: float) -> dict[str, float]:
    """The rates of turning and shrinking."""
    critical = damping.critical_damping(m, k)
    if not b < critical:
        raise RefusedError("b", "below critical damping, at which nothing oscillates any more", highest=critical)
    period = damping.damped_period(m, k, b)
    return {
        "gamma": damping.damping_coefficient(m, b),
        "omega_d": damping.damped_angular_frequency(m, k, b),
        "T_d": period,
        "f": circular.frequency(damping.damped_angular_frequency(m, k, b)),
        "left": damping.amplitude_share(m, b, period),
    }


def draw(values: Values) -> Drawing:
    """A few swings from the release at rest.

    The point across the line is the same motion from another start: a quarter of a turn behind on the spiral.
    """
    m, k, b, x0 = (values[key] for key in ("m", "k", "b", "x0"))
    rate, gamma = values["omega_d"], values["gamma"]
    terms = damping.swing_terms(m, k, b, x0, 0.0)
    across = (-terms.sine, gamma * terms.sine + rate * terms.cosine)
    times = spread(0.0, _SWINGS * values["T_d"], _SWINGS * STEPS_A_TURN + 1)

    def at(time: float) -> PlaneMotion:
        x, y = damping.damped_motion(m, k, b, x0, 0.0, time), damping.damped_motion(m, k, b, *across, time)
        a_x, a_y = (-(k * one.position + b * one.velocity) / m for one in (x, y))
        return PlaneMotion(x.position, y.position, x.velocity, y.velocity, a_x, a_y)

    start = math.atan2(-terms.sine, terms.cosine)
    return tracks(times, [at(one) for one in times], [circular.angle(rate, one, start) for one in times])


calculator = Calculator(
    title="A damped oscillation and its spiral",
    purpose="The point turns at a steady rate while its radius shrinks by the same fraction in every turn.",
    inputs=(
        mass("1000 kg", slider=("100 kg", "3000 kg"), step="100 kg"),
        stiffness("6.3 kN/m", slider=("1 kN/m", "20 kN/m"), step="0.1 kN/m"),
        resistance("250 kg/s", slider=("0 kg/s", "2000 kg/s"), step="50 kg/s"),
        Input(
            key="x0",
            symbol="x_0",
            meaning="position at t = 0, where it is released from rest",
            unit="m",
            also=("cm", "mm"),
            default="30 cm",
            lowest="1e-6 m",
            highest="1e6 m",
            slider=("5 cm", "50 cm"),
            step="5 cm",
            parameter="position",
        ),
    ),
    outputs=(
        Output(key="gamma", symbol=r"\gamma", meaning="damping coefficient", unit="1/s", formula="b/(2*m)"),
        Output(
            key="omega_d",
            symbol=r"\omega_{\mathrm{d}}",
            meaning="angular frequency with damping",
            unit="rad/s",
            formula="sqrt(k/m - gamma**2)",
        ),
        Output(key="T_d", symbol=r"T_{\mathrm{d}}", meaning="period with damping", unit="s", formula="2*pi/omega_d"),
        Output(key="f", symbol="f", meaning="frequency", unit="Hz", formula="1/T_d"),
        Output(
            key="left",
            symbol=r"A_1/A_0",
            meaning="fraction of the radius left after one turn",
            unit="1",
            formula="exp(-gamma*T_d)",
            shown_in="%",
        ),
    ),
    function=find,
    picture=Picture(
        caption="A point on a shrinking spiral, and its projection on a line",
        panels=track_panels(length_in="x0"),
        draw=draw,
    ),
    checks=(
        PublishedCheck(
            source="B. Crowell, Simple Nature, chapter on oscillations, output of its listing: successive turning "
            "points of a swing released at 1 m",
            given={"m": "1 kg", "k": "39.4784 N/m", "b": "0.211 kg/s", "x0": "1 m"},
            expect={"T_d": "1.00 s", "left": "90.0 %"},
        ),
    ),
)
