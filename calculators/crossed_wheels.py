"""Crossed wheels: two projections at right angles draw a pattern."""

from typing import Any

from crankpin.calculator.common import or_absent
from crankpin.calculator.curves import Axis, Curve, Drawing, Mark, Panel, Picture, spread
from crankpin.calculator.declaration import Calculator, Input, Output, PublishedCheck, Values
from crankpin.calculator.faults import Absent
from crankpin.mechanics import superposition
from crankpin.mechanics.superposition import Phasor

_MOST_SWINGS = 30
_DUST = 1e-12


def find(A_x: float, f_x: Any, A_y: float, f_y: Any, phi: float) -> dict[str, Any]:
    """The ratio of the two rates in whole numbers, and when the pattern closes; the rates are Fractions."""
    ratio = or_absent(superposition.whole_ratio, f_x, f_y)
    closes = not isinstance(ratio, Absent)
    return {
        "T_x": 1.0 / float(f_x),
        "T_y": 1.0 / float(f_y),
        "ratio_x": float(ratio[0]) if closes else ratio,
        "ratio_y": float(ratio[1]) if closes else ratio,
        "T_pattern": or_absent(superposition.pattern_period, f_x, f_y),
    }


def draw(values: Values) -> Drawing:
    """The path, once round where it closes soon, else for some thirty swings."""
    x_rate, y_rate = float(values["f_x"]), float(values["f_y"])
    across, up = Phasor(values["A_x"], x_rate), Phasor(values["A_y"], y_rate, values["phi"])
    fast = max(x_rate, y_rate)
    end = min(values.get("T_pattern", _MOST_SWINGS / fast), _MOST_SWINGS / fast)
    times = spread(0.0, end, int(48.0 * end * fast) + 49)
    points = [superposition.crossed(across, up, one) for one in times]
    return Drawing(
        {"path": ([x for x, _ in points], [y for _, y in points])},
        {"start": (points[0][0], 0.0 if abs(points[0][1]) < _DUST * up.amplitude else points[0][1])},
    )


def _amplitude(key: str, direction: str, default: str) -> Input:
    return Input(
        key=f"A_{key}",
        symbol=f"A_{key}",
        meaning=f"{direction} amplitude",
        unit="m",
        also=("cm", "mm"),
        default=default,
        lowest="1e-9 m",
        highest="1e9 m",
        slider=("1 cm", "50 cm"),
        step="1 cm",
        parameter="amplitude",
    )


def _rate(key: str, direction: str, default: str) -> Input:
    return Input(
        key=f"f_{key}",
        symbol=f"f_{key}",
        meaning=f"{direction} frequency",
        unit="Hz",
        also=("mHz", "rpm"),
        default=default,
        lowest="1e-6 Hz",
        highest="1e6 Hz",
        slider=("0.1 Hz", "2 Hz"),
        step="0.1 Hz",
        parameter=f"{key}_frequency",
        exact=True,
        help="The decimal number is taken exactly as typed.",
    )


calculator = Calculator(
    title="Two wheels at right angles",
    purpose="The path of a point that oscillates across and up at the same time, and when the path closes.",
    inputs=(
        _amplitude("x", "horizontal", "20 cm"),
        _rate("x", "horizontal", "0.3 Hz"),
        _amplitude("y", "vertical", "20 cm"),
        _rate("y", "vertical", "0.2 Hz"),
        Input(
            key="phi",
            symbol=r"\varphi",
            meaning="initial phase of the vertical oscillation; the horizontal one starts at zero",
            unit="rad",
            also=("deg",),
            default="90 deg",
            lowest="-100 rad",
            highest="100 rad",
            slider=("-180 deg", "180 deg"),
            step="5 deg",
            parameter="phase",
        ),
    ),
    outputs=(
        Output(key="T_x", symbol="T_x", meaning="horizontal period", unit="s", formula="1/f_x"),
        Output(key="T_y", symbol="T_y", meaning="vertical period", unit="s", formula="1/f_y"),
        Output(
            key="ratio_x",
            symbol="N_x",
            meaning="horizontal oscillations in one whole pattern",
            unit="1",
            method="The ratio of the two frequencies in the smallest whole numbers: this is the first of them.",
            whole=True,
        ),
        Output(
            key="ratio_y",
            symbol="N_y",
            meaning="vertical oscillations in one whole pattern",
            unit="1",
            method="The second number of that ratio.",
            whole=True,
        ),
        Output(
            key="T_pattern",
            symbol=r"T_{\mathrm{pattern}}",
            meaning="time after which the path closes",
            unit="s",
            formula="ratio_x/f_x",
        ),
    ),
    function=find,
    picture=Picture(
        caption="The path of the point",
        panels=(
            Panel(
                horizontal=Axis(symbol="x", meaning="horizontal position", unit="m", shown_in="A_x"),
                vertical=Axis(symbol="y", meaning="vertical position", unit="m", shown_in="A_x"),
                curves=(Curve(key="path", label="path", role="position"),),
                marks=(Mark(key="start", label="start", role="position"),),
                square=True,
            ),
        ),
        draw=draw,
    ),
    checks=(
        PublishedCheck(
            source="common practice, no source",
            note="Frequencies in the ratio 3 to 2: three oscillations across and two up, in twice the longer period.",
            given={"f_x": "0.3 Hz", "f_y": "0.2 Hz"},
            expect={"ratio_x": "3", "ratio_y": "2", "T_pattern": "10.0000 s"},
        ),
        PublishedCheck(
            source="OpenStax, University Physics Volume 1, section 17.6, example 17.7: 256 Hz and 512 Hz are an octave "
            "apart",
            given={"f_x": "512 Hz", "f_y": "256 Hz"},
            expect={"ratio_x": "2", "ratio_y": "1"},
        ),
    ),
)
