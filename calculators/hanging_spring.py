"""Hanging spring: how far a hung mass stretches it, and how the mass bobs about that place."""

from crankpin.calculator.common import gravity, mass, stiffness
from crankpin.calculator.curves import Axis, Curve, Drawing, Mark, Panel, Picture, two_periods
from crankpin.calculator.declaration import Calculator, Caution, Output, PublishedCheck, Values
from crankpin.mechanics import circular, harmonic, springs, vertical_circle


def find(m: float, k: float, g: float) -> dict[str, float]:
    """The stretch at rest and the rate of the motion, on which g has no part."""
    omega = springs.angular_frequency(k, m)
    return {
        "F_g": vertical_circle.weight(m, g),
        "stretch": springs.static_stretch(m, k, g),
        "omega": omega,
        "f": circular.frequency(omega),
        "T": circular.period(omega),
    }


def draw(values: Values) -> Drawing:
    """Two periods of a mass let go with the spring unstretched: it sinks to twice the stretch at rest."""
    rest, omega, T = (values[key] for key in ("stretch", "omega", "T"))
    times = two_periods(0.0, T)
    return Drawing(
        {
            "y": (times, [harmonic.position(rest, omega, 0.0, one) - rest for one in times]),
            "rest": ([0.0, 2.0 * T], [-rest, -rest]),
        },
        {"lowest": (0.5 * T, -2.0 * rest)},
    )


calculator = Calculator(
    title="A mass hanging on a spring",
    purpose="How far the mass stretches the spring at rest, and how it oscillates about that equilibrium position.",
    inputs=(mass(), stiffness(), gravity()),
    outputs=(
        Output(key="F_g", symbol=r"F_{\mathrm{g}}", meaning="weight", unit="N", formula="m*g"),
        Output(
            key="stretch",
            symbol="s",
            meaning="extension at rest",
            unit="m",
            formula="F_g/k",
            shown_in="cm",
        ),
        Output(key="omega", symbol=r"\omega", meaning="angular frequency", unit="rad/s", formula="sqrt(k/m)"),
        Output(key="f", symbol="f", meaning="frequency", unit="Hz", formula="omega/(2*pi)"),
        Output(key="T", symbol="T", meaning="period", unit="s", formula="1/f"),
    ),
    function=find,
    picture=Picture(
        caption="Released with the spring at its natural length: height above the point of release",
        panels=(
            Panel(
                horizontal=Axis(symbol="t", meaning="time", unit="s"),
                vertical=Axis(symbol="y", meaning="height", unit="m", shown_in="cm"),
                curves=(
                    Curve(key="y", label="y", role="position"),
                    Curve(key="rest", label="equilibrium", role="second", line="dashes"),
                ),
                marks=(Mark(key="lowest", label="lowest", role="position"),),
            ),
        ),
        draw=draw,
    ),
    cautions=(
        Caution(
            text="A hanging mass can fall and a spring can fly up: wear eye protection, keep feet and faces away, put "
            "something soft below, clamp the stand, and follow your school’s own rules.",
        ),
    ),
    checks=(
        PublishedCheck(
            source="OpenStax, Calculus Volume 3, section 7.3, exercise 89: 400 g stretch a spring by 5 cm",
            note="The stiffness follows from the stretch: 0.4 kg times 9.8 m/s² over 0.05 m.",
            given={"m": "400 g", "k": "78.4 N/m", "g": "9.8 m/s2"},
            expect={"stretch": "5.000 cm", "omega": "14.00 rad/s", "T": "0.44880 s", "f": "2.22817 Hz"},
        ),
        PublishedCheck(
            source="OpenStax, College Physics 2e, section 16.8, problem 44: a hung mass",
            given={"m": "0.500 kg", "k": "40.0 N/m", "g": "9.80 m/s2"},
            expect={"stretch": "0.123 m"},
        ),
        PublishedCheck(
            source="OpenStax, University Physics Volume 1, chapter 15, problem 59: a child in a bouncer",
            given={"m": "8 kg", "k": "314 N/m", "g": "9.80 m/s2"},
            expect={"stretch": "0.25 m", "T": "1.00 s"},
        ),
    ),
)
