"""Speeding up: a wheel with constant angular acceleration, and the two parts of the acceleration at its rim."""

from typing import Any

from crankpin.calculator.common import radius
from crankpin.calculator.curves import Axis, Curve, Drawing, Mark, Panel, Picture, spread
from crankpin.calculator.declaration import Calculator, Caution, Input, Output, PublishedCheck, Values
from crankpin.calculator.faults import Absent
from crankpin.mechanics import circular, rotation

_NO_STOP = Absent("Its angular acceleration does not oppose its turning, so it does not come to rest.")


def find(r: float, omega_0: float, alpha: float, t: float) -> dict[str, Any]:
    """Rate, angle and accelerations after the time t, and where it would come to rest."""
    omega = rotation.rate_after(omega_0, alpha, t)
    theta = rotation.angle_after(omega_0, alpha, t)
    a_c = circular.centripetal_acceleration(r, omega)
    a_t = rotation.tangential_acceleration(r, alpha)
    a, delta = rotation.total_acceleration(a_c, a_t)
    stops = omega_0 > 0.0 > alpha
    return {
        "omega": omega,
        "n": circular.rotational_frequency_rpm(omega),
        "theta": theta,
        "N": circular.turns(theta),
        "s": circular.arc_length(r, theta),
        "v": circular.rim_speed(r, omega),
        "a_c": a_c,
        "a_t": a_t,
        "a": a,
        "delta": delta,
        "t_stop": rotation.stopping_time(omega_0, alpha) if stops else _NO_STOP,
        "N_stop": circular.turns(rotation.stopping_angle(omega_0, alpha)) if stops else _NO_STOP,
    }


def draw(values: Values) -> Drawing:
    """Rate, turns and accelerations from the start to a little beyond the time asked for."""
    r, omega_0, alpha, t = (values[key] for key in ("r", "omega_0", "alpha", "t"))
    times = spread(0.0, 1.25 * t if t > 0.0 else 1.0, 121)
    rates = [rotation.rate_after(omega_0, alpha, time) for time in times]
    turns = [circular.turns(rotation.angle_after(omega_0, alpha, time)) for time in times]
    along = abs(values["a_t"])
    return Drawing(
        {
            "omega": (times, rates),
            "N": (times, turns),
            "a_c": (times, [circular.centripetal_acceleration(r, rate) for rate in rates]),
            "a_t": ([times[0], times[-1]], [along, along]),
        },
        {
            "rate": (t, values["omega"]),
            "turned": (t, values["N"]),
            "inward": (t, values["a_c"]),
            "along": (t, along),
        },
    )


_TIME = Axis(symbol="t", meaning="time", unit="s", shown_in="t")

calculator = Calculator(
    title="A wheel that speeds up or slows down",
    purpose="Angular velocity, turns and the whole acceleration of a rim point under constant angular acceleration.",
    inputs=(
        radius(),
        Input(
            key="omega_0",
            symbol=r"\omega_0",
            meaning="angular velocity at the start",
            unit="rad/s",
            also=("rpm", "deg/s", "Hz"),
            default="0 rad/s",
            lowest="0 rad/s",
            highest="1e20 rad/s",
            slider=("0 rpm", "60 rpm"),
            step="0.5 rad/s",
            parameter="start_rate",
            help="Zero for a wheel that starts from rest.",
        ),
        Input(
            key="alpha",
            symbol=r"\alpha",
            meaning="angular acceleration",
            unit="rad/s2",
            also=("deg/s2", "rpm/s"),
            default="0.02 rad/s2",
            lowest="-1e20 rad/s2",
            highest="1e20 rad/s2",
            slider=("-0.1 rad/s2", "0.1 rad/s2"),
            step="0.005 rad/s2",
            parameter="angular_acceleration",
            help="Negative for a wheel that slows down.",
        ),
        Input(
            key="t",
            symbol="t",
            meaning="time since the start",
            unit="s",
            also=("ms", "min", "h"),
            default="20 s",
            lowest="0 s",
            highest="1e18 s",
            slider=("0 s", "60 s"),
            step="1 s",
            parameter="time",
        ),
    ),
    outputs=(
        Output(
            key="omega",
            symbol=r"\omega",
            meaning="angular velocity after this time",
            unit="rad/s",
            formula="omega_0 + alpha*t",
            dust_of="omega_0",
        ),
        Output(
            key="n",
            symbol="n",
            meaning="rotational frequency after this time",
            unit="rpm",
            formula='quantity(60, "s/min")*abs(omega)/(2*pi)',
        ),
        Output(
            key="theta",
            symbol=r"\theta",
            meaning="angle turned",
            unit="rad",
            formula="omega_0*t + alpha*t**2/2",
        ),
        Output(key="N", symbol="N", meaning="turns made", unit="1", formula="theta/(2*pi)"),
        Output(key="s", symbol="s", meaning="arc along the circle", unit="m", formula="r*theta"),
        Output(key="v", symbol="v", meaning="speed along the circle", unit="m/s", formula="r*abs(omega)"),
        Output(
            key="a_c",
            symbol=r"a_{\mathrm{c}}",
            meaning="centripetal acceleration",
            unit="m/s2",
            formula="r*omega**2",
        ),
        Output(
            key="a_t",
            symbol=r"a_{\mathrm{t}}",
            meaning="tangential acceleration",
            unit="m/s2",
            formula="r*alpha",
        ),
        Output(
            key="a",
            symbol="a",
            meaning="magnitude of the whole acceleration",
            unit="m/s2",
            formula="sqrt(a_c**2 + a_t**2)",
        ),
        Output(
            key="delta",
            symbol=r"\delta",
            meaning="angle between the acceleration and the radius",
            unit="rad",
            formula=lambda values: "arctan(a_t/a_c)" if values["a_c"] else "",
            method="Positive: the rim is pushed on, the way angles grow. Negative: it is pushed back.",
            shown_in="deg",
        ),
        Output(
            key="t_stop",
            symbol=r"t_{\mathrm{stop}}",
            meaning="time to come to rest",
            unit="s",
            formula="-omega_0/alpha",
            shown_in="t",
        ),
        Output(
            key="N_stop",
            symbol=r"N_{\mathrm{stop}}",
            meaning="turns made before it comes to rest",
            unit="1",
            formula="-omega_0**2/(4*pi*alpha)",
        ),
    ),
    function=find,
    picture=Picture(
        caption="Angular velocity, turns, and the two parts of the acceleration",
        panels=(
            Panel(
                horizontal=_TIME,
                vertical=Axis(symbol=r"\omega", meaning="angular velocity", unit="rad/s", shown_in="omega_0"),
                curves=(Curve(key="omega", label="angular velocity", role="velocity"),),
                marks=(Mark(key="rate", label="", role="velocity"),),
            ),
            Panel(
                horizontal=_TIME,
                vertical=Axis(symbol="N", meaning="turns", unit="1"),
                curves=(Curve(key="N", label="turns", role="position"),),
                marks=(Mark(key="turned", label="", role="position"),),
            ),
            Panel(
                horizontal=_TIME,
                vertical=Axis(symbol="a", meaning="magnitude of the acceleration", unit="m/s2"),
                curves=(
                    Curve(key="a_c", label="centripetal", role="acceleration"),
                    Curve(key="a_t", label="tangential", role="second", line="dashes"),
                ),
                marks=(Mark(key="inward", label="", role="acceleration"), Mark(key="along", label="", role="second")),
            ),
        ),
        draw=draw,
    ),
    cautions=(
        Caution(
            text="By this time it has come to rest. The numbers hold for a wheel that then turns back with the same "
            "angular acceleration; a brake would leave it at rest.",
            when=lambda values: values["omega_0"] > 0.0 and values["omega"] < -1e-9 * values["omega_0"],
        ),
        Caution(
            text="At this rate the rim’s acceleration is greater than that of free fall: guard a real wheel, leave "
            "nothing loose on it, keep below the maker’s greatest speed, and follow your school’s own rules.",
            when=lambda values: values["a"] > 9.81,
        ),
    ),
    checks=(
        PublishedCheck(
            source="OpenStax, University Physics Volume 1, section 10.2, exercise 41: a wheel after ten seconds",
            given={"r": "1.0 m", "omega_0": "2.0 rad/s", "alpha": "4.0 rad/s2", "t": "10 s"},
            expect={"omega": "42.0 rad/s", "theta": "220 rad", "v": "42 m/s", "a_t": "4.0 m/s2"},
        ),
        PublishedCheck(
            source="OpenStax, College Physics 2e, section 10.2, example 10.3: line runs off a reel",
            given={"r": "4.5 cm", "omega_0": "0 rad/s", "alpha": "110 rad/s2", "t": "2.0 s"},
            expect={"omega": "220 rad/s", "v": "9.90 m/s", "N": "35.0", "s": "9.90 m"},
        ),
        PublishedCheck(
            source="OpenStax, College Physics 2e, section 10.2, exercise 7: a gyroscope slows down",
            given={"omega_0": "32.0 rad/s", "alpha": "-0.700 rad/s2"},
            expect={"t_stop": "45.7 s", "N_stop": "116"},
        ),
        PublishedCheck(
            source="OpenStax, University Physics Volume 1, section 10.3, exercise 49: the tip of a slowing blade",
            note="The angular acceleration is that of half a turn per second to rest in ten seconds, −π/10 rad/s².",
            given={"r": "20 m", "omega_0": "0.5 Hz", "alpha": "-0.3141592654 rad/s2", "t": "0 s"},
            expect={"a_c": "197.4 m/s2", "a": "197.5 m/s2", "delta": "-1.8 deg"},
        ),
    ),
)
