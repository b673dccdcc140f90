"""Orbit: how fast a satellite, a moon or a planet goes round, from its distance and the mass of what it goes round."""

from crankpin.calculator.common import gravitational_constant, kepler_constant
from crankpin.calculator.curves import Axis, Curve, Drawing, Mark, Panel, Picture, spread
from crankpin.calculator.declaration import Calculator, Input, Output, PublishedCheck, Values
from crankpin.mechanics import orbits
from crankpin.mechanics.constants import DAY, GRAVITATIONAL_CONSTANT

_NEAREST = 0.1
_FARTHEST = 2.0


def find(M: float, r: float) -> dict[str, float]:
    """Everything that follows from gravity as the centripetal force."""
    GM = orbits.parameter_of_mass(M)
    T = orbits.orbital_period(GM, r)
    return {
        "G": GRAVITATIONAL_CONSTANT,
        "GM": GM,
        "a_c": orbits.orbital_acceleration(GM, r),
        "omega": orbits.orbital_angular_frequency(GM, r),
        "T": T,
        "T_d": T / DAY,
        "v": orbits.orbital_speed(GM, r),
        "kepler": orbits.kepler_ratio(r, T),
    }


def draw(values: Values) -> Drawing:
    """Period and speed of orbits from a tenth of this one's radius to twice as wide."""
    r, GM = values["r"], orbits.parameter_of_mass(values["M"])
    radii = spread(_NEAREST * r, _FARTHEST * r)
    return Drawing(
        {
            "T": (radii, [orbits.orbital_period(GM, radius) / DAY for radius in radii]),
            "v": (radii, [orbits.orbital_speed(GM, radius) for radius in radii]),
        },
        {"period": (r, values["T_d"]), "speed": (r, values["v"])},
    )


_RADIUS = Axis(symbol="r", meaning="radius of the orbit", unit="m", shown_in="r")

calculator = Calculator(
    title="A circular orbit",
    purpose="Period, speed and acceleration of a body in a circular orbit, from its radius and the mass at the centre.",
    inputs=(
        Input(
            key="M",
            symbol="M",
            meaning="mass of the central body",
            unit="kg",
            default="5.972e24 kg",
            lowest="1e-3 kg",
            highest="1e45 kg",
            slider=("1e24 kg", "1e25 kg"),
            step="1e23 kg",
            parameter="mass",
            help="Earth 5.972 × 10²⁴ kg, Moon 7.35 × 10²² kg, Jupiter 1.898 × 10²⁷ kg, Sun 1.989 × 10³⁰ kg.",
        ),
        Input(
            key="r",
            symbol="r",
            meaning="radius of the orbit",
            unit="m",
            also=("km", "au", "ly"),
            default="42164 km",
            lowest="1e-3 m",
            highest="1e24 m",
            slider=("6500 km", "400000 km"),
            step="100 km",
            parameter="radius",
            help="From the centre of the central body: its own radius plus the height above its surface.",
        ),
    ),
    outputs=(
        gravitational_constant(),
        Output(
            key="GM",
            symbol=r"\mu_{\mathrm{G}}",
            meaning="gravitational parameter of the central body, G times M",
            unit="m3/s2",
            formula="G*M",
        ),
        Output(
            key="a_c",
            symbol=r"a_{\mathrm{c}}",
            meaning="acceleration, towards the central body",
            unit="m/s2",
            formula="GM/r**2",
            method="It is the gravitational field strength at this distance, and nothing else bends the path.",
        ),
        Output(
            key="omega",
            symbol=r"\omega",
            meaning="angular velocity",
            unit="rad/s",
            formula="sqrt(a_c/r)",
            method="The centripetal acceleration is the radius times the angular velocity squared.",
        ),
        Output(key="T", symbol="T", meaning="period", unit="s", formula="2*pi/omega", digits=4),
        Output(
            key="T_d",
            symbol=r"T_{\mathrm{d}}",
            meaning="the same period in days",
            unit="d",
            formula='T/quantity(86400, "s/d")',
            method="A day has 86 400 s.",
            digits=4,
        ),
        Output(key="v", symbol="v", meaning="speed", unit="m/s", formula="r*omega"),
        kepler_constant(),
    ),
    function=find,
    picture=Picture(
        caption="Period and speed for wider and narrower orbits round the same body",
        panels=(
            Panel(
                horizontal=_RADIUS,
                vertical=Axis(symbol="T", meaning="period", unit="d"),
                curves=(Curve(key="T", label="period"),),
                marks=(Mark(key="period", label="this orbit"),),
            ),
            Panel(
                horizontal=_RADIUS,
                vertical=Axis(symbol="v", meaning="speed", unit="m/s"),
                curves=(Curve(key="v", label="speed", role="velocity"),),
                marks=(Mark(key="speed", label="this orbit", role="velocity"),),
            ),
        ),
        draw=draw,
    ),
    checks=(
        PublishedCheck(
            source="OpenStax, University Physics Volume 1, section 13.4, example 13.9: speed of a space station",
            note="The mass is the book’s product of G and M, 3.97532 × 10¹⁴ m³/s², over G.",
            given={"M": "5.95616e24 kg", "r": "6.76e6 m"},
            expect={"v": "7.67e3 m/s"},
        ),
        PublishedCheck(
            source="NASA NSSDC Jovian Satellite Fact Sheet, row Callisto",
            note="Jupiter’s mass is its G M, 1.266 865 3 × 10¹⁷ m³/s², over G.",
            given={"M": "1.898125e27 kg", "r": "1882700 km"},
            expect={"T_d": "16.7 d"},
        ),
    ),
)
