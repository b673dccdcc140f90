"""Slipping off: a body on a level turntable, the friction it needs, and the rate and the radius at which it slips."""

from typing import Any

from crankpin.calculator.common import gravity, or_absent, radius, static_friction, turning_rate
from crankpin.calculator.curves import Axis, Curve, Drawing, Mark, Panel, Picture, spread
from crankpin.calculator.declaration import Calculator, Caution, Input, Output, PublishedCheck, Values
from crankpin.calculator.faults import Absent
from crankpin.mechanics import circular, turntable

_TOO_SUDDEN = Absent("The table changes its rate so quickly that the body slips at once.")


def find(r: float, rate: float, mu: float, alpha: float, g: float) -> dict[str, Any]:
    """What friction must do now, and where it fails."""
    a = turntable.acceleration_on_table(r, rate, alpha)
    omega_slip = or_absent(turntable.slipping_rate, mu, r, g, alpha)
    return {
        "a_c": circular.centripetal_acceleration(r, rate),
        "a_t": r * abs(alpha),
        "a": a,
        "mu_needed": a / g,
        "a_most": turntable.greatest_acceleration(mu, g),
        "omega_slip": omega_slip,
        "n_slip": omega_slip if isinstance(omega_slip, Absent) else circular.rotational_frequency_rpm(omega_slip),
        "r_slip": turntable.slipping_radius(mu, rate, g, alpha),
    }


def draw(values: Values) -> Drawing:
    """The rate at which a body slips against its distance from the axle, with the body as it is."""
    r, mu, alpha, g = (values[key] for key in ("r", "mu", "alpha", "g"))
    farthest = 1.5 * max(r, min(values["r_slip"], 3.0 * r))
    radii = [one for one in spread(0.3 * r, farthest) if one * abs(alpha) < values["a_most"]]
    return Drawing(
        {"limit": (radii, [turntable.slipping_rate(mu, one, g, alpha) for one in radii])},
        {
            "here": (r, values["rate"]),
            "slips": (r, values["omega_slip"]) if "omega_slip" in values else None,
        },
    )


calculator = Calculator(
    title="On a turntable",
    purpose="Does a body on a level turntable stay in place, and at what rate or how far out does it slip?",
    inputs=(
        radius(
            "60 cm",
            meaning="distance from the axle to the body",
            slider=("10 cm", "300 cm"),
            step="5 cm",
            help="To its centre.",
        ),
        turning_rate("20 rpm", parameter="angular_velocity", meaning="turning rate of the table"),
        static_friction("0.4", lowest="1e-6", slider=("0.05", "1.2")),
        Input(
            key="alpha",
            symbol=r"\alpha",
            meaning="angular acceleration of the table",
            unit="rad/s2",
            also=("deg/s2", "rpm/s"),
            default="0 rad/s2",
            lowest="-1e9 rad/s2",
            highest="1e9 rad/s2",
            slider=("-2 rad/s2", "2 rad/s2"),
            step="0.1 rad/s2",
            parameter="angular_acceleration",
            help="Zero for a table that turns steadily. Friction must speed the body up as well.",
        ),
        gravity(),
    ),
    outputs=(
        Output(
            key="a_c",
            symbol=r"a_{\mathrm{c}}",
            meaning="centripetal acceleration",
            unit="m/s2",
            formula="r*rate**2",
        ),
        Output(
            key="a_t",
            symbol=r"a_{\mathrm{t}}",
            meaning="tangential acceleration, its size",
            unit="m/s2",
            formula="r*abs(alpha)",
        ),
        Output(
            key="a",
            symbol="a",
            meaning="magnitude of the acceleration that friction must give",
            unit="m/s2",
            formula="sqrt(a_c**2 + a_t**2)",
        ),
        Output(
            key="mu_needed",
            symbol=r"\mu_{\mathrm{need}}",
            meaning="least coefficient of friction that holds it",
            unit="1",
            formula="a/g",
            method="The mass cancels: a heavy body and a light one slip at the same rate.",
        ),
        Output(
            key="a_most",
            symbol=r"a_{\max}",
            meaning="greatest acceleration that friction can give",
            unit="m/s2",
            formula="mu*g",
        ),
        Output(
            key="omega_slip",
            symbol=r"\omega_{\mathrm{slip}}",
            meaning="angular velocity at which it slips, at this distance",
            unit="rad/s",
            formula="sqrt(sqrt(a_most**2 - a_t**2)/r)",
        ),
        Output(
            key="n_slip",
            symbol=r"n_{\mathrm{slip}}",
            meaning="the same in turns per minute",
            unit="rpm",
            formula='quantity(60, "s/min")*omega_slip/(2*pi)',
        ),
        Output(
            key="r_slip",
            symbol=r"r_{\mathrm{slip}}",
            meaning="distance beyond which a body slips, at this rate",
            unit="m",
            formula="a_most/sqrt(rate**4 + alpha**2)",
            shown_in="r",
        ),
    ),
    function=find,
    picture=Picture(
        caption="The angular velocity at which a body slips, against its distance from the axle: below the curve it "
        "stays in place",
        panels=(
            Panel(
                horizontal=Axis(symbol="r", meaning="distance from the axle", unit="m", shown_in="r"),
                vertical=Axis(symbol=r"\omega", meaning="angular velocity", unit="rad/s"),
                curves=(Curve(key="limit", label="slips"),),
                marks=(
                    Mark(key="here", label="this body", role="position"),
                    Mark(key="slips", label="limit here", role="second"),
                ),
            ),
        ),
        draw=draw,
    ),
    cautions=(
        Caution(
            text="Friction is too small: the body slips. Where a turntable stands in a room, keep what lies on it "
            "light and soft, stand clear of its plane, and follow your school’s own rules.",
            when=lambda values: values["mu_needed"] > values["mu"] * (1.0 + 1e-9),
        ),
    ),
    checks=(
        PublishedCheck(
            source="common practice, no source",
            note="Where distance times angular velocity squared is the coefficient times g, it just slips.",
            given={"r": "1 m", "rate": "2 rad/s", "mu": "0.4", "g": "10 m/s2"},
            expect={"mu_needed": "0.40000", "omega_slip": "2.00000 rad/s", "r_slip": "1.00000 m"},
        ),
        PublishedCheck(
            source="common practice, no source",
            note="Three and four make five: 4 m/s² inwards and 3 m/s² along the circle need a coefficient of a half.",
            given={"r": "1 m", "rate": "2 rad/s", "mu": "0.5", "alpha": "3 rad/s2", "g": "10 m/s2"},
            expect={"a": "5.00000 m/s2", "mu_needed": "0.50000", "omega_slip": "2.00000 rad/s"},
        ),
    ),
)
