"""Energy left: what remains of an oscillation's energy after so many periods, from its quality factor."""

from math import log

from crankpin.calculator.curves import Axis, Curve, Drawing, Mark, Panel, Picture, spread
from crankpin.calculator.declaration import Calculator, Input, Output, PublishedCheck, Values
from crankpin.mechanics import damping, ringing

_MOST_POINTS = 60


def find(Q: float, n: float, E_0: float) -> dict[str, float]:
    """The shares left after n periods, exactly and by the short rule."""
    decrement = ringing.decrement(Q)
    left = ringing.energy_left(Q, n)
    return {
        "log_decrement": decrement,
        "loss": damping.energy_lost_per_turn(decrement),
        "amplitude_share": ringing.amplitude_left(Q, n),
        "energy_share": left,
        "E_n": E_0 * left,
        "short": ringing.energy_left_short(Q, n),
        "n_half": 0.5 * log(2.0) / decrement,
        "n_e": 1.0 / decrement,
    }


def draw(values: Values) -> Drawing:
    """Energy and amplitude left, as shares, against the number of periods."""
    Q, n = values["Q"], values["n"]
    last = max(1.25 * n, 1.0)
    smooth = spread(0.0, last)
    step = max(1, round(last / _MOST_POINTS))
    whole = [float(i) for i in range(0, int(last) + 1, step)]
    return Drawing(
        {
            "amplitude": (smooth, [ringing.amplitude_left(Q, one) for one in smooth]),
            "energy": (smooth, [ringing.energy_left(Q, one) for one in smooth]),
            "whole": (whole, [ringing.energy_left(Q, one) for one in whole]),
        },
        {"here": (n, values["energy_share"])},
    )


calculator = Calculator(
    title="Energy left after so many swings",
    purpose="The share of energy and amplitude that is left after n periods, from the quality factor.",
    inputs=(
        Input(
            key="Q",
            symbol="Q",
            meaning="quality factor",
            unit="1",
            default="20",
            lowest="0.51",
            highest="1e15",
            slider=("1", "200"),
            step="1",
            parameter="quality_factor",
            help="Above one half: below that nothing swings.",
        ),
        Input(
            key="n",
            symbol="n",
            meaning="number of periods",
            unit="1",
            default="5",
            lowest="0",
            highest="1e15",
            slider=("0", "100"),
            step="1",
            whole=True,
            parameter="turns",
        ),
        Input(
            key="E_0",
            symbol="E_0",
            meaning="energy at the start",
            unit="J",
            also=("mJ", "kJ"),
            default="1 J",
            lowest="1e-30 J",
            highest="1e20 J",
            slider=("1 J", "500 J"),
            step="1 J",
            parameter="energy",
            help="Leave it at 1 J if you only want the share.",
        ),
    ),
    outputs=(
        Output(
            key="log_decrement",
            symbol=r"\Lambda",
            meaning="logarithmic decrement",
            unit="1",
            formula="pi/sqrt(Q**2 - 1/4)",
        ),
        Output(
            key="loss",
            symbol=r"E_{\mathrm{lost}}/E",
            meaning="fraction of the energy lost in each period",
            unit="1",
            formula="1 - exp(-2*log_decrement)",
            shown_in="%",
        ),
        Output(
            key="amplitude_share",
            symbol="A_n/A_0",
            meaning="fraction of the amplitude left",
            unit="1",
            formula="exp(-n*log_decrement)",
            shown_in="%",
        ),
        Output(
            key="energy_share",
            symbol="E_n/E_0",
            meaning="fraction of the energy left",
            unit="1",
            formula="exp(-2*n*log_decrement)",
            shown_in="%",
        ),
        Output(
            key="E_n",
            symbol="E_n",
            meaning="energy left",
            unit="J",
            formula="E_0*exp(-2*n*log_decrement)",
            shown_in="E_0",
        ),
        Output(
            key="short",
            symbol=r"\eta",
            meaning="fraction of the energy left, by the short rule for light damping",
            unit="1",
            formula="exp(-2*pi*n/Q)",
            shown_in="%",
        ),
        Output(
            key="n_half",
            symbol=r"n_{1/2}",
            meaning="periods in which the energy halves",
            unit="1",
            formula="ln(2)/(2*log_decrement)",
        ),
        Output(
            key="n_e",
            symbol=r"n_{\mathrm{e}}",
            meaning="periods in which the amplitude falls to 1/e, about 37 %",
            unit="1",
            formula="1/log_decrement",
        ),
    ),
    function=find,
    picture=Picture(
        caption="Energy and amplitude that are left, as fractions of what they were, against the number of periods",
        panels=(
            Panel(
                horizontal=Axis(symbol="n", meaning="number of periods", unit="1"),
                vertical=Axis(symbol=r"\eta", meaning="fraction left", unit="1", shown_in="%"),
                curves=(
                    Curve(key="amplitude", label="amplitude", role="third", line="dots"),
                    Curve(key="energy", label="energy"),
                    Curve(key="whole", label="", line="points"),
                ),
                marks=(Mark(key="here", label="", role="position"),),
            ),
        ),
        draw=draw,
    ),
    checks=(
        PublishedCheck(
            source="B. Crowell, Light and Matter, definition of the quality factor: in Q periods the energy falls by "
            "a factor of 535",
            note="One over 535 is 0.187 %.",
            given={"Q": "100", "n": "100"},
            expect={"short": "0.187 %"},
        ),
        PublishedCheck(
            source="B. Crowell, Light and Matter, self-check on damping and energy: the amplitude halves in each "
            "cycle, so three quarters of the energy go",
            note="The quality factor of such an oscillator is the root of (π/ln 2)² + 1/4.",
            given={"Q": "4.559856187998019", "n": "1"},
            expect={"loss": "75.000 %", "amplitude_share": "50.000 %"},
        ),
    ),
)
