"""Beats, sums of two motions, tides."""

import math

from crankpin.mechanics import circular, superposition, tide
from crankpin.mechanics.superposition import Phasor
from tests.authorities.printed import Record


def beat(r: Record) -> dict[str, float]:
    found = {
        "f_beat": superposition.beat_frequency(r["f1"], r["f2"]),
        "f_mean": superposition.mean_frequency(r["f1"], r["f2"]),
    }
    return {key: found[key] for key in r.expect}


def either_side(r: Record) -> dict[str, float]:
    # f1 and the unknown one lie a beat apart: twice the beat about f1 spans both answers
    high, low = superposition.frequencies_from_beat(r["f1"], 2.0 * r["f_beat"])
    return {"f_hi": high, "f_lo": low}


def jets(r: Record) -> dict[str, float]:
    high, low = superposition.frequencies_from_beat(r["f_mean"], r["f_beat"])
    return {"f1": high, "f2": low}


def phase_of_two(r: Record) -> dict[str, float]:
    return {"phi": superposition.phase_difference(r["A"], r["A"], r["A_R"])}


def sum_of_two(r: Record) -> dict[str, float]:
    return {"A_R": superposition.resultant_amplitude(r["A"], r["A"], r["phi"])}


def two_waves(r: Record) -> dict[str, float]:
    # A sin(k x - omega t + phi) = A cos(omega t + pi/2 - k x - phi)
    frequency = circular.frequency(r["omega"])
    here = 0.5 * math.pi - r["k"] * r["x"]
    first, second = Phasor(r["A"], frequency, here), Phasor(r["A"], frequency, here - r["phi"])
    return {"y": superposition.together(first, second, r["t"])}


def tide_period(r: Record) -> dict[str, float]:
    return {"T": circular.period(r["speed"])}


def monthly(r: Record) -> dict[str, float]:
    first, second = circular.frequency(r["s1"]), circular.frequency(r["s2"])
    beat_of_both = superposition.beat_frequency(first, second)
    return {"speed": circular.angular_frequency_from_frequency(beat_of_both)}


def fourth(r: Record) -> dict[str, float]:
    return {"M4": tide.overtide(r["M2"], 2)}


def sixth(r: Record) -> dict[str, float]:
    return {"M6": tide.overtide(r["M2"], 3)}


def solar(r: Record) -> dict[str, float]:
    return {"S4": tide.overtide(r["S2"], 2), "S6": tide.overtide(r["S2"], 3)}


def local_lag(r: Record) -> dict[str, float]:
    return {"phase_local": tide.lag_at_zone(r["phase_GMT"], r["speed"], r["zone"])}


REPRODUCTIONS = {
    "be-256-512": beat,
    "be-horns": beat,
    "be-forks": beat,
    "be-piano-c": either_side,
    "be-jets": jets,
    "su-phase-5cm": phase_of_two,
    "su-phase-pi3": sum_of_two,
    "su-two-equal": two_waves,
    "ti-period-M2": tide_period,
    "ti-period-S2": tide_period,
    "ti-period-N2": tide_period,
    "ti-period-K1": tide_period,
    "ti-period-O1": tide_period,
    "ti-Mm-beat": monthly,
    "ti-M4": fourth,
    "ti-M6": sixth,
    "ti-S1-S4": solar,
    "ti-phase-K1": local_lag,
    "ti-phase-M2": local_lag,
}
