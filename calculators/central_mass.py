"""Central mass: a planet weighed by its moon, and Kepler's third law for a second orbit round it."""

from crankpin.calculator.common import gravitational_constant, kepler_constant
from crankpin.calculator.curves import Axis, Curve, Drawing, Mark, Panel, Picture, spread
from crankpin.calculator.declaration import Calculator, Input, Output, PublishedCheck, Values
from crankpin.mechanics import circular, orbits
from crankpin.mechanics.constants import DAY, GRAVITATIONAL_CONSTANT


def find(r: float, T: float, r_2: float) -> dict[str, float]:
    """The mass from one orbit, and the period of the other."""
    omega = circular.angular_frequency_from_period(T)
    GM = orbits.gravitational_parameter(r, T)
    return {
        "omega": omega,
        "v": circular.rim_speed(r, omega),
        "a_c": circular.centripetal_acceleration(r, omega),
        "kepler": orbits.kepler_ratio(r, T),
        "G": GRAVITATIONAL_CONSTANT,
        "M": orbits.mass_of_parameter(GM),
        "T_2": orbits.orbital_period(GM, r_2),
        "v_2": orbits.orbital_speed(GM, r_2),
    }


def draw(values: Values) -> Drawing:
    """The period against the radius through both orbits, and the square of it against the cube: a straight line."""
    r, r_2, T, T_2 = (values[key] for key in ("r", "r_2", "T", "T_2"))
    farthest = 1.15 * max(r, r_2)
    radii = spread(0.0, farthest)[1:]
    GM = orbits.gravitational_parameter(r, T)
    return Drawing(
        {"T": ([0.0, *radii], [0.0, *(orbits.orbital_period(GM, radius) / DAY for radius in radii)])},
        {"first": (r, T / DAY), "second": (r_2, T_2 / DAY)},
    )


def _radius(key: str, symbol: str, meaning: str, default: str, help_: str) -> Input:
    return Input(
        key=key,
        symbol=symbol,
        meaning=meaning,
        unit="m",
        also=("km", "au", "ly"),
        default=default,
        lowest="1e-3 m",
        highest="1e24 m",
        slider=("100000 km", "2000000 km"),
        step="1000 km",
        parameter="radius",
        help=help_,
    )


calculator = Calculator(
    title="Weighed by its moon",
    purpose="The mass of a planet or a star from the orbit of a body round it, and the period of a second orbit.",
    inputs=(
        _radius("r", "r_1", "radius of the first orbit", "6.711e5 km", "From the centre of the body that is orbited."),
        Input(
            key="T",
            symbol="T_1",
            meaning="period of the first orbit",
            unit="s",
            also=("min", "h", "d", "yr"),
            default="3.551 d",
            lowest="1e-3 s",
            highest="1e18 s",
            slider=("1 d", "20 d"),
            step="0.1 d",
            parameter="period",
        ),
        _radius("r_2", "r_2", "radius of a second orbit round the same body", "1.8827e6 km", "To find its period."),
    ),
    outputs=(
        Output(key="omega", symbol=r"\omega_1", meaning="angular velocity", unit="rad/s", formula="2*pi/T"),
        Output(key="v", symbol="v_1", meaning="speed", unit="m/s", formula="r*omega"),
        Output(
            key="a_c",
            symbol=r"a_{\mathrm{c}}",
            meaning="acceleration, towards the central body",
            unit="m/s2",
            formula="r*omega**2",
        ),
        kepler_constant(digits=4),
        gravitational_constant(),
        Output(
            key="M", symbol="M", meaning="mass of the central body", unit="kg", formula="4*pi**2*kepler/G", digits=4
        ),
        Output(
            key="T_2",
            symbol="T_2",
            meaning="period of the second orbit",
            unit="s",
            formula="T*sqrt((r_2/r)**3)",
            shown_in="T",
            digits=4,
        ),
        Output(key="v_2", symbol="v_2", meaning="speed in the second orbit", unit="m/s", formula="v*sqrt(r/r_2)"),
    ),
    function=find,
    picture=Picture(
        caption="Periods of all orbits round this body, by Kepler’s third law",
        panels=(
            Panel(
                horizontal=Axis(symbol="r", meaning="radius of the orbit", unit="m", shown_in="r"),
                vertical=Axis(symbol="T", meaning="period", unit="d"),
                curves=(Curve(key="T", label="third law"),),
                marks=(
                    Mark(key="first", label="first", role="position"),
                    Mark(key="second", label="second", role="second"),
                ),
            ),
        ),
        draw=draw,
    ),
    checks=(
        PublishedCheck(
            source="OpenStax, University Physics Volume 1, section 13.4, example 13.10: the Earth, weighed by the Moon",
            note="With the book’s own rounded G its numbers make 6.02, not the 6.01 that it prints.",
            given={"r": "384000 km", "T": "2.36e6 s"},
            expect={"M": "6.01e24 kg"},
        ),
        PublishedCheck(
            source="OpenStax, College Physics 2e, section 6.5, example 6.6: the Moon’s acceleration",
            given={"r": "3.84e8 m", "T": "27.3 d"},
            expect={"omega": "2.66e-6 rad/s", "a_c": "0.00272 m/s2"},
        ),
        PublishedCheck(
            source="OpenStax, College Physics 2e, section 6.6, example 6.7: a satellite, from the Moon’s orbit",
            given={"r": "3.84e8 m", "T": "27.3 d", "r_2": "7880 km"},
            expect={"T_2": "1.93 h"},
        ),
        PublishedCheck(
            source="OpenStax, University Physics Volume 1, section 4.4, exercise 65: Venus round the Sun",
            given={"r": "1.082e11 m", "T": "0.6152 yr"},
            expect={"v": "3.5e4 m/s"},
        ),
        PublishedCheck(
            source="OpenStax, College Physics 2e, section 6.6, table 6.2: radius cubed over period squared, Europa",
            given={"r": "671000 km", "T": "0.00972 yr"},
            expect={"kepler": "3.20e21 km3/yr2"},
        ),
    ),
)
