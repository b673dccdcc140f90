"""Numbers as students type them: read to the same number, or asked back in words."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crankpin.calculator.entries import Entry, Unread, read

PI = math.pi


@pytest.mark.parametrize(
    ("text", "number", "unit"),
    [
        ("1.2E+03", 1200.0, ""),
        ("1.2 e3", 1200.0, ""),
        ("1.2×10^(-3) m", 0.0012, "m"),
        ("1.2×10^{−3}m", 0.0012, "m"),
        ("1.2×10-3", 0.0012, ""),
        ("10³", 1000.0, ""),
        ("10⁻³ kg", 0.001, "kg"),
        ("1,234.5", 1234.5, ""),
        ("1,234,567", 1234567.0, ""),
        ("1.234.567,8", 1234567.8, ""),
        ("1'234,500", 1234.5, ""),
        ("1’234.5 m", 1234.5, "m"),
        ("0,123", 0.123, ""),
        ("3.141 592 65", 3.14159265, ""),
        ("2pi", 2 * PI, ""),
        ("2π", 2 * PI, ""),
        ("pi/3 rad", PI / 3, "rad"),
        ("3pi/4", 3 * PI / 4, ""),
        ("3/4 pi", 3 * PI / 4, ""),
        ("-π/2", -PI / 2, ""),
        ("0.5 pi rad/s", PI / 2, "rad/s"),
        ("2 × π", 2 * PI, ""),
        ("2pi/s", 2 * PI, "1/s"),
        ("1/3 rad", 1 / 3, "rad"),
        ("33 1/3 rpm", 100 / 3, "rpm"),
        ("33⅓ rpm", 100 / 3, "rpm"),
        ("-½", -0.5, ""),
        ("3 1/s", 3.0, "1/s"),
        ("11/s", 11.0, "1/s"),
        ("3 s^-1", 3.0, "s^-1"),
        ("30°15'", 30.25, "°"),
        ("30° 15′ 36″", 30.26, "°"),
        ("15′", 15.0, "′"),
        ("٣", 3.0, ""),
        ("१.५ m", 1.5, "m"),
        ("\u200e5\u2060 cm", 5.0, "cm"),
        ("−5", -5.0, ""),
    ],
)
def test_spellings_of_one_number(text: str, number: float, unit: str) -> None:
    entry = read(text)
    assert isinstance(entry, Entry)
    assert entry.number == pytest.approx(number, rel=1e-15)
    assert entry.unit == unit
    assert entry.digits.isascii()
    assert float(entry.digits) == pytest.approx(number, rel=1e-11)


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        ("24,000 mm", "can be 24000 or 24.000; type the one that is meant, without the comma"),
        ("-1,234", "can be 1234 or 1.234; type the one that is meant, without the comma"),
        ("1.2×103", "has lost the mark of its power; type it as in 1.2e3 or 1.2×10^3"),
        ("1 2", "is not one number: thousands stand in groups of three digits, as in 12 000.5"),
        ("1,00,000", "is not one number: thousands stand in groups of three digits, as in 12 000.5"),
        ("1:30", "is a time by the clock; type it in one unit, such as 90 s or 1.5 min"),
        ("30°75'", "has sixty or more minutes or seconds"),
        ("1/0", "divides by zero"),
        ("1 000/3", "is not one number; a fraction behind a whole number is below one, as in 33 1/3"),
        ("25 ± -1", "has no standard uncertainty above zero behind its ±; type it as in 25 ± 0.5"),
        ("25 ±", "has no standard uncertainty above zero behind its ±; type it as in 25 ± 0.5"),
        ("25.0(x)", "is not a number"),
        ("1e999", "is too large"),
    ],
)
def test_what_is_asked_back(text: str, reason: str) -> None:
    assert read(text) == Unread(reason)


@pytest.mark.parametrize(
    ("text", "number", "uncertainty", "unit", "other"),
    [
        ("25.0(5) N/m", 25.0, 0.5, "N/m", ""),
        ("25.0(12)", 25.0, 1.2, "", ""),
        ("25(3) cm", 25.0, 3.0, "cm", ""),
        ("25.0(1.5) s", 25.0, 1.5, "s", ""),
        ("1.234(5)×10^-3 kg", 0.001234, 5e-6, "kg", ""),
        ("-9.81(2)", -9.81, 0.02, "", ""),
        ("25 ± 0.5 N/m", 25.0, 0.5, "N/m", ""),
        ("25±0,5N/m", 25.0, 0.5, "N/m", ""),
        ("25 +/- 0.5 N/m", 25.0, 0.5, "N/m", ""),
        ("25 +- 0.5", 25.0, 0.5, "", ""),
        ("25 N/m ± 0.5 N/m", 25.0, 0.5, "N/m", ""),
        ("(25.0 ± 0.5) N/m", 25.0, 0.5, "N/m", ""),
        ("(25.0±0.5)×10^3 N/m", 25000.0, 500.0, "N/m", ""),
        ("25 N/m ± 2 %", 25.0, 2.0, "N/m", "%"),
        ("25 cm ± 2 mm", 25.0, 2.0, "cm", "mm"),
        ("-20 ± 1", -20.0, 1.0, "", ""),
    ],
)
def test_a_number_with_its_standard_uncertainty(
    text: str, number: float, uncertainty: float, unit: str, other: str
) -> None:
    entry = read(text)
    assert isinstance(entry, Entry)
    assert (entry.number, entry.unit, entry.uncertainty_unit) == (number, unit, other)
    assert entry.uncertainty == pytest.approx(uncertainty, rel=1e-15)


@given(st.text(alphabet="0123456789.,' -+eE×10^⁻³±()/%°′pi πcmkgNs", max_size=16))
def test_reading_never_fails_and_gives_finite_numbers(text: str) -> None:
    entry = read(text)
    if isinstance(entry, Entry):
        assert math.isfinite(entry.number)
        assert entry.uncertainty >= 0.0
