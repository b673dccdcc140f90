"""Tables that are given: pasted or read from a file, in the ways that sensors and spreadsheets write them."""

from typing import TYPE_CHECKING

from crankpin.calculator.numbers import read_entry
from crankpin.calculator.units import find_unit

if TYPE_CHECKING:
    from crankpin.calculator.declaration import Table

Rows = tuple[tuple[float | None, ...], ...]


def read_rows(text: str, table: "Table") -> tuple[Rows, str]:
    """Return the rows of numbers in a text and "" , or () and one sentence on what is wrong.

    Columns stand apart by tabs, semicolons, commas followed by a space or with decimal points, or
    spaces. Lines that hold no number (headings, units, comments) and blank lines are passed over
    before the first row; after it they are faults.
    """
    separator = _separator(text)
    rows: list[tuple[float | None, ...]] = []
    for count, line in enumerate(text.lstrip("\ufeff").splitlines(), 1):
        cells = _cells(line, separator)
        if not cells or cells[0].startswith("#"):
            continue
        row, trouble = _row(cells, table)
        if trouble and not rows and not any(read_entry(cell) for cell in cells):
            continue
        if trouble:
            return (), f"line {count}, “{line.strip()}”: {trouble}"
        rows.append(row)
        if len(rows) > table.most_rows:
            return (), f"there are more than {table.most_rows} rows; give at most {table.most_rows}."
    if len(rows) < table.least_rows:
        return (), f"{len(rows)} rows of numbers were given; at least {table.least_rows} are needed."
    return tuple(rows), ""


def _separator(text: str) -> str:
    for sign in ("\t", ";"):
        if sign in text:
            return sign
    numbers = [line for line in text.splitlines() if line[:1].isdigit() or line[:1] in "-−.+"]
    comma_is_decimal = any(" " in line.strip() and "," in line and ", " not in line for line in numbers)
    return "," if "," in text and not comma_is_decimal else " "


def _cells(line: str, separator: str) -> list[str]:
    parts = line.split() if separator == " " else line.split(separator)
    cells = [part.strip() for part in parts]
    return cells if any(cells) else []


def _row(cells: list[str], table: "Table") -> tuple[tuple[float | None, ...], str]:
    while len(cells) > 1 and not cells[-1]:
        cells = cells[:-1]
    least = sum(1 for column in table.columns if column.needed)
    if not least <= len(cells) <= len(table.columns):
        names = ", ".join(column.meaning for column in table.columns)
        wanted = str(least) if least == len(table.columns) else f"{least} to {len(table.columns)}"
        return (), f"{len(cells)} columns; {wanted} are needed ({names})."
    values: list[float | None] = []
    for cell, column in zip(cells, table.columns, strict=False):
        entry = read_entry(cell)
        unit = find_unit(column.unit, entry.unit or column.unit) if entry else None
        if entry is None or unit is None:
            return (), f"“{cell}” is not a number for {column.meaning}."
        values.append(unit.inside(entry.number))
    values += [None] * (len(table.columns) - len(values))
    return tuple(values), ""
