"""A calculator on paper: what is given, what is found, the figure, the working, other values, the way back."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from html import escape

from crankpin.calculator.declaration import AnyInput, Calculator, Input, Output, Table
from crankpin.calculator.evaluate import Evaluation, evaluate
from crankpin.calculator.naming import QuantityName, name_of
from crankpin.calculator.rendering import MathmlScript, WordsScript
from crankpin.calculator.symbols import read_symbol
from crankpin.calculator.units import over_unit, printed_unit
from crankpin.calculator.working import WorkedLine, rendered_symbol, working
from crankpin.elements.ranges import range_html
from crankpin.figures.codes import code_svg, printed_address
from crankpin.formulas.labels import labelled

#: More results than these do not stand beside the figure but below it, in two columns.
_BESIDE = 8
#: Up to so many readings stand in one table; more stand in tables side by side, of at least so many rows each.
_TOGETHER = 5
_LEAST_ROWS = 3
#: The sheet has room for so many tables side by side, and for so many cells of one line.
_SIDE_BY_SIDE = 5
_CELLS = 11
#: So many values of an input that was asked are printed.
_SOLUTIONS = 4


def sheet_html(
    calculator: Calculator,
    given: Mapping[str, str],
    *,
    element_id: str,
    figure: str,
    address: str,
    carried: bool = True,
    is_brief: bool = False,
) -> str:
    """Return one calculator as it is printed.

    ``given`` holds every input as typed, ``figure`` its picture as SVG ("" for none), ``address`` where its code
    leads ("" prints no code), ``carried`` whether the tables that are given are at that address too. What ``is_brief``
    has no working.
    """
    found = evaluate(calculator, given)
    return _Sheet(calculator, given, found, element_id, figure, address, carried, is_brief).html()


@dataclass(frozen=True)
class _Sheet:
    calculator: Calculator
    given: Mapping[str, str]
    found: Evaluation
    id: str
    figure: str
    address: str
    carried: bool
    is_brief: bool

    def html(self) -> str:
        results = self._results()
        beside = len(self._existing()) <= _BESIDE
        return (
            f'<section class="sheet" id="{self.id}" aria-labelledby="{self.id}-title">'
            f'<div class="sheet-top">{self._head()}{self._code()}</div>'
            f'<div class="sheet-body"><div>{self._given()}{results if beside else ""}</div>{self._picture()}</div>'
            f"{self._readings_given()}{'' if beside else results}{self._cautions()}"
            f"{'' if self.is_brief else self._working()}{self._range()}</section>"
        )

    def _head(self) -> str:
        return (
            f'<div><p class="sheet-title" id="{self.id}-title">{escape(self.calculator.title)}</p>'
            f'<p class="sheet-purpose">{escape(self.calculator.purpose)}</p></div>'
        )

    def _code(self) -> str:
        if not self.address:
            return ""
        return (
            f'<div class="sheet-code">{code_svg(self.address)}'
            f"<p>Try other numbers{'' if self.carried else ' (without these readings)'}: "
            f'<a href="{escape(self.address)}">{printed_address(self.address)}</a></p></div>'
        )

    def _given(self) -> str:
        asked = self.found.asked
        plain = [one for one in self.calculator.inputs if not isinstance(one, Table)]
        rows = "".join(self._input(one) for one in plain if not asked or one.key != asked.key)
        if asked:
            target = self.calculator.output(asked.target)
            rows = _number_row(target.symbol, target.meaning, asked.wanted.text) + rows
        return f'<table class="numbers"><caption>Given</caption><tbody>{rows}</tbody></table>' if rows else ""

    def _input(self, one: AnyInput) -> str:
        name = self._name(one)
        return _number_row(name.symbol, name.meaning, self.found.inputs[one.key].text, is_number=isinstance(one, Input))

    def _asked(self) -> list[str]:
        """Return a row for each value found of the input that was asked, if one was."""
        if not self.found.asked:
            return []
        name = self._name(self.calculator.input(self.found.asked.key))
        return [_number_row(name.symbol, name.meaning, one.text) for one in self.found.asked.solutions[:_SOLUTIONS]]

    def _name(self, one: AnyInput) -> QuantityName:
        """Return what an input is called in the unit in which it is given."""
        if isinstance(one, Input):
            return name_of(one, self.found.inputs[one.key].chosen)
        return QuantityName("", one.meaning)

    def _readings_given(self) -> str:
        return "".join(self._readings(one) for one in self.calculator.inputs if isinstance(one, Table))

    def _readings(self, one: Table) -> str:
        """Return rows of readings side by side in as many columns as the sheet has room for."""
        lines = [row for row in self.given.get(one.key, one.default).splitlines() if row.strip()]
        rows = [re.split(r"\s*[;\t]\s*", row.strip()) for row in lines]
        body = [row for row in rows if any(map(_is_number, row))]
        headings = [row for row in rows if row not in body]
        if headings:
            head = "".join(f'<th scope="col">{escape(words)}</th>' for words in headings[0])
        else:
            named = not _is_number(body[0][0])
            columns = one.columns[: len(body[0]) - named]
            head = '<th scope="col">name</th>' if named else ""
            head += "".join(_column_head(column.symbol, column.meaning, column.unit) for column in columns)
        return _side_by_side(one.meaning, head, body)

    def _results(self) -> str:
        given = self.found.asked.target if self.found.asked else ""
        rows = [*self._asked(), *(self._result(one) for one in self._existing() if one.key != given)]
        if len(self._existing()) <= _BESIDE:
            found = f'<table class="numbers"><caption>Found</caption><tbody>{"".join(rows)}</tbody></table>'
        else:
            half = -(-len(rows) // 2)
            tables = "".join(
                f'<table class="numbers"><tbody>{"".join(part)}</tbody></table>' for part in (rows[:half], rows[half:])
            )
            found = f'<p class="sheet-part">Found</p><div class="sheet-halves">{tables}</div>'
        return found + self._absent()

    def _existing(self) -> list[Output]:
        return [one for one in self.calculator.outputs if self.found.outputs[one.key].value is not None]

    def _result(self, one: Output) -> str:
        found = self.found.outputs[one.key]
        return _number_row(one.symbol, one.meaning, found.text, is_number=isinstance(found.value, float))

    def _absent(self) -> str:
        """Say what there is none of, and why: one line for each reason."""
        reasons: dict[str, list[str]] = {}
        for one in self.calculator.outputs:
            if self.found.outputs[one.key].value is None:
                reasons.setdefault(self.found.outputs[one.key].reason, []).append(one.meaning)
        return "".join(
            f'<p class="absent">No {escape(", no ".join(meanings))}. {escape(reason)}</p>'
            for reason, meanings in reasons.items()
        )

    def _picture(self) -> str:
        if not self.figure or not self.calculator.picture:
            return ""
        caption = escape(self.calculator.picture.caption)
        return f"<figure>{self.figure}<figcaption>{caption}.</figcaption></figure>"

    def _cautions(self) -> str:
        return "".join(f'<p class="sheet-caution"><b>Take care.</b> {escape(one)}</p>' for one in self.found.cautions)

    def _working(self) -> str:
        spoken = working(self.found, WordsScript())
        lines = "".join(self._worked(*pair) for pair in zip(working(self.found), spoken, strict=True))
        return f'<div class="sheet-working"><p class="sheet-part">Working</p>{lines}</div>' if lines else ""

    def _worked(self, line: WorkedLine, words: WorkedLine) -> str:
        if line.symbols:
            pieces = [_formula(line.symbols, words.symbols)]
            pieces += [
                _formula(f'<mo form="infix">=</mo>{shown}', f"equals {said}")
                for shown, said in ((line.numbers, words.numbers), (line.result, words.result))
                if shown
            ]
        elif line.result:
            pieces = [_formula(line.result, words.result)]
        else:
            meaning = escape(self.calculator.output(line.key).meaning)
            pieces = [f"<span>{meaning}: {escape(self.found.outputs[line.key].text)}</span>"]
        if line.method:
            pieces.append(f'<span class="method">{escape(line.method)}</span>')
        return f'<div class="worked"><p>{" ".join(pieces)}</p></div>'

    def _range(self) -> str:
        return range_html(self.calculator, self.given)


def _kind(is_number: bool) -> str:
    return "" if is_number else ' class="words"'


def _side_by_side(meaning: str, head: str, rows: list[list[str]]) -> str:
    room = max(1, min(_SIDE_BY_SIDE, _CELLS // max(map(len, rows))))
    tall = len(rows) if len(rows) <= _TOGETHER else max(_LEAST_ROWS, -(-len(rows) // room))
    parts = [rows[i : i + tall] for i in range(0, len(rows), tall)]
    tables = "".join(
        f'<table class="ruled readings"><thead><tr>{head}</tr></thead><tbody>'
        + "".join("<tr>" + "".join(f"<td>{escape(_cell(cell))}</td>" for cell in row) + "</tr>" for row in part)
        + "</tbody></table>"
        for part in parts
    )
    return f'<div class="given-readings"><p class="sheet-part">Given: {escape(meaning)}</p><div>{tables}</div></div>'


def _cell(text: str) -> str:
    return text.replace("-", "−") if _is_number(text) else text


def _is_number(text: str) -> bool:
    try:
        float(text.replace("−", "-").replace(",", "."))
    except ValueError:
        return False
    return True


def _column_head(symbol: str, meaning: str, unit: str) -> str:
    name = f"<math>{rendered_symbol(symbol, MathmlScript())}</math>" if read_symbol(symbol) else escape(meaning)
    return f'<th scope="col">{name}{over_unit(printed_unit(unit))}</th>'


def _number_row(symbol: str, meaning: str, text: str, *, is_number: bool = True) -> str:
    return (
        f'<tr><td>{_symbol(symbol)}</td><th scope="row">{escape(meaning)}</th>'
        f"<td{_kind(is_number)}>{escape(text)}</td></tr>"
    )


def _symbol(symbol: str) -> str:
    if not symbol:
        return ""
    return labelled(f"<math>{rendered_symbol(symbol, MathmlScript())}</math>", rendered_symbol(symbol, WordsScript()))


def _formula(shown: str, said: str) -> str:
    return labelled(f'<math displaystyle="true"><mrow>{shown}</mrow></math>', said)
