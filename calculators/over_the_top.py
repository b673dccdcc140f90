"""Over the top: a body that runs freely round an upright circle, on a thread, in a track or on a rod."""

from math import cos, degrees, pi, sin
from typing import Any

from crankpin.calculator.common import gravity, mass, or_absent, speed
from crankpin.calculator.curves import Axis, Curve, Drawing, Mark, Panel, Picture, spread
from crankpin.calculator.declaration import Calculator, Caution, Choice, Input, Output, PublishedCheck, Values
from crankpin.calculator.faults import Absent
from crankpin.mechanics import vertical_circle
from crankpin.mechanics.errors import AbsentError

_THREAD = "thread"
_BELOW_TOP = Absent("It does not reach the top.")


def find(holder: str, m: float, r: float, v_low: float, g: float) -> dict[str, Any]:
    """Whether it gets round, the forces at the two ends, and where it stops or leaves the circle."""
    end, outcome = _end(holder, r, v_low, g)
    round_ = end == pi
    return {
        "F_g": vertical_circle.weight(m, g),
        "F_low": vertical_circle.inward_force_round_circle(m, r, v_low, 0.0, g),
        "v_need": vertical_circle.weightless_speed((5.0 if holder == _THREAD else 4.0) * r, g),
        "outcome": outcome,
        "theta_end": Absent("It goes all the way round.") if round_ else end,
        "h": Absent("It goes all the way round.") if round_ else r * (1.0 - cos(end)),
        "v_top": vertical_circle.speed_round_circle(v_low, r, pi, g) if round_ else _BELOW_TOP,
        "F_top": vertical_circle.inward_force_round_circle(m, r, v_low, pi, g) if round_ else _BELOW_TOP,
    }


def _end(holder: str, r: float, v_low: float, g: float) -> tuple[float, str]:
    """Return the greatest angle on the circle, π for all the way round, and what happens there in words."""
    if holder == _THREAD:
        leaving = or_absent(vertical_circle.leaving_angle, v_low, r, g)
        if not isinstance(leaving, Absent):
            return leaving, "leaves the circle before the top"
    try:
        return vertical_circle.turning_angle(v_low, r, g), "swings back"
    except AbsentError:
        return pi, "goes all the way round"


def draw(values: Values) -> Drawing:
    """The way along the circle, and force and speed against the angle."""
    m, r, v_low, g = (values[key] for key in ("m", "r", "v_low", "g"))
    end = values.get("theta_end", pi)
    angles, around = spread(0.0, end), spread(0.0, 2.0 * pi)
    return Drawing(
        {
            "circle": ([r * sin(one) for one in around], [r * (1.0 - cos(one)) for one in around]),
            "way": ([r * sin(one) for one in angles], [r * (1.0 - cos(one)) for one in angles]),
            "F": (angles, [vertical_circle.inward_force_round_circle(m, r, v_low, one, g) for one in angles]),
            "none": ([0.0, end], [0.0, 0.0]),
            "v": (angles, [_speed(v_low, r, one, g) for one in angles]),
        },
        {"low": (0.0, 0.0), "last": (r * sin(end), r * (1.0 - cos(end)))},
    )


def _speed(v_low: float, r: float, angle: float, g: float) -> float:
    """The speed on the way; at the end of a swing rounding may put it just out of reach, where it is zero."""
    try:
        return vertical_circle.speed_round_circle(v_low, r, angle, g)
    except AbsentError:
        return 0.0


_ANGLE = Axis(symbol=r"\theta", meaning="angle from the lowest point", unit="rad", shown_in="deg")

calculator = Calculator(
    title="Over the top",
    purpose="Does a body that runs freely round an upright circle get over the top, and how hard is it held?",
    inputs=(
        Choice(
            key="holder",
            meaning="what holds it on the circle",
            options=(
                (_THREAD, "a thread or a track (inwards only)"),
                ("rod", "a light rod (outwards as well)"),
            ),
            default=_THREAD,
        ),
        mass("60 kg", slider=("10 kg", "500 kg"), step="10 kg"),
        Input(
            key="r",
            symbol="r",
            meaning="radius of the circle",
            unit="m",
            also=("cm",),
            default="5 m",
            lowest="1e-6 m",
            highest="1e6 m",
            slider=("0.2 m", "20 m"),
            step="0.2 m",
            parameter="radius",
        ),
        speed(
            "16 m/s",
            key="v_low",
            symbol=r"v_{\mathrm{low}}",
            meaning="speed at the lowest point",
            slider=("1 m/s", "40 m/s"),
            step="0.5 m/s",
            parameter="lowest_speed",
            help="From there on nothing drives it, and nothing is lost.",
        ),
        gravity(),
    ),
    outputs=(
        Output(key="F_g", symbol=r"F_{\mathrm{g}}", meaning="weight", unit="N", formula="m*g"),
        Output(
            key="F_low",
            symbol=r"F_{\mathrm{low}}",
            meaning="force of the holder at the lowest point, towards the centre",
            unit="N",
            formula="F_g + m*v_low**2/r",
        ),
        Output(
            key="v_need",
            symbol=r"v_{\mathrm{need}}",
            meaning="least speed at the lowest point that takes it round",
            unit="m/s",
            formula=lambda values: "sqrt(5*g*r)" if values["holder"] == _THREAD else "sqrt(4*g*r)",
            method="A thread must still be taut at the top, at a speed of the root of g r. A rod need only reach it.",
            shown_in="v_low",
        ),
        Output(
            key="outcome",
            symbol="",
            meaning="what happens",
            unit="",
            method="Compare the speed at the lowest point with the least speed.",
        ),
        Output(
            key="theta_end",
            symbol=r"\theta_{\mathrm{end}}",
            meaning="angle from the lowest point at which it stops or leaves",
            unit="rad",
            formula=lambda values: (
                "arccos((2 - v_low**2/(g*r))/3)"
                if values["outcome"].startswith("leaves")
                else "arccos(1 - v_low**2/(2*g*r))"
            ),
            shown_in="deg",
        ),
        Output(
            key="h",
            symbol="h",
            meaning="height of that place above the lowest point",
            unit="m",
            formula="r*(1 - cos(theta_end))",
            shown_in="r",
        ),
        Output(
            key="v_top",
            symbol=r"v_{\mathrm{top}}",
            meaning="speed at the top",
            unit="m/s",
            formula="sqrt(v_low**2 - 4*g*r)",
            shown_in="v_low",
            dust_of="v_low",
        ),
        Output(
            key="F_top",
            symbol=r"F_{\mathrm{top}}",
            meaning="force of the holder at the top, towards the centre; negative: outwards",
            unit="N",
            formula="m*v_top**2/r - F_g",
            dust_of="F_g",
        ),
    ),
    function=find,
    picture=Picture(
        caption="The way along the circle; the force of the holder and the speed on the way",
        panels=(
            Panel(
                horizontal=Axis(symbol="x", meaning="distance across", unit="m", shown_in="r"),
                vertical=Axis(symbol="y", meaning="height", unit="m", shown_in="r"),
                curves=(
                    Curve(key="circle", label="", role="second", line="dots"),
                    Curve(key="way", label="way", role="position"),
                ),
                marks=(Mark(key="low", label="start"), Mark(key="last", label="end", role="position")),
                square=True,
            ),
            Panel(
                horizontal=_ANGLE,
                vertical=Axis(symbol="F", meaning="force towards the centre", unit="N"),
                curves=(
                    Curve(key="F", label="force", role="acceleration"),
                    Curve(key="none", label="", role="second", line="dots"),
                ),
            ),
            Panel(
                horizontal=_ANGLE,
                vertical=Axis(symbol="v", meaning="speed", unit="m/s", shown_in="v_low"),
                curves=(Curve(key="v", label="speed", role="velocity"),),
            ),
        ),
        draw=draw,
        words=lambda values: (
            f"It {values['outcome']}: along the circle from the lowest point to "
            f"{degrees(values.get('theta_end', pi)):.0f}°. Force and speed fall on the way up."
        ),
    ),
    cautions=(
        Caution(
            text="Whirling buckets and loads is not a way to try this out: things come off at the worst moment. A "
            "small ball in a fixed track behind a guard shows it; follow your school’s own rules.",
        ),
    ),
    checks=(
        PublishedCheck(
            source="common practice, no source",
            note="On a thread the root of five g r just takes it round; at the bottom it is then held with six times "
            "its weight, at the top not at all.",
            given={"holder": "thread", "m": "1 kg", "r": "2 m", "v_low": "10 m/s", "g": "10 m/s2"},
            expect={"v_need": "10.000 m/s", "F_low": "60.00 N", "F_top": "0.00 N", "outcome": "goes all the way round"},
        ),
        PublishedCheck(
            source="common practice, no source",
            note="With the root of 3.5 g r a thread goes slack at 120° from the bottom.",
            given={"holder": "thread", "r": "1 m", "v_low": "5.916079783 m/s", "g": "10 m/s2"},
            expect={"theta_end": "120.00 deg", "h": "1.500 m", "outcome": "leaves the circle before the top"},
        ),
        PublishedCheck(
            source="common practice, no source",
            note="On a rod the root of two g r takes it up to the height of the centre.",
            given={"holder": "rod", "r": "0.8 m", "v_low": "4 m/s", "g": "10 m/s2"},
            expect={"theta_end": "90.00 deg", "v_need": "5.657 m/s", "outcome": "swings back"},
        ),
    ),
)
