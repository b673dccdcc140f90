"""How a number is written: digits, sign, power of ten, unit, uncertainty.

Writing rounds the decimal form half up, as the books do, after a first rounding to twelve digits: that
removes the dust of binary arithmetic, so that both Pythons write the same text even where their doubles
differ in the last place.
"""

import math
import re

from crankpin.calculator.units import Unit, find_unit, gap, printed_unit

MINUS = "\u2212"
GROUP = "\u202f"
_RAISED = str.maketrans("0123456789-+", "⁰¹²³⁴⁵⁶⁷⁸⁹⁻⁺")
_LOWERED = str.maketrans("⁰¹²³⁴⁵⁶⁷⁸⁹⁻⁺", "0123456789-+")
_LEAST_PLACE = -6


def _decimal(x: float, digits: int) -> tuple[str, int]:
    """Return |x| != 0 as (significant digits, exponent of ten of the first), rounded half up."""
    first, exponent = f"{abs(x):.11e}".split("e")
    power = int(exponent)
    figures = first.replace(".", "")
    if digits < len(figures):
        kept = str(int(figures[:digits]) + (figures[digits] >= "5"))
        if len(kept) > digits:
            kept, power = kept[:digits], power + 1
        figures = kept
    return figures, power


def grouped(whole: str) -> str:
    """Return the digits of a whole number in groups of three, from five digits on; other text as it is.

    >>> grouped("86400"), grouped("1440"), grouped("0.12345")
    ('86\\u202f400', '1440', '0.12345')
    """
    if not whole.isdigit():
        return whole
    if len(whole) < 5:
        return whole
    head = len(whole) % 3
    parts = ([whole[:head]] if head else []) + [whole[i : i + 3] for i in range(head, len(whole), 3)]
    return GROUP.join(parts)


def _placed(figures: str, power: int) -> str:
    """Write significant digits without an exponent."""
    if power < 0:
        return "0." + "0" * (-power - 1) + figures
    whole = figures[: power + 1].ljust(power + 1, "0")
    rest = figures[power + 1 :]
    return grouped(whole) + ("." + rest if rest else "")


def written(x: float, digits: int = 3) -> tuple[str, int | None]:
    """Return (decimal text without sign, exponent of ten or None) of x to so many significant digits."""
    if x == 0.0:
        return "0", None
    figures, power = _decimal(x, min(digits, 12))
    if -4 < power < 5:
        return _placed(figures, power), None
    return _placed(figures, 0), power


def rounded(x: float, digits: int = 3) -> float:
    """Return the number that `format_number` writes.

    >>> rounded(0.56251), rounded(-1234567.0)
    (0.563, -1230000.0)
    """
    if x == 0.0:
        return 0.0
    figures, power = _decimal(x, min(digits, 12))
    return math.copysign(float(f"{figures}e{power - len(figures) + 1}"), x)


def format_number(x: float, digits: int = 3) -> str:
    """Return x as text with a true minus, grouped thousands and a raised exponent where one is needed.

    >>> format_number(0.5625), format_number(-1234567.0), format_number(0.0)
    ('0.563', '−1.23×10⁶', '0')
    """
    text, power = written(x, digits)
    sign = MINUS if x < 0 and text != "0" else ""
    return sign + text + ("" if power is None else f"×10{str(power).translate(_RAISED)}")


def format_with_uncertainty(x: float, uncertainty: float, digits: int = 2) -> str:
    """Return x as text to the decimal place of the last of so many digits of its uncertainty (above 0).

    Source: GUM, JCGM 100:2008, 7.2.6, whose example is the first here.

    >>> format_with_uncertainty(10.05762, 0.027), format_with_uncertainty(9.996, 0.12)
    ('10.058', '10.00')
    >>> format_with_uncertainty(0.0004, 0.02), format_with_uncertainty(1234.6, 21.0)
    ('0.000', '1235')
    """
    place = _decimal(uncertainty, digits)[1] - digits + 1
    if x == 0.0 or abs(x) < 0.5 * 10.0**place:
        return "0." + "0" * -place if place < 0 else "0"
    figures, first = "1", place
    if abs(x) >= 10.0**place:
        first = _decimal(x, 12)[1]
        wanted = first - place + 1
        figures, power = _decimal(x, wanted)
        if power > first:
            figures, first = figures + "0", power
    sign = MINUS if x < 0 else ""
    if place >= _LEAST_PLACE and first < 5:
        return sign + _placed(figures, first)
    return sign + _placed(figures, 0) + f"×10{str(first).translate(_RAISED)}"


def uncertainty_digits(uncertainty: float) -> int:
    """Return how many digits of an uncertainty that was given are written: one, or two where the second is not 0."""
    return 1 if _decimal(uncertainty, 2)[0].endswith("0") else 2


def format_concise(x: float, uncertainty: float, digits: int = 2) -> str:
    """Return x with so many digits of its standard uncertainty in brackets, which count its last digits.

    Both are rounded together (GUM, JCGM 100:2008, 7.2.2 and 7.2.6).

    >>> format_concise(10.05762, 0.027), format_concise(1234.6, 21.0), format_concise(0.0004, 0.02)
    ('10.058(27)', '1235(21)', '0.000(20)')
    >>> format_concise(2.5e6, 1.2e5), format_concise(25.0, 0.5, 1)
    ('2.50(12)×10⁶', '25.0(5)')
    """
    figures, first = _decimal(uncertainty, digits)
    place = first - digits + 1
    whole = _counted_in(x, place)
    lead = max(first, place + len(str(whole)) - 1 if whole else place)
    sign = MINUS if x < 0 and whole else ""
    if lead < 5 and place > 0:
        return f"{sign}{grouped(str(whole) + '0' * place if whole else '0')}({figures}{'0' * place})"
    power = 0 if lead < 5 and place >= _LEAST_PLACE else lead
    digits_behind = power - place
    text = str(whole).rjust(digits_behind + 1, "0")
    head, rest = text[: len(text) - digits_behind], text[len(text) - digits_behind :]
    tail = f"×10{str(power).translate(_RAISED)}" if power else ""
    return f"{sign}{grouped(head)}{'.' if rest else ''}{rest}({figures}){tail}"


def _counted_in(x: float, place: int) -> int:
    """Return |x| in whole units of a decimal place, rounded half up, from its first twelve digits."""
    if abs(x) < 0.5 * 10.0**place:
        return 0
    first = _decimal(x, 12)[1]
    wanted = first - place + 1
    if wanted <= 0:
        return 1
    figures, power = _decimal(x, min(wanted, 12))
    return int(figures.ljust(wanted + power - first, "0"))


def format_whole(x: float) -> str:
    """Return a whole number as text, every digit kept.

    >>> format_whole(12.0), format_whole(-1234567.0)
    ('12', '−1\u202f234\u202f567')
    """
    return (MINUS if x < 0 else "") + grouped(str(abs(round(x))))


def format_quantity(value: float, dimension: str, unit: str = "", digits: int = 3) -> str:
    """Return an inside value as text in the unit named (the dimension's own when none is).

    >>> format_quantity(0.12, "m", "cm"), format_quantity(math.pi / 2, "rad", "deg")
    ('12.0 cm', '90.0°')
    """
    known = _known_unit(dimension, unit)
    return format_number(_in_unit(known, value), digits) + gap(known.symbol) + printed_unit(known.symbol)


def _in_unit(unit: Unit, value: float) -> float:
    return math.inf if unit.reciprocal and value == 0.0 else unit.shown(value)


def _known_unit(dimension: str, unit: str) -> Unit:
    known = find_unit(dimension, unit or dimension)
    if known is None:
        raise ValueError(f"{unit!r} is not a unit of the dimension {dimension!r}")
    return known


def tex_number(x: float, digits: int = 3) -> str:
    """Return x as TeX: ``-1.23\\times10^{6}``."""
    text, power = written(x, digits)
    sign = "-" if x < 0 and text != "0" else ""
    shown = text.replace(GROUP, r"\,")
    return sign + shown + ("" if power is None else rf"\times10^{{{power}}}")


def tex_written(number: str) -> str:
    """Return a number that is already written as text as TeX.

    >>> tex_written("−1.23×10⁻⁶"), tex_written("86\u202f400")
    ('-1.23\\\\times10^{-6}', '86\\\\,400')
    """
    digits, times, power = number.partition("×10")
    shown = digits.replace(MINUS, "-").replace(GROUP, r"\,")
    return shown + (rf"\times10^{{{power.translate(_LOWERED)}}}" if times else "")


def tex_quantity(value: float, dimension: str, unit: str = "", digits: int = 3) -> str:
    """Return an inside value as TeX with its unit upright: ``12.0\\,\\mathrm{cm}``."""
    known = _known_unit(dimension, unit)
    return tex_number(_in_unit(known, value), digits) + tex_unit(known.symbol)


def tex_unit(symbol: str) -> str:
    """Return a unit as TeX with the thin space before it, "" for the unit one."""
    if symbol == "1":
        return ""
    if symbol == "%":
        return r"\,\%"
    if symbol.startswith("1/"):
        return rf"\,\mathrm{{{symbol.removeprefix('1/')}^{{-1}}}}"
    raised = re.sub(r"(?<=[a-z])(\d)", r"^{\1}", symbol)
    if raised.startswith("deg"):
        rest = raised.removeprefix("deg")
        return r"^{\circ}" + (rf"\mathrm{{{rest}}}" if rest else "")
    return r"\,\mathrm{" + raised.replace(" ", r"\,") + "}"


def full_number(x: float) -> str:
    """Return every digit that a double holds, in the same writing."""
    first, _, power = repr(x).partition("e")
    shown = first.replace("-", MINUS)
    if not power:
        return shown
    return f"{shown}×10{str(int(power)).translate(_RAISED)}"


def trimmed_number(x: float, digits: int = 4) -> str:
    """Return x to so many digits without zeros behind the point: limits, and numbers put into a formula.

    >>> trimmed_number(0.12), trimmed_number(3.4871678454846706), trimmed_number(2.0)
    ('0.12', '3.487', '2')
    """
    number, times, power = format_number(x, digits).partition("×")
    if "." in number:
        number = number.rstrip("0").rstrip(".")
    return number + times + power


def trimmed_quantity(value: float, dimension: str, unit: str = "", digits: int = 4) -> str:
    """Return an inside value as text in the unit named, without zeros behind the point."""
    known = _known_unit(dimension, unit)
    return trimmed_number(_in_unit(known, value), digits) + gap(known.symbol) + printed_unit(known.symbol)


def kept_digits(digits: str, least: int = 3, most: int = 6) -> int:
    """Return how many significant digits to show of a number typed as ``digits``."""
    figures = digits.lower().partition("e")[0].replace(".", "").lstrip("+-0")
    return max(least, min(most, len(figures)))
