"""An asked input by the declared formulas, turned round one after the other from the given result."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import Any

from crankpin.calculator.declaration import Output
from crankpin.calculator.evaluate import Step
from crankpin.calculator.formula import Name, Node, compute, names, read_formula
from crankpin.calculator.inverses import isolate, occurrences
from crankpin.calculator.numbers import trimmed_quantity
from crankpin.calculator.parsing import quantity_of
from crankpin.calculator.question import Outcome, Question, keep

#: So many turns either way of the nearest are tried.
_TURNS = 8


def by_formulas(question: Question) -> Outcome | None:
    """Return the solutions by rearranged formulas, None where the formulas do not lead there."""
    known = _known(question)
    chain = _chain(question, known) if known else []
    if known is None or not chain:
        return None
    found: dict[float, tuple[Step, ...]] = {}
    repeat = 0.0
    turned = _ways(chain, Name(question.target.key), 1)
    for (steps, is_periodic), (a_turn_on, _) in zip(_ways(chain, Name(question.target.key), 0), turned, strict=True):
        value, next_value = _computed(steps, known), _computed(a_turn_on, known)
        if is_periodic and value is not None and next_value is not None:
            repeat = abs(next_value - value) or repeat
        else:
            keep(question, found, value, steps)
    for turns in _turns(question, repeat) if repeat else ():
        for steps, _ in _ways(chain, Name(question.target.key), turns):
            keep(question, found, _computed(steps, known), steps)
    return Outcome(found, _rearranged(question, found, repeat), repeat)


def _rearranged(question: Question, found: Mapping[float, tuple[Step, ...]], repeat: float) -> str:
    name = question.name(question.asked)
    said = "Found by rearranging the formulas, and put back into them as a check."
    if repeat and found:
        every = trimmed_quantity(repeat, question.asked.unit, question.chosen)
        return f"{said} The same comes again every {every}; those nearest to zero are listed."
    return f"{said} It is the only {name} in its range." if len(found) == 1 else said


def _known(question: Question) -> dict[str, float] | None:
    """Return every number that does not hang on the asked input, and the wanted result."""
    low, high = question.bench
    default = quantity_of(question.asked.default, question.asked.unit)
    found = [results for value in (default, low, high) if (results := question.results_at(value))]
    if not found:
        return None
    known = {key: float(one.value) for key, one in question.parsed.items() if isinstance(one.number, float)}
    known.pop(question.asked.key, None)
    for output in question.calculator.outputs:
        values = {results.get(output.key) for results in found}
        number = next(iter(values))
        if len(values) == 1 and isinstance(number, (int, float)) and output.key != question.target.key:
            known[output.key] = float(number)
    known[question.target.key] = float(question.wanted.value)
    return known


def _chain(question: Question, known: Mapping[str, float]) -> list[tuple[str, Node]]:
    """Return what to isolate from which formula, from the given result down to the asked input; [] without a way."""
    trees = {one.key: tree for one in question.calculator.outputs if (tree := _tree(one, question))}
    hanging = _hanging(trees, question.asked.key)
    here, chain = question.target.key, list[tuple[str, Node]]()
    while here != question.asked.key:
        if here not in trees:
            return []
        inside = [key for key in names(trees[here]) if key in hanging]
        others = names(trees[here]) - set(inside)
        if len(inside) != 1 or occurrences(trees[here], inside[0]) != 1 or not others <= known.keys():
            return []
        chain.append((inside[0], trees[here]))
        here = inside[0]
    return chain


def _tree(one: Output, question: Question) -> Node | None:
    text = one.formula if isinstance(one.formula, str) else _chosen_formula(one.formula, question)
    return read_formula(text) if text else None


def _chosen_formula(choose: Callable[[Mapping[str, Any]], str], question: Question) -> str:
    """Return the formula that a function chooses, where the choice does not hang on the asked input."""
    low, high = question.bench
    given = {key: parsed_input.value for key, parsed_input in question.parsed.items()}
    chosen = set()
    for value in (low, high, (low + high) / 2.0):
        results = question.results_at(value)
        if results is None:
            continue
        try:
            chosen.add(choose({**given, question.asked.key: value, **results}))
        except (KeyError, TypeError, ValueError, ArithmeticError):
            return ""
    return chosen.pop() if len(chosen) == 1 else ""


def _hanging(trees: Mapping[str, Node], asked: str) -> set[str]:
    """Return the asked input and every quantity whose formula leads to it."""
    hanging = {asked}
    for key, tree in trees.items():  # a formula uses only what stands above it
        if names(tree) & hanging:
            hanging.add(key)
    return hanging


def _ways(chain: Sequence[tuple[str, Node]], value: Node, turns: int) -> Iterator[tuple[tuple[Step, ...], bool]]:
    """Yield every way through the chain: its steps, and whether an angle in it comes again every turn."""
    if not chain:
        yield (), False
        return
    (key, tree), *rest = chain
    for branch in isolate(tree, key, value, turns):
        for steps, is_periodic in _ways(rest, Name(key), turns):
            yield (Step(key, branch.node), *steps), branch.is_periodic or is_periodic


def _computed(steps: Sequence[Step], known: Mapping[str, float]) -> float | None:
    values = dict(known)
    for step in steps:
        try:
            values[step.key] = compute(step.formula, values)
        except (ValueError, ArithmeticError, TypeError, KeyError):
            return None
    return values[steps[-1].key]


def _turns(question: Question, repeat: float) -> range:
    """Return the whole turns that lead to the solutions in range nearest to zero."""
    low, high = question.ends
    nearest = min(max(low, 0.0), high)
    middle = round(nearest / repeat)
    return range(middle - _TURNS, middle + _TURNS + 1)
