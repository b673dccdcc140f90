"""Spring and mass: the motion of a mass on a spring that may have a mass of its own."""

from crankpin.calculator.common import amplitude, mass, stiffness
from crankpin.calculator.curves import Axis, Curve, Drawing, Mark, Panel, Picture, two_periods
from crankpin.calculator.declaration import Calculator, Caution, Input, Output, PublishedCheck, Values
from crankpin.mechanics import circular, energy, harmonic, springs


def find(k: float, m: float, m_spring: float, A: float) -> dict[str, float]:
    """The rate of the motion, its greatest values and its energy."""
    swinging = springs.effective_mass(m, m_spring)
    omega = springs.angular_frequency(k, swinging)
    return {
        "m_eff": swinging,
        "omega": omega,
        "f": circular.frequency(omega),
        "T": circular.period(omega),
        "v_max": harmonic.greatest_speed(A, omega),
        "a_max": harmonic.greatest_acceleration(A, omega),
        "F_max": abs(springs.force(k, A)),
        "E": energy.potential(k, A),
    }


def draw(values: Values) -> Drawing:
    """Two periods after a release at the positive end: position, and the force that drives the mass back."""
    k, A, omega, T = (values[key] for key in ("k", "A", "omega", "T"))
    times = two_periods(0.0, T)
    positions = [harmonic.position(A, omega, 0.0, one) for one in times]
    return Drawing(
        {"x": (times, positions), "F": (times, [springs.force(k, one) for one in positions])},
        {"period": (T, A), "force": (0.5 * T, values["F_max"])},
    )


_TIME = Axis(symbol="t", meaning="time", unit="s")

calculator = Calculator(
    title="A mass on a spring",
    purpose="Period, maximum speed, acceleration and force, and energy of a mass that oscillates on a spring.",
    inputs=(
        stiffness(),
        mass(),
        Input(
            key="m_spring",
            symbol=r"m_{\mathrm{s}}",
            meaning="mass of the spring",
            unit="kg",
            also=("g",),
            default="0 g",
            lowest="0 kg",
            highest="1e9 kg",
            slider=("0 g", "200 g"),
            step="5 g",
            parameter="spring_mass",
            help="0 if the spring is much lighter than the mass.",
        ),
        amplitude("5 cm", slider=("1 cm", "20 cm")),
    ),
    outputs=(
        Output(
            key="m_eff",
            symbol=r"m_{\mathrm{eff}}",
            meaning="effective mass",
            unit="kg",
            formula="m + m_spring/3",
            shown_in="m",
            method="About a third of the mass of a uniform spring moves with the load, if the spring is no heavier "
            "than it.",
        ),
        Output(key="omega", symbol=r"\omega", meaning="angular frequency", unit="rad/s", formula="sqrt(k/m_eff)"),
        Output(key="f", symbol="f", meaning="frequency", unit="Hz", formula="omega/(2*pi)"),
        Output(key="T", symbol="T", meaning="period", unit="s", formula="1/f"),
        Output(key="v_max", symbol=r"v_{\max}", meaning="maximum speed", unit="m/s", formula="A*omega"),
        Output(key="a_max", symbol=r"a_{\max}", meaning="maximum acceleration", unit="m/s2", formula="A*omega**2"),
        Output(
            key="F_max",
            symbol=r"F_{\max}",
            meaning="maximum restoring force",
            unit="N",
            formula="k*A",
        ),
        Output(key="E", symbol="E", meaning="total energy of the oscillation", unit="J", formula="k*A**2/2"),
    ),
    function=find,
    picture=Picture(
        caption="Position and force after release at the positive end",
        panels=(
            Panel(
                horizontal=_TIME,
                vertical=Axis(symbol="x", meaning="position", unit="m", shown_in="A"),
                curves=(Curve(key="x", label="x", role="position"),),
                marks=(Mark(key="period", label="one period", role="position"),),
            ),
            Panel(
                horizontal=_TIME,
                vertical=Axis(symbol="F", meaning="force, positive in the direction of positive positions", unit="N"),
                curves=(Curve(key="F", label="F"),),
                marks=(Mark(key="force", label="greatest"),),
            ),
        ),
        draw=draw,
    ),
    cautions=(
        Caution(
            text="The spring is heavier than its load: more than a third of its mass then counts, up to 0.41 of it "
            "with no load at all. Expect a slightly longer period.",
            when=lambda values: values["m_spring"] > values["m"],
        ),
        Caution(
            text="A stretched spring can fly off: wear eye protection, keep feet and faces away, put something soft "
            "under a hanging mass, and follow your school’s own rules.",
        ),
    ),
    checks=(
        PublishedCheck(
            source="OpenStax, University Physics Volume 1, section 15.1, example 15.2: a block on a spring",
            given={"k": "32 N/m", "m": "2.00 kg", "A": "0.02 m"},
            expect={"T": "1.57 s", "omega": "4.00 rad/s", "v_max": "0.08 m/s", "a_max": "0.32 m/s2"},
        ),
        PublishedCheck(
            source="OpenStax, College Physics 2e, section 16.5, problem 35: a climber on a rope",
            given={"k": "1.40e4 N/m", "m": "90.0 kg"},
            expect={"f": "1.99 Hz"},
        ),
        PublishedCheck(
            source="OpenStax, University Physics Volume 1, chapter 15, problem 69: a block that steadies a tower",
            given={"k": "3.95e6 N/m", "m": "4.00e5 kg", "A": "2.00 m"},
            expect={"T": "2.00 s", "E": "7.90e6 J"},
        ),
    ),
)
