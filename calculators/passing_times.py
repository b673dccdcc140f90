"""Passing times: when a body in harmonic motion passes a position, and how it moves there."""

from collections.abc import Callable
from math import acos, pi

from crankpin.calculator.curves import Axis, Curve, Drawing, Mark, Panel, Picture, spread
from crankpin.calculator.declaration import Calculator, Input, Output, PublishedCheck, Values
from crankpin.calculator.faults import RefusedError
from crankpin.mechanics import circular, harmonic


def find(A: float, omega: float, phi: float, x: float) -> dict[str, float]:
    """The first two passings of x from t = 0 on."""
    if abs(x) > A:
        raise RefusedError("x", "within the amplitude A", lowest=-A, highest=A)
    first, second = harmonic.passing_times(A, omega, phi, x)
    return {
        "T": circular.period(omega),
        "t_1": first.time,
        "t_2": second.time,
        "v_1": first.velocity,
        "v_2": second.velocity,
        "a_1": first.acceleration,
        "a_2": second.acceleration,
    }


def draw(values: Values) -> Drawing:
    """The motion from t = 0 to a little past the second passing, the two passings marked."""
    A, omega, phi, x = (values[key] for key in ("A", "omega", "phi", "x"))
    end = max(4.0 * pi / omega, 1.1 * values["t_2"])
    times = spread(0.0, end)
    return Drawing(
        {
            "x": (times, [harmonic.position(A, omega, phi, one) for one in times]),
            "level": ([0.0, end], [x, x]),
        },
        {"first": (values["t_1"], x), "second": (values["t_2"], x)},
    )


def _time(key: str) -> Callable[[Values], str]:
    """The formula of a passing: which of the two angles it is, and how many whole turns are added."""

    def formula(values: Values) -> str:
        A, omega, phi, x, t = (values[part] for part in ("A", "omega", "phi", "x", f"t_{key}"))
        sign, angle = ("", acos(x / A)) if values[f"v_{key}"] <= 0.0 else ("-", -acos(x / A))
        turns = round((omega * t + phi - angle) / (2.0 * pi))
        if abs(angle - phi + 2.0 * pi * turns - omega * t) > 1e-10 * omega * t:
            return ""
        added = {0: "", 1: " + 2*pi", -1: " - 2*pi"}.get(turns, f" {'+' if turns > 0 else '-'} {2 * abs(turns)}*pi")
        return f"({sign}arccos(x/A){added} - phi)/omega"

    return formula


def _velocity(key: str) -> Callable[[Values], str]:
    """The formula of the velocity, with the sign it has at that passing."""
    return lambda values: ("-" if values[f"v_{key}"] <= 0.0 else "") + "omega*sqrt(A**2 - x**2)"


calculator = Calculator(
    title="When does it pass?",
    purpose="The first two times at which a body in simple harmonic motion passes a given position.",
    inputs=(
        Input(
            key="A",
            symbol="A",
            meaning="amplitude",
            unit="m",
            also=("cm", "mm"),
            default="12 cm",
            lowest="1e-9 m",
            highest="1e9 m",
            slider=("1 cm", "50 cm"),
            step="1 cm",
            parameter="amplitude",
        ),
        Input(
            key="omega",
            symbol=r"\omega",
            meaning="angular frequency",
            unit="rad/s",
            also=("rpm", "deg/s", "Hz", "s"),
            default="3 rad/s",
            lowest="1e-9 rad/s",
            highest="1e9 rad/s",
            slider=("0.5 rad/s", "12 rad/s"),
            step="0.5 rad/s",
            parameter="angular_frequency",
        ),
        Input(
            key="phi",
            symbol=r"\varphi",
            meaning="initial phase",
            unit="rad",
            also=("deg",),
            default="0 rad",
            lowest="-100 rad",
            highest="100 rad",
            slider=("-3.14 rad", "3.14 rad"),
            step="0.1 rad",
            parameter="phase",
        ),
        Input(
            key="x",
            symbol="x",
            meaning="position that it passes",
            unit="m",
            also=("cm", "mm"),
            default="6 cm",
            lowest="-1e9 m",
            highest="1e9 m",
            slider=("-12 cm", "12 cm"),
            step="1 cm",
            parameter="position",
        ),
    ),
    outputs=(
        Output(key="T", symbol="T", meaning="period", unit="s", formula="2*pi/omega", form_of="omega"),
        Output(
            key="t_1",
            symbol="t_1",
            meaning="time of the first pass",
            unit="s",
            formula=_time("1"),
            method="The phase angle is then plus or minus this arccosine, give or take whole turns; this is the first "
            "such time that is not negative.",
            dust_of="T",
        ),
        Output(
            key="t_2",
            symbol="t_2",
            meaning="time of the second pass",
            unit="s",
            formula=_time("2"),
            method="The next of those times.",
            dust_of="T",
        ),
        Output(
            key="v_1",
            symbol="v_1",
            meaning="velocity at the first pass",
            unit="m/s",
            formula=_velocity("1"),
            method="Negative while it moves towards the negative end.",
        ),
        Output(
            key="v_2",
            symbol="v_2",
            meaning="velocity at the second pass",
            unit="m/s",
            formula=_velocity("2"),
            method="The same speed; on the way back the sign is reversed.",
        ),
        Output(
            key="a_1",
            symbol="a_1",
            meaning="acceleration at the first pass",
            unit="m/s2",
            formula="-omega**2*x",
        ),
        Output(
            key="a_2",
            symbol="a_2",
            meaning="acceleration at the second pass",
            unit="m/s2",
            formula="-omega**2*x",
        ),
    ),
    function=find,
    picture=Picture(
        caption="Position against time, with the first two passes",
        panels=(
            Panel(
                horizontal=Axis(symbol="t", meaning="time", unit="s"),
                vertical=Axis(symbol="x", meaning="position", unit="m", shown_in="A"),
                curves=(
                    Curve(key="x", label="x", role="position"),
                    Curve(key="level", label="given position", role="second", line="dashes"),
                ),
                marks=(
                    Mark(key="first", label="first", role="position"),
                    Mark(key="second", label="second", role="position"),
                ),
            ),
        ),
        draw=draw,
    ),
    checks=(
        PublishedCheck(
            source="common practice, no source",
            note="Released at the amplitude, a body is half-way in after a sixth of a period.",
            given={"A": "1 m", "omega": "6 s", "phi": "0 rad", "x": "0.5 m"},
            expect={"t_1": "1.0000 s", "t_2": "5.0000 s"},
        ),
        PublishedCheck(
            source="OpenStax, University Physics Volume 1, chapter 8, exercise 79: speeds of a block on a spring, "
            "whose angular frequency is the root of 100 N/m over 0.2 kg",
            given={"A": "10.0 cm", "omega": "22.360679775 rad/s", "x": "5.0 cm"},
            expect={"v_1": "-1.94 m/s", "v_2": "1.94 m/s"},
        ),
    ),
)
