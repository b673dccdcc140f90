"""Falling peaks: how strongly a swing is damped, from the heights of two peaks and the period."""

from math import exp, pi
from typing import Any

from crankpin.calculator.common import or_absent
from crankpin.calculator.curves import Axis, Curve, Drawing, Mark, Panel, Picture, spread
from crankpin.calculator.declaration import Calculator, Input, Output, PublishedCheck, Values
from crankpin.calculator.faults import RefusedError
from crankpin.mechanics import damping

_MOST_PEAKS = 60


def find(x_0: float, x_n: float, n: float, T_d: float) -> dict[str, Any]:
    """What two peaks on the same side tell of the damping; the rest as for one kilogram that swings so."""
    if x_n > x_0:
        raise RefusedError("x_n", "no greater than the first peak", highest=x_0)
    decrement = damping.decrement_from_peaks(x_0, x_n, round(n))
    gamma = decrement / T_d
    swing = (1.0, (2.0 * pi / T_d) ** 2 + gamma**2, 2.0 * gamma)
    return {
        "log_decrement": decrement,
        "x_1": x_0 * exp(-decrement),
        "loss": damping.energy_lost_per_turn(decrement),
        "gamma": gamma,
        "zeta": damping.damping_ratio_from_decrement(decrement),
        "Q": or_absent(damping.quality_factor, *swing),
        "omega_0": damping.natural_angular_frequency(*swing[:2]),
        "tau": or_absent(damping.time_constant, swing[0], swing[2]),
        "t_half": or_absent(damping.half_life, *swing),
    }


def draw(values: Values) -> Drawing:
    """The peaks as they should lie between the two that were measured and a little beyond, and their logarithms."""
    x_0, n, decrement = values["x_0"], values["n"], values["log_decrement"]
    last = int(min(n + 2.0, n + _MOST_PEAKS))
    step = max(1, last // _MOST_PEAKS)
    numbers = [float(i) for i in range(0, last + 1, step)]
    smooth = spread(0.0, float(last))
    return Drawing(
        {
            "peaks": (numbers, [x_0 * exp(-decrement * i) for i in numbers]),
            "between": (smooth, [x_0 * exp(-decrement * i) for i in smooth]),
            "logarithm": (smooth, [-decrement * i for i in smooth]),
        },
        {"first": (0.0, x_0), "later": (n, values["x_n"]), "later_log": (n, -decrement * n)},
    )


def _peak(key: str, symbol: str, meaning: str, default: str, parameter: str) -> Input:
    return Input(
        key=key,
        symbol=symbol,
        meaning=meaning,
        unit="m",
        also=("cm", "mm"),
        default=default,
        lowest="1e-9 m",
        highest="1e9 m",
        slider=("1 cm", "50 cm"),
        step="0.5 cm",
        parameter=parameter,
        help="Measured from equilibrium, on the same side as the other peak.",
    )


_NUMBER = Axis(symbol="i", meaning="number of the peak", unit="1")

calculator = Calculator(
    title="Damping from two peaks",
    purpose="The logarithmic decrement of a damped oscillation from two of its peaks, and what follows from it.",
    inputs=(
        _peak("x_0", "x_0", "height of the first peak", "30 cm", "first"),
        _peak("x_n", "x_n", "height of the later peak", "8.5 cm", "later"),
        Input(
            key="n",
            symbol="n",
            meaning="number of periods between the two peaks",
            unit="1",
            default="4",
            lowest="1",
            highest="1e6",
            slider=("1", "20"),
            step="1",
            whole=True,
            parameter="turns",
            help="The first peak is number zero.",
        ),
        Input(
            key="T_d",
            symbol=r"T_{\mathrm{d}}",
            meaning="period, as timed",
            unit="s",
            also=("ms", "min"),
            default="2.5 s",
            lowest="1e-9 s",
            highest="1e9 s",
            slider=("0.2 s", "10 s"),
            step="0.1 s",
            parameter="period",
        ),
    ),
    outputs=(
        Output(
            key="log_decrement",
            symbol=r"\Lambda",
            meaning="logarithmic decrement",
            unit="1",
            formula="ln(x_0/x_n)/n",
            dust_of="n",
        ),
        Output(
            key="x_1",
            symbol="x_1",
            meaning="height of the peak after the first",
            unit="m",
            formula="x_0*exp(-log_decrement)",
            shown_in="x_0",
        ),
        Output(
            key="loss",
            symbol=r"E_{\mathrm{lost}}/E",
            meaning="fraction of the energy lost in each period",
            unit="1",
            formula="1 - exp(-2*log_decrement)",
            shown_in="%",
            dust_of="n",
        ),
        Output(
            key="gamma",
            symbol=r"\gamma",
            meaning="damping coefficient",
            unit="1/s",
            formula="log_decrement/T_d",
        ),
        Output(
            key="zeta",
            symbol=r"\zeta",
            meaning="damping ratio",
            unit="1",
            formula="log_decrement/sqrt(4*pi**2 + log_decrement**2)",
        ),
        Output(key="Q", symbol="Q", meaning="quality factor", unit="1", formula="1/(2*zeta)"),
        Output(
            key="omega_0",
            symbol=r"\omega_0",
            meaning="natural angular frequency",
            unit="rad/s",
            formula="sqrt((2*pi/T_d)**2 + gamma**2)",
        ),
        Output(key="tau", symbol=r"\tau", meaning="time constant", unit="s", formula="1/gamma"),
        Output(
            key="t_half",
            symbol=r"t_{1/2}",
            meaning="time for the amplitude to halve",
            unit="s",
            formula="ln(2)/gamma",
        ),
    ),
    function=find,
    picture=Picture(
        caption="The peaks for this damping, and the natural logarithm of each peak divided by the first: a straight "
        "line",
        panels=(
            Panel(
                horizontal=_NUMBER,
                vertical=Axis(symbol="x_i", meaning="height of the peak", unit="m", shown_in="x_0"),
                curves=(
                    Curve(key="between", label="", role="plain", line="dashes"),
                    Curve(key="peaks", label="peaks", role="position", line="points"),
                ),
                marks=(
                    Mark(key="first", label="first", role="position"),
                    Mark(key="later", label="later", role="position"),
                ),
            ),
            Panel(
                horizontal=_NUMBER,
                vertical=Axis(symbol="y", meaning="natural logarithm of peak divided by first peak", unit="1"),
                curves=(Curve(key="logarithm", label="logarithm", role="plain"),),
                marks=(Mark(key="later_log", label="later", role="position"),),
            ),
        ),
        draw=draw,
    ),
    checks=(
        PublishedCheck(
            source="B. Crowell, Simple Nature, chapter on oscillations, output of its listing: successive turning "
            "points of a swing released at 1 m",
            note="From the second printed peak follows the first.",
            given={"x_0": "1 m", "x_n": "0.810 m", "n": "2", "T_d": "1.00 s"},
            expect={"x_1": "0.900 m"},
        ),
        PublishedCheck(
            source="B. Crowell, Light and Matter, self-check on damping and energy: the amplitude halves in each "
            "cycle, so three quarters of the energy go",
            given={"x_0": "1 m", "x_n": "0.5 m", "n": "1", "T_d": "1 s"},
            expect={"loss": "75.000 %"},
        ),
        PublishedCheck(
            source="common practice, no source",
            note="Where peaks fall to a tenth in ten periods, the decrement is a tenth of the logarithm of ten.",
            given={"x_0": "10 cm", "x_n": "1 cm", "n": "10", "T_d": "1 s"},
            expect={"log_decrement": "0.230259", "t_half": "3.0103 s"},
        ),
    ),
)
