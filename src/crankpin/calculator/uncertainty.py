"""From the standard uncertainties of what is given to those of the results.

First order, inputs independent: u(y)^2 is the sum of (c_i u_i)^2 with the sensitivity coefficients c_i = dy/dx_i (GUM,
JCGM 100:2008, 5.1.2 and 5.1.3). The derivatives are numerical: five points about the value, which is exact for
polynomials up to the fourth degree, with a step of an eighth of u_i and at most a thousandth of the value.

Whether first order is good enough is checked by a second evaluation (after JCGM 101:2008, clause 8, which compares with
draws from the distributions; here three fixed points per input, the value and root 3 times u_i to both sides, weighted
as for a normal distribution: exact where a result curves like a parabola in each input).
"""

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass

#: Gives the results that are numbers at other values of the inputs, by key; None where there are none.
Model = Callable[[Mapping[str, float]], Mapping[str, float] | None]

#: By so much of itself the second evaluation may change an uncertainty, or by so much of it shift the result.
_ENOUGH_SIZE = 0.1
_ENOUGH_SHIFT = 0.25
_WIDE = math.sqrt(3.0)
_STENCIL = ((-2.0, 1.0 / 12.0), (-1.0, -8.0 / 12.0), (1.0, 8.0 / 12.0), (2.0, -1.0 / 12.0))


@dataclass(frozen=True, slots=True)
class Uncertainty:
    """The standard uncertainty of one result, inside.

    ``parts`` holds |c_i| u_i for each uncertain input. ``second`` is the uncertainty of the second evaluation and
    ``shift`` what it adds to the result; both None where it left the range in which the calculator answers.
    """

    size: float
    parts: Mapping[str, float]
    second: float | None
    shift: float | None

    @property
    def is_good_enough(self) -> bool:
        """Tell whether first order and the second evaluation agree."""
        if self.second is None or self.shift is None:
            return False
        near = abs(self.second - self.size) <= _ENOUGH_SIZE * max(self.size, self.second)
        return near and abs(self.shift) <= _ENOUGH_SHIFT * max(self.size, self.second)

    def share(self, key: str) -> float:
        """Return an input's share of the square of the uncertainty."""
        return (self.parts[key] / self.size) ** 2 if self.size else 0.0


def propagated(model: Model, values: Mapping[str, float], given: Mapping[str, float]) -> dict[str, Uncertainty]:
    """Return the uncertainty of every result that has one.

    ``values`` holds the inputs that are numbers, ``given`` the standard uncertainties of some of them.

    >>> area = lambda at: {"S": at["a"] * at["b"]}
    >>> found = propagated(area, {"a": 2.0, "b": 3.0}, {"a": 0.1, "b": 0.2})["S"]
    >>> round(found.size, 9), {key: round(part, 9) for key, part in found.parts.items()}, found.is_good_enough
    (0.5, {'a': 0.3, 'b': 0.4}, True)
    """
    start = model(values)
    if start is None:
        return {}
    slopes = {key: _slopes(model, values, key, size) for key, size in given.items()}
    wide = {key: _to_both_sides(model, values, key, size) for key, size in given.items()}
    found = {}
    for result, value in start.items():
        parts = {key: _part(slopes[key], result, size) for key, size in given.items()}
        if all(part is not None for part in parts.values()):
            sizes = {key: part for key, part in parts.items() if part is not None}
            second, shift = _second(wide, result, value)
            uncertainty = Uncertainty(math.hypot(*sizes.values()), sizes, second, shift)
            if uncertainty.size or second:
                found[result] = uncertainty
    return found


def _part(slopes: Mapping[str, float] | None, result: str, size: float) -> float | None:
    return abs(slopes[result]) * size if slopes and result in slopes else None


def _at(model: Model, values: Mapping[str, float], key: str, change: float) -> Mapping[str, float] | None:
    return model({**values, key: values[key] + change})


def _slopes(model: Model, values: Mapping[str, float], key: str, size: float) -> dict[str, float] | None:
    """Return the derivatives of all results by one input; None where a neighbour is out of range."""
    step = size / 8.0
    if values[key]:
        step = max(min(step, 1e-3 * abs(values[key])), 1e-7 * abs(values[key]))
    around = [(weight, _at(model, values, key, place * step)) for place, weight in _STENCIL]
    if any(there is None for _, there in around):
        return None
    results = [(weight, there) for weight, there in around if there is not None]
    shared = set.intersection(*(set(there) for _, there in results))
    return {one: math.fsum(weight * there[one] for weight, there in results) / step for one in shared}


Pair = tuple[Mapping[str, float], Mapping[str, float]]


def _to_both_sides(model: Model, values: Mapping[str, float], key: str, size: float) -> Pair | None:
    below, above = (_at(model, values, key, sign * _WIDE * size) for sign in (-1.0, 1.0))
    return (below, above) if below is not None and above is not None else None


def _second(wide: Mapping[str, Pair | None], result: str, value: float) -> tuple[float | None, float | None]:
    """Return uncertainty and shift of a result from the three points of each input."""
    variances, shifts = [], []
    for pair in wide.values():
        if pair is None or result not in pair[0] or result not in pair[1]:
            return None, None
        below, above = pair[0][result] - value, pair[1][result] - value
        shift = (below + above) / 6.0
        shifts.append(shift)
        variances.append((below * below + above * above) / 6.0 - shift * shift)
    return math.sqrt(max(0.0, math.fsum(variances))), math.fsum(shifts)
