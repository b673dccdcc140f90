"""Trying a problem: each of many variants is drawn, written and solved, and what is wrong with any is told."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from crankpin.calculator.declaration import Calculator
from crankpin.problems.declaration import Problem, Question
from crankpin.problems.expressions import calls_in, names_in
from crankpin.problems.faults import NoNumberError, ProblemFault, WordingError
from crankpin.problems.graphs import sample
from crankpin.problems.kind import kind_named
from crankpin.problems.placeholders import asked_in, filled
from crankpin.problems.quantities import number_text
from crankpin.problems.serialise import texts
from crankpin.problems.variants import Variant
from crankpin.problems.wrong_numbers import confused, right_value, slip_value

VARIANTS = 1000
#: Fewer different sets of numbers than this are remarked on, where a problem draws any.
_FEW = 20
#: An answer that more than this part of the variants share is easy to guess.
_SHARED = 0.2
_SLIPS_WITHOUT_NUMBER = "the slip {} leads to no number in any variant; its expression does not fit the problem"


@dataclass
class Findings:
    """What was found of one problem: each message with the variants it holds for; advice does not stop a build."""

    problem: Problem
    faults: dict[tuple[int, str], list[int]] = field(default_factory=dict)
    advice: dict[tuple[int, str], list[int]] = field(default_factory=dict)

    def fault(self, line: int, message: str, variant: int) -> None:
        """Keep a fault of a variant."""
        self.faults.setdefault((line, message), []).append(variant)

    def advise(self, line: int, message: str, variant: int = 0) -> None:
        """Keep what a teacher should look at."""
        self.advice.setdefault((line, message), []).append(variant)

    def told(self) -> list[ProblemFault]:
        """Return the faults with their variants."""
        return [self._told(*one) for one in self.faults.items()]

    def advised(self) -> list[ProblemFault]:
        """Return the advice with its variants."""
        return [self._told(*one) for one in self.advice.items()]

    def _told(self, place: tuple[int, str], variants: list[int]) -> ProblemFault:
        shown = [number for number in variants if number]
        more = f" and {len(shown) - 3} more" if len(shown) > 3 else ""
        where = f" (variant {', '.join(map(str, shown[:3]))}{more})" if shown else ""
        return ProblemFault(self.problem.file, place[0], f"{self.problem.id}: {place[1]}{where}")


def try_problem(problem: Problem, calculators: Mapping[str, Calculator], variants: int = VARIANTS) -> Findings:
    """Return what is found when the first variants of a problem are drawn and solved."""
    findings = Findings(problem)
    trial = _Trial(problem, calculators, findings)
    numbers = range(1, variants + 1) if problem.draw else range(1, 2)
    for number in numbers:
        if not trial.try_variant(number):
            break
    trial.look_back(len(numbers))
    return findings


class _Trial:
    def __init__(self, problem: Problem, calculators: Mapping[str, Calculator], findings: Findings) -> None:
        self.problem, self.calculators, self.findings = problem, calculators, findings
        self.sets: set[tuple[object, ...]] = set()
        self.answers: dict[str, dict[str, int]] = {}
        self.lively: set[tuple[str, str]] = set()
        self.texts = tuple(texts(problem))

    def try_variant(self, number: int) -> bool:
        """Try one variant; return False where going on would only tell the same again."""
        line = self.problem.line
        try:
            variant = Variant(self.problem, number, self.calculators)
            self.sets.add(tuple(variant.drawn.values()))
            self._write(variant)
            for question in self.problem.questions:
                line = question.line
                self._solve(question, variant)
        except WordingError as error:
            self.findings.fault(line, str(error), number)
            return False
        except NoNumberError as error:
            self.findings.fault(line, f"impossible: {error}", number)
            return len(next(iter(self.findings.faults.values()))) < 50
        return True

    def _write(self, variant: Variant) -> None:
        for line, text in self.texts:
            try:
                filled(text, variant)
            except (WordingError, NoNumberError) as error:
                asked = "; ".join(asked_in(text))
                self.findings.fault(line, f"{error} (in {{= {asked} =}})", variant.number)

    def _solve(self, question: Question, variant: Variant) -> None:
        kind = kind_named(question.kind)
        right = kind.right(question, variant)
        if right is not None:
            verdict = kind.mark(question, variant, right, {})
            if verdict.state != "right":
                self.findings.fault(question.line, f"the right answer is not accepted: {verdict.says}", variant.number)
        if question.answer:
            self._look_at_number(question, variant)
        if question.graph:
            sample(question.graph, variant)
        texts = [filled(item.text, variant) for item in question.items]
        if len(set(texts)) < len(texts):
            self.findings.fault(question.line, "two of the choices read the same", variant.number)

    def _look_at_number(self, question: Question, variant: Variant) -> None:
        assert question.answer
        key, value = question.answer.key, right_value(question, variant.quantities)
        room = question.answer.tolerance.around(value)
        shown = number_text(value, variant.forms[key])
        counts = self.answers.setdefault(question.name, {})
        counts[shown] = counts.get(shown, 0) + 1
        if room == 0.0:
            self.findings.fault(
                question.line,
                'the answer is 0, so its tolerance must be given with a unit, as "0.1 cm"',
                variant.number,
            )
        if "×" in shown:
            self.findings.advise(question.line, f"ugly: the answer {key} is written as a power of ten", variant.number)
        if any(given == shown and variant.forms[name] != variant.forms[key] for name, given in _given(variant)):
            self.findings.advise(
                question.line, f"easy to guess: {key} has the digits of a given number", variant.number
            )
        self._tell_apart(question, variant)

    def _tell_apart(self, question: Question, variant: Variant) -> None:
        """Tell slips whose number cannot be told from the right one, or from another slip's, within tolerance."""
        for slip in question.slips:
            if slip_value(slip, question, variant.quantities) is not None:
                self.lively.add((question.name, slip.name))
        for found in confused(question, variant.quantities):
            names = f"the slips {found.other.name} and {found.slip.name} give the same number" if found.other else ""
            message = names or f"the slip {found.slip.name} cannot be told from the right answer"
            self.findings.fault(found.slip.line, f"ambiguous within tolerance: {message}", variant.number)

    def look_back(self, tried: int) -> None:
        """Tell what only many variants together show."""
        for question in self.problem.questions:
            for slip in question.slips:
                if not self.findings.faults and (question.name, slip.name) not in self.lively:
                    self.findings.fault(slip.line, _SLIPS_WITHOUT_NUMBER.format(slip.name), 0)
            counts = self.answers.get(question.name, {})
            if tried > 100 and counts and max(counts.values()) > _SHARED * tried:
                often = max(counts, key=lambda shown: counts[shown])
                self.findings.advise(
                    question.line, f"easy to guess: {counts[often]} of {tried} variants answer {often}"
                )
            if question.answer and self._is_worked(question.answer.key) and not self._is_tested(question.answer.key):
                self.findings.advise(
                    question.line,
                    f"{question.answer.key} is arithmetic only; where there is one, use a calculator or a function of "
                    "crankpin.mechanics",
                )
        if self.problem.draw and tried >= VARIANTS and len(self.sets) < _FEW:
            self.findings.advise(self.problem.line, f"only {len(self.sets)} different sets of numbers can be drawn")

    def _is_worked(self, key: str) -> bool:
        return any(worked.key == key for worked in self.problem.work)

    def _is_tested(self, key: str) -> bool:
        """Tell whether a quantity follows, at any step, from a calculator or a function of the mechanics."""
        work = {worked.key: worked.expression for worked in self.problem.work}
        seen, todo = set(), [key]
        while todo:
            at = todo.pop()
            if at in seen or at not in work:
                continue
            seen.add(at)
            if any(topic or name.replace("_", "-") in self.calculators for topic, name in calls_in(work[at])):
                return True
            todo += names_in(work[at])
        return False


def _given(variant: Variant) -> Iterator[tuple[str, str]]:
    """Yield the drawn numbers as they are written, by key."""
    for key, value in variant.drawn.items():
        if isinstance(value, float):
            yield key, number_text(value, variant.forms[key])
