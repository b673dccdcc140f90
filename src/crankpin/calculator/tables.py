"""Tables that are given: pasted or read from a file, in the ways that sensors and spreadsheets write them.

Nothing is taken for something else without a word: a table is read as its rows and headings say, and `understood` tells
how, or it is not read at all, and `trouble` tells why and what to do.
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from crankpin.calculator.cells import NUMBERISH, Commas, cell_value, commas_in, is_gap
from crankpin.calculator.headings import Found, Heading, columns_found, counted, heading_of, in_unit, wanted
from crankpin.calculator.typed_units import is_typed_unit

if TYPE_CHECKING:
    from crankpin.calculator.declaration import Table

Row = tuple[float | None, ...]
Rows = tuple[Row, ...]

#: What may stand between the cells where no tab and no semicolon does; of equally good ones the first is taken.
_SOFT = (", ", " ", ",")
_NAMES = {"\t": "tabs", ";": "semicolons", ", ": "commas", " ": "spaces", ",": "commas"}
#: How many lines at the end are looked at to tell what stands between the cells.
_LOOKED_AT = 40
_COMMENTS = ("#", "%", "//")
_CHOICE = re.compile(r"\s*columns?\s*[:=]\s*(\d+(?:\s*[,;\s]\s*\d+)*)\s*", re.IGNORECASE)
_QUOTED = {sign: re.compile(rf'\s*"([^"]*)"\s*(?:{sign}|$)|([^{sign}]*)(?:{sign}|$)') for sign in ("\t", ";", ",")}
_BROKEN = re.compile(r"[.,]\d")
_BEFORE_UNIT = re.compile(r"\s*(/|\bin\b)\s*|\s*([\[(])")
_LONGEST_LINE = 2000
_LONGEST_QUOTED = 40
_HALF_A_DAY = 43200.0


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

    Cells stand apart by tabs, semicolons, commas or spaces; the decimal sign is a point or a comma. Lines of text above
    the rows are headings, whose names and units decide the columns; a line ``columns: 1, 3`` chooses them. Names before
    the numbers of a row are passed over, and so are blank lines, comments and rows with a gap.
    """
    chosen, lines = _lines(text)
    too_long = next((line for line in lines if len(line.text) > _LONGEST_LINE), None)
    if too_long:
        return TableReading(
            (), f"line {too_long.count} is longer than {_LONGEST_LINE} characters; give one row a line."
        )
    if not lines:
        return TableReading((), _nothing(table))
    separator = _separator([line.text for line in lines[-_LOOKED_AT:]], table)
    for line in lines:
        line.cells = _cells(line.text, separator)
    return _Reader(table, separator, chosen).read(lines)


def _lines(text: str) -> tuple[list[int], list[_Line]]:
    """Return the columns chosen, and the lines that are neither blank nor comments."""
    chosen: list[int] = []
    lines: list[_Line] = []
    for count, line in enumerate(text.lstrip("\ufeff").splitlines(), 1):
        shown = line.strip(" \r\ufeff\u200b")
        if not shown.strip() or (shown.startswith(_COMMENTS) and not shown.casefold().startswith(("#n/a", "#na"))):
            continue
        if not lines and not chosen and (choice := _CHOICE.fullmatch(shown)):
            chosen = [int(place) for place in re.findall(r"\d+", choice[1])]
            continue
        lines.append(_Line(count, shown, []))
    return chosen, lines


# What stands between the cells


def _separator(lines: Sequence[str], table: "Table") -> str:
    """Return what stands between the cells of most lines: a tab, a semicolon, else what gives the most rows."""
    for sign in ("\t", ";"):
        if 2 * sum(1 for line in lines if sign in line.strip(sign)) >= len(lines) or (
            len(lines) == 1 and sign in lines[0]
        ):
            return sign
    least = sum(1 for column in table.columns if column.needed)
    return max(_SOFT, key=lambda sign: sum(1 for line in lines if _is_row_of(_cells(line, sign), least)))


def _is_row_of(cells: Sequence[str], least: int) -> bool:
    first = 1 if len(cells) > least and not NUMBERISH.match(cells[0]) else 0
    return len(cells) - first >= least and all(_is_number_alone(cell) or is_gap(cell) for cell in cells[first:])


def _is_number_alone(cell: str) -> bool:
    return bool(NUMBERISH.match(cell)) and " " not in cell.strip("+-− ") and not cell.endswith((",", ";"))


def _cells(line: str, separator: str) -> list[str]:
    """Return the cells of a line, quoted ones without their quotes."""
    if '"' in line and separator in _QUOTED:
        parts = _quoted(line, separator)
    elif separator == " ":
        parts = line.replace('""', "-").replace('"', "").split(" ")
        return [part.strip() for part in parts if part.strip()]
    else:
        parts = line.split(separator)
    return [part.strip(' "') for part in parts]


def _quoted(line: str, separator: str) -> list[str]:
    cells, place = [], 0
    while place <= len(line):
        match = _QUOTED[separator].match(line, place)
        if match is None or match.end() == place:
            break
        cells.append(match[1] if match[1] is not None else match[2])
        place = match.end()
    return cells


# Headings and rows


@dataclass(slots=True)
class _Reader:
    table: "Table"
    separator: str
    chosen: list[int]

    def read(self, lines: list[_Line]) -> TableReading:
        if self._is_one_line_of_readings(lines):
            last = lines.pop()
            lines += [_Line(last.count, last.text, [cell]) for cell in last.cells if cell]
        labelled = self._is_labelled(lines[-_LOOKED_AT:])
        if labelled:
            lines = [_Line(line.count, line.text, line.cells[1:]) if len(line.cells) > 1 else line for line in lines]
        least = min(2, self._needed())
        first = next((i for i, line in enumerate(lines) if _is_numbers(line.cells, least)), None)
        if first is None:
            return TableReading((), self._no_rows(lines))
        head, rows = lines[:first], lines[first:]
        if trouble := _malformed(head):
            return TableReading((), trouble)
        if len(self.table.columns) == 1 and _numbered(rows):
            return TableReading((), _told(rows[0], _NUMBERED))
        width = _width(rows)
        for line in rows:
            while len(line.cells) > width and not line.cells[-1]:
                line.cells.pop()
        headings, trouble = self._headings(head, width)
        if trouble:
            return TableReading((), trouble)
        counts = [_counts(rows, place) for place in range(width)]
        found = columns_found(self.table, headings, width, counts, self.chosen)
        if found.trouble:
            widest = next(line for line in rows if len(line.cells) == width)
            return TableReading((), found.trouble if headings else _told(widest, found.trouble))
        return self._rows(rows, found, width, _About(head, headings, labelled))

    def _needed(self) -> int:
        return sum(1 for column in self.table.columns if column.needed)

    def _is_one_line_of_readings(self, lines: Sequence[_Line]) -> bool:
        """Tell whether all readings of a table of one column stand in one line."""
        numbers = [line for line in lines if _is_numbers(line.cells, 1)]
        return (
            len(self.table.columns) == 1 and len(numbers) == 1 and numbers[0] is lines[-1] and len(lines[-1].cells) > 2
        )

    def _is_labelled(self, lines: Sequence[_Line]) -> bool:
        """Tell whether most rows have a name before their numbers."""
        named = sum(1 for line in lines if len(line.cells) > self._needed() and _has_name(line.cells))
        plain = sum(1 for line in lines if _is_numbers(line.cells, 1))
        return named > plain

    def _no_rows(self, lines: Sequence[_Line]) -> str:
        broken = next((line for line in lines if any(map(NUMBERISH.match, line.cells))), None)
        if broken is None:
            return _nothing(self.table)
        wrong = next((cell for cell in broken.cells if not NUMBERISH.match(cell) and not is_gap(cell)), "")
        if wrong:
            return _told(broken, f"“{wrong}” is not a number; {wanted(self.table)}")
        return _told(broken, f"{counted(len(broken.cells), 'column')}; {wanted(self.table)}")

    def _headings(self, head: Sequence[_Line], width: int) -> tuple[list[Heading], str]:
        """Return a heading for each column, none where there are none, and what is wrong with them."""
        names = [line for line in head if not _is_units(line.cells) or len(head) == 1]
        units = [line for line in head if _is_units(line.cells) and line not in names]
        if not names and not units:
            return [], ""
        cells = self._apart(names[-1]) if names else [""] * width
        below = units[-1].cells if units else []
        if len(cells) < width and width - len(cells) == 1 and cells and not cells[-1]:
            cells = [*cells, ""]
        if len(cells) != width:
            return self._other_count(names[-1], cells, width)
        above = [apart for line in names[:-1] if len(apart := self._apart(line)) == width]
        return [
            heading_of(_telling([cell, *(line[i] for line in reversed(above))]), below[i] if i < len(below) else "")
            for i, cell in enumerate(cells)
        ], ""

    def _apart(self, line: _Line) -> list[str]:
        """Return the headings in a line; between spaces, a unit is first drawn to its quantity: ``t / ms``."""
        if self.separator != " ":
            return line.cells
        return _cells(_BEFORE_UNIT.sub(lambda found: "/" if found[1] else found[2], " ".join(line.cells)), " ")

    def _other_count(self, line: _Line, cells: Sequence[str], width: int) -> tuple[list[Heading], str]:
        """Return what a line above the rows says that has other cells than they: nothing if it is a title."""
        names_units = re.search(r"[/(\[]|\bin\b", line.text) or any(
            map(is_typed_unit, re.findall(r"[^\W\d_]+", line.text))
        )
        if width == 1 and names_units:
            return [heading_of(line.text, "")], ""
        if len(cells) == 1 or not names_units:
            return [], ""
        names = f"{counted(len(cells), 'heading')} over {counted(width, 'column')}"
        return [], _told(line, f"{names}; give each column one heading, apart by the same sign as the numbers.")

    def _rows(self, lines: Sequence[_Line], found: Found, width: int, about: "_About") -> TableReading:
        table, rows, gaps = self.table, [], 0
        used = [(i, place) for i, place in enumerate(found.places) if place is not None]
        commas = commas_in([line.cells[place] for line in lines for _, place in used if place < len(line.cells)])
        for line in lines:
            if len(line.cells) != width and (self.separator == " " or len(line.cells) < self._needed()):
                told = f"{counted(len(line.cells), 'column')}, where other rows have {width}; {wanted(table)}"
                return TableReading((), _told(line, told))
            row, trouble = self._row(line.cells, found, used, commas)
            if trouble:
                return TableReading((), _told(line, trouble))
            if row is None:
                gaps += 1
            else:
                rows.append(row)
        if trouble := self._too_many_or_few(rows) or self._past_midnight(lines, rows):
            return TableReading((), trouble)
        comma = any("," in cell for line in lines for cell in line.cells)
        said = self._understood(rows, found, gaps, comma, replace(about, width=width))
        return TableReading(tuple(rows), "", said, tuple(unit.symbol for unit in found.units))

    def _row(
        self, cells: Sequence[str], found: Found, used: Sequence[tuple[int, int]], commas: Commas
    ) -> tuple[Row | None, str]:
        """Return the row, or None for one with a gap; and what is wrong with a cell."""
        values: list[float | None] = [None] * len(found.places)
        is_whole = True
        for i, place in used:
            column, cell = self.table.columns[i], cells[place] if place < len(cells) else ""
            if is_gap(cell):
                is_whole = is_whole and not column.needed
                continue
            value = cell_value(cell, found.units[i], column.unit, commas)
            if isinstance(value, str):
                return None, f"“{cell}” {value} (column “{column.meaning}”)."
            values[i] = value
        return (tuple(values) if is_whole else None), ""

    def _too_many_or_few(self, rows: Sequence[Row]) -> str:
        if len(rows) > self.table.most_rows:
            return f"{len(rows)} rows were given; at most {self.table.most_rows} can be read."
        if len(rows) < self.table.least_rows:
            return f"{counted(len(rows), 'row')} of numbers given; at least {self.table.least_rows} needed."
        return ""

    def _past_midnight(self, lines: Sequence[_Line], rows: Sequence[Row]) -> str:
        """Return what is wrong with times by the clock that begin anew after midnight."""
        times = [row[0] or 0.0 for row in rows]
        if self.table.columns[0].unit != "s" or ":" not in lines[0].text:
            return ""
        back = next((i for i in range(1, len(times)) if times[i] < times[i - 1] - _HALF_A_DAY), None)
        return "" if back is None else f"in row {back + 1} the clock begins anew after midnight; go on with 24:00:00."

    def _understood(self, rows: Sequence[Row], found: Found, gaps: int, comma: bool, about: "_About") -> str:
        used = [
            i for i, place in enumerate(found.places) if place is not None and any(row[i] is not None for row in rows)
        ]
        straight = [found.places[i] for i in used] == list(range(len(used)))
        columns = ", ".join(
            self.table.columns[i].meaning + in_unit(found.units[i].symbol) + ("" if straight else about.place(found, i))
            for i in used
        )
        parts = [f"{counted(len(rows), 'row')}: {columns}"]
        if len(used) > 1:
            parts.append(f"columns apart by {_NAMES[self.separator]}")
        if comma:
            parts.append("decimal commas")
        if about.head:
            parts.append(f"{counted(len(about.head), 'line')} of headings passed over")
        if left_out := about.left_out(found):
            parts.append(left_out)
        if about.labelled:
            parts.append("names before the numbers passed over")
        if gaps:
            parts.append(f"{counted(gaps, 'row')} with a gap left out")
        return "; ".join(parts) + "."


@dataclass(frozen=True, slots=True)
class _About:
    """What stands around the rows."""

    head: Sequence[_Line]
    headings: Sequence[Heading]
    labelled: bool
    width: int = 0

    def left_out(self, found: Found) -> str:
        """Return which columns are not used, "" for none."""
        places = [place for place in range(self.width) if place not in found.places]
        names = ", ".join(
            f"{place + 1} “{self.headings[place].text}”" if self.headings else f"{place + 1}" for place in places
        )
        return f"column {names} left out" if len(places) == 1 else f"columns {names} left out" if places else ""

    def place(self, found: Found, i: int) -> str:
        place = found.places[i]
        assert place is not None
        named = f" “{self.headings[place].text}”" if self.headings else ""
        return f" (column {place + 1}{named})"


def _is_numbers(cells: Sequence[str], least: int) -> bool:
    """Tell whether cells are a row: numbers or gaps, as many as are needed at least, and one number."""
    numbers = sum(1 for cell in cells if NUMBERISH.match(cell))
    if not numbers or (numbers < len(cells) and not all(NUMBERISH.match(cell) or is_gap(cell) for cell in cells)):
        return False
    return len(cells) >= least


def _has_name(cells: Sequence[str]) -> bool:
    named = not NUMBERISH.match(cells[0]) and not is_gap(cells[0])
    return named and _is_numbers(cells[1:], 1)


def _is_units(cells: Sequence[str]) -> bool:
    return all(
        cell in ("", "1", "-") or (not NUMBERISH.match(cell) and is_typed_unit(cell.strip("()[]"))) for cell in cells
    )


def _telling(headings: Sequence[str]) -> str:
    """Return the lowest heading of a column that names a unit, else the lowest one."""
    return next((text for text in headings if heading_of(text, "").unit), headings[0])


def _malformed(head: Sequence[_Line]) -> str:
    """Return what is wrong with a line above the rows that holds numbers but no heading below it."""
    for i, line in enumerate(head):
        below = head[i + 1 :]
        if _is_broken(line) and all(map(_is_broken, below)):
            wrong = next((cell for cell in line.cells if not NUMBERISH.match(cell) and not is_gap(cell)), line.text)
            return _told(line, f"“{wrong}” is not a number; if the line is no row, put a # before it.")
    return ""


def _is_broken(line: _Line) -> bool:
    """Tell whether a line that is no row holds numbers all the same, or what may be one that was mistyped."""
    numbers = any(NUMBERISH.match(cell) or _BROKEN.search(cell) for cell in line.cells)
    return numbers and not _is_units(line.cells)


def _width(lines: Sequence[_Line]) -> int:
    """Return the number of columns; empty ones at the right end do not count."""
    return max(len(line.cells) - _empty_at_end(line.cells) for line in lines)


def _empty_at_end(cells: Sequence[str]) -> int:
    empty = 0
    for cell in reversed(cells):
        if cell:
            break
        empty += 1
    return empty


def _counts(lines: Sequence[_Line], place: int) -> bool:
    """Tell whether a column counts its rows by ones."""
    start = lines[0].cells[place] if place < len(lines[0].cells) else ""
    if not start.isdecimal() or len(lines) < 2:
        return False
    return all(place < len(line.cells) and line.cells[place] == str(int(start) + i) for i, line in enumerate(lines))


def _numbered(lines: Sequence[_Line]) -> bool:
    """Tell whether every line is whole numbers that count the lines, a comma, and more digits."""
    parts = [line.text.split(",") for line in lines]
    numbers = [part[0].strip() for part in parts if len(part) == 2]
    if len(numbers) < max(2, len(lines)) or not numbers[0].isdecimal():
        return False
    return all(number == str(int(numbers[0]) + i) for i, number in enumerate(numbers))


_NUMBERED = (
    "the comma can be a decimal comma or stand between a running number and a reading; type decimal points, or leave "
    "the running numbers out."
)


def _nothing(table: "Table") -> str:
    names = "; ".join(column.meaning + in_unit(column.unit) for column in table.columns)
    return f"no row of numbers was found; give one row a line, with the columns: {names}."


def _told(line: _Line, trouble: str) -> str:
    quoted = line.text if len(line.text) <= _LONGEST_QUOTED else line.text[:_LONGEST_QUOTED] + "…"
    return f"line {line.count}, “{quoted}”: {trouble}"
