"""Disc and spring in step: what to change so that a turning disc keeps step with a mass on a spring."""

from typing import Any

from crankpin.calculator.common import mass, or_absent, stiffness
from crankpin.calculator.curves import Axis, Curve, Drawing, Mark, Panel, Picture, spread
from crankpin.calculator.declaration import Calculator, Caution, Input, Output, PublishedCheck, Values
from crankpin.mechanics import bench, circular, harmonic, springs

#: Flashes per second from which on a warning is given, and the marks on a disc that it reckons with.
_FLASHING = 3.0
_MARKS = 4


def find(k: float, m: float, m_spring: float, n: float, tolerance: float) -> dict[str, Any]:
    """What the disc, the mass or the spring would have to be, and how soon the two are out of step."""
    own = bench.disc_rate_needed(k, m, m_spring)
    return {
        "m_eff": springs.effective_mass(m, m_spring),
        "n_needed": own,
        "n_match": circular.rotational_frequency_rpm(own),
        "T": circular.period(own),
        "m_needed": or_absent(bench.mass_needed, k, n, m_spring),
        "k_needed": bench.stiffness_needed(m, n, m_spring),
        "mismatch": bench.mismatch(k, m, n, m_spring),
        "slip": bench.slip_per_period(k, m, n, m_spring),
        "t_slip": or_absent(bench.slip_time, k, m, n, tolerance, m_spring),
    }


def draw(values: Values) -> Drawing:
    """Six periods of the faster one, both on one scale, and the angle between them past the tolerance."""
    own, n, tolerance = (values[key] for key in ("n_needed", "n", "tolerance"))
    times = spread(0.0, 6.0 * circular.period(max(n, own)))
    apart = values.get("t_slip")
    end = times[-1] if apart is None else 1.6 * apart
    limit = tolerance if n >= own else -tolerance
    return Drawing(
        {
            "disc": (times, [harmonic.position(1.0, n, 0.0, one) for one in times]),
            "spring": (times, [harmonic.position(1.0, own, 0.0, one) for one in times]),
            "gain": ([0.0, end], [0.0, (n - own) * end]),
            "limit": ([0.0, end], [limit, limit]),
        },
        {"apart": None if apart is None else (apart, limit)},
    )


calculator = Calculator(
    title="A disc and a spring in step",
    purpose="What to change so that a turning disc and a mass on a spring stay in step, and how long they do.",
    inputs=(
        stiffness("25 N/m"),
        mass(meaning="mass hanging on the spring", step="5 g", tabulate="5 g"),
        Input(
            key="m_spring",
            symbol=r"m_{\mathrm{s}}",
            meaning="mass of the spring",
            unit="kg",
            also=("g",),
            default="45 g",
            lowest="0 kg",
            highest="1e9 kg",
            slider=("0 g", "200 g"),
            step="5 g",
            parameter="spring_mass",
        ),
        Input(
            key="n",
            symbol=r"\omega_{\mathrm{disc}}",
            meaning="angular velocity of the disc",
            unit="rad/s",
            also=("rpm", "deg/s", "Hz", "s"),
            default="75 rpm",
            lowest="1e-9 rad/s",
            highest="1e9 rad/s",
            slider=("20 rpm", "150 rpm"),
            step="1 rpm",
            parameter="disc_rate",
            help="Or type its turns per minute (rpm), turns per second (Hz) or period (s): choose the unit.",
        ),
        Input(
            key="tolerance",
            symbol=r"\delta",
            meaning="phase difference at which they look out of step",
            unit="rad",
            also=("deg",),
            default="20 deg",
            lowest="1e-6 rad",
            highest="100 rad",
            slider=("5 deg", "90 deg"),
            step="5 deg",
            parameter="tolerance",
        ),
    ),
    outputs=(
        Output(
            key="m_eff",
            symbol=r"m_{\mathrm{eff}}",
            meaning="effective mass",
            unit="kg",
            formula="m + m_spring/3",
            shown_in="m",
        ),
        Output(
            key="n_needed",
            symbol=r"\omega_{\mathrm{osc}}",
            meaning="natural angular frequency of the mass; the disc needs this angular velocity",
            unit="rad/s",
            formula="sqrt(k/m_eff)",
        ),
        Output(
            key="n_match",
            symbol=r"n_{\mathrm{osc}}",
            meaning="rotational frequency at which the disc stays in step with this mass",
            unit="rpm",
            formula='quantity(60, "s/min")*n_needed/(2*pi)',
        ),
        Output(key="T", symbol="T", meaning="period of the mass", unit="s", formula="2*pi/n_needed"),
        Output(
            key="m_needed",
            symbol=r"m_{\mathrm{need}}",
            meaning="mass to hang on for this disc",
            unit="kg",
            formula="k/n**2 - m_spring/3",
            shown_in="m",
        ),
        Output(
            key="k_needed",
            symbol=r"k_{\mathrm{need}}",
            meaning="spring constant needed for this disc and mass",
            unit="N/m",
            formula="m_eff*n**2",
            shown_in="k",
        ),
        Output(
            key="mismatch",
            symbol=r"\epsilon",
            meaning="how much faster the disc is",
            unit="1",
            formula="(n - n_needed)/n_needed",
            shown_in="%",
        ),
        Output(
            key="slip",
            symbol=r"\sigma",
            meaning="angle that the disc gains in each period of the mass",
            unit="rad",
            formula="2*pi*mismatch",
            shown_in="tolerance",
        ),
        Output(
            key="t_slip",
            symbol=r"t_{\mathrm{slip}}",
            meaning="time until they look out of step",
            unit="s",
            formula="tolerance/abs(n - n_needed)",
        ),
    ),
    function=find,
    picture=Picture(
        caption="The pin seen edge-on and the mass, and the phase difference between them",
        panels=(
            Panel(
                horizontal=Axis(symbol="t", meaning="time", unit="s"),
                vertical=Axis(symbol="x/A", meaning="position over amplitude", unit="1"),
                curves=(
                    Curve(key="spring", label="mass", role="position"),
                    Curve(key="disc", label="pin", role="second", line="dashes"),
                ),
            ),
            Panel(
                horizontal=Axis(symbol="t", meaning="time after a start in step", unit="s"),
                vertical=Axis(
                    symbol=r"\psi", meaning="angle by which the disc is ahead", unit="rad", shown_in="tolerance"
                ),
                curves=(
                    Curve(key="gain", label="ahead"),
                    Curve(key="limit", label="δ", role="second", line="dashes"),
                ),
                marks=(Mark(key="apart", label="out of step"),),
            ),
        ),
        draw=draw,
    ),
    cautions=(
        Caution(
            text="Guard the disc, tie back hair, sleeves and cords, and leave nothing loose on it; switch the drive "
            "off "
            "and unplug it before you turn the disc by hand. Wear eye protection, keep feet and faces away from the "
            "hanging "
            "mass, put something soft below it, and follow your school’s own rules.",
        ),
        Caution(
            text="A disc with spokes, slots or a bold pattern flashes once for each of them: at this rate four of "
            "them in "
            "front of a lamp flash three times per second or more. Flashes of about 3 Hz to 30 Hz can harm people with "
            "photosensitive epilepsy: use a plain disc with one pin, and do not flash light in class.",
            when=lambda values: _MARKS * circular.frequency(values["n"]) >= _FLASHING,
        ),
        Caution(
            text="The spring is heavier than its load: more than a third of its mass then counts. Tune by trial and "
            "error.",
            when=lambda values: values["m_spring"] > values["m"],
        ),
    ),
    checks=(
        PublishedCheck(
            source="OpenStax, University Physics Volume 1, section 15.1, example 15.2: a block on a spring",
            note="A disc in step with this block turns at the block’s angular frequency.",
            given={"k": "32 N/m", "m": "2.00 kg", "m_spring": "0 kg", "n": "4 rad/s", "tolerance": "0.1 rad"},
            expect={"n_needed": "4.00 rad/s", "T": "1.57 s", "m_needed": "2.000 kg", "k_needed": "32.00 N/m"},
        ),
        PublishedCheck(
            source="common practice, no source",
            note="A disc that makes ten turns while the mass makes nine oscillations gains a ninth of a turn in each.",
            given={"k": "81 N/m", "m": "1 kg", "m_spring": "0 kg", "n": "10 rad/s", "tolerance": "0.5 rad"},
            expect={"mismatch": "11.11 %", "slip": "0.6981 rad", "t_slip": "0.5000 s"},
        ),
    ),
)
