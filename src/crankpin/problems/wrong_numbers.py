"""The right number of a question, the wrong numbers of its slips, and whether they can be told apart."""

import math
from dataclasses import dataclass

from crankpin.problems.declaration import Question, Slip
from crankpin.problems.faults import NoNumberError
from crankpin.problems.solved import Quantities


def right_value(question: Question, quantities: Quantities) -> float:
    """Return the right answer, in SI. Raises `NoNumberError`."""
    assert question.answer
    return float(quantities[question.answer.key])


def slip_value(slip: Slip, question: Question, quantities: Quantities) -> float | None:
    """Return the wrong number that a slip leads to, in SI; None where it leads to none for these numbers."""
    try:
        if slip.expression:
            found = float(quantities.value(slip.expression))
        else:
            found = right_value(question, quantities.changed(dict(slip.changes)))
    except NoNumberError:
        return None
    return found if math.isfinite(found) else None


@dataclass(frozen=True, slots=True)
class Confused:
    """A slip whose number, within tolerance, is also that of another slip, or the right one (``other`` is None)."""

    slip: Slip
    other: Slip | None


def confused(question: Question, quantities: Quantities) -> list[Confused]:
    """Return the slips that cannot be told from the right answer or from another slip."""
    if not question.answer or not question.slips:
        return []
    tolerance = question.answer.tolerance
    known: list[tuple[Slip | None, float]] = [(None, right_value(question, quantities))]
    found = []
    for slip in question.slips:
        value = slip_value(slip, question, quantities)
        if value is None:
            continue
        for other, number in known:
            if abs(value - number) <= tolerance.around(value) + tolerance.around(number):
                found.append(Confused(slip, other))
        known.append((slip, value))
    return found
