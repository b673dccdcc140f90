"""Marking a number that was typed: its unit, its size, its digits, and the slip behind it where one is known."""

from collections.abc import Mapping
from typing import Any

from crankpin.calculator.entries import NO_NUMBER, Entry, Unread, read
from crankpin.calculator.units import find_unit, printed_unit
from crankpin.problems.declaration import Answer, Question, Slip
from crankpin.problems.expressions import rounded
from crankpin.problems.faults import NoNumberError
from crankpin.problems.quantities import Form, is_unit, unit_of
from crankpin.problems.variants import Variant
from crankpin.problems.verdicts import Verdict
from crankpin.problems.wrong_numbers import right_value, slip_value

#: More digits than asked for by so many are remarked on.
SPARE_DIGITS = 2
#: Powers of ten by which an answer may be off through a prefix.
_PREFIXES = (-6, -3, -2, -1, 1, 2, 3, 6)


def mark_number(question: Question, variant: Variant, typed: str, earlier: Mapping[str, float]) -> Verdict:
    """Return the verdict on a number typed as the answer of a question.

    ``earlier`` holds the student's own answers to earlier parts, in SI, by the part's name.
    """
    return _Marking(question, variant, earlier).verdict(typed)


class _Marking:
    def __init__(self, question: Question, variant: Variant, earlier: Mapping[str, float]) -> None:
        assert question.answer
        self.question, self.variant, self.answer = question, variant, question.answer
        self.form: Form = variant.forms[self.answer.key]
        self.right = right_value(question, variant.quantities)
        self.room = self.answer.tolerance.around(self.right)
        self.earlier = {name: value for name, value in earlier.items() if name in question.goes_on_from}

    def verdict(self, typed: str) -> Verdict:
        entry = read(typed)
        if isinstance(entry, Unread):
            return Verdict("unread", _unread(typed.strip(), entry))
        unit = find_unit(self.form.dimension, entry.unit or "1")
        if unit is None or (unit.reciprocal and entry.number == 0.0):
            return self._without_unit(entry) if not entry.unit else self._other_unit(entry)
        return self._of(unit.inside(entry.number), entry)

    def _of(self, value: float, entry: Entry) -> Verdict:
        if self._fits(value):
            return Verdict("right", "Right.", self._digits(entry), value=value)
        if own := self._own_way(value):
            return own
        if found := self._slip(value):
            return found
        return self._nearly(value, entry) or Verdict("wrong", "Not this number yet.", value=value)

    def _fits(self, value: float) -> bool:
        return abs(value - self.right) <= self.room * (1.0 + 1e-9)

    def _own_way(self, value: float) -> Verdict | None:
        """Return the verdict on an answer that follows rightly from the student's own earlier answers, else None."""
        changes = {self._key_of(name): own for name, own in self.earlier.items()}
        if not changes:
            return None
        try:
            own = right_value(self.question, self.variant.quantities.changed(changes))
        except NoNumberError:
            return None
        if abs(value - own) > self.answer.tolerance.around(own) * (1.0 + 1e-9):
            return None
        parts = " and ".join(f"({name})" for name in self.earlier)
        return Verdict("right", f"Right, going on from your own answer to {parts}.", value=value)

    def _key_of(self, part: str) -> str:
        answer = self.variant.problem.question(part).answer
        assert answer
        return answer.key

    def _slip(self, value: float) -> Verdict | None:
        """Return what is said of the slip whose number lies nearest, where one is within tolerance."""
        best: tuple[float, Slip] | None = None
        for slip in self.question.slips:
            wrong = slip_value(slip, self.question, self.variant.quantities)
            if wrong is None:
                continue
            off = abs(value - wrong)
            if off <= self.answer.tolerance.around(wrong) and (best is None or off < best[0]):
                best = off, slip
        return Verdict("slip", best[1].says, slip=best[1].name, value=value) if best else None

    def _nearly(self, value: float, entry: Entry) -> Verdict | None:
        """Return the verdict on an answer that is right but for its digits, its sign or its prefix, else None."""
        figures = _figures(entry)
        if figures and figures < self.form.digits and rounded(self.right, figures) == rounded(value, figures):
            return Verdict("nearly", f"Right as far as it goes; give {_digits_text(self.form.digits)}.", value=value)
        if self._fits(-value):
            return Verdict(
                "slip", "The size is right. Look at the sign: which way is positive?", slip="sign", value=value
            )
        if any(self._fits(value * 10.0**power) for power in _PREFIXES):
            return Verdict(
                "slip",
                "The digits are right; the power of ten is not. Look at the prefixes of the units.",
                slip="power_of_ten",
                value=value,
            )
        return None

    def _digits(self, entry: Entry) -> tuple[str, ...]:
        if _figures(entry) > self.form.digits + SPARE_DIGITS:
            return (f"{_digits_text(self.form.digits).capitalize()} would do: what is given has no more.",)
        return ()

    def _without_unit(self, entry: Entry) -> Verdict:
        value = unit_of(self.form.dimension, self.form.unit).inside(entry.number)
        if self._fits(value):
            return Verdict("nearly", "The number fits, but a number alone is not a quantity: add its unit.")
        return Verdict("wrong", "A unit is missing, and the number is not it yet either.")

    def _other_unit(self, entry: Entry) -> Verdict:
        if not is_unit(entry.unit):
            return Verdict("unread", f"“{entry.unit}” is not a unit known here. Write it as in m/s, cm, N/m or rad/s.")
        if self.form.dimension == "1":
            return Verdict("wrong", f"What is asked for is a plain number, without {_shown_unit(entry.unit)}.")
        return Verdict("wrong", f"What is asked for is not measured in {_shown_unit(entry.unit)}. Look at the units.")


def _unread(typed: str, entry: Unread) -> str:
    if typed and entry != NO_NUMBER:
        return f"“{typed}” {entry.reason}."
    what = f"“{typed}” is not a number with a unit" if typed else "Nothing is written here yet"
    return f"{what}. Write a number and its unit, with a point or a comma."


def _shown_unit(unit: str) -> str:
    return printed_unit(unit) or unit


def _figures(entry: Entry) -> int:
    """Return how many significant digits were typed; 0 for a zero."""
    return len(entry.digits.lower().partition("e")[0].replace(".", "").lstrip("+-0"))


def _digits_text(count: int) -> str:
    words = ("", "one", "two", "three", "four", "five", "six")
    return (
        f"{words[count]} significant digit{'' if count == 1 else 's'}" if count < 7 else f"{count} significant digits"
    )


def answer_data(answer: Answer, variant: Variant) -> dict[str, Any]:
    """Return the right answer as data: value in SI, unit and digits shown, half-width accepted."""
    form, right = variant.forms[answer.key], float(variant.quantities[answer.key])
    return {"value": right, "unit": form.unit, "digits": form.digits, "room": answer.tolerance.around(right)}
