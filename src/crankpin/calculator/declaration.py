"""What a calculator is: frozen data, from which form, result, working, figure and checks are made.

A file in ``calculators/`` makes one `Calculator`. Mistakes are collected by `faults_of` and told with
the line on which the part at fault was written.
"""

import sys
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any

from crankpin.calculator.curves import Picture

#: What a calculator's function is given and gives back: keys and values, SI and radians.
Values = Mapping[str, Any]


def _line_written() -> int:
    return sys._getframe(2).f_lineno


@dataclass(frozen=True, kw_only=True)
class Input:
    """A number that is given."""

    key: str
    #: The symbol, as TeX.
    symbol: str
    #: The quantity's name in the words of the field.
    meaning: str
    #: The unit in which the function receives it; it names the dimension.
    unit: str
    #: Other units of the dimension that may be typed or chosen.
    also: tuple[str, ...] = ()
    #: What stands there at first, typed as a student would, with its unit.
    default: str
    #: The least and the greatest value allowed, with units; both are allowed.
    lowest: str
    highest: str
    #: The ends of the slider, with units, and one step of the buttons.
    slider: tuple[str, str]
    step: str
    #: The mechanics' own name of the parameter, by which its errors are led back to this input.
    parameter: str = ""
    #: True where the function needs the decimal number exactly, as a Fraction.
    exact: bool = False
    #: True where only a whole number of them makes sense: a count.
    whole: bool = False
    #: A short help, shown under the field.
    help: str = ""
    #: Where a table on paper over this input is of use near its value alone: the step from row to row, with its unit.
    tabulate: str = ""
    line: int = field(default_factory=_line_written, compare=False, repr=False)


@dataclass(frozen=True, kw_only=True)
class Choice:
    """One of a few named cases."""

    key: str
    meaning: str
    #: Each case as (word used in links and on the command line, words shown).
    options: tuple[tuple[str, str], ...]
    default: str
    #: Other words that may be typed, each with the case that it means.
    also: tuple[tuple[str, str], ...] = ()
    line: int = field(default_factory=_line_written, compare=False, repr=False)


@dataclass(frozen=True, kw_only=True)
class Column:
    """One column of a table that is given."""

    key: str
    symbol: str
    meaning: str
    unit: str
    also: tuple[str, ...] = ()
    #: False for a column that may be left out.
    needed: bool = True


@dataclass(frozen=True, kw_only=True)
class Table:
    """Rows of numbers that are given; the function receives a tuple of rows, each a tuple of floats.

    A column that may be left out, and is, is None in every row.
    """

    key: str
    meaning: str
    columns: tuple[Column, ...]
    #: Rows as a student would paste them, columns separated by spaces, tabs or semicolons.
    default: str
    least_rows: int = 1
    most_rows: int = 100_000
    #: Key of a choice that decides what the columns are, and the columns for those of its words that ask for others.
    by: str = ""
    variants: tuple[tuple[str, tuple[Column, ...]], ...] = ()
    line: int = field(default_factory=_line_written, compare=False, repr=False)


AnyInput = Input | Choice | Table


@dataclass(frozen=True, kw_only=True)
class Output:
    """A quantity that is found."""

    key: str
    #: The symbol, as TeX; "" for a result in words.
    symbol: str
    meaning: str
    #: The unit inside; "" for a result in words.
    unit: str
    #: The formula over keys of inputs and of outputs above it (see `crankpin.calculator.formula`); or a
    #: function that picks it by the values, "" for none; or "" with ``method`` said in words.
    formula: str | Callable[[Values], str] = ""
    #: How it is found, in a sentence, where no formula says it all.
    method: str = ""
    #: The unit it is shown in: a unit, or the key of an input whose chosen unit it follows.
    shown_in: str = ""
    digits: int = 3
    #: True for a count or another whole number, which is written without a point.
    whole: bool = False
    #: True where it has the unit of what is typed, whatever that is; ``unit`` is then "1".
    any_unit: bool = False
    #: Key of the output that is its standard uncertainty: it is written to the place of the second digit of
    #: that (GUM, JCGM 100:2008, 7.2.6).
    uncertainty: str = ""
    #: Key of the input of which this is another form (a period, a frequency of one rate): typed in this very form,
    #: it is said to be given, not found.
    form_of: str = ""
    #: Key of a quantity of the same unit: below 1e-12 of it this one is written as 0.
    dust_of: str = ""
    line: int = field(default_factory=_line_written, compare=False, repr=False)


@dataclass(frozen=True, kw_only=True)
class Caution:
    """Something to heed: shown always, or where ``when`` says so of the values."""

    text: str
    when: Callable[[Values], bool] | None = None
    line: int = field(default_factory=_line_written, compare=False, repr=False)


@dataclass(frozen=True, kw_only=True)
class PublishedCheck:
    """A result that stands printed elsewhere, which this calculator must give.

    ``expect`` holds each printed answer as text with its unit; it is met within half a unit of the last
    digit printed.
    """

    #: Author, title, edition and place; or "common practice, no source".
    source: str
    given: Mapping[str, str]
    expect: Mapping[str, str]
    note: str = ""
    line: int = field(default_factory=_line_written, compare=False, repr=False)


@dataclass(frozen=True, kw_only=True)
class Calculator:
    """The whole declaration of one calculator."""

    title: str
    #: One sentence: what it is for.
    purpose: str
    inputs: tuple[AnyInput, ...]
    outputs: tuple[Output, ...]
    #: Takes the inputs by key, returns every output by key: a float, a text, or `Absent` with a reason.
    #: May raise `RefusedError` and the errors of the mechanics.
    function: Callable[..., Mapping[str, Any]]
    picture: Picture | None = None
    cautions: tuple[Caution, ...] = ()
    checks: tuple[PublishedCheck, ...] = ()
    #: Keys of the inputs that may be asked for, with a result given in their place; None for every number that is
    #: not a count.
    asks: tuple[str, ...] | None = None
    line: int = field(default_factory=_line_written, compare=False, repr=False)

    def input(self, key: str) -> AnyInput:
        """Return the input with that key; raises KeyError."""
        return next((one for one in self.inputs if one.key == key), None) or _missing(key)

    @property
    def askable(self) -> tuple[str, ...]:
        """Return the keys of the inputs that may be asked for."""
        numbers = tuple(one.key for one in self.inputs if isinstance(one, Input) and not one.whole)
        return numbers if self.asks is None else self.asks

    def output(self, key: str) -> Output:
        """Return the output with that key; raises KeyError."""
        return next((one for one in self.outputs if one.key == key), None) or _missing(key)


def _missing(key: str) -> Any:
    raise KeyError(key)
