"""Repeated readings: a period from timing the same number of swings several times."""

from typing import Any

from crankpin.calculator.common import or_absent
from crankpin.calculator.curves import Axis, Curve, Drawing, Panel, Picture
from crankpin.calculator.declaration import Calculator, Column, Input, Output, PublishedCheck, Table, Values
from crankpin.mechanics import repeated


def find(times: tuple[tuple[float], ...], N: float) -> dict[str, Any]:
    """Mean, scatter and standard uncertainty of the times, and the period that follows."""
    readings = [row[0] for row in times]
    u_mean = or_absent(repeated.uncertainty_of_mean, readings)
    return {
        "n": float(len(readings)),
        "t_mean": repeated.mean(readings),
        "s_t": or_absent(repeated.standard_deviation, readings),
        "u_mean": u_mean,
        "T": repeated.mean(readings) / N,
        "u_T": u_mean / N if isinstance(u_mean, float) else u_mean,
    }


def draw(values: Values) -> Drawing:
    """The readings in their order, with their mean and its uncertainty."""
    readings = [row[0] for row in values["times"]]
    numbers = [float(i) for i in range(1, len(readings) + 1)]
    ends, mean = [0.5, len(readings) + 0.5], values["t_mean"]
    curves = {"readings": (numbers, readings), "mean": (ends, [mean, mean])}
    if "u_mean" in values:
        for key, level in (("above", mean + values["u_mean"]), ("below", mean - values["u_mean"])):
            curves[key] = (ends, [level, level])
    return Drawing(curves)


calculator = Calculator(
    title="Repeated timings",
    purpose="A period and its standard uncertainty from several timings of the same number of oscillations.",
    inputs=(
        Table(
            key="times",
            meaning="times for the same number of oscillations, one per row",
            columns=(Column(key="t", symbol="t", meaning="time", unit="s", also=("ms", "min")),),
            default="7.86\n7.95\n7.91\n7.84\n7.93\n7.90",
            most_rows=1000,
        ),
        Input(
            key="N",
            symbol="N",
            meaning="number of complete oscillations in each timing",
            unit="1",
            default="10",
            lowest="1",
            highest="1e6",
            slider=("1", "50"),
            step="1",
            whole=True,
            help="Count from zero: say “nought” as you start the watch.",
        ),
    ),
    outputs=(
        Output(key="n", symbol="n", meaning="number of readings", unit="1", method="Counted.", whole=True),
        Output(
            key="t_mean",
            symbol=r"t_{\mathrm{mean}}",
            meaning="mean time",
            unit="s",
            method="The sum of the readings divided by their number.",
            uncertainty="u_mean",
            digits=4,
        ),
        Output(
            key="s_t",
            symbol="s_t",
            meaning="standard deviation of one reading",
            unit="s",
            method="The square root of: the sum of the squared deviations from the mean, divided by the number of "
            "readings minus "
            "one.",
            digits=2,
        ),
        Output(
            key="u_mean",
            symbol=r"u_{\mathrm{mean}}",
            meaning="standard uncertainty of the mean",
            unit="s",
            formula="s_t/sqrt(n)",
            digits=2,
        ),
        Output(key="T", symbol="T", meaning="period", unit="s", formula="t_mean/N", uncertainty="u_T", digits=4),
        Output(
            key="u_T",
            symbol="u_T",
            meaning="standard uncertainty of the period",
            unit="s",
            formula="u_mean/N",
            method="Only what the scatter shows: it does not include a watch that runs fast or a count that is one "
            "out.",
            digits=2,
        ),
    ),
    function=find,
    picture=Picture(
        caption="The readings, their mean, and its standard uncertainty on either side",
        panels=(
            Panel(
                horizontal=Axis(symbol="i", meaning="number of the reading", unit="1"),
                vertical=Axis(symbol="t", meaning="time", unit="s"),
                curves=(
                    Curve(key="readings", label="readings", role="position", line="points"),
                    Curve(key="mean", label="mean", role="plain"),
                    Curve(key="above", label="mean + u", role="second", line="dashes"),
                    Curve(key="below", label="mean − u", role="second", line="dashes"),
                ),
            ),
        ),
        draw=draw,
    ),
    checks=(
        PublishedCheck(
            source="common practice, no source",
            note="Readings of 9.8, 10.0 and 10.2: the standard deviation is 0.2, that of the mean 0.2 divided by the "
            "square root of 3.",
            given={"times": "9.8\n10.0\n10.2", "N": "10"},
            expect={"t_mean": "10.000 s", "s_t": "0.2000 s", "u_mean": "0.1155 s", "T": "1.0000 s"},
        ),
    ),
)
