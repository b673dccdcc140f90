"""A course: its calculators, its cases, and the answer to "what is `pier-wheel.v`?"."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from difflib import get_close_matches

from crankpin.calculator.declaration import Calculator, Input, Output
from crankpin.calculator.evaluate import Evaluation, Found, evaluate
from crankpin.calculator.faults import InputFaultsError
from crankpin.calculator.parsing import ParsedInput
from crankpin.calculator.question import targets
from crankpin.calculator.units import Unit, find_unit
from crankpin.faults import AuthorError, CourseFault, CourseFaultsError, Place
from crankpin.notation.cases import Case

Quantity = ParsedInput | Found


@dataclass
class Course:
    """Calculators by id and cases by name; a case is evaluated once, when it is first asked for."""

    calculators: Mapping[str, Calculator]
    cases: Mapping[str, Case] = field(default_factory=dict)
    _evaluated: dict[str, Evaluation] = field(default_factory=dict, repr=False)
    _under_way: list[str] = field(default_factory=list, repr=False)

    def calculator_of(self, name: str) -> str:
        """Return the id of the calculator that a case or a calculator's own id stands for. Raises `AuthorError`."""
        case = self.cases.get(name)
        wanted = case.calculator if case else name
        if wanted in self.calculators:
            return wanted
        if case:
            raise AuthorError(
                f"the case {name} uses the calculator {wanted}, which does not exist{_near(wanted, self.calculators)}"
            )
        known = [*self.calculators, *self.cases]
        raise AuthorError(f"there is no calculator or case {name}{_near(name, known)}; there are {_listed(known)}")

    def given(self, name: str, overrides: Mapping[str, str] | None = None) -> dict[str, str]:
        """Return the inputs of a case (none for a calculator) with some overridden; references are worked out."""
        calculator = self.calculator_of(name)
        case = self.cases.get(name)
        written = {**(case.given if case else {}), **(overrides or {})}
        return {key: self._worked_out(calculator, key, value) for key, value in written.items()}

    def evaluation(self, name: str, overrides: Mapping[str, str] | None = None) -> Evaluation:
        """Return the evaluation of a case, or of a calculator at its defaults, with some inputs overridden.

        Raises `AuthorError` with everything that is wrong with the inputs, with names, or with references in a ring.
        """
        if not overrides and name in self._evaluated:
            return self._evaluated[name]
        if name in self._under_way:
            ring = " → ".join([*self._under_way[self._under_way.index(name) :], name])
            raise AuthorError(f"these cases refer to each other in a ring: {ring}")
        self._under_way.append(name)
        try:
            given = self.given(name, overrides)
            found = evaluate(self.calculators[self.calculator_of(name)], given)
        except InputFaultsError as error:
            raise AuthorError(f"{name}: " + " ".join(fault.message for fault in error.faults)) from None
        finally:
            self._under_way.pop()
        if not overrides:
            self._evaluated[name] = found
        return found

    def quantity(self, name: str, key: str, overrides: Mapping[str, str] | None = None) -> Quantity:
        """Return an input or output of a case or calculator. Raises `AuthorError`, also when it is absent."""
        evaluation = self.evaluation(name, overrides)
        found: Quantity | None = evaluation.outputs.get(key) or evaluation.inputs.get(key)
        if found is None:
            inputs, outputs = _listed(evaluation.inputs), _listed(evaluation.outputs)
            raise AuthorError(f"{name} has no quantity {key}; given are {inputs}, found are {outputs}")
        if found.value is None:
            reason = found.reason if isinstance(found, Found) else "nothing is given"
            raise AuthorError(f"{name}.{key} does not exist here: {reason}")
        return found

    def check_cases(self) -> None:
        """Evaluate every case. Raises `CourseFaultsError` with a fault for each that fails."""
        faults = []
        for case in self.cases.values():
            try:
                self.evaluation(case.name)
            except AuthorError as told:
                faults.append(CourseFault(_place_of(case, str(told)), str(told)))
        if faults:
            raise CourseFaultsError(faults)

    def _worked_out(self, calculator: str, key: str, value: str) -> str:
        if not value.startswith("="):
            return value
        name, dot, wanted = value[1:].strip().partition(".")
        if not dot:
            raise AuthorError(
                f'{key} refers to "{value[1:].strip()}"; write a case and a quantity, such as "= pier-wheel.omega"'
            )
        found = self.quantity(name, wanted)
        if isinstance(found.value, (str, tuple)):
            return found.typed if isinstance(found, ParsedInput) else str(found.value)
        return _carried(self.calculators[calculator], key, f"{name}.{wanted}", found)


def _carried(calculator: Calculator, key: str, source: str, found: Quantity) -> str:
    """Return a quantity as the text of an input: as typed, unit and all, where it was given; else in the unit shown.

    A number that was found has twelve digits where they give the same double within a part in 2e15, else all.

    Raises `AuthorError` where the units differ.
    """
    one = next((one for one in (*calculator.inputs, *targets(calculator)) if one.key == key), None)
    if not isinstance(one, (Input, Output)):
        known = _listed(one.key for one in calculator.inputs)
        raise AuthorError(f"{key} = {source}: there is no number {key} to be given; there are {known}")
    unit = find_unit(one.unit, found.unit)
    if unit is None or unit.reciprocal:
        raise AuthorError(f"{key}, {one.meaning}, is in {one.unit}, but {source} is in {found.unit}")
    also = one.also if isinstance(one, Input) else (found.chosen,)
    fits = found.unit == one.unit != "1" and found.chosen in (one.unit, *also)
    if isinstance(found, ParsedInput) and fits:
        return f"{found.typed} {found.chosen}"
    inside = unit.inside(float(found.value or 0.0))
    shown = find_unit(one.unit, found.chosen) if fits else None
    if shown and not shown.reciprocal:
        return f"{_without_dust(shown, inside)} {found.chosen}"
    plain = repr(inside).removesuffix(".0")
    return f"{plain} {one.unit}" if one.unit != "1" else plain


def _without_dust(unit: Unit, inside: float) -> str:
    """Return a value in a unit with twelve digits where they say it all, else with every digit."""
    short = f"{unit.shown(inside):.12g}"
    says_it_all = math.isclose(unit.inside(float(short)), inside, rel_tol=5e-16)
    return short if says_it_all else repr(unit.shown(inside)).removesuffix(".0")


def _place_of(case: Case, message: str) -> Place:
    key = next((key for key in case.given if f" {key}, " in message or f" {key} " in message), "")
    return case.place_of(key)


def _listed(names: Iterable[str]) -> str:
    return ", ".join(names)


def _near(name: str, known: Iterable[str]) -> str:
    near = get_close_matches(name, list(known), 1)
    return f" (did you mean {near[0]}?)" if near else ""
