"""The page's questions, answered in Python: the worker asks here, and so does the build.

The build prerenders a page from the very `shown` that later answers on the page, so that both give the same text
and the same markup. On the page this file stands alone beside the calculators (see ``bundle.py``).

This module may import: the standard library, ``crankpin.mechanics`` and ``crankpin.calculator``.
"""

import json
from array import array
from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import Any
from zipimport import zipimporter

from crankpin.calculator.declaration import Calculator, Input
from crankpin.calculator.declared import read_calculator
from crankpin.calculator.entries import read_entry
from crankpin.calculator.evaluate import Evaluation
from crankpin.calculator.faults import InputFault
from crankpin.calculator.numbers import format_number
from crankpin.calculator.parsing import ParsedInput, number_for_field, parse_input, plain_number, uncertainty_in
from crankpin.calculator.serialise import answer, answer_of
from crankpin.calculator.units import Unit, find_unit, over_unit

#: How many rows stand for a curve in the table beside a picture.
TABLE_ROWS = 13
#: Room for this many numbers of curves at first; more is made where a picture needs it.
FIRST_ROOM = 8192


def with_unit(text: str, unit: str) -> str:
    """Return what was typed with the unit chosen beside it, unless the text brings its own.

    >>> with_unit("12", "cm"), with_unit("12 mm", "cm"), with_unit("twelve", "cm"), with_unit("3", "1")
    ('12 cm', '12 mm', 'twelve', '3')
    >>> with_unit("25 ± 2 %", "N/m")
    '25 N/m ± 2 %'
    """
    entry = read_entry(text)
    if entry is None or entry.unit or unit in ("", "1"):
        return text
    if entry.uncertainty_unit:
        return f"{entry.digits} {unit} ± {entry.uncertainty:.12g} {entry.uncertainty_unit}"
    return f"{text.strip()} {unit}"


def shown(
    name: str, calculator: Calculator, given: Mapping[str, str], *, brief: bool = False
) -> "tuple[dict[str, Any], array[float]]":
    """Return everything that a page shows for these texts, and the numbers of its curves.

    ``brief`` leaves out what a page shows only at rest: the working and the table.
    Faults come as data, as from `crankpin.calculator.serialise.answer`.
    """
    found, numbers = answer(name, calculator, given, brief=brief)
    return (found, numbers) if "faults" in found else _with_parts(calculator, found, numbers, brief=brief)


def shown_of(name: str, evaluation: Evaluation) -> "tuple[dict[str, Any], array[float]]":
    """Return everything that a page shows of an evaluation, as `shown` does."""
    return _with_parts(evaluation.calculator, *answer_of(name, evaluation), brief=False)


def _with_parts(
    calculator: Calculator, found: dict[str, Any], numbers: "array[float]", *, brief: bool
) -> "tuple[dict[str, Any], array[float]]":
    """Put into an answer what a page needs as HTML."""
    for key, one in found["inputs"].items():
        one["plain"] = _plain(one["typed"]) if isinstance(calculator.input(key), Input) else one["typed"]
    picture = found["picture"]
    cautions = "".join(f'<p class="calculator-caution">{_escaped(text)}</p>' for text in found["cautions"])
    found["parts"] = {"cautions": cautions}
    if not brief:
        found["parts"]["working"] = working_html(calculator, found) + uncertainties_html(calculator, found)
        found["parts"]["table"] = tables_html(picture, numbers) if picture else ""
    del found["working"]
    return found, numbers


def _plain(typed: str) -> str:
    entry = read_entry(typed)
    return entry.digits.removeprefix("+") if entry else typed


def working_html(calculator: Calculator, found: Mapping[str, Any]) -> str:
    """Return the worked lines as HTML: for each result the formula, the numbers put in, the result."""
    return "".join(_worked(calculator, found, line) for line in found["working"])


def _worked(calculator: Calculator, found: Mapping[str, Any], line: Mapping[str, str]) -> str:
    key = line["key"]
    if line["symbols"]:
        below = [line[part] for part in ("numbers", "result") if line[part]]
        rows = "".join([_math(line["symbols"]), *(_math(_EQUALS + part) for part in below)])
    elif line["result"]:
        rows = _math(line["result"])
    else:
        rows = f"<p>{_escaped(calculator.output(key).meaning)}: {_escaped(found['outputs'][key]['text'])}</p>"
    said = f'<p class="worked-method">{_escaped(line["method"])}</p>' if line["method"] else ""
    return f'<div class="worked" data-key="{key}">{rows}{said}</div>'


def uncertainties_html(calculator: Calculator, found: Mapping[str, Any]) -> str:
    """Return a table of how much of the square of each result's uncertainty comes from which input, "" for none."""
    outputs = {key: one for key, one in found["outputs"].items() if one.get("uncertainty")}
    if not outputs:
        return ""
    given = list(next(iter(outputs.values()))["contributions"])
    head = "".join(f'<th scope="col">{_escaped(calculator.input(key).meaning)}</th>' for key in given)
    rows = "".join(_uncertainty_row(calculator.output(key).meaning, one, given) for key, one in outputs.items())
    caption = "How much of the square of each result’s standard uncertainty comes from which input"
    return (
        f'<table class="ruled uncertainties"><caption>{caption}</caption>'
        f'<thead><tr><th scope="col">Result</th>{head}</tr></thead><tbody>{rows}</tbody></table>'
    )


def _uncertainty_row(meaning: str, one: Mapping[str, Any], given: Sequence[str]) -> str:
    shares = "".join(f"<td>{100.0 * (one['contributions'][key] / one['uncertainty']) ** 2:.0f} %</td>" for key in given)
    return f'<tr><th scope="row">{_escaped(meaning)}: {_escaped(one["text"])}</th>{shares}</tr>'


def _escaped(text: str) -> str:
    """Return text for HTML; the page's Python has no ``html`` module."""
    return text.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")


_EQUALS = '<mo form="infix">=</mo>'


def _math(inside: str) -> str:
    return f'<math display="block"><mrow>{inside}</mrow></math>'


def tables_html(picture: Mapping[str, Any], numbers: Sequence[float]) -> str:
    """Return the curves of a picture as tables; curves over the same points share one."""
    groups: list[tuple[str, list[float], list[tuple[str, list[float]]]]] = []
    for panel in picture["panels"]:
        for curve in panel["curves"]:
            start, count = curve["start"], curve["count"]
            xs, ys = numbers[start : start + count], numbers[start + count : start + 2 * count]
            rows = _rows(count)
            across = [xs[i] for i in rows]
            column = (_heading(panel, curve), [ys[i] for i in rows])
            title = panel["horizontal"]["title"]
            group = next((one for one in groups if one[0] == title and one[1] == across), None)
            if group:
                group[2].append(column)
            else:
                groups.append((title, across, [column]))
    return "".join(_table(*group) for group in groups)


def _rows(count: int) -> list[int]:
    if count <= TABLE_ROWS:
        return list(range(count))
    return [round(i * (count - 1) / (TABLE_ROWS - 1)) for i in range(TABLE_ROWS)]


def _heading(panel: Mapping[str, Any], curve: Mapping[str, Any]) -> str:
    title, label = str(panel["vertical"]["title"]), curve["label"]
    symbol = title.partition(" / ")[0]
    return _quantity_heading(title) if label in ("", symbol) else f"{_escaped(label)}: {_quantity_heading(title)}"


def _quantity_heading(title: str) -> str:
    """Return a quantity over its unit as HTML: letters italic, what stands below them and the unit upright."""
    symbol, _, unit = title.partition(" / ")
    letters = [one.partition("_") for one in symbol.split("/")]
    shown = [f"<i>{_escaped(head)}</i>{f'<sub>{_escaped(below)}</sub>' if below else ''}" for head, _, below in letters]
    return "/".join(shown) + _escaped(over_unit(unit))


def _table(title: str, across: Sequence[float], columns: Sequence[tuple[str, list[float]]]) -> str:
    names = (_quantity_heading(title), *(name for name, _ in columns))
    head = "".join(f'<th scope="col">{name}</th>' for name in names)
    sizes = [max(map(abs, column), default=0.0) for column in (across, *(ys for _, ys in columns))]
    body = "".join(
        "<tr>" + "".join(f"<td>{_cell(x, size)}</td>" for x, size in zip(row, sizes, strict=True)) + "</tr>"
        for row in zip(across, *(ys for _, ys in columns), strict=True)
    )
    return f'<table class="ruled"><thead><tr>{head}</tr></thead><tbody>{body}</tbody></table>'


def _cell(number: float, size: float) -> str:
    return format_number(0.0 if abs(number) < 1e-9 * size else number)


def converted(calculator: Calculator, key: str, text: str, unit: str, wanted: str) -> str | None:
    """Return what was typed, given in one unit, as the number to type in another.

    None where the text can not be used, or has no finite number in that unit.
    """
    one = calculator.input(key)
    parsed_input = parse_input(one, with_unit(text, unit))
    if not isinstance(one, Input) or isinstance(parsed_input, InputFault):
        return None
    known = find_unit(one.unit, wanted)
    if known is None or (known.reciprocal and parsed_input.value == 0):
        return None
    if parsed_input.chosen == known.symbol:
        return parsed_input.typed
    return _as_typed(parsed_input, known)


def _as_typed(parsed_input: ParsedInput, known: Unit) -> str:
    value = float(parsed_input.value)
    number = number_for_field(value, parsed_input.unit, known.symbol).removesuffix(".0")
    size = uncertainty_in(known, value, parsed_input.uncertainty)
    return f"{number} ± {plain_number(size)}" if size else number


class CalculatorService:
    """Answers a page's worker; reads a calculator when it is first asked for.

    ``source`` gives a calculator's source text by its id. Answers are JSON texts; the first ``count`` of
    ``numbers`` are those of the last answer's curves. ``numbers`` stays the same array while it suffices;
    ``room`` tells another array by its size.
    """

    def __init__(self, source: Callable[[str], str]) -> None:
        self._source = source
        self._read: dict[str, Calculator] = {}
        self._problems: dict[str, Any] = {}
        self.room = FIRST_ROOM
        self.numbers = array("d", bytes(8 * self.room))
        self.count = 0

    def answer(self, name: str, given: str, brief: bool = False) -> str:
        """Answer a calculator's inputs: a JSON object of ``{key: [text, unit]}``; see `shown` for ``brief``."""
        texts = {key: with_unit(text, unit) for key, (text, unit) in json.loads(given).items()}
        found, numbers = shown(name, self._calculator(name), texts, brief=brief)
        self.count = len(numbers)
        if self.count > self.room:
            self.room = 2 * self.count
            self.numbers = array("d", bytes(8 * self.room))
        if self.count:  # an array whose memory is lent out refuses even an empty change
            self.numbers[: self.count] = numbers
        return json.dumps(found, ensure_ascii=False)

    def convert(self, name: str, key: str, text: str, unit: str, wanted: str) -> str | None:
        """Answer a change of unit."""
        return converted(self._calculator(name), key, text, unit, wanted)

    def problem(self, declared: str, asked: str) -> str:
        """Answer what a page asks of a problem, both as JSON texts; see `crankpin.problems.respond`."""
        from crankpin.problems.respond import respond  # only pages with problems wait for it
        from crankpin.problems.serialise import read_data

        if declared not in self._problems:
            self._problems[declared] = read_data(json.loads(declared))
        problem, slots = self._problems[declared]
        found = respond(problem, slots, json.loads(asked), _Calculators(self._calculator))
        return json.dumps(found, ensure_ascii=False)

    def _calculator(self, name: str) -> Calculator:
        if name not in self._read:
            self._read[name] = read_calculator(self._source(name), f"{name.replace('-', '_')}.py")
        return self._read[name]


class _Calculators(Mapping[str, Calculator]):
    """The course's calculators, each read when it is first asked for."""

    def __init__(self, read: Callable[[str], Calculator]) -> None:
        self._read = read

    def __getitem__(self, name: str) -> Calculator:
        try:
            return self._read(name)
        except OSError:
            raise KeyError(name) from None

    def __iter__(self) -> Iterator[str]:
        raise NotImplementedError("calculators are asked for by name")

    def __len__(self) -> int:
        raise NotImplementedError("calculators are asked for by name")


def open_service(archive: str) -> CalculatorService:
    """Return a service over the zip of a course, in which ``edge-on`` is ``calculators/edge_on.py``."""
    importer = zipimporter(archive)

    def source(name: str) -> str:
        path = name if "/" in name else f"calculators/{name}"
        return importer.get_data(f"{archive}/{path.replace('-', '_')}.py").decode("utf-8")

    return CalculatorService(source)
