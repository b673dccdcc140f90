"""One cell of a table: a number in a column's unit, a time by the clock, a gap, or what is wrong with it."""

import re
from dataclasses import dataclass

from crankpin.calculator.entries import NO_NUMBER, Unread, read
from crankpin.calculator.typed_units import typed_unit
from crankpin.calculator.units import Unit, printed_unit

#: What stands in a cell where a reading is missing.
GAPS = frozenset(
    {"", "-", "--", "–", "—", "?", "nan", "na", "n/a", "n.a.", "#n/a", "#na", "null", "none", "inf", "-inf"}
)
#: A text that begins like a number.
NUMBERISH = re.compile(r"[+\-−–]?\s*[.,]?\d")
_PLAIN = re.compile(r"[+-]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d{1,3})?", re.ASCII)
_CLOCK = re.compile(r"(?:(\d+):)?(\d+):(\d{1,2}(?:[.,]\d+)?)")
_EITHER = re.compile(r"[+\-−]?[1-9]\d{0,2},\d{3}")
_DECIMAL_COMMA = re.compile(r"[+\-−]?(?:0?,\d+|0,\d+|\d+,(?:\d{1,2}|\d{4,})|\d{4,},\d+|\d{1,3}(?:\.\d{3})+,\d*)")
_GROUPING_COMMA = re.compile(r"[+\-−]?\d{1,3}(?:,\d{3})+\.\d*")
_EITHER_POINT = re.compile(r"[+\-−]?[1-9]\d{0,2}\.\d{3}")


@dataclass(frozen=True, slots=True)
class Commas:
    """What the commas of a table's cells mean: the decimal sign, thousands, or nothing that is certain."""

    decimal: bool
    grouping: bool

    def settled(self, cell: str) -> str:
        """Return a cell with two readings as the one that the other cells settle; any other cell as it is."""
        if not _EITHER.fullmatch(cell) or self.decimal == self.grouping:
            return cell
        return cell.replace(",", ".") if self.decimal else cell.replace(",", "")


def commas_in(cells: list[str]) -> Commas:
    """Return what the commas mean, as far as cells that can be read in one way only settle it."""
    with_commas = [cell for cell in cells if "," in cell]
    decimal = any(map(_DECIMAL_COMMA.fullmatch, with_commas))
    grouping = any(map(_GROUPING_COMMA.fullmatch, with_commas))
    return Commas(decimal, grouping)


def is_gap(cell: str) -> bool:
    """Tell whether a reading is missing in a cell."""
    return cell.casefold() in GAPS


def cell_value(cell: str, unit: Unit, dimension: str, commas: Commas) -> float | str:
    """Return the value inside of a cell, or what is wrong with it as the rest of a sentence that begins with it."""
    if commas.decimal and _EITHER_POINT.fullmatch(cell):
        return "stands beside decimal commas: type it without the point, or with a comma"
    if _PLAIN.fullmatch(cell):
        number = float(cell)
        return unit.inside(number) if number - number == 0.0 else "is too large"
    entry = read(commas.settled(cell))
    if isinstance(entry, Unread):
        return _clock(cell, dimension) if _CLOCK.fullmatch(cell) else _reason(entry, dimension)
    if entry.uncertainty:
        return "brings an uncertainty along; give uncertainties in a column of their own"
    own = typed_unit(dimension, entry.unit) if entry.unit else unit
    if dimension == "1" and entry.unit:
        return "brings a unit along; name the unit in the heading"
    if own is None or own.reciprocal:
        return f"is not a number{_in(dimension)}"
    return own.inside(entry.number)


def _reason(entry: Unread, dimension: str) -> str:
    return f"is not a number{_in(dimension)}" if entry == NO_NUMBER else entry.reason


def _in(dimension: str) -> str:
    return f" in {printed_unit(dimension)}" if printed_unit(dimension) else ""


def _clock(cell: str, dimension: str) -> float | str:
    """Return a time by the clock in a column of times: minutes and seconds where it has a fraction, else in full."""
    second = typed_unit(dimension, "s")
    if second is None or second.reciprocal:
        return f"is a time by the clock, not a number{_in(dimension)}"
    parts = cell.replace(",", ".").split(":")
    hours, minutes, seconds = parts[0] if len(parts) == 3 else None, int(parts[-2]), parts[-1]
    if hours is None and "." not in seconds:
        return f"can be hours and minutes or minutes and seconds; type 0:{cell} or {cell}:00"
    if float(seconds) >= 60.0 or (hours is not None and minutes >= 60):
        return "has sixty or more minutes or seconds"
    return second.inside(int(hours or 0) * 3600.0 + minutes * 60.0 + float(seconds))
