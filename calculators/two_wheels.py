"""Two wheels: two projections along one line, added."""

from math import cos, sin
from typing import Any

from crankpin.calculator.common import or_absent
from crankpin.calculator.curves import Axis, Curve, Drawing, Mark, Panel, Picture, spread
from crankpin.calculator.declaration import Calculator, Input, Output, PublishedCheck, Values
from crankpin.calculator.faults import Absent
from crankpin.mechanics import superposition
from crankpin.mechanics.superposition import Phasor

_MOST_POINTS = 900
_NO_BEAT = Absent("The two have the same frequency, so the sum has a constant amplitude: there are no beats.")
_TWO_RATES = Absent("The two have different frequencies, so the sum is not a single oscillation with one phase.")


def find(A_1: float, f_1: float, phi_1: float, A_2: float, f_2: float, phi_2: float, t: float) -> dict[str, Any]:
    """The sum at one instant, its beats, and the bounds of its amplitude."""
    first, second = Phasor(A_1, f_1, phi_1), Phasor(A_2, f_2, phi_2)
    beat = superposition.beat_frequency(f_1, f_2)
    one_rate = or_absent(superposition.resultant, A_1, phi_1, A_2, phi_2) if beat == 0.0 else _TWO_RATES
    return {
        "x_1": superposition.displacement(first, t),
        "x_2": superposition.displacement(second, t),
        "x": superposition.together(first, second, t),
        "f_beat": beat,
        "T_beat": 1.0 / beat if beat else _NO_BEAT,
        "f_mean": superposition.mean_frequency(f_1, f_2),
        "A_most": superposition.greatest_amplitude(first, second),
        "A_least": superposition.least_amplitude(first, second),
        "A_now": superposition.envelope(first, second, t),
        "phi": one_rate if isinstance(one_rate, Absent) else one_rate[1],
    }


def draw(values: Values) -> Drawing:
    """The two oscillations, and their sum within its envelope."""
    first, second = (Phasor(*(values[f"{key}_{i}"] for key in ("A", "f", "phi"))) for i in (1, 2))
    fast = max(first.frequency, second.frequency)
    end = min(max(1.5 * values.get("T_beat", 0.0), 4.0 / fast), 30.0 / fast)
    start = max(0.0, values["t"] - 0.5 * end) if values["t"] > end else 0.0
    times = spread(start, start + end, int(min(_MOST_POINTS, max(240.0, 24.0 * end * fast))))
    heights = [superposition.envelope(first, second, one) for one in times]
    return Drawing(
        {
            "x_1": (times, [superposition.displacement(first, one) for one in times]),
            "x_2": (times, [superposition.displacement(second, one) for one in times]),
            "x": (times, [superposition.together(first, second, one) for one in times]),
            "above": (times, heights),
            "below": (times, [-one for one in heights]),
        },
        {"now": (values["t"], values["x"])},
    )


def _amplitude_now(values: Values) -> str:
    if values["A_now"] > 0.01 * values["A_most"]:
        return "sqrt(A_1**2 + A_2**2 + 2*A_1*A_2*cos(2*pi*(f_2 - f_1)*t + phi_2 - phi_1))"
    return "sqrt((A_1 - A_2)**2 + 4*A_1*A_2*cos(pi*(f_2 - f_1)*t + (phi_2 - phi_1)/2)**2)"


def _initial_phase(values: Values) -> str:
    """The formula of the sum's initial phase: the arc tangent, half a turn off where the cosines add to less than 0."""
    A_1, phi_1, A_2, phi_2 = (values[key] for key in ("A_1", "phi_1", "A_2", "phi_2"))
    across, up = A_1 * cos(phi_1) + A_2 * cos(phi_2), A_1 * sin(phi_1) + A_2 * sin(phi_2)
    if abs(across) <= 1e-9 * abs(up):
        return "pi/2" if up > 0.0 else "-pi/2"
    added = "" if across > 0.0 else " + pi" if up >= 0.0 else " - pi"
    return f"arctan((A_1*sin(phi_1) + A_2*sin(phi_2))/(A_1*cos(phi_1) + A_2*cos(phi_2))){added}"


def _amplitude(i: int, default: str) -> Input:
    return Input(
        key=f"A_{i}",
        symbol=f"A_{i}",
        meaning=f"amplitude, wheel {i}",
        unit="m",
        also=("cm", "mm"),
        default=default,
        lowest="0 m",
        highest="1e9 m",
        slider=("0 cm", "50 cm"),
        step="1 cm",
        parameter="amplitude",
    )


def _rate(i: int, default: str) -> Input:
    return Input(
        key=f"f_{i}",
        symbol=f"f_{i}",
        meaning=f"frequency, wheel {i}",
        unit="Hz",
        also=("mHz", "rpm"),
        default=default,
        lowest="1e-9 Hz",
        highest="1e4 Hz",
        slider=("0.05 Hz", "2 Hz"),
        step="0.01 Hz",
        parameter="frequency",
    )


def _phase(i: int, default: str) -> Input:
    return Input(
        key=f"phi_{i}",
        symbol=rf"\varphi_{i}",
        meaning=f"initial phase, wheel {i}",
        unit="rad",
        also=("deg",),
        default=default,
        lowest="-100 rad",
        highest="100 rad",
        slider=("-180 deg", "180 deg"),
        step="5 deg",
        parameter="phase",
    )


_TIME = Axis(symbol="t", meaning="time", unit="s", shown_in="t")

calculator = Calculator(
    title="Two wheels, one line",
    purpose="The sum of two oscillations along one line: one oscillation if the frequencies are equal, beats if they "
    "are close.",
    inputs=(
        _amplitude(1, "20 cm"),
        _rate(1, "0.5 Hz"),
        _phase(1, "0 deg"),
        _amplitude(2, "15 cm"),
        _rate(2, "0.55 Hz"),
        _phase(2, "0 deg"),
        Input(
            key="t",
            symbol="t",
            meaning="time",
            unit="s",
            also=("ms", "min"),
            default="6 s",
            lowest="0 s",
            highest="1e5 s",
            slider=("0 s", "40 s"),
            step="0.5 s",
            parameter="time",
        ),
    ),
    outputs=(
        Output(
            key="x_1",
            symbol="x_1",
            meaning="position, wheel 1",
            unit="m",
            formula="A_1*cos(2*pi*f_1*t + phi_1)",
            shown_in="A_1",
            dust_of="A_1",
        ),
        Output(
            key="x_2",
            symbol="x_2",
            meaning="position, wheel 2",
            unit="m",
            formula="A_2*cos(2*pi*f_2*t + phi_2)",
            shown_in="A_1",
            dust_of="A_2",
        ),
        Output(
            key="x",
            symbol="x",
            meaning="their sum",
            unit="m",
            formula="x_1 + x_2",
            shown_in="A_1",
            dust_of="A_most",
        ),
        Output(
            key="f_beat",
            symbol=r"f_{\mathrm{beat}}",
            meaning="beat frequency: number of beats per second",
            unit="Hz",
            formula="abs(f_1 - f_2)",
        ),
        Output(
            key="T_beat",
            symbol=r"T_{\mathrm{beat}}",
            meaning="time from one beat to the next",
            unit="s",
            formula="1/f_beat",
        ),
        Output(
            key="f_mean",
            symbol=r"f_{\mathrm{mean}}",
            meaning="mean frequency",
            unit="Hz",
            formula="(f_1 + f_2)/2",
            method="The frequency of the oscillation within the beats, if the amplitudes are equal; if not, that "
            "frequency varies about that of the stronger one.",
        ),
        Output(
            key="A_most",
            symbol=r"A_{\mathrm{most}}",
            meaning="greatest amplitude, when the two are in phase",
            unit="m",
            formula="A_1 + A_2",
            shown_in="A_1",
        ),
        Output(
            key="A_least",
            symbol=r"A_{\mathrm{least}}",
            meaning="least amplitude, when the two are in antiphase",
            unit="m",
            formula="abs(A_1 - A_2)",
            shown_in="A_1",
            dust_of="A_most",
        ),
        Output(
            key="A_now",
            symbol=r"A_{\mathrm{now}}",
            meaning="amplitude of the sum at this time",
            unit="m",
            formula=_amplitude_now,
            shown_in="A_1",
            dust_of="A_most",
        ),
        Output(
            key="phi",
            symbol=r"\varphi",
            meaning="initial phase of the sum, for equal frequencies",
            unit="rad",
            formula=_initial_phase,
            method="Half a turn is added or subtracted where the sum of the cosines is negative.",
            shown_in="phi_1",
        ),
    ),
    function=find,
    picture=Picture(
        caption="The two oscillations, and below them their sum with its varying amplitude",
        panels=(
            Panel(
                horizontal=_TIME,
                vertical=Axis(symbol="x", meaning="position", unit="m", shown_in="A_1"),
                curves=(
                    Curve(key="x_1", label="1", role="second", line="solid"),
                    Curve(key="x_2", label="2", role="third", line="dashes"),
                ),
            ),
            Panel(
                horizontal=_TIME,
                vertical=Axis(symbol="x", meaning="position of the sum", unit="m", shown_in="A_1"),
                curves=(
                    Curve(key="x", label="sum", role="position"),
                    Curve(key="above", label="amplitude", role="plain", line="dashes"),
                    Curve(key="below", label="", role="plain", line="dashes"),
                ),
                marks=(Mark(key="now", label="now", role="position"),),
            ),
        ),
        draw=draw,
    ),
    checks=(
        PublishedCheck(
            source="OpenStax, College Physics 2e, section 16.10, exercise 59: two tuning forks",
            given={"f_1": "460 Hz", "f_2": "464 Hz", "t": "0 s"},
            expect={"f_beat": "4.00 Hz", "f_mean": "462.00 Hz"},
        ),
        PublishedCheck(
            source="OpenStax, University Physics Volume 1, section 16.5, exercise 99: two equal motions a sixth of a "
            "turn apart",
            given={"A_1": "4.0 m", "A_2": "4.0 m", "f_1": "1 Hz", "f_2": "1 Hz", "phi_2": "60 deg"},
            expect={"A_now": "6.93 m"},
        ),
        PublishedCheck(
            source="OpenStax, University Physics Volume 1, section 17.6, exercise 109: two engines of 4100.25 Hz and "
            "4099.75 Hz",
            given={"f_1": "4100.25 Hz", "f_2": "4099.75 Hz", "t": "0 s"},
            expect={"f_beat": "0.500 Hz", "f_mean": "4100.00 Hz"},
        ),
    ),
)
