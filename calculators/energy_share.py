"""Energy share: how much of the energy is potential and how much kinetic at one position."""

from math import pi

from crankpin.calculator.common import amplitude, mass, stiffness
from crankpin.calculator.curves import Axis, Curve, Drawing, Mark, Panel, Picture, spread
from crankpin.calculator.declaration import Calculator, Caution, Input, Output, PublishedCheck, Values
from crankpin.calculator.faults import RefusedError
from crankpin.mechanics import energy, harmonic, springs


def find(m: float, k: float, A: float, x: float) -> dict[str, float]:
    """The energies and the speed at the position x."""
    if abs(x) > A:
        raise RefusedError("x", "within the amplitude A", lowest=-A, highest=A)
    shares = energy.energy_share(m, k, A, x)
    return {
        "E": shares.total,
        "U": shares.potential,
        "K": shares.kinetic,
        "v": shares.speed,
        "K_share": energy.kinetic_share(A, x),
        "x_half": energy.position_at_kinetic_share(A, 0.5),
    }


def draw(values: Values) -> Drawing:
    """The energies against position, and over one period after release at the positive end."""
    m, k, A, x, E = (values[key] for key in ("m", "k", "A", "x", "E"))
    omega = springs.angular_frequency(k, m)
    places = spread(-A, A, 241)
    times = spread(0.0, 2.0 * pi / omega, 241)
    stored = [energy.potential(k, harmonic.position(A, omega, 0.0, t)) for t in times]
    carried = [energy.kinetic(m, harmonic.velocity(A, omega, 0.0, t)) for t in times]
    return Drawing(
        {
            "U": (places, [energy.potential(k, one) for one in places]),
            "K": (places, [energy.energy_share(m, k, A, one).kinetic for one in places]),
            "E": ([-A, A], [E, E]),
            "U_t": (times, stored),
            "K_t": (times, carried),
            "E_t": ([times[0], times[-1]], [E, E]),
        },
        {"stored": (x, values["U"]), "carried": (x, values["K"])},
    )


_ENERGY = Axis(symbol="E", meaning="energy", unit="J")

calculator = Calculator(
    title="Potential and kinetic energy",
    purpose="Potential energy, kinetic energy and speed at any position of an oscillation.",
    inputs=(
        mass(),
        stiffness(),
        amplitude("5 cm", slider=("1 cm", "20 cm")),
        Input(
            key="x",
            symbol="x",
            meaning="position",
            unit="m",
            also=("cm", "mm"),
            default="3 cm",
            lowest="-1e9 m",
            highest="1e9 m",
            slider=("-5 cm", "5 cm"),
            step="1 cm",
            parameter="position",
            help="From equilibrium.",
        ),
    ),
    outputs=(
        Output(key="E", symbol="E", meaning="total energy", unit="J", formula="k*A**2/2"),
        Output(
            key="U",
            symbol="U",
            meaning="potential energy, measured from equilibrium",
            unit="J",
            formula="k*x**2/2",
            method="A spring that moves level holds this energy itself. For a mass that hangs on a spring it is the "
            "energy "
            "of spring and weight together, above that at the equilibrium position.",
            dust_of="E",
        ),
        Output(
            key="K",
            symbol="K",
            meaning="kinetic energy",
            unit="J",
            formula="E - U",
            dust_of="E",
        ),
        Output(key="v", symbol="v", meaning="speed", unit="m/s", formula="sqrt(2*K/m)"),
        Output(
            key="K_share",
            symbol="K/E",
            meaning="kinetic energy as a fraction of the total energy",
            unit="1",
            formula="1 - (x/A)**2",
            shown_in="%",
        ),
        Output(
            key="x_half",
            symbol=r"x_{1/2}",
            meaning="distance from equilibrium at which the two are equal",
            unit="m",
            formula="A/sqrt(2)",
            shown_in="A",
        ),
    ),
    function=find,
    picture=Picture(
        caption="The energies against position, and over one period",
        panels=(
            Panel(
                horizontal=Axis(symbol="x", meaning="position", unit="m", shown_in="A"),
                vertical=_ENERGY,
                curves=(
                    Curve(key="U", label="potential"),
                    Curve(key="K", label="kinetic", role="second", line="dashes"),
                    Curve(key="E", label="total", role="third", line="dots"),
                ),
                marks=(
                    Mark(key="stored", label="potential here"),
                    Mark(key="carried", label="kinetic here", role="second"),
                ),
            ),
            Panel(
                horizontal=Axis(symbol="t", meaning="time", unit="s"),
                vertical=_ENERGY,
                curves=(
                    Curve(key="U_t", label="potential"),
                    Curve(key="K_t", label="kinetic", role="second", line="dashes"),
                    Curve(key="E_t", label="total", role="third", line="dots"),
                ),
            ),
        ),
        draw=draw,
    ),
    cautions=(
        Caution(
            text="A spring can give its energy to a hook, or to an eye, in an instant: wear eye protection, start with "
            "small amplitudes, and follow your school’s own rules.",
        ),
    ),
    checks=(
        PublishedCheck(
            source="OpenStax, University Physics Volume 1, chapter 8, exercise 79: speeds of a block on a spring",
            given={"m": "0.2 kg", "k": "100 N/m", "A": "10.0 cm", "x": "5.0 cm"},
            expect={"v": "1.94 m/s"},
        ),
        PublishedCheck(
            source="OpenStax, University Physics Volume 1, section 15.6, exercise 53: the energy to be removed",
            given={"m": "1200 kg", "k": "5.00e4 N/m", "A": "0.0750 m", "x": "0 m"},
            expect={"E": "141 J", "U": "0.000 J", "K_share": "100 %"},
        ),
        PublishedCheck(
            source="OpenStax, University Physics Volume 2, section 14.5, exercise 67: where both energies are equal",
            note="The book has a charge on a capacitor for the position; its answer is 1 over the root of 2.",
            given={"A": "1 m", "x": "0 m"},
            expect={"x_half": "0.7071 m"},
        ),
    ),
)
