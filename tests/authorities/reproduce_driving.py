"""Driven oscillators; a circuit's L, R, 1/C, V stand for mass, damping, stiffness and force."""

import math

from crankpin.mechanics import circular, damping, driving, springs
from crankpin.mechanics.errors import AbsentError
from tests.authorities.printed import Record


def natural(r: Record) -> float:
    return damping.natural_angular_frequency(r["L"], 1.0 / r["C"])


def undamped(r: Record) -> dict[str, float]:
    return {
        "omega0": damping.natural_angular_frequency(r["m"], r["k"]),
        "A": driving.amplitude(r["m"], r["k"], 0.0, r["F0"], r["omega"]),
    }


def current_at_resonance(r: Record) -> dict[str, float]:
    omega = natural(r)
    return {
        "f0": circular.frequency(omega),
        "I0": driving.velocity_amplitude(r["L"], 1.0 / r["C"], r["R"], r["V0"], omega),
    }


def at_resonance(r: Record) -> dict[str, float]:
    constants = r["L"], 1.0 / r["C"], r["R"]
    found = {
        "omega0": natural(r),
        "f0": circular.frequency(natural(r)),
        "Q": damping.quality_factor(*constants),
        "bandwidth": driving.bandwidth(r["L"], r["R"]),
    }
    if "V0" in r.given:
        found["P"] = driving.mean_power(*constants, r["V0"], natural(r))
    return {key: found[key] for key in r.expect}


def at_and_above_resonance(r: Record) -> dict[str, float]:
    omega = circular.angular_frequency_from_frequency(r["f"])
    phase = driving.velocity_phase_lag(r["L"], 1.0 / r["C"], r["R"], omega)
    return {**current_at_resonance(r), "phase": phase}


def tuned(inertia: float, frequency: float) -> float:
    return 1.0 / springs.stiffness_for_rate(inertia, circular.angular_frequency_from_frequency(frequency))


def capacitance(r: Record) -> dict[str, float]:
    return {"C": tuned(r["L"], r["f0"])}


def tuner(r: Record) -> dict[str, float]:
    return {"C1": tuned(r["L"], r["f1"]), "C2": tuned(r["L"], r["f2"])}


def from_width(r: Record) -> dict[str, float]:
    return {"Q": driving.quality_factor_from_width(math.tau * r["f0"], math.tau * r["fwhm"])}


def no_peak(r: Record) -> dict[str, float]:
    try:
        driving.peak_angular_frequency(r["m"], r["k"], r["c"])
    except AbsentError:
        return {"peak_exists": 0.0}
    return {"peak_exists": 1.0}


REPRODUCTIONS = {
    "dr-beating": undamped,
    "dr-rlc-res": current_at_resonance,
    "dr-rlc-Q224": at_resonance,
    "dr-rlc-Q7.8": at_resonance,
    "dr-rlc-Q6.32": at_resonance,
    "dr-rlc-phase": at_and_above_resonance,
    "dr-rlc-capacitance": capacitance,
    "dr-am-tuner": tuner,
    "dr-fm-Q": from_width,
    "dr-no-peak": no_peak,
}
