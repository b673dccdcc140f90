"""An asked input by search: the result at many places of the range, each crossing closed in on."""

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise

from crankpin.calculator.evaluate import Step
from crankpin.calculator.numbers import trimmed_quantity
from crankpin.calculator.question import Outcome, Question, keep
from crankpin.mechanics.roots import root

#: Places, and the result at each; None where there is none.
Scanned = Sequence[tuple[float, float | None]]
#: So many places with the same result are no solutions but a level stretch.
_LEVEL = 5
_SECTIONS = 60
_EVEN, _GROWING = 500, 600  # places: at even steps over the slider's range, at even factors over all


def scan(question: Question) -> Scanned:
    """Return places over the whole range of the asked input, and the result at each."""
    return [(place, question.result_at(place)) for place in _places(question)]


def sample(question: Question) -> Scanned:
    """Return the result at five places of the slider's range."""
    low, high = question.bench
    places = [low + (high - low) * share for share in (0.0, 0.13, 0.37, 0.61, 1.0)]
    return [(place, question.result_at(place)) for place in places]


def moved_by(question: Question) -> bool:
    """Tell whether the given result hangs on the asked input, as far as five places of its slider show."""
    return not is_constant(sample(question))


def is_constant(scanned: Scanned) -> bool:
    """Tell whether the result is the same whatever the asked input is."""
    reached = [value for _, value in scanned if value is not None]
    return not reached or math.isclose(min(reached), max(reached), rel_tol=1e-12)


def _places(question: Question) -> list[float]:
    low, high = question.ends
    ends = question.bench
    places = {low, high, *(ends[0] + (ends[1] - ends[0]) * i / _EVEN for i in range(_EVEN + 1))}
    largest = max(abs(low), abs(high))
    smallest = low if low > 0.0 else largest * 1e-18
    growth = (largest / smallest) ** (1.0 / _GROWING)
    sizes = [smallest * growth**i for i in range(_GROWING + 1)]
    places |= {0.0, *sizes, *(-size for size in sizes)}
    return sorted(place for place in places if low <= place <= high)


def by_search(question: Question, scanned: Scanned) -> Outcome:
    """Return the solutions between the places that were scanned, and at them."""
    wanted = float(question.wanted.value)
    found: dict[float, tuple[Step, ...]] = {}
    gaps = [(place, None if reached is None else reached - wanted) for place, reached in scanned]
    for (left, gap_left), (right, gap_right) in pairwise(gaps):
        if gap_left == 0.0:
            keep(question, found, left, ())
        elif gap_left is not None and gap_right is not None and (gap_left > 0.0) != (gap_right > 0.0):
            keep(question, found, _crossing(question, wanted, left, right), ())
    if gaps and gaps[-1][1] == 0.0:
        keep(question, found, gaps[-1][0], ())
    for place in _touchings(question, gaps, wanted):
        keep(question, found, place, ())
    return Outcome(found, _searched(question, scanned))


def level_places(question: Question, scanned: Scanned) -> list[float]:
    """Return the places that give the wanted result to a billionth, [] where they are few enough to be solutions."""
    wanted = float(question.wanted.value)
    slack = 1e-9 * abs(wanted)
    places = [place for place, reached in scanned if reached is not None and abs(reached - wanted) <= slack]
    return places if len(places) >= _LEVEL else []


def _crossing(question: Question, wanted: float, left: float, right: float) -> float | None:
    def gap_at(place: float) -> float:
        reached = question.result_at(place)
        if reached is None:
            raise ArithmeticError
        return reached - wanted

    try:
        return root(gap_at, left, right)
    except (ValueError, ArithmeticError):
        return None


def _touchings(question: Question, gaps: Scanned, wanted: float) -> Iterator[float | None]:
    """Yield the places between neighbours where the result turns round at, or just beyond, the wanted one.

    There it touches once, or crosses twice without having been seen on the other side.
    """
    for (left, a), (_, b), (right, c) in zip(gaps, gaps[1:], gaps[2:], strict=False):
        if a is None or b is None or c is None or not abs(b) <= min(abs(a), abs(c)) or a * b < 0.0 or b * c < 0.0:
            continue
        place = _turning_place(question, math.copysign(1.0, b), wanted, left, right)
        reached = question.result_at(place)
        if reached is None:
            continue
        if (reached - wanted) * b < 0.0:
            yield from (_crossing(question, wanted, left, place), _crossing(question, wanted, place, right))
        else:
            yield place


def _turning_place(question: Question, side: float, wanted: float, left: float, right: float) -> float:
    """Return where the result, which lies on one side of the wanted one, comes nearest to it or goes farthest beyond.

    By golden sections.
    """
    ratio = (math.sqrt(5.0) - 1.0) / 2.0

    def height(place: float) -> float:
        reached = question.result_at(place)
        return math.inf if reached is None else side * (reached - wanted)

    inner, outer = right - ratio * (right - left), left + ratio * (right - left)
    at_inner, at_outer = height(inner), height(outer)
    for _ in range(_SECTIONS):
        if at_inner < at_outer:
            right, outer, at_outer = outer, inner, at_inner
            inner = right - ratio * (right - left)
            at_inner = height(inner)
        else:
            left, inner, at_inner = inner, outer, at_outer
            outer = left + ratio * (right - left)
            at_outer = height(outer)
    return (left + right) / 2.0


def _searched(question: Question, scanned: Scanned) -> str:
    """Say how the search went, and whether it can have missed a solution."""
    asked, target = question.name(question.asked), question.name(question.target)
    low, high = (trimmed_quantity(end, question.asked.unit, question.chosen) for end in question.ends)
    said = f"Found by search, at {len(scanned)} values of {asked} from {low} to {high}, each crossing closed in on."
    reached = [value for _, value in scanned if value is not None]
    pairs = list(pairwise(reached))
    if all(a <= b for a, b in pairs) or all(a >= b for a, b in pairs):
        way = "rises" if reached[-1] > reached[0] else "falls"
        return f"{said} {target} only {way} from each to the next, so there is no second one."
    return f"{said} Two solutions between neighbouring values would be missed."
