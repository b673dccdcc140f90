"""Units as they are typed: any prefix, products and quotients, names in words, another case where it can mean one only.

`find_unit` knows the units that are offered; `typed_unit` also reads those that are composed of others, and says of
what it can not read what would do. Prefixes and symbols: BIPM, SI Brochure, 9th ed., tables 2, 4, 7 and 8. The
astronomical unit: IAU 2012, Resolution B2; the light year is that of the Julian year of 365.25 d.
"""

import math
import re
from dataclasses import dataclass
from functools import lru_cache

from crankpin.calculator.units import DIMENSIONS, Unit, find_unit, plain_unit

#: Exponents of metre, kilogram, second, angle and turn.
Exponents = tuple[int, int, int, int, int]

_NONE: Exponents = (0, 0, 0, 0, 0)
_PREFIXES = {"n": -9, "u": -6, "m": -3, "c": -2, "d": -1, "k": 3, "M": 6, "G": 9}
_PREFIX_NAMES = {"nano": "n", "micro": "u", "milli": "m", "centi": "c", "deci": "d", "kilo": "k", "mega": "M"}


@dataclass(frozen=True, slots=True)
class _Base:
    """A symbol: its exponents, its size as times/over in SI, and the prefixes that it takes."""

    exponents: Exponents
    times: float = 1.0
    over: float = 1.0
    prefixes: str = ""


_BASES = {
    "m": _Base((1, 0, 0, 0, 0), prefixes="numcdk"),
    "g": _Base((0, 1, 0, 0, 0), over=1000.0, prefixes="umk"),
    "t": _Base((0, 1, 0, 0, 0), times=1000.0),
    "s": _Base((0, 0, 1, 0, 0), prefixes="num"),
    "min": _Base((0, 0, 1, 0, 0), times=60.0),
    "h": _Base((0, 0, 1, 0, 0), times=3600.0),
    "d": _Base((0, 0, 1, 0, 0), times=86400.0),
    "yr": _Base((0, 0, 1, 0, 0), times=31557600.0),
    "N": _Base((1, 1, -2, 0, 0), prefixes="umkM"),
    "J": _Base((2, 1, -2, 0, 0), prefixes="umkMG"),
    "W": _Base((2, 1, -3, 0, 0), prefixes="umkMG"),
    "Nm": _Base((2, 1, -2, 0, 0)),
    "Ns": _Base((1, 1, -1, 0, 0)),
    "Hz": _Base((0, 0, -1, 0, 1), prefixes="umkMG"),
    "rad": _Base((0, 0, 0, 1, 0), prefixes="um"),
    "deg": _Base((0, 0, 0, 1, 0), times=math.pi, over=180.0),
    "arcmin": _Base((0, 0, 0, 1, 0), times=math.pi, over=10800.0),
    "arcsec": _Base((0, 0, 0, 1, 0), times=math.pi, over=648000.0),
    "turn": _Base((0, 0, 0, 0, 1)),
    "rpm": _Base((0, 0, -1, 0, 1), over=60.0),
    "%": _Base(_NONE, over=100.0),
    "au": _Base((1, 0, 0, 0, 0), times=149597870700.0),
    "ly": _Base((1, 0, 0, 0, 0), times=9460730472580800.0),
}

_WORDS = {
    "m": "metre metres meter meters",
    "g": "gram grams gramme grammes",
    "kg": "kilo kilos kgs",
    "t": "tonne tonnes",
    "s": "second seconds sec secs",
    "min": "minute minutes mins",
    "h": "hour hours hr hrs",
    "d": "day days",
    "yr": "year years",
    "N": "newton newtons",
    "J": "joule joules",
    "W": "watt watts",
    "Hz": "hertz",
    "rad": "radian radians rads",
    "deg": "degree degrees degs °",
    "arcmin": "′ ' arcminute arcminutes",
    "arcsec": '″ " arcsecond arcseconds',
    "turn": "turns rev revs revolution revolutions cycle cycles",
    "%": "percent",
    "ms": "msec msecs millisec",
    "us": "usec",
    "au": "AU",
}
_SYMBOL_OF = {word: symbol for symbol, words in _WORDS.items() for word in words.split()}
_SPELT = str.maketrans(
    {"µ": "u", "μ": "u", "²": "2", "³": "3", "¹": "1", "⁴": "4", "⁻": "-", "−": "-", "–": "-", "·": " ", "⋅": " "}
    | {"×": " ", "*": " ", "^": "", "’": "'", "\u00a0": " ", "\u202f": " ", "\u2009": " ", "\u2044": "/", "∕": "/"}
)
_PER = re.compile(r"\s*(?:/|\bper\b)\s*")
_FACTOR = re.compile(r"([^\W\d_]+|[°%′″'\"])(-?\d)?")
_RUN_TOGETHER = re.compile(r"\b(k?g)(?=c?m\d)")
_SQUARED = re.compile(r"\s+(squared|cubed)\b")


@lru_cache(maxsize=4096)
def typed_unit(dimension: str, text: str) -> Unit | None:
    """Return the unit typed, for a quantity of a dimension; None where it is none of them.

    >>> typed_unit("m", "µm").inside(250.0), typed_unit("kg/s", "N s/m").inside(0.5), typed_unit("m/s2", "N/kg").times
    (0.00025, 0.5, 1.0)
    >>> typed_unit("m", "kg") is None, typed_unit("rad/s", "rpm").symbol, typed_unit("kg", "Grams").symbol
    (True, 'rpm', 'g')
    """
    known = find_unit(dimension, text)
    if known or dimension not in DIMENSIONS:
        return known
    spelt = _spelt(text)
    return find_unit(dimension, spelt) or _composed(dimension, spelt) or _in_another_case(dimension, spelt)


def _spelt(text: str) -> str:
    squared = _SQUARED.sub(lambda found: "2" if found[1] == "squared" else "3", text)
    apart = _RUN_TOGETHER.sub(r"\1 ", _PER.sub("/", squared.translate(_SPELT)))
    return " ".join(apart.split())


def _in_another_case(dimension: str, spelt: str) -> Unit | None:
    """Return the one unit offered that is written so but for capitals; none where a capital is another prefix."""
    if len(spelt) < 2 or _may_be_mega(spelt):
        return None
    small = spelt.casefold()
    found = [unit for symbol, unit in DIMENSIONS[dimension].items() if symbol.casefold() == small]
    return found[0] if len(found) == 1 else None


def _may_be_mega(spelt: str) -> bool:
    return spelt[0] == "M" and any(symbol.casefold() == spelt[1:].casefold() for symbol in _BASES)


def meant_unit(dimension: str, text: str) -> str:
    """Return the unit that a capital M at the start may stand for, "" where there is none: ``Mm`` may be ``mm``."""
    spelt = _spelt(text)
    unit = find_unit(dimension, spelt.casefold()) if len(spelt) > 1 and _may_be_mega(spelt) else None
    return unit.symbol if unit else ""


@lru_cache(maxsize=4096)
def is_typed_unit(text: str) -> bool:
    """Tell whether a text is a unit of any dimension."""
    return any(typed_unit(dimension, text) for dimension in DIMENSIONS)


# Products and quotients


def _composed(dimension: str, spelt: str) -> Unit | None:
    typed, own = _parsed(spelt), _parsed(dimension)
    if typed is None or own is None or own[0] == _NONE:
        return None
    symbol = plain_unit(spelt)
    if dimension == "rad/s" and typed[0] == (0, 0, 1, 0, 0):
        return Unit(symbol, 2.0 * math.pi * typed[2], typed[1], reciprocal=True)
    turns = _turns(typed[0], own[0])
    if turns is None:
        return None
    return _unit(symbol, typed[1] * own[2] * turns, typed[2] * own[1])


def _turns(typed: Exponents, own: Exponents) -> float | None:
    """Return the factor by which turns become what is wanted, None where the units measure something else."""
    if typed[:3] != own[:3]:
        return None
    if typed[3:] == own[3:] or typed[3:] == (0, 0):
        return 1.0
    return 2.0 * math.pi if own[3:] == (1, 0) and typed[3:] == (0, 1) else None


def _unit(symbol: str, times: float, over: float) -> Unit:
    """Return the unit, its factor in lowest terms where both parts are whole."""
    if times.is_integer() and over.is_integer():
        common = math.gcd(int(times), int(over))
        times, over = times / common, over / common
    return Unit(symbol, times, over)


def _parsed(spelt: str) -> tuple[Exponents, float, float] | None:
    """Return exponents and size (times, over) of a product of powers with any number of solidi."""
    exponents, times, over = _NONE, 1.0, 1.0
    for place, part in enumerate(spelt.split("/")):
        sign = -1 if place else 1
        if place == 0 and part.strip() == "1":
            continue
        factors = part.split()
        if not factors or (place and len(factors) > 1 and spelt.count("/") > 1):
            return None
        for factor in factors:
            found = _power(factor)
            if found is None:
                return None
            base, power = found[0], found[1] * sign
            exponents = _sum(exponents, base.exponents, power)
            up, down = (base.times, base.over) if power > 0 else (base.over, base.times)
            times, over = times * up ** abs(power), over * down ** abs(power)
    return exponents, times, over


def _sum(a: Exponents, b: Exponents, power: int) -> Exponents:
    return a[0] + power * b[0], a[1] + power * b[1], a[2] + power * b[2], a[3] + power * b[3], a[4] + power * b[4]


def _power(factor: str) -> tuple[_Base, int] | None:
    match = _FACTOR.fullmatch(factor)
    base = _base(match[1]) if match else None
    power = int(match[2] or 1) if match else 0
    return (base, power) if base and power else None


@lru_cache(maxsize=1024)
def _base(symbol: str) -> _Base | None:
    """Return a symbol with its prefix, or a name in words."""
    plain = _SYMBOL_OF.get(symbol) or _SYMBOL_OF.get(symbol.casefold()) or symbol
    if plain in _BASES:
        return _BASES[plain]
    for name, sign in _PREFIX_NAMES.items():
        rest = _SYMBOL_OF.get(symbol.casefold().removeprefix(name))
        if rest and symbol.casefold().startswith(name):
            plain = sign + rest
    base = _BASES.get(plain[1:])
    if base is None or plain[0] not in base.prefixes:
        return None
    power = _PREFIXES[plain[0]]
    ten = 10.0 ** abs(power)
    times, over = (base.times * ten, base.over) if power > 0 else (base.times, base.over * ten)
    return _Base(base.exponents, times, over)
