"""Tide height: the water at a quay as a sum of projected circles."""

from typing import Any

from crankpin.calculator.common import or_absent
from crankpin.calculator.curves import Axis, Curve, Drawing, Mark, Panel, Picture, spread
from crankpin.calculator.declaration import (
    Calculator,
    Caution,
    Column,
    Input,
    Output,
    PublishedCheck,
    Table,
    Values,
)
from crankpin.calculator.faults import Absent, RefusedError
from crankpin.mechanics import tide
from crankpin.mechanics.constants import HOUR
from crankpin.mechanics.tide import Constituent

_ONE_DAY = 25.0
_HALF_A_MONTH = 15.0 * 24.0

Listed = tuple[tuple[float, float, float, float | None], ...]


def find(constituents: Listed, z0: float, t: float) -> dict[str, Any]:
    """Height and rate now, and the next high and low water."""
    parts = _parts(constituents)
    now = t * HOUR
    high, low = or_absent(tide.next_high, parts, now), or_absent(tide.next_low, parts, now)
    return {
        "height": tide.height(parts, z0, now),
        "rate": tide.rate(parts, now) * HOUR,
        "next_high": _in_hours(high),
        "height_high": high if isinstance(high, Absent) else tide.height(parts, z0, high),
        "next_low": _in_hours(low),
        "height_low": low if isinstance(low, Absent) else tide.height(parts, z0, low),
    }


def _parts(constituents: Listed) -> list[Constituent]:
    for i, (amplitude, speed, *_) in enumerate(constituents, start=1):
        if amplitude < 0.0:
            told = "an amplitude is zero or above; for the opposite sign add 180° to the phase lag"
            raise RefusedError("constituents", f"row {i} has an amplitude below zero; {told}")
        if speed <= 0.0:
            raise RefusedError("constituents", f"row {i} has no speed above zero; give it in degrees per hour")
    return [tide.listed_constituent(A, speed, G - (V or 0.0)) for A, speed, G, V in constituents]


def _in_hours(time: float | Absent) -> float | Absent:
    return time if isinstance(time, Absent) else time / HOUR


def draw(values: Values) -> Drawing:
    """The next day, and the next half month from spring tide to neap tide."""
    parts, z0, t = _parts(values["constituents"]), values["z0"], values["t"]
    day = spread(t - 1.0, t + _ONE_DAY)
    half_month = spread(t, t + _HALF_A_MONTH, 721)
    marks = {"now": (t, values["height"])}
    for turn in ("high", "low"):
        when = values.get(f"next_{turn}")
        if when is not None and when <= day[-1]:
            marks[turn] = (when, values[f"height_{turn}"])
    return Drawing(
        {
            "day": (day, [tide.height(parts, z0, one * HOUR) for one in day]),
            "half_month": (half_month, [tide.height(parts, z0, one * HOUR) for one in half_month]),
        },
        marks,
    )


_LEVEL = Axis(symbol="h", meaning="height of the water", unit="m", shown_in="z0")

calculator = Calculator(
    title="The tide at the quay",
    purpose="The height of the water as a sum of constituents, how fast it changes, and the next high and low water.",
    inputs=(
        Table(
            key="constituents",
            meaning="constituents, one per row, with phases reckoned from the zero of this clock",
            columns=(
                Column(key="amplitude", symbol="A", meaning="amplitude", unit="m", also=("cm",)),
                Column(key="speed", symbol=r"\omega", meaning="speed", unit="deg/h"),
                Column(key="phase", symbol="G", meaning="phase lag behind the zero of this clock", unit="deg"),
                Column(
                    key="argument",
                    symbol="V",
                    meaning="for a published constant: the equilibrium argument (V + u in tables) at the zero of "
                    "this clock, "
                    "else left out",
                    unit="deg",
                    needed=False,
                ),
            ),
            default="M2; 1.60; 28.984104; 110\n"
            "S2; 0.55; 30.000000; 145\n"
            "N2; 0.30; 28.439730; 95\n"
            "K1; 0.12; 15.041069; 60\n"
            "O1; 0.10; 13.943035; 330",
            most_rows=60,
        ),
        Input(
            key="z0",
            symbol="z_0",
            meaning="mean level above the zero of the gauge",
            unit="m",
            also=("cm",),
            default="2.9 m",
            lowest="-1e5 m",
            highest="1e5 m",
            slider=("0 m", "6 m"),
            step="0.1 m",
            parameter="mean_level",
        ),
        Input(
            key="t",
            symbol="t",
            meaning="time since the zero of the clock",
            unit="h",
            also=("min", "s", "d"),
            default="6 h",
            lowest="-1e6 h",
            highest="1e6 h",
            slider=("0 h", "48 h"),
            step="0.5 h",
            parameter="time",
        ),
    ),
    outputs=(
        Output(
            key="height",
            symbol="h",
            meaning="height of the water",
            unit="m",
            method="The mean level plus, for each constituent, amplitude times cosine of (speed times time, plus "
            "argument if "
            "given, minus phase lag).",
            shown_in="z0",
        ),
        Output(
            key="rate",
            symbol="r",
            meaning="rate of rise; negative when the water falls",
            unit="m/h",
            method="The sum over all constituents of minus amplitude times speed (in radians per hour) times the "
            "sine of the "
            "same angle.",
        ),
        Output(
            key="next_high",
            symbol=r"t_{\mathrm{high}}",
            meaning="time of the next high water",
            unit="h",
            method="The next time at which the rate of rise changes from positive to negative.",
            digits=4,
        ),
        Output(
            key="height_high",
            symbol=r"h_{\mathrm{high}}",
            meaning="height of the next high water",
            unit="m",
            method="The height at that time.",
            shown_in="z0",
        ),
        Output(
            key="next_low",
            symbol=r"t_{\mathrm{low}}",
            meaning="time of the next low water",
            unit="h",
            method="The next time at which the rate of rise changes from negative to positive.",
            digits=4,
        ),
        Output(
            key="height_low",
            symbol=r"h_{\mathrm{low}}",
            meaning="height of the next low water",
            unit="m",
            method="The height at that time.",
            shown_in="z0",
        ),
    ),
    function=find,
    picture=Picture(
        caption="The height of the water over a day, and over half a month",
        panels=(
            Panel(
                horizontal=Axis(symbol="t", meaning="time", unit="h", shown_in="h"),
                vertical=_LEVEL,
                curves=(Curve(key="day", label="h", role="position"),),
                marks=(
                    Mark(key="now", label="now", role="position"),
                    Mark(key="high", label="high water", role="position"),
                    Mark(key="low", label="low water", role="position"),
                ),
            ),
            Panel(
                horizontal=Axis(symbol="t", meaning="time", unit="h", shown_in="d"),
                vertical=_LEVEL,
                curves=(Curve(key="half_month", label="h", role="position"),),
            ),
        ),
        draw=draw,
    ),
    cautions=(
        Caution(
            text="For learning only. The constituents given at first are invented and their phases are reckoned from "
            "the "
            "zero of this clock. A published phase lag is reckoned from the moon or the sun instead: without the "
            "argument in "
            "the fourth column it gives wrong times. Weather and shallow water are left out: for a boat use the "
            "official "
            "tide tables.",
        ),
    ),
    checks=tuple(
        PublishedCheck(
            source="NOAA CO-OPS harmonic constituents (speed) and Coastal Wiki, Tidal prediction, table 1 (period): "
            + name,
            note="Alone and at its peak at time zero, a constituent has its next high water one period later.",
            given={"constituents": f"1 {speed} 0", "t": "0 h"},
            expect={"next_high": period},
        )
        for name, speed, period in (
            ("M2", "28.984104", "12.42 h"),
            ("S2", "30.0", "12.00 h"),
            ("N2", "28.439730", "12.66 h"),
            ("K1", "15.041069", "23.93 h"),
            ("O1", "13.943035", "25.82 h"),
        )
    ),
)
