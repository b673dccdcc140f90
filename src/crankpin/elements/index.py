"""Pages of reference made from the declarations: symbols, formulas, and what each calculator is held against.

A fenced block names what is wanted and, a line each, the calculators (all of them when none is named):

    ```index formulas
    turning-rate
    edge-on
    ```
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from html import escape

from crankpin.calculator.declaration import AnyInput, Calculator, Input, Output, PublishedCheck, Table
from crankpin.calculator.evaluate import evaluate
from crankpin.calculator.naming import name_of
from crankpin.calculator.numbers import format_whole
from crankpin.calculator.rendering import MathmlScript
from crankpin.calculator.symbols import read_symbol
from crankpin.calculator.units import gap, printed_unit
from crankpin.calculator.working import WorkedLine, rendered_symbol, working
from crankpin.faults import AuthorError

_SCRIPT = MathmlScript()
_NO_BREAK = "\u00a0"
_NUMBER = re.compile(r"^(-?)(\d+\.?\d*)(?:e(-?\d+))?(?: (.+))?$")
_RAISED = str.maketrans("0123456789-", "⁰¹²³⁴⁵⁶⁷⁸⁹⁻")


def index_html(kind: str, names: Sequence[str], calculators: Mapping[str, Calculator]) -> str:
    """Return the HTML of one index. Raises `AuthorError` for a kind or a calculator that does not exist."""
    writers: dict[str, Callable[[Mapping[str, Calculator]], str]] = {
        "symbols": _symbols,
        "formulas": _formulas,
        "checks": _checks,
    }
    if kind not in writers:
        raise AuthorError(f'there is no index "{kind}"; there are {", ".join(writers)}')
    unknown = [name for name in names if name not in calculators]
    if unknown:
        raise AuthorError(f"there is no calculator {unknown[0]}; there are {', '.join(calculators)}")
    return writers[kind]({name: calculators[name] for name in names} if names else calculators)


def _symbols(calculators: Mapping[str, Calculator]) -> str:
    """A table of every symbol: once for each meaning, in the order of the letter."""
    rows: dict[tuple[str, str, str], None] = {}
    for calculator in calculators.values():
        for one in (*calculator.inputs, *calculator.outputs):
            if isinstance(one, (Input, Output)) and one.symbol:
                rows[(one.symbol, one.meaning, one.unit)] = None
    body = "".join(
        f"<tr><td>{_maths(rendered_symbol(tex, _SCRIPT))}</td><td>{escape(meaning)}</td>"
        f"<td>{escape(printed_unit(unit)) or '1'}</td></tr>"
        for tex, meaning, unit in sorted(rows, key=_by_letter)
    )
    head = "<tr><th>Symbol</th><th>Quantity</th><th>SI unit</th></tr>"
    return f"<table><thead>{head}</thead><tbody>{body}</tbody></table>"


def _by_letter(row: tuple[str, str, str]) -> tuple[bool, str, str, str]:
    symbol = read_symbol(row[0])
    head = symbol.head if symbol else row[0]
    return not head.isascii(), head.lower(), row[0], row[1]


def _formulas(calculators: Mapping[str, Calculator]) -> str:
    return "".join(
        f"<section><h3>{escape(calculator.title)}</h3><dl>{''.join(_formula_rows(calculator))}</dl></section>"
        for calculator in calculators.values()
    )


def _formula_rows(calculator: Calculator) -> Iterator[str]:
    lines: dict[str, WorkedLine] = {line.key: line for line in working(evaluate(calculator))}
    for one in calculator.outputs:
        line = lines.get(one.key)
        if line is None or not one.symbol:
            continue
        shown = line.symbols or rendered_symbol(one.symbol, _SCRIPT)
        method = f"<dd>{escape(one.method)}</dd>" if one.method else ""
        yield f'<dt>{escape(one.meaning)}</dt><dd><div class="eq">{_maths(shown, block=True)}</div></dd>{method}'


def _checks(calculators: Mapping[str, Calculator]) -> str:
    """Under each calculator its checks: the source, then what was given and what the answer must be."""
    return "".join(
        f"<section><h3>{escape(calculator.title)}</h3><dl>"
        + "".join(_check_rows(calculator, check) for check in calculator.checks)
        + "</dl></section>"
        for calculator in calculators.values()
    )


def _check_rows(calculator: Calculator, check: PublishedCheck) -> str:
    note = f"<dd>{escape(check.note)}</dd>" if check.note else ""
    given, expect = _pairs(calculator, check.given), _pairs(calculator, check.expect)
    return f"<dt>{escape(_capital(check.source))}</dt>{note}<dd>Given: {given}. Answer: {expect}.</dd>"


def _capital(text: str) -> str:
    return text.replace("common practice", "Common practice") if text.startswith("common practice") else text


def _pairs(calculator: Calculator, pairs: Mapping[str, str]) -> str:
    declared = {one.key: one for one in (*calculator.inputs, *calculator.outputs)}
    told = (_pair(declared[key], text) for key, text in pairs.items() if not isinstance(declared[key], Table))
    return "; ".join(told) or "a table"


def _pair(one: AnyInput | Output, text: str) -> str:
    """Return a quantity of a check with its symbol; what has none is told by its words."""
    if not isinstance(one, (Input, Output)) or not one.symbol:
        return f"{escape(one.meaning)}: {escape(text)}"
    value = escape(_as_printed(text)).replace(" ", _NO_BREAK)
    symbol = name_of(one, text.rpartition(" ")[2]).symbol if isinstance(one, Input) else one.symbol
    return _maths(f"{rendered_symbol(symbol, _SCRIPT)}<mo>=</mo><mtext>{value}</mtext>")


def _as_printed(text: str) -> str:
    """Return a number with its unit in print, every digit kept: ``-1.40e4 m/s2`` gives ``−1.40×10⁴ m/s²``."""
    found = _NUMBER.match(text)
    if not found:
        return text
    sign, mantissa, power, unit = found.groups(default="")
    number = format_whole(float(mantissa)) if mantissa.isdigit() else mantissa
    times = f"×10{power.translate(_RAISED)}" if power else ""
    return f"{sign and '−'}{number}{times}" + (gap(unit) + printed_unit(unit) if unit else "")


def _maths(inner: str, *, block: bool = False) -> str:
    display = ' display="block"' if block else ""
    return f"<math{display}><mrow>{inner}</mrow></math>"
