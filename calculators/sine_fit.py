"""Sine fit: the best sine wave through a record of an oscillation, with its residuals."""

from collections import Counter
from collections.abc import Callable
from typing import Any

from crankpin.calculator.curves import Axis, Curve, Drawing, Panel, Picture, spread
from crankpin.calculator.declaration import (
    Calculator,
    Choice,
    Column,
    Input,
    Output,
    PublishedCheck,
    Table,
    Values,
)
from crankpin.calculator.faults import Absent
from crankpin.calculator.outliers import outlier_note
from crankpin.mechanics.sine_fitting import SineFit, sine_fit

Readings = tuple[tuple[float, float, float | None], ...]

_GIVEN = Absent("The frequency was given, not fitted, so the readings say nothing about its uncertainty.")
_NOT_ASKED = Absent("A constant amplitude was fitted; choose the damped form.")
_NOTHING = "Nothing to flag."
_MOST_POINTS = 900


def find(data: Readings, form: str, omega_known: float) -> dict[str, Any]:
    """The quantities of the wave with their standard uncertainties, and how well it fits."""
    fit = _fit(data, form, omega_known)
    fixed, damped = form == "fixed", form == "damped"
    return {
        "T": fit.period,
        "u_T": _GIVEN if fixed else fit.u_period,
        "A": fit.amplitude,
        "u_A": fit.u_amplitude,
        "f": fit.frequency,
        "u_f": _GIVEN if fixed else fit.u_frequency,
        "omega": fit.angular_frequency,
        "u_omega": _GIVEN if fixed else fit.u_angular_frequency,
        "phi": fit.phase,
        "u_phi": fit.u_phase,
        "offset": fit.offset,
        "u_offset": fit.u_offset,
        "gamma": fit.decay_rate if damped else _NOT_ASKED,
        "u_gamma": fit.u_decay_rate if damped else _NOT_ASKED,
        "rms": fit.rms,
        "scatter": fit.scatter,
        "n": float(fit.n),
        "cycles": fit.cycles,
        "notes": _notes(data, fit),
    }


def _fit(data: Readings, form: str, omega_known: float) -> SineFit:
    times, values = [row[0] for row in data], [row[1] for row in data]
    stated = [row[2] for row in data] if any(row[2] is not None for row in data) else None
    known = omega_known if form == "fixed" else None
    return sine_fit(times, values, stated, angular_frequency=known, damped=form == "damped")


def _notes(data: Readings, fit: SineFit) -> str:
    said = [one.message for one in fit.warnings]
    times = [row[0] for row in data]
    if times != sorted(times):
        said.append("The times were not in order; they have been sorted.")
    again = sum(count - 1 for count in Counter(times).values())
    if again:
        said.append(f"{again} of the times {'is' if again == 1 else 'are'} repeated.")
    if standing_out := outlier_note([row[1] - fit.at(row[0]) for row in data]):
        said.append(standing_out)
    return " ".join(said) or _NOTHING


def draw(values: Values) -> Drawing:
    """The readings and the wave, and below them the residuals."""
    wave = _wave(values)
    rows = sorted(values["data"])
    times, readings = [row[0] for row in rows], [row[1] for row in rows]
    count = int(min(_MOST_POINTS, max(240.0, 40.0 * values["cycles"])))
    smooth = spread(times[0], times[-1], count)
    ends = [times[0], times[-1]]
    return Drawing(
        {
            "readings": (times, readings),
            "wave": (smooth, [wave(one) for one in smooth]),
            "left": (times, [x - wave(t) for t, x in zip(times, readings, strict=True)]),
            "zero": (ends, [0.0, 0.0]),
        }
    )


def _wave(values: Values) -> Callable[[float], float]:
    return _fit(values["data"], values["form"], values["omega_known"]).at


_TIME = Axis(symbol="t", meaning="time", unit="s", shown_in="data")

calculator = Calculator(
    title="A sine wave through readings",
    purpose="Period, amplitude, initial phase and offset of the best-fit sine wave through a record, with "
    "uncertainties.",
    inputs=(
        Choice(
            key="form",
            meaning="what to fit",
            options=(
                ("plain", "constant amplitude"),
                ("damped", "damped: the amplitude dies away"),
                ("fixed", "known frequency, constant amplitude"),
            ),
            default="plain",
        ),
        Input(
            key="omega_known",
            symbol=r"\omega_{\mathrm{known}}",
            meaning="known angular frequency, used only if the frequency is known",
            unit="rad/s",
            also=("rpm", "deg/s", "Hz", "s"),
            default="0.79 s",
            lowest="1e-9 rad/s",
            highest="1e9 rad/s",
            slider=("0.2 s", "4 s"),
            step="0.01 s",
            parameter="angular_frequency",
            help="Or type a period (s), a frequency (Hz) or turns per minute (rpm): choose the unit.",
        ),
        Table(
            key="data",
            meaning="readings, one per row: time and reading; a third column, the standard uncertainty of the reading, "
            "may be left out",
            columns=(
                Column(key="t", symbol="t", meaning="time", unit="s", also=("ms", "min", "h")),
                Column(key="x", symbol="x", meaning="reading", unit="1"),
                Column(key="u_x", symbol="u", meaning="standard uncertainty of the reading", unit="1", needed=False),
            ),
            default="t / s; x / m\n"
            "0.00; 0.5389\n0.15; 0.5393\n0.30; 0.4924\n0.45; 0.4589\n0.60; 0.4792\n0.75; 0.5276\n"
            "0.90; 0.5432\n1.05; 0.5065\n1.20; 0.4665\n1.35; 0.4717\n1.50; 0.5155\n1.65; 0.5416\n"
            "1.80; 0.5165\n1.95; 0.4757\n2.10; 0.4673\n2.25; 0.5032\n2.40; 0.5355\n2.55; 0.5252\n"
            "2.70; 0.4852\n2.85; 0.4659\n3.00; 0.4919\n3.15; 0.5293\n3.30; 0.5324\n3.45; 0.4966\n"
            "3.60; 0.4694\n3.75; 0.4832\n3.90; 0.5196\n4.05; 0.5352\n4.20; 0.5080\n4.35; 0.4759\n"
            "4.50; 0.4764\n4.65; 0.5095\n4.80; 0.5322\n4.95; 0.5162\n5.10; 0.4831\n5.25; 0.4742\n"
            "5.40; 0.5001\n5.55; 0.5275\n5.70; 0.5222\n5.85; 0.4923\n6.00; 0.4735",
            least_rows=4,
            most_rows=2000,
        ),
    ),
    outputs=(
        Output(
            key="T",
            symbol="T",
            meaning="period",
            unit="s",
            method="Least squares: the sum of the squared residuals, each divided by the square of its uncertainty "
            "where one "
            "is given, is as small as possible. All quantities are adjusted together, from the best of many trial "
            "frequencies.",
            shown_in="data",
            uncertainty="u_T",
            digits=5,
        ),
        Output(
            key="u_T",
            symbol="u_T",
            meaning="standard uncertainty of the period",
            unit="s",
            method="From the scatter of the residuals, or from the uncertainties given.",
            shown_in="data",
            digits=2,
        ),
        Output(
            key="A",
            symbol="A",
            meaning="amplitude, in the unit of the readings; if damped, at time zero",
            unit="1",
            method="From the same fit.",
            uncertainty="u_A",
            digits=4,
        ),
        Output(
            key="u_A",
            symbol="u_A",
            meaning="standard uncertainty of the amplitude",
            unit="1",
            method="From the same fit, as for the period.",
            digits=2,
        ),
        Output(
            key="f",
            symbol="f",
            meaning="frequency",
            unit="Hz",
            formula="1/T",
            uncertainty="u_f",
            digits=5,
        ),
        Output(
            key="u_f",
            symbol="u_f",
            meaning="standard uncertainty of the frequency",
            unit="Hz",
            formula="f*u_T/T",
            digits=2,
        ),
        Output(
            key="omega",
            symbol=r"\omega",
            meaning="angular frequency",
            unit="rad/s",
            formula="2*pi/T",
            uncertainty="u_omega",
            digits=5,
        ),
        Output(
            key="u_omega",
            symbol=r"u_\omega",
            meaning="standard uncertainty of the angular frequency",
            unit="rad/s",
            formula="omega*u_T/T",
            digits=2,
        ),
        Output(
            key="phi",
            symbol=r"\varphi",
            meaning="initial phase, for a cosine",
            unit="rad",
            method="From the same fit; between −π and π.",
            uncertainty="u_phi",
            digits=4,
        ),
        Output(
            key="u_phi",
            symbol=r"u_\varphi",
            meaning="standard uncertainty of the initial phase",
            unit="rad",
            method="As for the period. It is least in the middle of the record and grows with distance from it.",
            digits=2,
        ),
        Output(
            key="offset",
            symbol=r"x_{\mathrm{mid}}",
            meaning="offset: the reading about which it oscillates",
            unit="1",
            method="From the same fit.",
            uncertainty="u_offset",
            digits=4,
        ),
        Output(
            key="u_offset",
            symbol=r"u_{\mathrm{mid}}",
            meaning="standard uncertainty of the offset",
            unit="1",
            method="From the same fit, as for the period.",
            digits=2,
        ),
        Output(
            key="gamma",
            symbol=r"\gamma",
            meaning="damping coefficient",
            unit="1/s",
            method="From the same fit.",
            uncertainty="u_gamma",
            digits=4,
        ),
        Output(
            key="u_gamma",
            symbol=r"u_\gamma",
            meaning="standard uncertainty of the damping coefficient",
            unit="1/s",
            method="From the same fit, as for the period.",
            digits=2,
        ),
        Output(
            key="rms",
            symbol=r"r_{\mathrm{rms}}",
            meaning="root mean square of the residuals",
            unit="1",
            method="The square root of the mean of their squares.",
            digits=2,
        ),
        Output(
            key="scatter",
            symbol=r"s_{\mathrm{res}}",
            meaning="standard deviation of the residuals",
            unit="1",
            method="The square root of: the sum of their squares, divided by the number of readings minus the number "
            "of fitted "
            "quantities.",
            digits=2,
        ),
        Output(
            key="n",
            symbol="n",
            meaning="number of readings used",
            unit="1",
            method="Counted.",
            whole=True,
        ),
        Output(
            key="cycles",
            symbol=r"N_{\mathrm{rec}}",
            meaning="number of periods in the record",
            unit="1",
            method="The time from the first reading to the last, divided by the period.",
        ),
        Output(
            key="notes",
            symbol="",
            meaning="checks",
            unit="",
            method="Anything in the readings that speaks against the fit.",
        ),
    ),
    asks=(),
    function=find,
    picture=Picture(
        caption="The readings with the fitted wave, and the residuals",
        panels=(
            Panel(
                horizontal=_TIME,
                vertical=Axis(symbol="x", meaning="reading", unit="1"),
                curves=(
                    Curve(key="readings", label="readings", role="position", line="points"),
                    Curve(key="wave", label="wave", role="plain"),
                ),
            ),
            Panel(
                horizontal=_TIME,
                vertical=Axis(symbol="r", meaning="residual", unit="1"),
                curves=(
                    Curve(key="left", label="residuals", role="position", line="points"),
                    Curve(key="zero", label="", role="plain"),
                ),
            ),
        ),
        draw=draw,
    ),
    checks=(
        PublishedCheck(
            source="common practice, no source",
            note="A cosine of the amplitude 2 and the period 2 s about 1, rounded to four digits.",
            given={
                "data": "0 3\n0.25 2.4142\n0.5 1\n0.75 -0.4142\n1 -1\n1.25 -0.4142\n1.5 1\n1.75 2.4142\n2 3\n"
                "2.25 2.4142\n2.5 1\n2.75 -0.4142\n3 -1\n3.25 -0.4142\n3.5 1"
            },
            expect={"T": "2.000 s", "A": "2.000", "offset": "1.000", "phi": "0.000 rad"},
        ),
    ),
)
