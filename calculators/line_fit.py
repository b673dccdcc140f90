"""Line fit: the straight line through a class's readings, and what it tells of a spring, a pendulum or a damping."""

from dataclasses import dataclass
from math import log, pi, sqrt
from typing import Any

from crankpin.calculator.common import or_absent
from crankpin.calculator.curves import Axis, Curve, Drawing, Panel, Picture, spread
from crankpin.calculator.declaration import (
    Calculator,
    Choice,
    Column,
    Output,
    PublishedCheck,
    Table,
    Values,
)
from crankpin.calculator.faults import Absent, RefusedError
from crankpin.calculator.outliers import outlier_note
from crankpin.mechanics import fitting
from crankpin.mechanics.fitting import LineFit, SpringFit

Readings = tuple[tuple[float, float, float | None], ...]

_TWO = Absent("Two readings settle a line exactly; a third is needed to judge the uncertainty.")
_PLAIN = Absent("The columns are taken as any two quantities; say above what they are to find this.")
_OTHER = Absent("The columns are not those of such an experiment.")
_NOTHING = "Nothing to flag."
_HEAVY = 20.0
_LONG = 20.0


def find(data: Readings, use: str) -> dict[str, Any]:
    """The line with its standard uncertainties, and what follows from it in the experiment named."""
    line_up = _columns(data, use)
    line = fitting.line_fit(line_up.x, line_up.y, line_up.u, relative=line_up.relative)
    spring: SpringFit | Absent = _PLAIN if use == "plain" else _OTHER
    if use in ("spring", "spring-periods"):
        spring = or_absent(_spring_fit, line_up)
    return {
        "slope": line.slope,
        "u_slope": _or_two(line.u_slope),
        "intercept": line.intercept,
        "u_intercept": _or_two(line.u_intercept),
        **_spring(spring),
        **_pendulum(line, use),
        **_peaks(line, use),
        "r2": line.r2,
        "scatter": _or_two(line.scatter),
        "n": float(line.n),
        "notes": _notes(line_up, line, spring, use),
    }


@dataclass(frozen=True)
class _Line:
    """What is fitted: y against x, and the uncertainties of y, known perhaps but for a common factor."""

    x: list[float]
    y: list[float]
    u: list[float | None] | None
    relative: bool = False


def _columns(data: Readings, use: str) -> _Line:
    """Return what is fitted: periods squared, the logarithms of peaks, with their uncertainties.

    Where none are stated the readings themselves count as equally uncertain: then so are not their squares, with
    u(T^2) = 2 T u(T), nor their logarithms, with u(ln x) = u(x)/x.
    """
    x, y = [row[0] for row in data], [row[1] for row in data]
    stated = [row[2] for row in data] if any(row[2] is not None for row in data) else None
    if use == "plain" or (use == "spring" and (stated or min(y) <= 0.0)):
        return _Line(x, y, stated)
    _above_zero(y, use)
    if use == "spring":
        return _Line(x, y, [2.0 * sqrt(square) for square in y], relative=True)
    slopes = [1.0 / height for height in y] if use == "peaks" else [2.0 * T for T in y]
    made = [log(height) for height in y] if use == "peaks" else [T * T for T in y]
    told = stated or [1.0] * len(y)
    carried = [None if u is None else slope * u for slope, u in zip(slopes, told, strict=True)]
    return _Line(x, made, carried, relative=stated is None)


def _above_zero(y: list[float], use: str) -> None:
    wrong = next((i for i, value in enumerate(y, start=1) if value <= 0.0), None)
    if wrong is not None:
        what = "peak, measured from equilibrium," if use == "peaks" else "period"
        raise RefusedError("data", f"row {wrong} has the second number {y[wrong - 1]:g}; a {what} must be above zero")


def _spring_fit(line_up: _Line) -> SpringFit:
    return fitting.spring_fit(line_up.x, line_up.y, line_up.u, relative=line_up.relative)


def _pendulum(line: LineFit, use: str) -> dict[str, Any]:
    if use != "pendulum-periods":
        return dict.fromkeys(("g", "u_g"), _PLAIN if use == "plain" else _OTHER)
    if line.slope <= 0.0:
        return dict.fromkeys(
            ("g", "u_g"),
            Absent("The period does not grow with the length in these readings, so no pendulum fits them."),
        )
    g = 4.0 * pi**2 / line.slope
    return {"g": g, "u_g": _or_two(line.u_slope and g * line.u_slope / line.slope)}


def _peaks(line: LineFit, use: str) -> dict[str, Any]:
    if use != "peaks":
        return dict.fromkeys(("log_decrement", "u_log_decrement"), _PLAIN if use == "plain" else _OTHER)
    return {"log_decrement": -line.slope, "u_log_decrement": _or_two(line.u_slope)}


def _or_two(found: float | None) -> float | Absent:
    return _TWO if found is None else found


def _spring(spring: SpringFit | Absent) -> dict[str, Any]:
    if isinstance(spring, Absent):
        return dict.fromkeys(("k", "u_k", "m_extra", "u_m_extra"), spring)
    return {
        "k": spring.k,
        "u_k": _or_two(spring.u_k),
        "m_extra": spring.m_extra,
        "u_m_extra": _or_two(spring.u_m_extra),
    }


def _notes(line_up: _Line, line: LineFit, spring: SpringFit | Absent, use: str) -> str:
    warnings = spring.warnings if isinstance(spring, SpringFit) else line.warnings
    if line.u_slope is None:
        return _TWO.reason
    said = [one.message for one in warnings]
    x, y = line_up.x, line_up.y
    if isinstance(spring, SpringFit) and max(x) > _HEAVY:
        said.append(f"Masses of more than {_HEAVY:.0f} kg on a spring? If they are in grams, write “m / g” above them.")
    if use == "pendulum-periods" and max(x) > _LONG:
        said.append(
            f"A pendulum of more than {_LONG:.0f} m? If the lengths are in centimetres, write “L / cm” above them."
        )
    if use == "peaks" and line.slope > 0.0:
        said.append("The peaks grow instead of dying away: look at their order.")
    if standing_out := outlier_note([b - (line.intercept + line.slope * a) for a, b in zip(x, y, strict=True)]):
        said.append(standing_out)
    return " ".join(said) or _NOTHING


def draw(values: Values) -> Drawing:
    """The readings and the line, and below them the residuals."""
    line_up = _columns(values["data"], values["use"])
    x, y = line_up.x, line_up.y
    slope, intercept = values["slope"], values["intercept"]
    margin = 0.05 * (max(x) - min(x))
    start = min(0.0, *x) if values["use"] != "plain" else min(x)
    ends = spread(start - margin, max(x) + margin, 2)
    left = [b - (intercept + slope * a) for a, b in zip(x, y, strict=True)]
    return Drawing(
        {
            "readings": (x, y),
            "line": (ends, [intercept + slope * one for one in ends]),
            "left": (x, left),
            "zero": (ends, [0.0, 0.0]),
        }
    )


_MASS = Column(key="m", symbol="m", meaning="mass", unit="kg", also=("g",))
_LENGTH = Column(key="L", symbol="L", meaning="length", unit="m", also=("cm", "mm"))
_PERIOD_SQUARED = Column(key="T2", symbol="T", meaning="period squared", unit="s2")
_PERIOD = Column(key="T", symbol="T", meaning="period", unit="s", also=("ms",))


def _spread_of(quantity: str, unit: str) -> Column:
    return Column(key="u_y", symbol="u", meaning=f"standard uncertainty of the {quantity}", unit=unit, needed=False)


_X = Axis(symbol="x", meaning="first column", unit="1")

calculator = Calculator(
    title="A straight line through readings",
    purpose="Gradient and intercept of the best line, each with its standard uncertainty; from them a spring constant, "
    "the acceleration of free fall or a logarithmic decrement.",
    inputs=(
        Choice(
            key="use",
            meaning="what the columns are",
            options=(
                ("plain", "any two quantities"),
                ("spring", "a spring: mass in kg and period squared in s²"),
                ("spring-periods", "a spring: mass in kg and period in s (squared here)"),
                ("pendulum-periods", "a pendulum: length in m and period in s (squared here)"),
                ("peaks", "damping: number of the peak and its height (its logarithm is taken here)"),
            ),
            default="plain",
        ),
        Table(
            key="data",
            meaning="readings, one per row; the third column, the standard uncertainty of the second, may be left out",
            columns=(
                Column(
                    key="x",
                    symbol="x",
                    meaning="first column: any quantity, or the number of a peak",
                    unit="1",
                ),
                Column(
                    key="y",
                    symbol="y",
                    meaning="second column: any quantity, or the height of a peak",
                    unit="1",
                ),
                Column(
                    key="u_y", symbol="u", meaning="standard uncertainty of the second column", unit="1", needed=False
                ),
            ),
            default="mass / kg; period squared / s2\n"
            "0.100; 0.2275\n0.150; 0.3283\n0.200; 0.4264\n0.250; 0.5242\n0.300; 0.6257\n0.350; 0.7225\n0.400; 0.8208",
            least_rows=2,
            by="use",
            variants=(
                ("spring", (_MASS, _PERIOD_SQUARED, _spread_of("period squared", "s2"))),
                ("spring-periods", (_MASS, _PERIOD, _spread_of("period", "s"))),
                ("pendulum-periods", (_LENGTH, _PERIOD, _spread_of("period", "s"))),
            ),
        ),
    ),
    outputs=(
        Output(
            key="slope",
            symbol="a",
            meaning="gradient (slope)",
            unit="1",
            any_unit=True,
            method="Least squares: the sum of the squared residuals, each divided by the square of its uncertainty, "
            "is as small as possible. Where no uncertainties are given, the readings count as equally uncertain; "
            "then a period squared is the more uncertain the longer the period, and a logarithm the smaller the "
            "peak. In units of the second column divided by the first.",
            uncertainty="u_slope",
            digits=5,
        ),
        Output(
            key="u_slope",
            symbol="u_a",
            meaning="standard uncertainty of the gradient",
            unit="1",
            any_unit=True,
            method="From the scatter about the line, or from the uncertainties given.",
            digits=2,
        ),
        Output(
            key="intercept",
            symbol="c",
            meaning="intercept: where the line crosses zero of the first column",
            unit="1",
            any_unit=True,
            method="From the same fit.",
            uncertainty="u_intercept",
            digits=5,
        ),
        Output(
            key="u_intercept",
            symbol="u_c",
            meaning="standard uncertainty of the intercept",
            unit="1",
            any_unit=True,
            method="From the scatter about the line, or from the uncertainties given.",
            digits=2,
        ),
        Output(
            key="k",
            symbol="k",
            meaning="spring constant",
            unit="N/m",
            formula="4*pi**2/slope",
            uncertainty="u_k",
        ),
        Output(
            key="u_k",
            symbol="u_k",
            meaning="standard uncertainty of the spring constant",
            unit="N/m",
            formula="k*u_slope/slope",
            digits=2,
        ),
        Output(
            key="m_extra",
            symbol=r"m_{\mathrm{extra}}",
            meaning="extra mass that oscillates: the contribution of the spring",
            unit="kg",
            formula="intercept/slope",
            shown_in="g",
            uncertainty="u_m_extra",
        ),
        Output(
            key="u_m_extra",
            symbol=r"u_{\mathrm{extra}}",
            meaning="standard uncertainty of that mass",
            unit="kg",
            method="From the uncertainties of slope and intercept together, which are not independent.",
            shown_in="g",
            digits=2,
        ),
        Output(
            key="g",
            symbol="g",
            meaning="acceleration of free fall",
            unit="m/s2",
            formula="4*pi**2/slope",
            uncertainty="u_g",
        ),
        Output(
            key="u_g",
            symbol="u_g",
            meaning="standard uncertainty of the acceleration of free fall",
            unit="m/s2",
            formula="g*u_slope/slope",
            digits=2,
        ),
        Output(
            key="log_decrement",
            symbol=r"\Lambda",
            meaning="logarithmic decrement",
            unit="1",
            formula="-slope",
            uncertainty="u_log_decrement",
        ),
        Output(
            key="u_log_decrement",
            symbol=r"u_\Lambda",
            meaning="standard uncertainty of the logarithmic decrement",
            unit="1",
            formula="u_slope",
            digits=2,
        ),
        Output(
            key="r2",
            symbol="R^2",
            meaning="coefficient of determination: the fraction of the variation that the line accounts for",
            unit="1",
            method="One minus the ratio of the squared residuals to the squared deviations from the mean. It is "
            "close to 1 even for a curve: look at the residuals before you trust it.",
            digits=6,
        ),
        Output(
            key="scatter",
            symbol=r"s_{\mathrm{res}}",
            meaning="standard deviation of the residuals",
            unit="1",
            any_unit=True,
            method="The square root of: the sum of their squares, divided by the number of readings minus two.",
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
            key="notes",
            symbol="",
            meaning="checks",
            unit="",
            method="Anything in the readings that speaks against the fit.",
        ),
    ),
    function=find,
    picture=Picture(
        caption="The readings with the line, and the residuals",
        panels=(
            Panel(
                horizontal=_X,
                vertical=Axis(symbol="y", meaning="second column", unit="1"),
                curves=(
                    Curve(key="readings", label="readings", role="position", line="points"),
                    Curve(key="line", label="line", role="plain"),
                ),
            ),
            Panel(
                horizontal=_X,
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
            note="Readings exactly on a line with the slope 2 and the intercept 1.",
            given={"use": "plain", "data": "0 1\n1 3\n2 5\n3 7"},
            expect={"slope": "2.00000", "intercept": "1.00000", "r2": "1.00000"},
        ),
        PublishedCheck(
            source="OpenStax, College Physics 2e, section 16.3, exercise 13: a toy of 0.0150 kg with a period of "
            "0.500 s, which makes 2.37 N/m; two masses without extra mass",
            given={"use": "spring-periods", "data": "0.0150 0.500\n0.0600 1.000"},
            expect={"k": "2.37 N/m"},
        ),
        PublishedCheck(
            source="OpenStax, College Physics 2e, section 16.4, example 16.5: a pendulum of 75.000 cm with a period of "
            "1.7357 s, which makes 9.8281 m/s² (from memory); a second one of a quarter the length",
            given={"use": "pendulum-periods", "data": "0.75000 1.7357\n0.18750 0.86785"},
            expect={"g": "9.828 m/s2"},
        ),
        PublishedCheck(
            source="common practice, no source",
            note="Where peaks fall to a tenth in ten periods, the decrement is a tenth of the logarithm of ten.",
            given={"use": "peaks", "data": "0 10\n5 3.16227766\n10 1"},
            expect={"log_decrement": "0.230259"},
        ),
    ),
)
