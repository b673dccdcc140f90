"""Tables that are given: pasted or read from a file, in the ways that sensors and spreadsheets write them."""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from crankpin.calculator.entries import read_entry
from crankpin.calculator.units import Unit, find_unit, printed_unit

if TYPE_CHECKING:
    from crankpin.calculator.declaration import Column, Table

Row = tuple[float | None, ...]
Rows = tuple[Row, ...]

#: What may stand between the cells, in the order in which equally good ones are taken.
_SEPARATORS = ("\t", ";", ", ", " ", ",")
_HARD = ("\t", ";")
_NAMES = {"\t": "tabs", ";": "semicolons", ", ": "commas", " ": "spaces", ",": "commas"}
#: How many lines are looked at to tell what stands between the cells.
_LOOKED_AT = 60
_COMMENTS = ("#", "%", "//")
#: What stands in a cell where a reading is missing.
_GAPS = frozenset({"", "-", "--", "–", "—", "nan", "na", "n/a", "null"})
_UNIT_IN_HEADING = re.compile(r"[\[(]([^\[\]()]+)[\])]\s*$|(?:/|\bin)\s*([^\s/]+(?:\s[^\s/]+)?)\s*$")
_BEFORE_UNIT = re.compile(r"\s*(/|\bin\b)\s*|\s*([\[(])")
_LONGEST_QUOTED = 40


@dataclass(frozen=True, slots=True)
class TableReading:
    """What was made of a text: the rows in inside units, or no rows and one sentence on what is wrong.

    ``understood`` tells a student how the text was read, ``units`` the unit of each column in it.
    """

    rows: Rows
    trouble: str
    understood: str = ""
    units: tuple[str, ...] = ()


@dataclass(slots=True)
class _Line:
    count: int
    text: str
    cells: list[str]


def read_table(text: str, table: "Table") -> TableReading:
    """Read the rows of numbers in a text.

    Cells stand apart by tabs, semicolons, commas or spaces; the decimal sign is a point or a comma. Lines
    that hold no row before the first one are headings, and units named in them hold for their columns; a
    name before the numbers of a row is passed over, and so are blank lines, comments and rows with a gap.
    """
    lines = [
        (count, line.strip())
        for count, line in enumerate(text.lstrip("\ufeff").splitlines(), 1)
        if line.strip() and not line.strip().startswith(_COMMENTS)
    ]
    separator = _separator([line for _, line in lines[:_LOOKED_AT]], table)
    torn = next((_Line(count, line, []) for count, line in lines if _stronger(line, separator)), None)
    if torn:
        return TableReading((), _told(torn, _torn(torn, table)))
    split = [_Line(count, line, _cells(line, separator, table)) for count, line in lines]
    first = next((i for i, line in enumerate(split) if _is_row(line.cells, table)), None)
    if first is None:
        return TableReading((), _no_rows(split, table))
    units = _units([_headings(line, separator, table) for line in split[:first]], table)
    return _rows(split[first:], first, units, separator, table)


def _rows(lines: Sequence[_Line], headings: int, units: Sequence[Unit], separator: str, table: "Table") -> TableReading:
    rows: list[Row] = []
    gaps = 0
    for line in lines:
        cells = _without_name(line.cells, table)
        if not _count_fits(cells, table):
            return TableReading((), _told(line, _count_trouble(cells, table)))
        row, trouble = _row(cells, units, table)
        if trouble:
            return TableReading((), _told(line, trouble))
        if row is None:
            gaps += 1
        else:
            rows.append(row)
    if len(rows) > table.most_rows:
        return TableReading((), f"{len(rows)} rows were given; at most {table.most_rows} can be read.")
    if len(rows) < table.least_rows:
        return TableReading((), f"{_counted(len(rows), 'row')} of numbers given; at least {table.least_rows} needed.")
    comma = any("," in cell for line in lines for cell in line.cells)
    understood = _understood(rows, headings, gaps, units, separator, comma, table)
    return TableReading(tuple(rows), "", understood, tuple(unit.symbol for unit in units))


# What stands between the cells


def _separator(lines: Sequence[str], table: "Table") -> str:
    """Return the separator that gives the most rows, or else the most lines of nothing but numbers."""

    def rows(sign: str) -> int:
        return sum(_is_row(_cells(line, sign, table), table) for line in lines)

    def numbers(sign: str) -> int:
        split = [_cells(line, sign, table) for line in lines]
        return sum(len(cells) > 1 and all(map(_is_number, cells)) for cells in split)

    best = max(_SEPARATORS, key=rows)
    return best if rows(best) else max(_SEPARATORS, key=numbers)


def _stronger(line: str, separator: str) -> str:
    """Return a tab or semicolon between numbers of a line that was to be cut elsewhere, "" where there is none."""
    signs = () if separator in _HARD else _HARD
    return next((sign for sign in signs if _numbers_apart(line, sign)), "")


def _numbers_apart(line: str, sign: str) -> bool:
    return sum(1 for cell in line.split(sign) if cell.strip()[:1].isdigit()) > 1


def _torn(line: _Line, table: "Table") -> str:
    sign = _stronger(line.text, " ")
    cells = [cell for cell in line.text.split(sign) if cell.strip()]
    return f"{_counted(len(cells), 'column')} apart by {_NAMES[sign]}; {_count_wanted(table)}"


def _cells(line: str, separator: str, table: "Table") -> list[str]:
    """Return the cells; empty ones at the end are kept only as far as columns are needed."""
    parts = line.split() if separator == " " else line.split(separator)
    cells = [part.strip().strip('"').strip() for part in parts]
    while len(cells) > _needed(table) and not cells[-1]:
        cells.pop()
    return cells


def _is_number(cell: str) -> bool:
    return read_entry(cell) is not None


def _is_gap(cell: str) -> bool:
    return cell.lower() in _GAPS


def _is_row(cells: list[str], table: "Table") -> bool:
    """Return whether the cells are a row: as many as wanted, numbers or gaps, the first one a number."""
    cells = _without_name(cells, table)
    return _count_fits(cells, table) and _is_number(cells[0]) and all(_is_number(c) or _is_gap(c) for c in cells[1:])


def _without_name(cells: list[str], table: "Table") -> list[str]:
    """Return the cells without a name that stands before the numbers."""
    named = len(cells) > _needed(table) and not _is_number(cells[0]) and not _is_gap(cells[0])
    return cells[1:] if named and all(map(_is_number, cells[1:])) else cells


# How many cells


def _needed(table: "Table") -> int:
    return sum(1 for column in table.columns if column.needed)


def _count_fits(cells: Sequence[str], table: "Table") -> bool:
    return _needed(table) <= len(cells) <= len(table.columns)


def _count_trouble(cells: Sequence[str], table: "Table") -> str:
    return f"{_counted(len(cells), 'column')}; {_count_wanted(table)}"


def _count_wanted(table: "Table") -> str:
    least, most = _needed(table), len(table.columns)
    wanted = f"{least} to {most} are" if least < most else f"{most} {'is' if most == 1 else 'are'}"
    return f"{wanted} needed: {_column_names(table)}."


def _column_names(table: "Table") -> str:
    return "; ".join(column.meaning + _in_unit(column.unit) for column in table.columns)


def _no_rows(lines: Sequence[_Line], table: "Table") -> str:
    numbers = next((line for line in lines if len(line.cells) > 1 and all(map(_is_number, line.cells))), None)
    if numbers:
        return _told(numbers, _count_trouble(numbers.cells, table))
    return f"no row of numbers was found; give one row a line, with the columns: {_column_names(table)}."


# Units in the headings


def _headings(line: _Line, separator: str, table: "Table") -> list[str]:
    """Return the headings in a line; between spaces, a unit is first drawn to its quantity: ``t / ms``."""
    if separator != " ":
        return line.cells
    return _cells(_BEFORE_UNIT.sub(lambda found: "/" if found[1] else found[2], line.text), separator, table)


def _units(headings: Sequence[Sequence[str]], table: "Table") -> list[Unit]:
    """Return the unit of each column: the one its heading names, else its own."""
    units = []
    for i, column in enumerate(table.columns):
        named = [_named_unit(cells[i], column) for cells in headings if i < len(cells)]
        own = find_unit(column.unit, column.unit)
        found = next((unit for unit in reversed(named) if unit), own)
        if found is None:
            raise ValueError(f"{column.unit!r} is not a dimension")
        units.append(found)
    return units


def _named_unit(heading: str, column: "Column") -> Unit | None:
    match = _UNIT_IN_HEADING.search(heading)
    inside = (match[1] or match[2]) if match else heading
    return find_unit(column.unit, inside.strip())


# The rows


def _row(cells: Sequence[str], units: Sequence[Unit], table: "Table") -> tuple[Row | None, str]:
    """Return the row, or None for one with a gap; and what is wrong with a cell."""
    values: list[float | None] = []
    for i, (column, unit) in enumerate(zip(table.columns, units, strict=True)):
        cell = cells[i] if i < len(cells) else ""
        if _is_gap(cell):
            if column.needed:
                return None, ""
            values.append(None)
            continue
        entry = read_entry(cell)
        own = find_unit(column.unit, entry.unit) if entry and entry.unit else unit
        if entry is None or own is None:
            return None, f"“{cell}” is not a number{_in_unit(column.unit)} for the column “{column.meaning}”."
        values.append(own.inside(entry.number))
    return tuple(values), ""


# What is said


def _told(line: _Line, trouble: str) -> str:
    quoted = line.text if len(line.text) <= _LONGEST_QUOTED else line.text[:_LONGEST_QUOTED] + "…"
    return f"line {line.count}, “{quoted}”: {trouble}"


def _understood(
    rows: Sequence[Row],
    headings: int,
    gaps: int,
    units: Sequence[Unit],
    separator: str,
    comma: bool,
    table: "Table",
) -> str:
    used = [i for i in range(len(units)) if any(row[i] is not None for row in rows)]
    columns = ", ".join(table.columns[i].meaning + _in_unit(units[i].symbol) for i in used)
    parts = [f"{_counted(len(rows), 'row')}: {columns}"]
    if len(used) > 1:
        parts.append(f"columns apart by {_NAMES[separator]}")
    if comma:
        parts.append("decimal commas")
    if headings:
        parts.append(f"{_counted(headings, 'line')} of headings passed over")
    if gaps:
        parts.append(f"{_counted(gaps, 'row')} with a gap left out")
    return "; ".join(parts) + "."


def _in_unit(symbol: str) -> str:
    printed = printed_unit(symbol)
    return f" in {printed}" if printed else ""


def _counted(count: int, what: str) -> str:
    return f"{count} {what}" if count == 1 else f"{count} {what}s"
