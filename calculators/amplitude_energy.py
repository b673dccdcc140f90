"""Amplitude and energy: how the energy of an oscillation, or the intensity of a wave, goes with its amplitude."""

from crankpin.calculator.curves import Axis, Curve, Drawing, Mark, Panel, Picture, spread
from crankpin.calculator.declaration import Calculator, Input, Output, PublishedCheck, Values
from crankpin.mechanics import energy


def find(A_1: float, A_2: float, E_1: float) -> dict[str, float]:
    """The ratios, the energy afterwards, and the difference in level."""
    ratio = A_2 / A_1
    squared = energy.energy_ratio(ratio)
    return {
        "A_ratio": ratio,
        "E_ratio": squared,
        "E_2": E_1 * squared,
        "change": squared - 1.0,
        "level": energy.level_difference(squared),
        "A_half": A_1 * energy.amplitude_ratio(0.5),
    }


def draw(values: Values) -> Drawing:
    """The energy against the amplitude, with both amplitudes marked."""
    A_1, A_2, E_1 = (values[key] for key in ("A_1", "A_2", "E_1"))
    amplitudes = spread(0.0, 1.2 * max(A_1, A_2))
    return Drawing(
        {
            "E": (amplitudes, [E_1 * energy.energy_ratio(one / A_1) for one in amplitudes]),
            "line": ([0.0, amplitudes[-1]], [0.0, E_1 * amplitudes[-1] / A_1]),
        },
        {"before": (A_1, E_1), "after": (A_2, values["E_2"])},
    )


def _amplitude(key: str, symbol: str, meaning: str, default: str) -> Input:
    return Input(
        key=key,
        symbol=symbol,
        meaning=meaning,
        unit="m",
        also=("cm", "mm", "nm"),
        default=default,
        lowest="1e-15 m",
        highest="1e9 m",
        slider=("1 cm", "50 cm"),
        step="1 cm",
        parameter="amplitude_ratio",
    )


calculator = Calculator(
    title="Amplitude and energy",
    purpose="What a change of amplitude does to the energy of an oscillation, and to the intensity of a wave.",
    inputs=(
        _amplitude("A_1", "A_1", "amplitude before", "8 cm"),
        _amplitude("A_2", "A_2", "amplitude after", "16 cm"),
        Input(
            key="E_1",
            symbol="E_1",
            meaning="total energy before",
            unit="J",
            also=("mJ", "kJ"),
            default="1 J",
            lowest="1e-30 J",
            highest="1e20 J",
            slider=("1 J", "100 J"),
            step="1 J",
            parameter="energy",
            help="Leave it at 1 J if you only want the ratio.",
        ),
    ),
    outputs=(
        Output(
            key="A_ratio",
            symbol="q",
            meaning="ratio of the amplitudes, after over before",
            unit="1",
            formula="A_2/A_1",
        ),
        Output(
            key="E_ratio",
            symbol="E_2/E_1",
            meaning="ratio of the energies; for a wave, of the intensities",
            unit="1",
            formula="A_ratio**2",
        ),
        Output(
            key="E_2", symbol="E_2", meaning="total energy after", unit="J", formula="E_1*A_ratio**2", shown_in="E_1"
        ),
        Output(
            key="change",
            symbol=r"\delta",
            meaning="change of the energy, as a fraction of what it was",
            unit="1",
            formula="A_ratio**2 - 1",
            shown_in="%",
        ),
        Output(
            key="level",
            symbol="L",
            meaning="difference in level, as used for sound",
            unit="dB",
            formula="20*ln(A_ratio)/ln(10)",
            method="Ten times the logarithm to base ten of the ratio of the energies, so twenty times that of the "
            "ratio of the amplitudes. A logarithm to base ten is the natural one over ln 10.",
        ),
        Output(
            key="A_half",
            symbol=r"A_{1/2}",
            meaning="amplitude that has half the energy of the first",
            unit="m",
            formula="A_1/sqrt(2)",
            shown_in="A_1",
        ),
    ),
    function=find,
    picture=Picture(
        caption="The energy against the amplitude: a parabola, and beside it the line it is often taken for",
        panels=(
            Panel(
                horizontal=Axis(symbol="A", meaning="amplitude", unit="m", shown_in="A_1"),
                vertical=Axis(symbol="E", meaning="total energy", unit="J", shown_in="E_1"),
                curves=(
                    Curve(key="E", label="energy"),
                    Curve(key="line", label="in proportion", role="second", line="dots"),
                ),
                marks=(Mark(key="before", label="before"), Mark(key="after", label="after", role="position")),
            ),
        ),
        draw=draw,
    ),
    checks=(
        PublishedCheck(
            source="OpenStax, College Physics 2e, section 16.11, exercise 65: amplitudes of two waves",
            note="The book asks for the ratio of the amplitudes whose intensities are as 50 to 1, and finds 7.07.",
            given={"A_1": "1 m", "A_2": "7.07 m"},
            expect={"E_ratio": "50"},
        ),
        PublishedCheck(
            source="common practice, no source",
            note="Twice the amplitude, four times the energy, and 6 dB more.",
            given={"A_1": "1 cm", "A_2": "2 cm", "E_1": "1 J"},
            expect={"E_2": "4.0000 J", "level": "6.02 dB", "change": "300.00 %"},
        ),
    ),
)
