"""What a student may type as a number: its spellings, its unit, its standard uncertainty, and what is asked back.

Nothing is guessed. A spelling with two readings, such as ``24,000``, is not read at all; `Unread` says what to type.
"""

import math
import re
from dataclasses import dataclass

_LONGEST = 80
_SPACES = "\u00a0\u2009\u202f\u2007\u2002\u2003\u2005\u2006\u200a"
_INVISIBLE = "\u00ad\u200b\u200c\u200d\u200e\u200f\u2060\ufeff\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069"
_MINUSES = "\u2212\u2013\u2010\u2011\ufe63\uff0d\u207b"
_APOSTROPHES = "\u2019\u02bc\uff07"
_SPELT = str.maketrans(
    dict.fromkeys(_MINUSES, "-")
    | dict.fromkeys(_SPACES, " ")
    | dict.fromkeys(_INVISIBLE, "")
    | dict.fromkeys(_APOSTROPHES, "'")
    | {"\uff0b": "+", "\uff0e": ".", "\uff0c": ",", "\u066b": ".", "\u03c0": "pi", "\U0001d70b": "pi"}
)
_RAISED = "⁰¹²³⁴⁵⁶⁷⁸⁹"
_LOWERED = str.maketrans(_RAISED, "0123456789")
_FRACTIONS = {
    "½": "1/2",
    "⅓": "1/3",
    "⅔": "2/3",
    "¼": "1/4",
    "¾": "3/4",
    "⅕": "1/5",
    "⅖": "2/5",
    "⅗": "3/5",
    "⅘": "4/5",
    "⅙": "1/6",
    "⅚": "5/6",
    "⅛": "1/8",
    "⅜": "3/8",
    "⅝": "5/8",
    "⅞": "7/8",
}

_DECIMAL = r"(?:\d[\d .,']*\d|\d+[.,]?|[.,]\d+)"
_TIMES = r"\ *[×x*·⋅✕]\ *"
_POWER = rf"""(?:
      \ ?[eE]\ ?(?P<e>[+-]?\d{{1,4}})(?![\d.,])
    | {_TIMES}10\ *(?:(?:\^|\*\*)\ *(?P<caret>[+-]?\d{{1,4}}|\(\ *[+-]?\d{{1,4}}\ *\)|\{{\ *[+-]?\d{{1,4}}\ *\}})
        | (?P<raised>[-+⁺]?[{_RAISED}]{{1,4}}) | (?P<lost>[+-]\d{{1,3}}))(?![\d.,])
    )"""
_ALONE = rf"""10\ *(?:(?:\^|\*\*)\ *(?P<caret>[+-]?\d{{1,4}}|\(\ *[+-]?\d{{1,4}}\ *\)|\{{\ *[+-]?\d{{1,4}}\ *\}})
    | (?P<raised>[-+⁺]?[{_RAISED}]{{1,4}}))"""
_UNIT = r"""(?P<unit>(?:[^\W\d_]|[°%′″'"/]|1/).*)?"""
_PLAIN = re.compile(rf"(?P<digits>{_DECIMAL})(?:\ ?\((?P<last>[\d.,]+)\))?{_POWER}?\ *{_UNIT}", re.VERBOSE)
_BARE_POWER = re.compile(rf"{_ALONE}\ *{_UNIT}", re.VERBOSE)
_RATIO = re.compile(r"(?:(?P<whole>\d+)\ +)?(?P<top>\d+)\ ?/\ ?(?P<below>\d+)(?![\d.,])" + r"\ *" + _UNIT, re.VERBOSE)
_PI = re.compile(
    rf"(?:(?P<top>\d+)\ ?/\ ?(?P<below>\d+)|(?P<digits>{_DECIMAL}))?\ ?(?:[×*·⋅]\ ?)?"
    r"pi(?:\ ?/\ ?(?P<over>\d+(?:[.,]\d+)?))?(?![\d.,])\ *" + _UNIT,
    re.VERBOSE,
)
_ARC = re.compile(r"(\d+)\ *(?:°|deg)\ *(\d+(?:[.,]\d+)?)\ *['′](?:\ *(\d+(?:[.,]\d+)?)\ *(?:\"|″|”|''))?")
_RECIPROCAL = re.compile(r"(?<=\S) +1 ?/ ?(?=[^\W\d_])")
_CLOCK = re.compile(r"\d+:\d+.*")
_PLUS_MINUS = re.compile(r"\ *(?:±|\+\ ?/\ ?-|\+-)\ *")
_BRACKETED = re.compile(r"\((?P<inside>[^()]*(?:±|\+\ ?/\ ?-|\+-)[^()]*)\)\ *(?P<rest>.*)")

_GROUPED = {
    " ": re.compile(r"(?:\d{1,3}(?: \d{3})+|\d+)(?:[.,](?:\d{3} )*\d{0,3}|[.,]\d*)?"),
    "'": re.compile(r"\d{1,3}(?:'\d{3})+(?:[.,]\d*)?"),
    ",": re.compile(r"\d{1,3}(?:,\d{3})+\.\d*|\d{1,3}(?:,\d{3}){2,}"),
    ".": re.compile(r"\d{1,3}(?:\.\d{3})+,\d*|\d{1,3}(?:\.\d{3}){2,}"),
}
_EITHER = re.compile(r"[1-9]\d{0,2},\d{3}")


@dataclass(frozen=True, slots=True)
class Entry:
    """A number as typed.

    ``digits`` is its plain decimal form, ``unit`` what stood behind it ("" if nothing). ``uncertainty`` is its
    standard uncertainty in ``uncertainty_unit`` ("" for the number's own unit, "%" for hundredths of it), 0 where none
    was typed. ``ratio`` is the number as a fraction where it was typed as one.
    """

    number: float
    digits: str
    unit: str
    uncertainty: float = 0.0
    uncertainty_unit: str = ""
    ratio: str = ""


@dataclass(frozen=True, slots=True)
class Unread:
    """A text that is not one number; ``reason`` is the rest of a sentence that begins with the text."""

    reason: str


NO_NUMBER = Unread("is not a number")


def read_entry(text: str) -> Entry | None:
    """Return the number and unit typed, or None where the text is not one number with at most one unit.

    >>> read_entry("1,2×10^-3 cm")
    Entry(number=0.0012, digits='1.2e-3', unit='cm', uncertainty=0.0, uncertainty_unit='', ratio='')
    >>> read_entry("twelve") is None
    True
    """
    entry = read(text)
    return entry if isinstance(entry, Entry) else None


def read(text: str) -> Entry | Unread:
    """Return the number typed with its unit and uncertainty, or what is to be typed instead.

    A comma or a point is the decimal sign; spaces, apostrophes, and points or commas where they can mean nothing else,
    group thousands; the exponent is ``e-3``, ``×10^-3`` or ``×10⁻³``; a number may be a fraction, a multiple of pi, or
    degrees, minutes and seconds; ``25.0(5)`` and ``25 ± 0.5`` carry a standard uncertainty.

    >>> read("24,000 mm").reason
    'can be 24000 or 24.000; type the one that is meant, without the comma'
    >>> read("25.0(5) N/m").uncertainty, read("2pi/3").number == 2 * math.pi / 3, read("1.5°").unit
    (0.5, True, '°')
    """
    if len(text) > _LONGEST:
        return Unread(f"is longer than a number can be; at most {_LONGEST} characters are read")
    spelt = _spelt(text)
    if not spelt:
        return NO_NUMBER
    if bracketed := _BRACKETED.fullmatch(spelt):
        return _bracketed(bracketed["inside"], bracketed["rest"])
    parts = _PLUS_MINUS.split(spelt)
    if len(parts) == 2 and parts[0]:
        return _plus_minus(parts[0], parts[1])
    return _signed(spelt)


def _spelt(text: str) -> str:
    """Return the text with one spelling for each sign: digits, minus, spaces, fractions."""
    if text.isascii():
        return text.translate(_SPELT).strip()
    shown = text
    for sign, ratio in _FRACTIONS.items():
        if sign in shown:
            shown = re.sub(rf"(?<=\d)\s*{sign}", f" {ratio}", shown).replace(sign, ratio)
    raised = re.sub(rf"⁻(?=[{_RAISED}])", "-", shown).translate(_SPELT)
    return "".join(str(int(c)) if c.isdecimal() and not c.isascii() else c for c in raised).strip()


def _signed(text: str) -> Entry | Unread:
    sign = text[0] if text[0] in "+-" else ""
    found = _unsigned(text[len(sign) :].lstrip())
    if sign != "-" or isinstance(found, Unread):
        return found
    ratio = f"-{found.ratio}" if found.ratio else ""
    return Entry(-found.number, f"-{found.digits}", found.unit, found.uncertainty, ratio=ratio)


def _unsigned(text: str) -> Entry | Unread:
    text = _RECIPROCAL.sub("/", text)
    if arc := _ARC.fullmatch(text):
        return _degrees(*arc.groups())
    if _CLOCK.fullmatch(text):
        return Unread("is a time by the clock; type it in one unit, such as 90 s or 1.5 min")
    if "pi" in text and (multiple := _PI.fullmatch(text)):
        return _multiple_of_pi(multiple)
    if "/" in text and (ratio := _RATIO.fullmatch(text)):
        return _ratio(ratio)
    if power := _BARE_POWER.fullmatch(text):
        return _entry("1", power, _exponent(power, ("caret", "raised")))
    plain = _PLAIN.fullmatch(text)
    if plain is None:
        return _hint(text)
    digits = plain_decimal(plain["digits"])
    if isinstance(digits, Unread):
        return digits
    return _entry(digits, plain, _exponent(plain, ("e", "caret", "raised", "lost")), plain["last"] or "")


def _hint(text: str) -> Unread:
    if re.fullmatch(rf"{_DECIMAL}{_TIMES}10\d+\D*", text.replace("×", "x")):
        return Unread("has lost the mark of its power; type it as in 1.2e3 or 1.2×10^3")
    return NO_NUMBER


def _exponent(match: re.Match[str], names: tuple[str, ...]) -> str:
    power = next((match[name] for name in names if match[name]), "")
    return power.strip("(){} ").replace("⁺", "").translate(_LOWERED).removeprefix("+")


def _entry(digits: str, match: re.Match[str], power: str, last: str = "") -> Entry | Unread:
    number = float(f"{digits}e{power}" if power else digits)
    if not math.isfinite(number):
        return Unread("is too large")
    uncertainty = 0.0
    if last:
        size = _last_digits(last, digits)
        if size is None:
            return Unread("has no number in its brackets; type the uncertainty of the last digits, as in 25.0(5)")
        uncertainty = size * 10.0 ** int(power or 0)
    plain = f"{digits}e{power}" if power else digits
    return Entry(number, plain, _unit(match["unit"]), uncertainty)


def _last_digits(last: str, digits: str) -> float | None:
    """Return the uncertainty in brackets: counted in the last digit, or itself where it has a decimal sign."""
    if last.isdigit():
        return float(f"{last}e{-len(digits.partition('.')[2])}")
    own = plain_decimal(last)
    return None if isinstance(own, Unread) else float(own)


def _unit(text: str | None) -> str:
    unit = (text or "").strip()
    return f"1{unit}" if unit.startswith("/") else unit


def plain_decimal(token: str) -> str | Unread:
    """Return digits with their separators as a plain decimal number, or what to type instead.

    >>> plain_decimal("1'234,5"), plain_decimal("1,234.5"), plain_decimal("0,25")
    ('1234.5', '1234.5', '0.25')
    """
    if _EITHER.fullmatch(token):
        either = token.replace(",", ""), token.replace(",", ".")
        return Unread(f"can be {either[0]} or {either[1]}; type the one that is meant, without the comma")
    for sign in "' ":
        if sign in token:
            return token.replace(sign, "").replace(",", ".") if _GROUPED[sign].fullmatch(token) else _BADLY_GROUPED
    points, commas = token.count("."), token.count(",")
    if points + commas <= 1:
        return token.replace(",", ".")
    if _GROUPED[","].fullmatch(token):
        return token.replace(",", "")
    return token.replace(".", "").replace(",", ".") if _GROUPED["."].fullmatch(token) else _BADLY_GROUPED


_BADLY_GROUPED = Unread("is not one number: thousands stand in groups of three digits, as in 12 000.5")


# Fractions, multiples of pi, degrees and minutes


def _ratio(match: re.Match[str]) -> Entry | Unread:
    top, below = int(match["top"]), int(match["below"])
    if below == 0:
        return Unread("divides by zero")
    if match["whole"]:
        if top >= below or match["top"].startswith("0"):
            return Unread("is not one number; a fraction behind a whole number is below one, as in 33 1/3")
        top += int(match["whole"]) * below
    number = top / below
    return Entry(number, repr(number), _unit(match["unit"]), ratio=f"{top}/{below}")


def _multiple_of_pi(match: re.Match[str]) -> Entry | Unread:
    factor, over = 1.0, 1.0
    if match["top"]:
        factor, over = float(match["top"]), float(match["below"])
    elif match["digits"]:
        digits = plain_decimal(match["digits"])
        if isinstance(digits, Unread):
            return digits
        factor = float(digits)
    if match["over"]:
        over *= float(match["over"].replace(",", "."))
    if over == 0.0:
        return Unread("divides by zero")
    number = factor * math.pi / over
    return Entry(number, repr(number), _unit(match["unit"])) if math.isfinite(number) else Unread("is too large")


def _degrees(degrees: str, minutes: str, seconds: str | None) -> Entry | Unread:
    parts = [float((part or "0").replace(",", ".")) for part in (minutes, seconds)]
    if max(parts) >= 60.0:
        return Unread("has sixty or more minutes or seconds")
    number = (float(degrees) * 3600.0 + parts[0] * 60.0 + parts[1]) / 3600.0
    return Entry(number, f"{number:.12g}", "°")


# Standard uncertainties


def _bracketed(inside: str, rest: str) -> Entry | Unread:
    """Read ``(25.0 ± 0.5)×10^3 N/m``: power and unit hold for both."""
    left, right = _PLUS_MINUS.split(inside)[:2]
    behind = _signed(f"1 {rest}".strip() if not re.match(rf"[eE]|{_TIMES}10", rest) else f"1{rest}") if rest else None
    found = _plus_minus(left.strip(), right.strip())
    if isinstance(found, Unread) or behind is None:
        return found
    if isinstance(behind, Unread) or (behind.unit and found.unit) or found.uncertainty_unit:
        return NO_NUMBER
    power = behind.digits.partition("e")[2]
    digits = f"{found.digits}e{power}" if power and "e" not in found.digits else found.digits
    number = float(digits) if power else found.number
    return Entry(number, digits, behind.unit or found.unit, found.uncertainty * behind.number)


def _plus_minus(left: str, right: str) -> Entry | Unread:
    number, size = _signed(left), _signed(right) if right else NO_NUMBER
    if isinstance(number, Unread):
        return number
    if isinstance(size, Unread) or size.number < 0.0 or size.uncertainty or number.uncertainty:
        return Unread("has no standard uncertainty above zero behind its ±; type it as in 25 ± 0.5")
    unit, other = number.unit, size.unit
    if other == "%" and unit != "%":
        return Entry(number.number, number.digits, unit, size.number, "%", number.ratio)
    if not unit or unit == other:
        unit, other = other, ""
    return Entry(number.number, number.digits, unit, size.number, other, number.ratio)
