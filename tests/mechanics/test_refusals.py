"""What is refused inside wheels, constituents and counts, and the words in which a result is told to be absent."""

import math
from collections.abc import Callable
from fractions import Fraction
from typing import Any

import pytest

from crankpin.mechanics import damping, driving, measurement, repeated, springs, superposition, tide
from crankpin.mechanics.errors import AbsentError, OutOfDomainError
from crankpin.mechanics.superposition import Phasor
from crankpin.mechanics.tide import Constituent

NAN = math.nan
GOOD = Phasor(0.2, 1.5, 0.1)
METRES, HERTZ = "zero or greater than 0 m", "zero or greater than 0 Hz"


def refused(act: Callable[[], Any]) -> tuple[str, str]:
    with pytest.raises(OutOfDomainError) as caught:
        act()
    return caught.value.quantity, caught.value.required


@pytest.mark.parametrize("act", [superposition.greatest_amplitude, superposition.least_amplitude])
@pytest.mark.parametrize("bad", [NAN, -0.1])
def test_amplitudes_of_wheels(act: Callable[[Phasor, Phasor], float], bad: float) -> None:
    for pair in ((Phasor(bad, 1.0), GOOD), (GOOD, Phasor(bad, 1.0))):
        assert refused(lambda pair=pair: act(*pair)) == ("amplitude", METRES)


def test_wheels_turned_in_time() -> None:
    assert refused(lambda: superposition.displacement(Phasor(-0.1, 1.0), 1.0)) == ("amplitude", METRES)
    assert refused(lambda: superposition.displacement(Phasor(0.1, -1.0), 1.0)) == ("frequency", HERTZ)
    assert refused(lambda: superposition.displacement(Phasor(0.1, 1.0, NAN), 1.0)) == ("phase", "a finite number")
    assert refused(lambda: superposition.displacement(GOOD, NAN)) == ("time", "a finite number")
    assert refused(lambda: superposition.envelope(Phasor(0.1, NAN), GOOD, 1.0)) == ("frequency", "a finite number")
    assert refused(lambda: superposition.envelope(Phasor(0.1, 1.0, NAN), GOOD, 1.0)) == ("phase", "a finite number")
    assert refused(lambda: superposition.envelope(GOOD, GOOD, math.inf)) == ("time", "a finite number")


@pytest.mark.parametrize("bad", [0.0, -1.0, NAN])
def test_rates_of_crossed_wheels(bad: float) -> None:
    for act in (superposition.whole_ratio, superposition.pattern_period):
        assert refused(lambda act=act: act(bad, 2.0)) == ("x_frequency", "greater than 0 Hz")
        assert refused(lambda act=act: act(Fraction(1, 2), bad)) == ("y_frequency", "greater than 0 Hz")


@pytest.mark.parametrize(
    ("one", "quantity", "required"),
    [
        (Constituent(-1.0, 1e-4, 0.0), "amplitude", METRES),
        (Constituent(1.0, 0.0, 0.0), "angular_frequency", "greater than 0 rad/s"),
        (Constituent(1.0, 1e-4, NAN), "lag", "a finite number"),
    ],
)
def test_constituents(one: Constituent, quantity: str, required: str) -> None:
    for act in (
        lambda: tide.height([one], 0.0, 0.0),
        lambda: tide.rate([one], 0.0),
        lambda: tide.next_high([one], 0.0),
        lambda: tide.next_low([one], 0.0),
    ):
        assert refused(act) == (quantity, required)


def test_times_and_levels_of_a_tide() -> None:
    tides = [Constituent(1.0, 1.4e-4, 0.3)]
    assert refused(lambda: tide.height(tides, NAN, 0.0)) == ("mean_level", "a finite number")
    for act in (
        lambda t: tide.height(tides, 0.0, t),
        lambda t: tide.rate(tides, t),
        lambda t: tide.next_high(tides, t),
    ):
        assert refused(lambda act=act: act(NAN)) == ("time", "a finite number")
    assert refused(lambda: tide.overtide(NAN, 2)) == ("constituent_rate", "greater than 0 rad/s")
    assert refused(lambda: tide.overtide(1e-4, 0)) == ("harmonic", "greater than 0")


@pytest.mark.parametrize(
    ("act", "quantity", "required"),
    [
        (lambda: measurement.last_place(0.0), "number", "greater than 0"),
        (lambda: measurement.rounded(NAN, 2), "value", "a finite number"),
        (lambda: measurement.rounded_to_figures(NAN, 2), "value", "a finite number"),
        (lambda: measurement.period_of_count(0.0, 10), "duration", "greater than 0 s"),
        (lambda: measurement.period_of_count(1.0, 0), "count", "greater than 0"),
        (lambda: measurement.uncertainty_of_period(0.0, 10), "timing_uncertainty", "greater than 0 s"),
        (lambda: measurement.uncertainty_of_period(0.1, 0), "count", "greater than 0"),
        (lambda: measurement.independent(0.1, NAN), "uncertainty", "a finite number"),
    ],
)
def test_measurements(act: Callable[[], Any], quantity: str, required: str) -> None:
    assert refused(act) == (quantity, required)


@pytest.mark.parametrize(
    ("act", "reason"),
    [
        (
            lambda: superposition.resultant(0.0, 0.3, 0.0, 0.0),
            "The two motions cancel, so there is no motion and no phase.",
        ),
        (
            lambda: superposition.whole_ratio(1.0, math.sqrt(2.0) * 1e-9),
            "The two rates are in no ratio of small whole numbers, so the pattern does not close.",
        ),
        (lambda: tide.next_high([], 0.0), "There is no tide here, so neither high nor low water."),
        (lambda: measurement.relative_uncertainty(0.0, 0.1), "A value of zero has no relative uncertainty."),
        (
            lambda: driving.peak_angular_frequency(1.0, 1.0, 2.0),
            "With a damping ratio of 1/√2 (0.707) or more there is no resonance peak: ",
        ),
    ],
)
def test_what_is_absent_is_told_in_these_words(act: Callable[[], Any], reason: str) -> None:
    with pytest.raises(AbsentError) as caught:
        act()
    assert caught.value.reason.startswith(reason)


@pytest.mark.parametrize(
    ("act", "quantity", "required"),
    [
        (lambda: damping.decrement_from_peaks(0.0, 1.0), "first", "greater than 0 of the peaks' unit"),
        (lambda: damping.decrement_from_peaks(1.0, 0.5, 0), "turns", "greater than 0"),
        (
            lambda: damping.decrement_from_peaks(1.0, 2.0),
            "later",
            "above zero and no greater than the first peak, 1",
        ),
        (lambda: damping.energy_fall_factor(2.0, 1e3), "turns", "at most 222.8 for this Q"),
        (
            lambda: damping.damped_motion(1.0, 4.0, 0.0, 1.0, 0.0, 1e10),
            "time",
            "at most 5e+09 s (1e10 rad of swing)",
        ),
        (lambda: repeated.mean([]), "readings", "at least one"),
        (lambda: repeated.mean([NAN]), "readings", "a finite number"),
        (springs.side_by_side, "stiffnesses", "at least one spring"),
    ],
)
def test_dampings_readings_and_springs(act: Callable[[], Any], quantity: str, required: str) -> None:
    assert refused(act) == (quantity, required)


def test_critical_damping_and_the_envelope_by_hand() -> None:
    assert damping.critical_damping(4.0, 9.0) == 12.0
    assert damping.decrement_from_peaks(2.0, 2.0) == 0.0
    assert damping.envelope(1.0, 25.25, 1.0, 2.0, -1.0, 2.0) == pytest.approx(2.0 / math.e, rel=1e-14, abs=0.0)
