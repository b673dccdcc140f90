"""Which column of a table is which: by the headings' names and units, by choice, or by place where nothing speaks."""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from crankpin.calculator.symbols import read_symbol
from crankpin.calculator.typed_units import is_typed_unit, typed_unit
from crankpin.calculator.units import Unit, find_unit, printed_unit

if TYPE_CHECKING:
    from crankpin.calculator.declaration import Column, Table

_UNIT_IN_HEADING = re.compile(r"[\[({<]([^\[\](){}<>]+)[\])}>]\s*$|(?:/|\bin\b|,)\s*([^\s/,][^,]*?)\s*$")
_LAST_WORD = re.compile(r"[\s_:;\-]([^\W\d_]+|[µ°%]\w*)$")
_UNCERTAINTY = re.compile(
    r"(?:u|σ|s|δ|Δ|±|delta|sigma|sd|se|std|err|errors?|unc|uncert\w*|unsicherheit|fehler|\+/-)(?:[\s_(.].*)?",
    re.IGNORECASE,
)
_RUNNING = re.compile(
    r"#|№|n|i|no\.?|nr\.?|num|number|index|idx|row|run|sample|id|count|point|reading no\.?", re.IGNORECASE
)
_TIME = frozenset({"t", "time", "zeit", "temps", "tiempo", "elapsed", "elapsed time", "seconds", "timestamp"})


@dataclass(frozen=True, slots=True)
class Found:
    """Where the columns wanted stand: for each its place among the cells (None: absent) and its unit."""

    places: tuple[int | None, ...] = ()
    units: tuple[Unit, ...] = ()
    trouble: str = ""


@dataclass(frozen=True, slots=True)
class Heading:
    """A column's name and unit as its heading gives them; "" where it gives none."""

    name: str
    unit: str
    text: str


def heading_of(text: str, below: str) -> Heading:
    """Return name and unit of a heading such as ``t / ms``, ``time (s)``, ``x_cm``; ``below`` is a unit under it."""
    match = _UNIT_IN_HEADING.search(text)
    if match:
        return Heading(text[: match.start()].strip(), below or (match[1] or match[2]).strip(), text)
    word = _LAST_WORD.search(text)
    if word and not below and is_typed_unit(word[1]):
        return Heading(text[: word.start()].strip(), word[1], text)
    return Heading(text.strip(), below, text)


def columns_found(
    table: "Table", headings: Sequence[Heading], width: int, counts: Sequence[bool], chosen: Sequence[int]
) -> Found:
    """Return where the columns wanted stand.

    ``headings`` has one for each column, or none at all; ``width`` is the number of columns; ``counts`` tells which of
    them count 1, 2, 3 and so on; ``chosen`` holds places that were asked for, none where nothing was.
    """
    if chosen:
        places, trouble = _chosen(table, width, chosen)
    elif headings:
        places, trouble = _by_name(table, headings, counts)
    else:
        places, trouble = _by_place(table, width, counts)
    return Found(trouble=trouble) if trouble else _with_units(table, headings, places)


Places = tuple[int | None, ...]


def _needed(table: "Table") -> int:
    return sum(1 for column in table.columns if column.needed)


def _filled(table: "Table", places: Sequence[int]) -> Places:
    return (*places, *[None] * (len(table.columns) - len(places)))


def _chosen(table: "Table", width: int, chosen: Sequence[int]) -> tuple[Places, str]:
    if not _needed(table) <= len(chosen) <= len(table.columns) or len(set(chosen)) < len(chosen):
        return (), f"{len(chosen)} columns were chosen; {wanted(table)}"
    beyond = next((place for place in chosen if not 1 <= place <= width), None)
    if beyond is not None:
        return (), f"column {beyond} was chosen, but there are {width}."
    return _filled(table, [place - 1 for place in chosen]), ""


def _by_place(table: "Table", width: int, counts: Sequence[bool]) -> tuple[Places, str]:
    if not _needed(table) <= width <= len(table.columns):
        return (), f"{counted(width, 'column')}; {wanted(table)}{_how(table) if width > _needed(table) else ''}"
    if width > _needed(table) and counts[0]:
        return (), (
            f"{width} columns, and the first one counts 1, 2, 3: it can be a running number or "
            f"{table.columns[0].meaning}. Put headings above the columns, or choose them.{_how(table)}"
        )
    return _filled(table, range(width)), ""


def _by_name(table: "Table", headings: Sequence[Heading], counts: Sequence[bool]) -> tuple[Places, str]:
    running = [i for i, one in enumerate(headings) if counts[i] and _RUNNING.fullmatch(one.name)]
    spare = [
        i for i, one in enumerate(headings) if i in running or (_is_uncertainty(one) and _needed(table) < len(headings))
    ]
    named: dict[int, int] = {}
    for wanted_place, column in enumerate(table.columns):
        fits = [
            i for i, one in enumerate(headings) if i not in named.values() and i not in running and _fits(column, one)
        ]
        if len(fits) == 1:
            named[wanted_place] = fits[0]
        elif len(fits) > 1:
            return (), f"more than one column may be {column.meaning}: {_listed(headings)}.{_how(table)}"
    open_places = [i for i, column in enumerate(table.columns) if column.needed and i not in named]
    left = [i for i in range(len(headings)) if i not in named.values() and i not in spare]
    if not open_places:
        return tuple(named.get(i) for i in range(len(table.columns))), ""
    if len(left) != len(open_places):
        return (), f"{counted(len(headings), 'column')}: {_listed(headings)}; {wanted(table)}{_how(table)}"
    named |= dict(zip(open_places, left, strict=True))
    return tuple(named.get(i) for i in range(len(table.columns))), ""


def _is_uncertainty(heading: Heading) -> bool:
    return _UNCERTAINTY.fullmatch(heading.name) is not None


def _fits(column: "Column", heading: Heading) -> bool:
    """Tell whether a heading names this column: by key, symbol, word, or as a time or an uncertainty."""
    name = heading.name.casefold()
    if not column.needed:
        return _is_uncertainty(heading)
    symbol = read_symbol(column.symbol)
    known = {column.key.casefold(), symbol.text().casefold() if symbol else "", column.meaning.casefold()}
    is_time = column.unit in ("s", "h") and column.key == "t"
    return bool(name) and (name in known or (is_time and name in _TIME))


def _with_units(table: "Table", headings: Sequence[Heading], places: Places) -> Found:
    units = []
    for column, place in zip(table.columns, places, strict=True):
        heading = headings[place] if headings and place is not None else Heading("", "", "")
        unit, trouble = _unit(column, heading)
        if unit is None:
            return Found(trouble=trouble)
        units.append(unit)
    return Found(places, tuple(units))


def _unit(column: "Column", heading: Heading) -> tuple[Unit | None, str]:
    """Return the unit of a column: the one its heading names, else its own; and what is wrong with the heading."""
    own = find_unit(column.unit, column.unit)
    if own is None:
        raise ValueError(f"{column.unit!r} is not a dimension")
    if column.unit == "1":  # a column in whatever unit the reader has
        return (Unit(heading.unit) if heading.unit and is_typed_unit(heading.unit) else own), ""
    named = heading.unit or (heading.name if is_typed_unit(heading.name) and not _fits(column, heading) else "")
    named = named or _last_word(column, heading)
    found = typed_unit(column.unit, named) if named else own
    if found is None or found.reciprocal:
        known = ", ".join(printed_unit(symbol) for symbol in (column.unit, *column.also))
        told = f"the heading “{heading.text}” names the unit “{named}”, which is not known here for {column.meaning}"
        return None, f"{told}; use {known}."
    return found, ""


def _last_word(column: "Column", heading: Heading) -> str:
    """Return the last word of a heading whose first is the column's name, as in ``time_ms``; "" where there is none."""
    word = _LAST_WORD.search(heading.name)
    if word is None or _fits(column, heading):
        return ""
    return word[1] if _fits(column, Heading(heading.name[: word.start()].strip(), "", "")) else ""


# What is said


def wanted(table: "Table") -> str:
    """Return how many columns a table needs, and which."""
    least, most = _needed(table), len(table.columns)
    count = f"{least} to {most} are" if least < most else f"{most} {'is' if most == 1 else 'are'}"
    names = "; ".join(column.meaning + in_unit(column.unit) for column in table.columns)
    return f"{count} needed: {names}."


def _how(table: "Table") -> str:
    places = ", ".join(str(place) for place in range(1, _needed(table) + 1))
    return f" To choose columns, put a line such as “columns: {places}” above the rows."


def _listed(headings: Sequence[Heading]) -> str:
    return ", ".join(f"{place} “{one.text}”" for place, one in enumerate(headings, 1))


def in_unit(symbol: str) -> str:
    """Return a unit with the word before it, "" for none."""
    printed = re.sub(r"\bu(?=[a-zA-Z])", "µ", printed_unit(symbol))
    return f" in {printed}" if printed else ""


def counted(count: int, what: str) -> str:
    """Return a count of things in words."""
    return f"{count} {what}" if count == 1 else f"{count} {what}s"
