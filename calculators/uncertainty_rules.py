"""Uncertainty rules: what two measured values contribute to the uncertainty of a sum or of a product of powers."""

from typing import Any

from crankpin.calculator.curves import Axis, Curve, Drawing, Mark, Panel, Picture
from crankpin.calculator.declaration import Calculator, Choice, Input, Output, PublishedCheck, Values
from crankpin.calculator.faults import Absent, RefusedError
from crankpin.mechanics import measurement, propagation

_SUM = "sum"
_ABSOLUTE = Absent("In a sum the uncertainties themselves count, not the relative ones.")


def find(rule: str, x: float, u_x: float, a: float, y: float, u_y: float, b: float) -> dict[str, Any]:
    """The result, the two contributions, and the uncertainty that they make together."""
    if rule == _SUM:
        z = a * x + b * y
        parts, relative = propagation.sum_parts(a, u_x, b, u_y), (_ABSOLUTE, _ABSOLUTE)
    else:
        _refuse_zero("x", x)
        _refuse_zero("y", y)
        z = propagation.power_product(x, a, y, b)
        relative = propagation.relative_parts(x, u_x, a, y, u_y, b)
        parts = (abs(z) * relative[0], abs(z) * relative[1])
    return {
        "z": z,
        "r_x": relative[0],
        "r_y": relative[1],
        "u_1": parts[0],
        "u_2": parts[1],
        **_together(z, *parts),
    }


def _together(z: float, u_1: float, u_2: float) -> dict[str, Any]:
    u_z = measurement.independent(u_1, u_2)
    return {
        "u_z": u_z,
        "rel": u_z / abs(z) if z else Absent("A result of zero has no relative uncertainty."),
        "share": (u_1 / u_z) ** 2 if u_z else Absent("Without any uncertainty there is nothing to share."),
        "u_most": u_1 + u_2,
    }


def _refuse_zero(key: str, value: float) -> None:
    if value == 0.0:
        raise RefusedError(key, "other than 0, since a value of zero has no relative uncertainty")


def draw(values: Values) -> Drawing:
    """The two contributions as the short sides of a right-angled triangle; the long side is what they make together."""
    u_1, u_2 = values["u_1"], values["u_2"]
    return Drawing(
        {
            "first": ([0.0, u_1], [0.0, 0.0]),
            "second": ([u_1, u_1], [0.0, u_2]),
            "together": ([0.0, u_1], [0.0, u_2]),
        },
        {"side": (0.5 * u_1, 0.0), "other": (u_1, 0.5 * u_2), "slant": (0.5 * u_1, 0.5 * u_2)},
    )


def _number(key: str, symbol: str, meaning: str, default: str, help_: str, **changes: Any) -> Input:
    ready: dict[str, Any] = {"lowest": "-1e15", "highest": "1e15", "slider": ("-10", "10"), "step": "0.1"}
    return Input(key=key, symbol=symbol, meaning=meaning, unit="1", default=default, help=help_, **{**ready, **changes})


_UNCERTAINTY = {"lowest": "0", "slider": ("0", "1"), "step": "0.01"}
_POWER = {"lowest": "-20", "highest": "20", "slider": ("-4", "4"), "step": "0.5"}

calculator = Calculator(
    title="Two uncertainties make one",
    purpose="The standard uncertainty of a sum, a difference, a product, a quotient or a power of two measured values.",
    inputs=(
        Choice(
            key="rule",
            meaning="the result is",
            options=(
                ("product", "a product of powers"),
                (_SUM, "a sum or a difference"),
            ),
            default="product",
        ),
        _number("x", "x", "first value", "25", "Its number alone; keep the unit in mind.", parameter="first"),
        _number(
            "u_x", "u_x", "its standard uncertainty", "0.25", "In the same unit.", parameter="u_first", **_UNCERTAINTY
        ),
        _number("a", "a", "its power in a product, its factor in a sum", "0.5", "", parameter="first_power", **_POWER),
        _number("y", "y", "second value", "0.415", "", parameter="second"),
        _number("u_y", "u_y", "its standard uncertainty", "0.001", "", parameter="u_second", **_UNCERTAINTY),
        _number(
            "b",
            "b",
            "its power in a product, its factor in a sum",
            "-0.5",
            "A quotient has the power −1, a difference the factor −1. With 0 the second value drops out.",
            parameter="second_power",
            **_POWER,
        ),
    ),
    outputs=(
        Output(
            key="z",
            symbol="z",
            meaning="result",
            unit="1",
            formula=lambda values: "a*x + b*y" if values["rule"] == _SUM else "x**a*y**b",
            uncertainty="u_z",
        ),
        Output(
            key="r_x",
            symbol="r_x",
            meaning="relative contribution of the first value",
            unit="1",
            formula="abs(a)*u_x/abs(x)",
            shown_in="%",
        ),
        Output(
            key="r_y",
            symbol="r_y",
            meaning="relative contribution of the second value",
            unit="1",
            formula="abs(b)*u_y/abs(y)",
            shown_in="%",
        ),
        Output(
            key="u_1",
            symbol="u_1",
            meaning="contribution of the first value",
            unit="1",
            formula=lambda values: "abs(a)*u_x" if values["rule"] == _SUM else "abs(z)*r_x",
        ),
        Output(
            key="u_2",
            symbol="u_2",
            meaning="contribution of the second value",
            unit="1",
            formula=lambda values: "abs(b)*u_y" if values["rule"] == _SUM else "abs(z)*r_y",
        ),
        Output(
            key="u_z",
            symbol="u_z",
            meaning="standard uncertainty of the result",
            unit="1",
            formula="sqrt(u_1**2 + u_2**2)",
        ),
        Output(
            key="rel",
            symbol=r"u_{\mathrm{r}}",
            meaning="relative uncertainty of the result",
            unit="1",
            formula="u_z/abs(z)",
            shown_in="%",
        ),
        Output(
            key="share",
            symbol="p_x",
            meaning="share of the first value in the square of the uncertainty",
            unit="1",
            formula="(u_1/u_z)**2",
            shown_in="%",
        ),
        Output(
            key="u_most",
            symbol=r"u_{\mathrm{worst}}",
            meaning="the two contributions simply added: the worst case",
            unit="1",
            formula="u_1 + u_2",
        ),
    ),
    function=find,
    picture=Picture(
        caption="The two contributions at right angles; the slanting side is the uncertainty of the result",
        panels=(
            Panel(
                horizontal=Axis(symbol="u_1", meaning="contribution of the first value", unit="1"),
                vertical=Axis(symbol="u_2", meaning="contribution of the second value", unit="1"),
                curves=(
                    Curve(key="first", label="first", role="second", line="dashes"),
                    Curve(key="second", label="second", role="third", line="dots"),
                    Curve(key="together", label="together"),
                ),
                marks=(
                    Mark(key="side", label="first", role="second"),
                    Mark(key="other", label="second", role="third"),
                    Mark(key="slant", label="together"),
                ),
                square=True,
            ),
        ),
        draw=draw,
    ),
    checks=(
        PublishedCheck(
            source="common practice, no source",
            note="Three and four make five.",
            given={"rule": "sum", "x": "10", "u_x": "0.3", "a": "1", "y": "7", "u_y": "0.4", "b": "-1"},
            expect={"z": "3.000", "u_z": "0.50000", "u_most": "0.70000"},
        ),
        PublishedCheck(
            source="OpenStax, College Physics 2e, section 1.3: area of a floor, percentages added (from memory)",
            note="The book adds the two percentages, 2 % and 1 %; that is the worst case.",
            given={"rule": "product", "x": "4.00", "u_x": "0.08", "a": "1", "y": "3.00", "u_y": "0.03", "b": "1"},
            expect={"z": "12.0", "u_most": "0.36"},
        ),
    ),
)
