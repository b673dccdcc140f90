"""Numbers typed and numbers written."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crankpin.calculator.entries import read_entry
from crankpin.calculator.numbers import (
    format_number,
    format_quantity,
    full_number,
    tex_quantity,
    trimmed_number,
)


@pytest.mark.parametrize(
    ("text", "number", "unit"),
    [
        ("0.12", 0.12, ""),
        ("0,12", 0.12, ""),
        (".5", 0.5, ""),
        ("5.", 5.0, ""),
        ("1.2e-3", 0.0012, ""),
        ("1.2E3", 1200.0, ""),
        ("1.2×10^-3", 0.0012, ""),
        ("1,2 × 10^3", 1200.0, ""),
        ("1.2x10^3", 1200.0, ""),
        ("1.2*10**3", 1200.0, ""),
        ("1.2·10⁻³", 0.0012, ""),
        ("10^-3", 0.001, ""),
        ("12 cm", 12.0, "cm"),
        ("12cm", 12.0, "cm"),
        ("33.3 rpm", 33.3, "rpm"),
        ("−3.5 m/s²", -3.5, "m/s²"),
        ("\u22123", -3.0, ""),
        ("- 3", -3.0, ""),
        ("+3", 3.0, ""),
        ("  7  ", 7.0, ""),
        ("12 000", 12000.0, ""),
        ("12\u202f000\u00a0km", 12000.0, "km"),
        ("90°", 90.0, "°"),
        ("30 deg", 30.0, "deg"),
        ("2 1/s", 2.0, "1/s"),
        ("5 %", 5.0, "%"),
        ("0.4 kg m2", 0.4, "kg m2"),
    ],
)
def test_what_may_be_typed(text: str, number: float, unit: str) -> None:
    entry = read_entry(text)
    assert entry is not None
    assert (entry.number, entry.unit) == (number, unit)


@pytest.mark.parametrize(
    "text",
    [
        "",
        " ",
        "twelve",
        "1.2.3",
        "1 2",
        "12 34",
        "e3",
        "--3",
        "3-4",
        "cm",
        "nan",
        "inf",
        "1e999",
        "9" * 90,
        "2 + 3",
    ],
)
def test_what_is_not_a_number(text: str) -> None:
    assert read_entry(text) is None


@pytest.mark.parametrize(
    ("x", "digits", "text"),
    [
        (0.0, 3, "0"),
        (-0.0, 3, "0"),
        (0.12, 3, "0.120"),
        (12.0, 3, "12.0"),
        (1234.0, 4, "1234"),
        (12345.0, 5, "12\u202f345"),
        (99999.0, 3, "1.00×10⁵"),
        (0.5625, 3, "0.563"),
        (0.1 + 0.2, 3, "0.300"),
        (0.00123, 3, "0.00123"),
        (0.000123, 3, "1.23×10⁻⁴"),
        (9.999, 3, "10.0"),
        (-1234567.0, 3, "−1.23×10⁶"),
        (1e300, 2, "1.0×10³⁰⁰"),
    ],
)
def test_how_a_number_is_written(x: float, digits: int, text: str) -> None:
    assert format_number(x, digits) == text


def test_a_tie_is_rounded_up_even_where_the_double_lies_just_below() -> None:
    assert format_number(1.005, 3) == "1.01"
    assert format_number(math.nextafter(0.5625, 0.0), 3) == "0.563"


@given(st.floats(min_value=1e-300, max_value=1e300), st.integers(1, 12))
def test_a_written_number_is_the_number_to_its_digits(x: float, digits: int) -> None:
    text = format_number(x, digits)
    entry = read_entry(text)
    assert entry is not None
    assert math.isclose(entry.number, x, rel_tol=0.5000001 * 10.0 ** (1 - digits))


@given(st.floats(allow_nan=False, allow_infinity=False))
def test_a_full_number_read_again_is_the_same_double(x: float) -> None:
    entry = read_entry(full_number(x))
    assert entry is not None
    assert entry.number == x


@given(st.text(max_size=30))
def test_reading_never_raises(text: str) -> None:
    entry = read_entry(text)
    assert entry is None or math.isfinite(entry.number)


def test_quantities() -> None:
    assert format_quantity(math.pi, "rad", "deg") == "180°"
    assert format_quantity(math.pi, "rad/s", "s") == "2.00 s"
    assert format_quantity(3.0, "1") == "3.00"
    assert tex_quantity(0.0012, "m/s2") == r"0.00120\,\mathrm{m/s^{2}}"
    assert tex_quantity(math.pi / 2, "rad", "deg") == r"90.0^{\circ}"
    assert tex_quantity(0.125, "1/s") == r"0.125\,\mathrm{s^{-1}}"
    assert trimmed_number(-0.25) == "−0.25"


def test_an_unknown_unit_is_an_error_of_the_author() -> None:
    with pytest.raises(ValueError, match="'furlong' is not a unit of the dimension 'm'"):
        format_quantity(1.0, "m", "furlong")
