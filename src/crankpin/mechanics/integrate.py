"""Integrating an equation of motion in time where no closed form exists, or to check one.

A state is a tuple of numbers (position, velocity, ...); the slope function gives its rate of change.
"""

import math
from bisect import bisect_right
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from operator import mul

from crankpin.mechanics.domain import finite, positive
from crankpin.mechanics.errors import OutOfDomainError

State = tuple[float, ...]
Slope = Callable[[float, State], Sequence[float]]

# Dormand and Prince's pair of orders 5 and 4: J. Comput. Appl. Math. 6 (1980) 19, as in Hairer, Nørsett and
# Wanner, Solving Ordinary Differential Equations I, 2nd ed., table II.5.2 and (II.6) for _BETWEEN (from memory)
_NODES = (1 / 5, 3 / 10, 4 / 5, 8 / 9, 1.0, 1.0)
_ROWS = (
    (1 / 5,),
    (3 / 40, 9 / 40),
    (44 / 45, -56 / 15, 32 / 9),
    (19372 / 6561, -25360 / 2187, 64448 / 6561, -212 / 729),
    (9017 / 3168, -355 / 33, 46732 / 5247, 49 / 176, -5103 / 18656),
    (35 / 384, 0.0, 500 / 1113, 125 / 192, -2187 / 6784, 11 / 84),
)
_ERROR = (71 / 57600, 0.0, -71 / 16695, 71 / 1920, -17253 / 339200, 22 / 525, -1 / 40)
_BETWEEN = (
    -12715105075 / 11282082432,
    0.0,
    87487479700 / 32700410799,
    -10690763975 / 1880347072,
    701980252875 / 199316789632,
    -1453857185 / 822651844,
    69997945 / 29380423,
)


@dataclass(frozen=True, slots=True)
class Trajectory:
    """The states at the ends of the steps taken, and between them by `at`.

    ``times`` in s run from the begin to the end (either way); ``states`` belong to them.
    """

    times: tuple[float, ...]
    states: tuple[State, ...]
    pieces: tuple[tuple[State, ...], ...]

    def at(self, time: float) -> State:
        """Return the state at ``time`` s within the trajectory, to about the accuracy of the steps.

        Source: the pair's own fourth-order polynomial. Raises OutOfDomainError outside.
        """
        first, last = self.times[0], self.times[-1]
        if not min(first, last) <= time <= max(first, last):
            raise OutOfDomainError("time", f"from {min(first, last):g} to {max(first, last):g} s", time)
        way = 1 if last >= first else -1
        i = min(bisect_right(self.times, way * time, key=lambda t: way * t), len(self.pieces)) - 1
        if i < 0:
            return self.states[0]
        s = (time - self.times[i]) / (self.times[i + 1] - self.times[i])
        r = 1 - s
        return tuple(
            y + s * (d + r * (p + s * (q + r * w)))
            for y, d, p, q, w in zip(self.states[i], *self.pieces[i], strict=True)
        )


def integrate(
    slope: Slope,
    start: Sequence[float],
    begin: float,
    end: float,
    *,
    relative: float = 1e-10,
    absolute: float = 1e-12,
    most_steps: int = 100_000,
) -> Trajectory:
    """Return the trajectory from ``start`` at ``begin`` s to ``end`` s (before or after it).

    Each step's error is held to ``relative`` of each component plus ``absolute`` (in its own unit); the
    errors of the steps add up over a run. Raises OutOfDomainError if more than ``most_steps`` would be
    needed or if the motion runs off to no finite state.
    Source: the pair of orders 5 and 4 above with its step control by the last two errors.

    >>> import math
    >>> path = integrate(lambda t, s: (s[1], -s[0]), (1.0, 0.0), 0.0, math.pi)
    >>> round(path.states[-1][0], 8)
    -1.0
    """
    begin, end = finite("begin", float(begin)), finite("end", float(end))
    positive("relative", relative, "1")
    positive("absolute", absolute, "of the state's unit")
    state = tuple(finite("start", float(value)) for value in start)
    times, states = [begin], [state]
    pieces: list[tuple[State, ...]] = []
    rate = tuple(slope(begin, state))
    step = _first_step(state, rate, end - begin, relative, absolute) if end != begin else 0.0
    time, last_error = begin, 1e-4
    for _ in range(most_steps):
        if time == end:
            return Trajectory(tuple(times), tuple(states), tuple(pieces))
        if abs(step) >= abs(end - time) * (1 - 1e-12):
            step = end - time
        if time + step == time:
            break
        moved, rates = _stages(slope, time, state, rate, step)
        error = _error(state, moved, rates, step, relative, absolute)
        if error <= 1:
            pieces.append(_piece(state, moved, rates, step))
            time = end if step == end - time else time + step
            state, rate = moved, rates[-1]
            times.append(time)
            states.append(state)
            step *= min(max(0.9 * last_error**0.04 / max(error, 1e-10) ** 0.17, 0.2), 10.0)
            last_error = max(error, 1e-4)
        else:
            step *= max(0.9 / error**0.17, 0.2) if math.isfinite(error) else 0.1
    raise OutOfDomainError(
        "end", f"reached in {most_steps} steps (it came to {time:.6g} s: the motion is too fast or endless)", end
    )


def _first_step(state: State, rate: State, span: float, relative: float, absolute: float) -> float:
    scales = [absolute + relative * abs(value) for value in state]
    size = max((abs(v) / s for v, s in zip(state, scales, strict=True)), default=0.0)
    speed = max((abs(r) / s for r, s in zip(rate, scales, strict=True)), default=0.0)
    guess = 0.01 * size / speed if size > 1e-5 and speed > 1e-5 else 1e-6 * abs(span)
    return math.copysign(min(guess, abs(span)), span)


def _stages(slope: Slope, time: float, state: State, rate: State, step: float) -> tuple[State, list[State]]:
    """Return the state at the step's end and the seven rates, the last of them there."""
    rates, moved = [rate], state
    for node, row in zip(_NODES, _ROWS, strict=True):
        moved = tuple(y + step * change for y, change in zip(state, _weighted(rates, row), strict=True))
        rates.append(tuple(slope(time + node * step, moved)))
    return moved, rates


def _weighted(rates: Sequence[State], row: Sequence[float]) -> list[float]:
    """Return each component's sum of rates times the row's weights."""
    return [math.fsum(map(mul, row, of_one)) for of_one in zip(*rates, strict=True)]


def _error(state: State, moved: State, rates: Sequence[State], step: float, relative: float, absolute: float) -> float:
    """Return the largest estimated error of a component over the error allowed; infinite if none is finite."""
    changes = _weighted(rates, _ERROR)
    allowed = [absolute + relative * max(abs(y), abs(z)) for y, z in zip(state, moved, strict=True)]
    worst = max((abs(step * e) / a for e, a in zip(changes, allowed, strict=True)), default=0.0)
    return worst if all(map(math.isfinite, moved)) and not math.isnan(worst) else math.inf


def _piece(state: State, moved: State, rates: Sequence[State], step: float) -> tuple[State, ...]:
    """Return the four rows of coefficients that `Trajectory.at` uses between the step's ends."""
    change = tuple(z - y for y, z in zip(state, moved, strict=True))
    bend = tuple(step * r - d for r, d in zip(rates[0], change, strict=True))
    twist = tuple(d - step * r - p for d, r, p in zip(change, rates[-1], bend, strict=True))
    return change, bend, twist, tuple(step * w for w in _weighted(rates, _BETWEEN))
