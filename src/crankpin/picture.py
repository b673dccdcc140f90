"""Saving a calculator's picture as SVG or PNG and its curves as CSV, with the numbers that made them inside."""

import csv
import io
import json
from collections.abc import Callable, Iterator, Sequence
from itertools import chain, zip_longest
from pathlib import Path

from crankpin.calc import AskError, as_data
from crankpin.calculator.curves import DrawnAxis, DrawnPicture
from crankpin.calculator.declaration import Table
from crankpin.calculator.evaluate import Evaluation
from crankpin.calculator.symbols import read_symbol
from crankpin.calculator.units import over_unit
from crankpin.figures.saved import picture_png, picture_svg

_PAINTERS: dict[str, Callable[..., bytes]] = {".svg": picture_svg, ".png": picture_png}
_FIRST_WORDS = "# crankpin picture: "
"""So begins every table written here; a file that begins otherwise is somebody's own."""
_DIGITS = 12

Column = tuple[str, Sequence[float]]


def check_names(out: Path | None, table: Path | None) -> None:
    """Refuse names of files that can not be written, or must not be. Raises `AskError`."""
    if out and out.suffix.lower() not in _PAINTERS:
        raise AskError(f"--out {out.name}: a picture is saved as .svg or .png; let the name end in one of them.")
    if table and table.suffix.lower() != ".csv":
        raise AskError(f"--table {table.name}: a table is saved as .csv; let the name end in it.")
    if table and table.exists() and not _is_ours(table):
        told = "this file is there already and was not written by crankpin picture; give another name"
        raise AskError(f"--table {table.name}: {told}, or --readings to draw what stands in it.")


def _is_ours(table: Path) -> bool:
    try:
        with table.open("rb") as file:
            return file.read(99).decode("utf-8-sig", "replace").startswith(_FIRST_WORDS)
    except OSError as error:
        raise AskError(f"--table {table.name}: it can not be read ({error.strerror}).") from None


def save(name: str, evaluation: Evaluation, out: Path | None, table: Path | None) -> list[Path]:
    """Write the picture of an evaluation, the table of its curves, or both; return the files. Raises `AskError`."""
    picture = evaluation.picture()
    if picture is None or not any(panel.curves or panel.marks for panel in picture.panels):
        raise AskError(f"{name} draws no picture from these numbers; crankpin calc {name} gives its results.")
    written = []
    if out:
        written.append(_write("--out", out, as_picture(name, evaluation, picture, out.suffix.lower())))
    if table:
        written.append(_write("--table", table, as_csv(evaluation, picture)))
    return written


def _write(option: str, file: Path, content: bytes) -> Path:
    try:
        file.write_bytes(content)
    except OSError as error:
        raise AskError(f"{option} {file}: it can not be written ({error.strerror}).") from None
    return file


def as_picture(name: str, evaluation: Evaluation, picture: DrawnPicture, suffix: str) -> bytes:
    """Return the picture as a file of that kind, ``.svg`` or ``.png``.

    Its title names the numbers given, its description says what is seen, and its metadata is what
    ``crankpin calc --json`` prints, with every digit.
    """
    numbers = json.dumps(as_data(name, evaluation))
    return _PAINTERS[suffix](picture, title=title(evaluation), words=picture.words, numbers=numbers)


def title(evaluation: Evaluation) -> str:
    """Return the calculator's title with every number given: ``The wheel seen edge-on: A = 12.0 cm; t = 0.400 s``."""
    given = [_given(evaluation, one.key) for one in evaluation.calculator.inputs]
    if evaluation.asked:
        target = evaluation.calculator.output(evaluation.asked.target)
        given.append(f"found from {_named(target.symbol, target.key)} = {evaluation.asked.wanted.text}")
    return f"{evaluation.calculator.title}: {'; '.join(given)}"


def _given(evaluation: Evaluation, key: str) -> str:
    one, given = evaluation.calculator.input(key), evaluation.inputs[key]
    if isinstance(one, Table):
        return f"{key}: {len(given.value)} rows"
    return f"{_named(getattr(one, 'symbol', ''), key)} = {given.text}"


def _named(tex: str, key: str) -> str:
    symbol = read_symbol(tex) if tex else None
    return symbol.text() if symbol else key


def as_csv(evaluation: Evaluation, picture: DrawnPicture) -> bytes:
    """Return every point of the curves and marks as CSV (RFC 4180, UTF-8 with a byte order mark for spreadsheets).

    The first line, a comment, is the title with the numbers given; the next has each column's quantity over its unit,
    ``t / s``. Curves over the same points share the column before them; the marked points come last.
    """
    columns = _columns(picture)
    out = io.StringIO()
    out.write(f"{_FIRST_WORDS}{title(evaluation)}\r\n")
    writer = csv.writer(out)
    writer.writerow(heading for heading, _ in columns)
    writer.writerows(zip_longest(*(map(_cell, numbers) for _, numbers in columns), fillvalue=""))
    return out.getvalue().encode("utf-8-sig")


def _columns(picture: DrawnPicture) -> list[Column]:
    """Return the curves, those over the same points behind the column they share, then the marked points."""
    groups: list[list[Column]] = []
    for across, up in chain(_curves(picture), _marks(picture)):
        group = next((one for one in groups if one[0] == across), None)
        if group is None:
            groups.append([across, up])
        elif up not in group:
            group.append(up)
    return list(chain.from_iterable(groups))


def _curves(picture: DrawnPicture) -> Iterator[tuple[Column, Column]]:
    for panel in picture.panels:
        symbol, up = panel.vertical.title.partition(" / ")[0], _heading(panel.vertical)
        for one in panel.curves:
            label = one.curve.label
            heading = up if label in ("", symbol) else f"{label}: {up}"
            yield (_heading(panel.horizontal), one.xs), (heading, one.ys)


def _marks(picture: DrawnPicture) -> Iterator[tuple[Column, Column]]:
    for panel in picture.panels:
        for mark, x, y in panel.marks:
            before = f"{mark.label}: " if mark.label else "marked: "
            yield (before + _heading(panel.horizontal), [x]), (before + _heading(panel.vertical), [y])


def _heading(axis: DrawnAxis) -> str:
    """Return the quantity over its unit: ``v / (cm/s)``."""
    symbol, _, unit = axis.title.partition(" / ")
    return symbol + over_unit(unit) if unit else symbol


def _cell(number: float) -> str:
    return f"{number + 0.0:.{_DIGITS}g}"  # no minus before a zero
