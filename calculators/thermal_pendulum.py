"""Thermal pendulum: a pendulum clock in warm or cold weather, and how far wrong it goes."""

from crankpin.calculator.common import gravity
from crankpin.calculator.curves import Axis, Curve, Drawing, Mark, Panel, Picture, spread
from crankpin.calculator.declaration import Calculator, Input, Output, PublishedCheck, Values
from crankpin.mechanics import pendulum, warm_clock

_LEAST_SPAN = 20.0


def find(L: float, alpha: float, warming: float, days: float, g: float) -> dict[str, float]:
    """The rod's growth, the period's, and the clock's error."""
    drift = warm_clock.daily_drift(alpha, warming)
    L_warm = warm_clock.warmed_length(L, alpha, warming)
    return {
        "growth": L * alpha * warming,
        "T": pendulum.small_swing_period(L, g),
        "T_warm": pendulum.small_swing_period(L_warm, g),
        "half": 0.5 * alpha * warming,
        "share": warm_clock.period_growth(alpha, warming),
        "drift": drift,
        "error": drift * days,
    }


def draw(values: Values) -> Drawing:
    """The drift against the rise in temperature, exactly and by the short rule."""
    alpha, warming = values["alpha"], values["warming"]
    span = max(1.3 * abs(warming), _LEAST_SPAN if abs(alpha) * _LEAST_SPAN < 0.5 else 0.0)
    floor = -0.9 / abs(alpha) if alpha > 0.0 else -span
    rises = spread(max(-span, floor), span)
    return Drawing(
        {"drift": (rises, [warm_clock.daily_drift(alpha, rise) for rise in rises])},
        {"here": (warming, values["drift"]), "regulated": (0.0, 0.0)},
    )


calculator = Calculator(
    title="A pendulum clock in warm weather",
    purpose="How much longer a warm pendulum rod swings, and how many seconds a clock then loses.",
    inputs=(
        Input(
            key="L",
            symbol="L",
            meaning="length of the pendulum when the clock keeps time",
            unit="m",
            also=("cm", "mm"),
            default="99.4 cm",
            lowest="1e-6 m",
            highest="1e6 m",
            slider=("10 cm", "300 cm"),
            step="1 cm",
            parameter="length",
        ),
        Input(
            key="alpha",
            symbol="\\alpha_L",
            meaning="coefficient of linear expansion of the rod",
            unit="1/K",
            also=("ppm/K",),
            default="12 ppm/K",
            lowest="0 1/K",
            highest="0.01 1/K",
            slider=("0 ppm/K", "30 ppm/K"),
            step="1 ppm/K",
            parameter="expansion",
            help="Parts in a million per kelvin: steel about 12, brass 19, wood along the grain 4, nickel steel for "
            "clocks 1 (common practice, no source).",
        ),
        Input(
            key="warming",
            symbol=r"\Delta\Theta",
            meaning="rise in temperature since the clock was regulated",
            unit="K",
            default="10 K",
            lowest="-90 K",
            highest="2000 K",
            slider=("-30 K", "30 K"),
            step="1 K",
            parameter="warming",
            help="Negative when it is colder. A rise of one kelvin is a rise of one degree Celsius.",
        ),
        Input(
            key="days",
            symbol="N",
            meaning="days since the clock was set",
            unit="d",
            default="7 d",
            lowest="0 d",
            highest="1e9 d",
            slider=("0 d", "31 d"),
            step="1 d",
            parameter="days",
        ),
        gravity(),
    ),
    outputs=(
        Output(
            key="growth",
            symbol=r"\Delta L",
            meaning="growth of the pendulum’s length",
            unit="m",
            formula="L*alpha*warming",
            shown_in="mm",
        ),
        Output(
            key="T",
            symbol="T_0",
            meaning="period when the clock keeps time",
            unit="s",
            formula="2*pi*sqrt(L/g)",
            digits=6,
        ),
        Output(
            key="T_warm",
            symbol="T",
            meaning="period now",
            unit="s",
            formula="2*pi*sqrt((L + growth)/g)",
            digits=6,
        ),
        Output(
            key="half",
            symbol=r"\epsilon_1",
            meaning="growth of the period as a fraction, by the short rule",
            unit="1",
            formula="alpha*warming/2",
        ),
        Output(
            key="share",
            symbol=r"\epsilon",
            meaning="growth of the period as a fraction, exactly",
            unit="1",
            formula="alpha*warming/(1 + sqrt(1 + alpha*warming))",
            method="The same as the root of 1 plus the rod’s relative growth, less 1, but without a loss of digits.",
        ),
        Output(
            key="drift",
            symbol="D",
            meaning="drift of the clock; negative: it loses",
            unit="s/d",
            formula='-quantity(86400, "s/d")*share/(1 + share)',
            method="A day has 86 400 s, and the clock counts each swing as if it took the time for which it was "
            "regulated.",
        ),
        Output(
            key="error",
            symbol="E",
            meaning="error of the clock after these days; negative: it is slow",
            unit="s",
            formula="drift*days",
        ),
    ),
    function=find,
    picture=Picture(
        caption="The drift of the clock against the rise in temperature",
        panels=(
            Panel(
                horizontal=Axis(symbol=r"\Delta\Theta", meaning="rise in temperature", unit="K"),
                vertical=Axis(symbol="D", meaning="drift of the clock", unit="s/d"),
                curves=(Curve(key="drift", label="drift"),),
                marks=(Mark(key="regulated", label="keeps time"), Mark(key="here", label="now", role="position")),
            ),
        ),
        draw=draw,
    ),
    checks=(
        PublishedCheck(
            source="common practice, no source",
            note="A clock with a steel rod loses about half a second per day for each degree.",
            given={"alpha": "12 ppm/K", "warming": "1 K", "days": "1 d"},
            expect={"drift": "-0.52 s/d", "error": "-0.52 s"},
        ),
        PublishedCheck(
            source="OpenStax, University Physics Volume 1, chapter 15, exercise 63: a clock gains five seconds a day",
            note="The book’s change of length, 0.0116 %, is here a fall in temperature.",
            given={"alpha": "116 ppm/K", "warming": "-1 K"},
            expect={"drift": "5.0 s/d"},
        ),
    ),
)
