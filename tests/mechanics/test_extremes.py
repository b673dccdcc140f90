"""Every public function at any size of its arguments: a finite answer, or one of the two errors that say why not.

Sizes run to the ends of the doubles, well outside what `domain` lets through, and many arguments are equal or
nearly equal. A loop without an end would show as a test without one.
"""

import dataclasses
import inspect
import math
import random
from collections.abc import Callable, Iterator
from fractions import Fraction

import pytest

from crankpin.mechanics import driving, fitting, measurement, repeated, sine_fitting, springs, superposition, tide
from crankpin.mechanics.damping import decrement_from_peaks
from crankpin.mechanics.domain import LEAST, MOST
from crankpin.mechanics.errors import AbsentError, OutOfDomainError
from crankpin.mechanics.superposition import Phasor
from crankpin.mechanics.tide import Constituent
from tests.mechanics.test_guards import FUNCTIONS, GUARDS

EDGES = [0.0, -0.0, 5e-324, 2.3e-308, 1e-150, LEAST, 0.9 * LEAST, 1.0, MOST, 1.1 * MOST, 1e150, 1.7e308]


def numbers(result: object) -> Iterator[float]:
    """Every number in a result, however it is wrapped."""
    if isinstance(result, float | int):
        yield result
    elif isinstance(result, tuple | list):
        for part in result:
            yield from numbers(part)
    elif dataclasses.is_dataclass(result):
        for field in dataclasses.fields(result):
            yield from numbers(getattr(result, field.name))
    else:
        assert result is None or isinstance(result, str)


def answered(act: Callable[[], object]) -> bool:
    """Whether there was an answer; fails where it is not finite, or for any other error."""
    try:
        result = act()
    except (AbsentError, OutOfDomainError) as error:
        assert str(error)
        return False
    assert all(math.isfinite(number) for number in numbers(result)), result
    return True


class Draw:
    """Numbers of any size, the same ones in each run."""

    def __init__(self, seed: str) -> None:
        self.source = random.Random(seed)

    def size(self) -> float:
        reach = self.source.choice([3.0, 9.0, 50.0, 300.0])
        return self.source.choice([self.source.choice(EDGES), 10.0 ** self.source.uniform(-reach, reach)])

    def number(self) -> float:
        return self.source.choice([1.0, 1.0, -1.0]) * self.size()

    def like(self, words: str) -> float:
        """A number of the kind that a guard's words ask for, as a rule."""
        if "pi" in words or "0 to" in words:
            near = self.source.choice([1.0, math.pi, math.pi / 2.0])
            return self.source.choice([near * self.source.random(), near * (1.0 - 10.0 ** -self.source.uniform(1, 17))])
        return self.size() if self.source.random() < 0.9 and not words.startswith("a finite") else self.number()

    def arguments(self, name: str) -> dict[str, float]:
        found = {key: self.like(words) for key, words in GUARDS[name].items()}
        if len(found) > 1 and self.source.random() < 0.4:
            one, other = self.source.sample(sorted(found), 2)
            found[one] = found[other] * self.source.choice([1.0, 1.0 - 1e-15, 1.0 + 1e-9, 0.5, -1.0])
        return found


@pytest.mark.parametrize("name", FUNCTIONS)
def test_any_size_gives_a_finite_answer_or_a_clear_error(name: str) -> None:
    draw = Draw(name)
    assert list(GUARDS[name]) == list(inspect.signature(FUNCTIONS[name]).parameters)
    for _ in range(300):
        arguments = draw.arguments(name)
        answered(lambda given=arguments: FUNCTIONS[name](**given))


@pytest.mark.parametrize("name", FUNCTIONS)
def test_the_range_of_the_course_is_answered(name: str) -> None:
    """Not refused throughout: of a hundred ordinary arguments some have an answer."""
    draw = Draw(name)
    ordinary = ({key: 10.0 ** draw.source.uniform(-2, 1) for key in GUARDS[name]} for _ in range(100))
    assert any(answered(lambda given=given: FUNCTIONS[name](**given)) for given in ordinary) or name in NEEDS_ORDER


NEEDS_ORDER = {"rotation.stopping_angle", "rotation.stopping_time"}  # rates of opposite signs


def wheel(draw: Draw) -> Phasor:
    return Phasor(draw.size(), draw.size(), draw.number())


def constituent(draw: Draw) -> Constituent:
    return Constituent(draw.size(), draw.size(), draw.number())


def ratio(draw: Draw) -> float | Fraction:
    return draw.source.choice([draw.size(), Fraction(draw.source.randint(1, 9), draw.source.randint(1, 9))])


OTHERS: dict[str, Callable[[Draw], object]] = {
    "decrement_from_peaks": lambda d: decrement_from_peaks(d.size(), d.size(), d.source.randint(-1, 10**6)),
    "driven_motion": lambda d: driving.driven_motion(*(d.size() for _ in range(6)), d.number(), d.number()),
    "side_by_side": lambda d: springs.side_by_side(*(d.size() for _ in range(d.source.randint(0, 4)))),
    "end_to_end": lambda d: springs.end_to_end(*(d.size() for _ in range(d.source.randint(0, 4)))),
    "last_place": lambda d: measurement.last_place(d.number(), d.source.randint(-1, 19)),
    "rounded": lambda d: measurement.rounded(d.number(), d.source.randint(-400, 400)),
    "rounded_up": lambda d: measurement.rounded_up(d.number(), d.source.randint(-1, 19)),
    "rounded_to_figures": lambda d: measurement.rounded_to_figures(d.number(), d.source.randint(-1, 19)),
    "period_of_count": lambda d: measurement.period_of_count(d.number(), d.source.randint(-1, 10**6)),
    "uncertainty_of_period": lambda d: measurement.uncertainty_of_period(d.number(), d.source.randint(-1, 10**6)),
    "independent": lambda d: measurement.independent(*(d.number() for _ in range(d.source.randint(0, 4)))),
    "uncertainty_of_mean": lambda d: repeated.uncertainty_of_mean([d.number() for _ in range(d.source.randint(0, 4))]),
    "displacement": lambda d: superposition.displacement(wheel(d), d.number()),
    "together": lambda d: superposition.together(wheel(d), wheel(d), d.number()),
    "crossed": lambda d: superposition.crossed(wheel(d), wheel(d), d.number()),
    "envelope": lambda d: superposition.envelope(wheel(d), wheel(d), d.number()),
    "greatest_amplitude": lambda d: superposition.greatest_amplitude(wheel(d), wheel(d)),
    "least_amplitude": lambda d: superposition.least_amplitude(wheel(d), wheel(d)),
    "whole_ratio": lambda d: superposition.whole_ratio(ratio(d), ratio(d)),
    "pattern_period": lambda d: superposition.pattern_period(ratio(d), ratio(d)),
    "overtide": lambda d: tide.overtide(d.size(), d.source.randint(-1, 9)),
    "tide height": lambda d: tide.height([constituent(d) for _ in range(3)], d.number(), d.number()),
    "tide rate": lambda d: tide.rate([constituent(d) for _ in range(3)], d.number()),
}


@pytest.mark.parametrize("name", OTHERS)
def test_what_takes_more_than_plain_numbers_too(name: str) -> None:
    draw = Draw(name)
    assert sum(answered(lambda: OTHERS[name](draw)) for _ in range(600)) > 5


@pytest.mark.parametrize("turn", [tide.next_high, tide.next_low])
def test_the_next_turn_of_any_tide(turn: Callable[..., float]) -> None:
    draw = Draw(turn.__name__)
    for _ in range(20):
        parts = [constituent(draw) for _ in range(draw.source.randint(0, 3))]
        answered(lambda parts=parts: turn(parts, draw.number()))


@pytest.mark.parametrize("stated", [False, True])
def test_readings_of_any_size_make_a_line_or_say_why_not(stated: bool) -> None:
    draw = Draw("line")
    found = 0
    for _ in range(400):
        size_x, size_y, n = draw.size(), draw.size(), draw.source.randint(2, 6)
        x = [size_x * (i + draw.source.random()) for i in range(n)]
        y = [size_y * draw.source.uniform(-1.0, 2.0) for _ in range(n)]
        size_u = draw.size()
        u = [size_u * draw.source.uniform(1.0, 2.0) for _ in range(n)] if stated else None
        found += answered(lambda x=x, y=y, u=u: fitting.line_fit(x, y, u))
        answered(lambda x=x, y=y, u=u: fitting.spring_fit(x, y, u))
    assert found > 10


@pytest.mark.parametrize("damped", [False, True])
def test_readings_of_any_size_make_a_wave_or_say_why_not(damped: bool) -> None:
    draw = Draw("wave")
    found = 0
    for _ in range(60):
        size_t, size_y, start = draw.size(), draw.size(), draw.number()
        times = [start + size_t * i for i in range(12)]
        values = [size_y * (math.cos(2.0 * i) * 0.9**i + 0.01 * draw.source.random()) for i in range(12)]
        found += answered(lambda t=times, y=values: sine_fitting.sine_fit(t, y, damped=damped))
    assert found > 0
