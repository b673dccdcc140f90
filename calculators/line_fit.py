"""Line fit: the straight line through a class's readings, and a spring's constant from one."""

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
from crankpin.calculator.faults import Absent
from crankpin.mechanics import fitting
from crankpin.mechanics.fitting import LineFit, SpringFit

Readings = tuple[tuple[float, float, float | None], ...]

_TWO = Absent("Two readings settle a line exactly; a third is needed to judge the uncertainty.")
_NO_SPRING = Absent("The readings are taken as a plain line; choose one of the uses for a spring.")
_NOTHING = "Nothing to remark."
_HEAVY = 20.0


def find(data: Readings, use: str) -> dict[str, Any]:
    """The line with its standard uncertainties, and the spring's constant where one is asked for."""
    x, y, u = _columns(data, use)
    line = fitting.line_fit(x, y, u)
    spring = _NO_SPRING if use == "plain" else or_absent(fitting.spring_fit, x, y, u)
    return {
        "slope": line.slope,
        "u_slope": _or_two(line.u_slope),
        "intercept": line.intercept,
        "u_intercept": _or_two(line.u_intercept),
        **_spring(spring),
        "r2": line.r2,
        "scatter": _or_two(line.scatter),
        "n": float(line.n),
        "notes": _notes(x, line, spring),
    }


def _columns(data: Readings, use: str) -> tuple[list[float], list[float], list[float | None] | None]:
    """Return x, y and the uncertainties of y; periods are squared, their uncertainties with them."""
    x, y = [row[0] for row in data], [row[1] for row in data]
    stated = [row[2] for row in data] if any(row[2] is not None for row in data) else None
    if use != "spring-periods":
        return x, y, stated
    squared = stated and [None if u is None else 2.0 * T * u for T, u in zip(y, stated, strict=True)]
    return x, [T * T for T in y], squared


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


def _notes(x: list[float], line: LineFit, spring: SpringFit | Absent) -> str:
    warnings = spring.warnings if isinstance(spring, SpringFit) else line.warnings
    if line.u_slope is None:
        return _TWO.reason
    said = [one.message for one in warnings]
    if isinstance(spring, SpringFit) and max(x) > _HEAVY:
        said.append(f"Masses of more than {_HEAVY:.0f} kg on a spring? If they are in grams, divide them by 1000.")
    return " ".join(said) or _NOTHING


def draw(values: Values) -> Drawing:
    """The readings and the line, and below what is left over."""
    x, y, _ = _columns(values["data"], values["use"])
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


_X = Axis(symbol="x", meaning="first column", unit="1")

calculator = Calculator(
    title="A straight line through readings",
    purpose="Slope and intercept of the best line, each with its standard uncertainty; for a spring also its constant.",
    inputs=(
        Choice(
            key="use",
            meaning="what the columns are",
            options=(
                ("plain", "any two quantities"),
                ("spring", "a spring: mass in kg and period squared in s²"),
                ("spring-periods", "a spring: mass in kg and period in s (squared here)"),
            ),
            default="plain",
        ),
        Table(
            key="data",
            meaning="readings, one a row; the third column, the standard uncertainty of the second, may be left out",
            columns=(
                Column(key="x", symbol="x", meaning="first column: any quantity, or a mass in kg", unit="1"),
                Column(
                    key="y",
                    symbol="y",
                    meaning="second column: any quantity, or a period in s, or its square in s²",
                    unit="1",
                ),
                Column(
                    key="u_y", symbol="u", meaning="standard uncertainty of the second column", unit="1", needed=False
                ),
            ),
            default="mass / kg; period squared / s2\n"
            "0.100; 0.2275\n0.150; 0.3283\n0.200; 0.4264\n0.250; 0.5242\n0.300; 0.6257\n0.350; 0.7225\n0.400; 0.8208",
            least_rows=2,
        ),
    ),
    outputs=(
        Output(
            key="slope",
            symbol="a",
            meaning="slope",
            unit="1",
            any_unit=True,
            method="The line for which the squares of what is left over, each divided by the square of its "
            "uncertainty where one is given, have the least sum. In units of the second column over the first.",
            uncertainty="u_slope",
            digits=5,
        ),
        Output(
            key="u_slope",
            symbol="u_a",
            meaning="standard uncertainty of the slope",
            unit="1",
            any_unit=True,
            method="From the scatter about the line, or from the uncertainties given.",
            digits=2,
        ),
        Output(
            key="intercept",
            symbol="c",
            meaning="intercept: the line’s height at zero of the first column",
            unit="1",
            any_unit=True,
            method="The same line at zero.",
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
            meaning="mass that swings along: the spring’s own share",
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
            method="From those of slope and intercept together, which are not independent.",
            shown_in="g",
            digits=2,
        ),
        Output(
            key="r2",
            symbol="D",
            meaning="coefficient of determination: the share of the second column’s variation that the line explains",
            unit="1",
            method="One less the squares left over divided by the squares about the mean. Close to 1 even for a "
            "curve: look at what is left over before you trust it.",
            digits=6,
        ),
        Output(
            key="scatter",
            symbol=r"s_{\mathrm{res}}",
            meaning="standard deviation of what is left over",
            unit="1",
            any_unit=True,
            method="The root of the sum of their squares over the number of readings less two.",
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
            meaning="before you trust it",
            unit="",
            method="What the readings themselves say against the fit.",
        ),
    ),
    function=find,
    picture=Picture(
        caption="The readings with the line, and what is left over",
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
                vertical=Axis(symbol="r", meaning="left over", unit="1"),
                curves=(
                    Curve(key="left", label="left over", role="position", line="points"),
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
    ),
)
