"""A calculator as it stands in a page before any Python runs there: every result, line of working and curve printed.

The element is the contract between the build and the page's scripts (``crankpin/browser/static/``): each control
carries its input's key as name, each ``<output>`` its quantity's key and full double. What changes with the numbers
is written by `crankpin.service.service`, here as on the page.
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass
from html import escape
from typing import Any

from crankpin.calculator.declaration import AnyInput, Calculator, Choice, Input, Output, Table
from crankpin.calculator.entries import read_entry
from crankpin.calculator.evaluate import Evaluation, evaluate
from crankpin.calculator.faults import InputFaultsError
from crankpin.calculator.parsing import quantity_of
from crankpin.calculator.rendering import MathmlScript
from crankpin.calculator.solving import found_from
from crankpin.calculator.units import Unit, find_unit, plain_unit, printed_unit
from crankpin.calculator.working import rendered_symbol
from crankpin.elements.embedded import as_typed
from crankpin.faults import AuthorError
from crankpin.figures.charts import chart_svg
from crankpin.service.service import converted, shown_of

_ID = re.compile(r'\sid="([^"]+)"')

#: So many results have room in the strip that stays in sight on a phone.
IN_STRIP = 6
#: A longer working is folded at first, so that the page's text stays near.
UNFOLDED_LINES = 8


def calculator_html(
    calculator_id: str, given: Mapping[str, str], element_id: str, *, calculators: Mapping[str, Calculator]
) -> str:
    """Return one calculator as HTML, whole without any script.

    ``given`` holds texts as typed; inputs left out take their defaults. ``element_id`` must be unique on the
    page: it begins every id inside, and the names in a link. Raises `AuthorError` with every fault of what is given.
    """
    return calculator_html_and_inputs(calculator_id, given, element_id, calculators=calculators)[0]


def calculator_html_and_inputs(
    calculator_id: str, given: Mapping[str, str], element_id: str, *, calculators: Mapping[str, Calculator]
) -> tuple[str, dict[str, str]]:
    """Return a calculator as `calculator_html` does, and every input as typed, with its unit."""
    calculator = calculators[calculator_id]
    evaluation = evaluation_for(calculator, given, element_id)
    found, numbers = shown_of(calculator_id, evaluation)
    for key, one in found["inputs"].items():
        one["found_from"] = found_from(evaluation, key)
    picture = found["picture"]
    figure = chart_svg(picture, numbers, prefix=f"{element_id}-drawn") if picture else ""
    return _Prerendered(calculator_id, calculator, element_id, found, figure).html(), as_typed(evaluation)


def evaluation_for(calculator: Calculator, given: Mapping[str, str], element_id: str) -> Evaluation:
    """Return the evaluation that an element shows. Raises `AuthorError` with every fault of what is given."""
    try:
        return evaluate(calculator, given)
    except InputFaultsError as error:
        raise AuthorError(f"{element_id}: " + " ".join(fault.message for fault in error.faults)) from None


@dataclass(frozen=True)
class _Prerendered:
    name: str
    calculator: Calculator
    id: str
    found: Mapping[str, Any]
    figure: str

    def html(self) -> str:
        title, purpose = escape(self.calculator.title), escape(self.calculator.purpose)
        return (
            f'<crankpin-calculator class="calculator" id="{self.id}" data-calculator="{self.name}" '
            f'data-state="printed"{self._asked()} data-search-exclude role="group" aria-labelledby="{self.id}-title">'
            f'<p class="calculator-title" id="{self.id}-title">{title}</p>'
            f'<p class="calculator-purpose">{purpose}</p>'
            '<div class="calculator-sheet">'
            f"<div>{self._given()}{self._picture()}</div><div>{self._find()}{self._working()}</div></div>"
            f"{self._doings()}"
            "</crankpin-calculator>"
        )

    def _asked(self) -> str:
        """Return what the page was printed with where an input is asked: its key, and the result that is given."""
        if "asked" not in self.found:
            return ""
        wanted = self.found["wanted"]
        return (
            f' data-find="{self.found["asked"]}" data-find-from="{self.found["given"]}" '
            f'data-wanted="{escape(wanted["typed"])}" data-wanted-unit="{escape(wanted["chosen"])}"'
        )

    def _given(self) -> str:
        rows = "".join(self._row(one) for one in self.calculator.inputs)
        return (
            f'<div class="calculator-given" role="group" aria-labelledby="{self.id}-given">'
            f'<div class="calculator-strip">{_STATE}<div class="strip-results" aria-hidden="true">{self._strip()}</div>'
            f'</div><p class="calculator-part" id="{self.id}-given">Given</p>{rows}'
            '<p class="calculator-fault" data-part="fault"></p></div>'
        )

    def _strip(self) -> str:
        named = [one for one in self.calculator.outputs if one.symbol]
        return "".join(
            f'<span data-strip="{one.key}"{"" if i < IN_STRIP else " hidden"}>{symbol_html(one.symbol)} = '
            f"<b>{escape(self._text(one))}</b></span>"
            for i, one in enumerate(named)
        )

    def _text(self, one: Output) -> str:
        return str(self.found["outputs"][one.key].get("text", "none"))

    def _row(self, one: AnyInput) -> str:
        return given_row(self.calculator, one, self.found, f"{self.id}-{one.key}")

    def _find(self) -> str:
        rows = "".join(self._result(one) for one in self.calculator.outputs)
        return (
            f'<div class="calculator-find" role="group" aria-labelledby="{self.id}-find">'
            f'<p class="calculator-part" id="{self.id}-find">Find</p><dl>{rows}</dl>'
            f'<div data-part="cautions">{self.found["parts"]["cautions"]}</div></div>'
        )

    def _result(self, one: Output) -> str:
        out = self.found["outputs"][one.key]
        absent = out["value"] is None
        value = "" if absent else repr(out["value"]) if isinstance(out["value"], float) else out["value"]
        text = out["reason"] if absent else out["text"]
        return (
            f"<div><dt>{symbol_html(one.symbol)} {escape(one.meaning)}</dt>"
            f'<dd><output name="{one.key}" aria-live="off" '
            f'data-value="{escape(value)}" data-unit="{escape(out.get("chosen", ""))}" '
            f'data-full="{escape(out["full"])}" data-meaning="{escape(one.meaning)}"'
            f"{' data-absent' if absent else ''}>{escape(text)}</output></dd></div>"
        )

    def _working(self) -> str:
        lines = self.found["parts"]["working"]
        folded = lines.count('<div class="worked"') > UNFOLDED_LINES
        return (
            f'<details class="calculator-working"{"" if folded else " open"}>'
            f'<summary class="calculator-part" id="{self.id}-working">Working</summary>'
            f'<div class="working-lines table-box" role="group" tabindex="0" aria-labelledby="{self.id}-working" '
            f'data-part="working">{lines}</div></details>'
        )

    def _picture(self) -> str:
        if not self.figure:
            return ""
        caption = escape(self.found["picture"]["caption"])
        return (
            f'<div class="calculator-picture" role="group" aria-labelledby="{self.id}-picture">'
            f'<p class="calculator-part" id="{self.id}-picture">Picture</p>'
            f'<figure><div class="picture-box" data-part="picture">{self.figure}</div>'
            f'<figcaption><span data-part="readout"></span><span data-part="caption">{caption}.</span></figcaption>'
            "</figure>"
            "<details><summary>The picture as a table</summary>"
            f'<div class="table-box" role="group" tabindex="0" aria-label="Table: {caption}" data-part="table">'
            f"{self.found['parts']['table']}</div></details></div>"
        )

    def _doings(self) -> str:
        return (
            '<div class="calculator-doings"><button type="button" data-do="digits" aria-pressed="false">Every digit'
            '</button><button type="button" data-do="reset">Back to the printed numbers</button>'
            '<button type="button" data-do="link">Link to these numbers</button>'
            '<label class="calculator-link" hidden><span data-part="link-words"></span>'
            '<input type="text" readonly data-part="link"></label>'
            '<p class="for-the-ear" role="status" data-part="said"></p></div>'
        )


_STATE = (
    '<p class="calculator-state"><span data-part="state">The numbers as printed.</span> '
    '<button type="button" data-do="again" hidden>Try again</button> '
    '<button type="button" data-do="mine" hidden>Back to your own numbers</button></p>'
)


def ids_in(html: str) -> list[str]:
    """Return the ids of all elements in a piece of HTML."""
    return _ID.findall(html)


def symbol_html(tex: str) -> str:
    """Return a quantity's symbol; nothing for none."""
    return f"<math>{rendered_symbol(tex, MathmlScript())}</math>" if tex else ""


def given_row(calculator: Calculator, one: AnyInput, found: Mapping[str, Any], row_id: str) -> str:
    """Return one thing given with its controls, as `crankpin.service.service.shown` found it."""
    return _Row(one, found["inputs"][one.key], row_id, calculator).html()


@dataclass(frozen=True)
class _Scale:
    """A slider's ends and step as plain numbers."""

    low: str
    high: str
    step: str


@dataclass(frozen=True)
class _Row:
    """One thing given: its name, what was given as text, and the controls that take its place on a live page."""

    one: AnyInput
    parsed_input: Mapping[str, Any]
    id: str
    calculator: Calculator

    def html(self) -> str:
        one = self.one
        symbol, meaning = self.parsed_input["symbol"], escape(self.parsed_input["meaning"])
        help_ = escape(one.help) if isinstance(one, Input) else ""
        controls = {Input: self._quantity, Choice: self._choice, Table: self._table}[type(one)]
        return (
            f'<div class="given-row" data-key="{one.key}">'
            f'<label for="{self.id}"><math data-part="symbol">{symbol}</math> '
            f'<span data-part="meaning">{meaning}</span></label>{self._ask()}'
            f'<span class="given-printed">{escape(self.parsed_input["text"])}</span>{controls()}'
            f'<p class="given-note" id="{self.id}-note"><span data-part="help">{help_}</span>'
            '<span data-part="field-fault"></span></p></div>'
        )

    def _ask(self) -> str:
        """Return the button that asks for this input, with the results that may be given in its place."""
        given = self.parsed_input.get("found_from", ())
        if not given:
            return ""
        name = escape(self.parsed_input["meaning"])
        return (
            f'<button type="button" class="ask" data-do="ask" aria-pressed="false" data-from="{" ".join(given)}">'
            f'<span>Find this</span><span class="for-the-ear">: {name}</span></button>'
        )

    def _field(self) -> str:
        return f'id="{self.id}" name="{self.one.key}" autocomplete="off" aria-describedby="{self.id}-note"'

    def _quantity(self) -> str:
        one = self.one
        assert isinstance(one, Input)
        chosen, name = self.parsed_input["chosen"], escape(self.parsed_input["meaning"])
        options = "".join(self._unit(one, unit, unit == chosen) for unit in (one.unit, *one.also))
        scale = self._scale(one, chosen)
        signed = quantity_of(one.lowest, one.unit) < 0.0
        turn = f'<button type="button" data-do="sign" aria-label="{name}: change the sign">±</button>' if signed else ""
        return (
            f'<div class="given-controls{" signed" if signed else ""}">'
            f'<button type="button" data-do="less" aria-label="{name}: one step less">−</button>{turn}'
            f'<input type="text" inputmode="decimal" spellcheck="false" {self._field()} '
            f'value="{escape(self.parsed_input["typed"])}" data-plain="{escape(self.parsed_input["plain"])}">'
            f'<select name="{one.key}-unit" autocomplete="off" aria-label="unit of {name}"'
            f"{'' if one.also else ' data-alone'}>{options}</select>"
            f'<button type="button" data-do="more" aria-label="{name}: one step more">+</button>'
            f'<input type="range" autocomplete="off" aria-label="{name}, slider" min="{scale.low}" max="{scale.high}" '
            f'step="{scale.step}" value="{escape(self.parsed_input["plain"])}"></div>'
        )

    def _unit(self, one: Input, unit: str, chosen: bool) -> str:
        scale = self._scale(one, unit)
        same = converted(self.calculator, one.key, self.parsed_input["typed"], self.parsed_input["chosen"], unit)
        return (
            f'<option value="{escape(unit)}" data-low="{scale.low}" data-high="{scale.high}" '
            f'data-step="{scale.step}" data-same="{escape(same or "")}"{" selected" if chosen else ""}>'
            f"{escape(printed_unit(unit) or '1')}</option>"
        )

    def _scale(self, one: Input, unit: str) -> _Scale:
        return _scale(one, unit, _stretch(one, self.parsed_input["value"]))

    def _choice(self) -> str:
        one = self.one
        assert isinstance(one, Choice)
        chosen = self.parsed_input["value"]
        options = "".join(
            f'<option value="{escape(word)}"{" selected" if word == chosen else ""}>{escape(words)}</option>'
            for word, words in one.options
        )
        return f'<div class="given-controls choice"><select {self._field()}>{options}</select></div>'

    def _table(self) -> str:
        one = self.one
        assert isinstance(one, Table)
        columns = "; ".join(column.meaning + _in_unit(column.unit) for column in one.columns)
        rows = escape(self.parsed_input["typed"])
        return (
            f'<pre class="given-table">{rows}</pre><div class="given-controls table">'
            f'<p class="given-columns">Columns: {escape(columns)}</p>'
            f'<textarea rows="8" spellcheck="false" {self._field()}>\n{rows}</textarea>'
            f'<label class="given-file">From a file <input type="file" accept=".csv,.txt,.tsv,text/*" '
            f'aria-label="{escape(one.meaning)} from a file"></label></div>'
        )


def _in_unit(unit: str) -> str:
    printed = printed_unit(unit)
    return f" in {printed}" if printed else ""


def _stretch(one: Input, value: float) -> float:
    """Return how many times wider than declared a slider must be to reach a printed value: 1, 2, 5, 10 and so on."""
    ends = [quantity_of(end, one.unit) for end in one.slider]
    beyond = max(value / ends[1] if ends[1] > 0.0 else 1.0, value / ends[0] if ends[0] < 0.0 else 1.0)
    return 1.0 if beyond <= 1.0 else 1.0 / _round_step(1.0 / beyond)


def _scale(one: Input, unit: str, stretch: float) -> _Scale:
    """Return the slider in one unit: its ends are whole steps, so that it stops at round numbers."""
    known, declared = _unit_of(one, unit), _unit_of(one, _symbol_in(one.step) or one.unit)
    step_inside = quantity_of(one.step, one.unit) * stretch
    ends = [quantity_of(end, one.unit) * stretch for end in one.slider]
    low, high = sorted(known.shown(end or step_inside) if known.reciprocal else known.shown(end) for end in ends)
    if known == declared:
        step = known.shown(step_inside)
    elif known.reciprocal or declared.reciprocal:  # a step of a period is no step of a rate
        step = _round_step((high - low) / 100.0)
    else:
        step = _round_step(known.shown(step_inside))
    low, high = math.ceil(low / step - 1e-9) * step, math.floor(high / step + 1e-9) * step
    return _Scale(_plain(low), _plain(high), _plain(step))


def _symbol_in(text: str) -> str:
    entry = read_entry(text)
    return plain_unit(entry.unit) if entry else ""


def _unit_of(one: Input, symbol: str) -> Unit:
    found = find_unit(one.unit, symbol)
    if found is None:
        raise ValueError(f"{symbol!r} is not a unit of {one.key}")
    return found


def _round_step(rough: float) -> float:
    """Return the largest of 1, 2, 5 times a power of ten that is not above the number."""
    power = 10.0 ** math.floor(math.log10(rough) + 1e-9)
    return next(times for times in (5.0, 2.0, 1.0) if times * power <= rough * (1.0 + 1e-9)) * power


def _plain(number: float) -> str:
    """Return a number without an exponent and without dust."""
    return f"{float(f'{number:.9g}'):.12f}".rstrip("0").rstrip(".")
