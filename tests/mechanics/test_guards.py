"""Every parameter's guard: what each public function of the mechanics allows, as it tells the reader.

``guards.json`` lists it, one line a parameter, so that a changed limit, name or unit is seen in a review. For each
line three things are tried: a value that is no number is refused in exactly these words, the edge of the range is
refused or allowed as the words say, and the value refused is handed on with the error.
"""

import inspect
import json
import math
import pkgutil
from collections.abc import Callable
from importlib import import_module
from pathlib import Path

import pytest

import crankpin.mechanics
from crankpin.mechanics.errors import AbsentError, OutOfDomainError

GUARDS: dict[str, dict[str, str]] = json.loads((Path(__file__).parent / "guards.json").read_text(encoding="utf-8"))
UNGUARDED = "any number"

# One value for each name that nearly every formula takes; where one does not go with the others, a second try.
SAMPLES = {
    "amplitude": 0.3,
    "angle": 0.4,
    "angular_frequency": 2.0,
    "coefficient": 0.5,
    "damping": 0.2,
    "damping_ratio": 0.1,
    "decrement": 0.2,
    "disc_rate": 2.5,
    "distance": 0.4,
    "end": 2.0,
    "first": 3.0,
    "first_amplitude": 0.3,
    "second_amplitude": 0.2,
    "gravity": 9.81,
    "lamp_distance": 3.0,
    "later": 2.0,
    "latitude": 0.8,
    "mass": 0.5,
    "parameter": 0.5,
    "position": 0.1,
    "quality_factor": 20.0,
    "radius": 0.3,
    "resultant": 0.4,
    "screen_distance": 4.0,
    "share": 0.5,
    "speed": 0.2,
    "spring_mass": 0.05,
    "stiffness": 20.0,
    "time": 0.7,
    "tolerance": 0.3,
    "trimmed_amplitude": 0.05,
    "velocity": 0.1,
}
# Functions that need other values than these.
OTHERS = {
    "bends.least_speed_on_bank": {"coefficient": 0.1},
    "conical.angle_at_rate": {"angular_velocity": 5.0},
    "vertical_circle.leaving_angle": {"lowest_speed": 3.2},
    "damping.creep_terms": {"damping": 50.0},
    "damping.decay_rates": {"damping": 50.0},
    "pendulum.pivot_distances": {"period": 9.0},
    "rotation.stopping_angle": {"angular_acceleration": -1.0},
    "rotation.stopping_time": {"angular_acceleration": -1.0},
}


def public_functions() -> dict[str, Callable[..., object]]:
    """Every public function whose parameters are all plain numbers."""
    found = {}
    for module in pkgutil.iter_modules(crankpin.mechanics.__path__):
        space = import_module(f"crankpin.mechanics.{module.name}")
        for name, function in inspect.getmembers(space, inspect.isfunction):
            parameters = inspect.signature(function).parameters.values()
            plain = bool(parameters) and all(
                one.annotation is float and one.kind < one.VAR_POSITIONAL for one in parameters
            )
            own = function.__module__ == space.__name__ and not name.startswith("_") and "__mutmut" not in name
            if own and plain:
                found[f"{module.name}.{name}"] = function
    return found


FUNCTIONS = public_functions()
LINES = [(name, parameter) for name, guards in GUARDS.items() for parameter in guards]


def call(name: str, **changes: float) -> object:
    """Call a function with the samples, some of them changed."""
    parameters = inspect.signature(FUNCTIONS[name]).parameters
    samples = SAMPLES | OTHERS.get(name, {}) | changes
    return FUNCTIONS[name](**{key: samples.get(key, 1.0) for key in parameters})


def refusal(name: str, parameter: str, value: float) -> OutOfDomainError | None:
    """The error that names this parameter, or None where the value is not refused for its own sake."""
    try:
        call(name, **{parameter: value})
    except OutOfDomainError as error:
        return error if error.quantity == parameter else None
    except (AbsentError, ArithmeticError, ValueError):
        return None
    return None


def told(name: str, parameter: str) -> str:
    error = refusal(name, parameter, math.nan)
    return error.required if error else UNGUARDED


def test_every_public_function_is_listed() -> None:
    assert {name: list(inspect.signature(function).parameters) for name, function in FUNCTIONS.items()} == {
        name: list(guards) for name, guards in GUARDS.items()
    }


@pytest.mark.parametrize(("name", "parameter"), LINES)
def test_what_is_no_number_is_refused_in_these_words(name: str, parameter: str) -> None:
    assert told(name, parameter) == GUARDS[name][parameter]
    error = refusal(name, parameter, math.nan)
    assert error is None or math.isnan(error.given)


@pytest.mark.parametrize(("name", "parameter"), LINES)
def test_the_edge_is_where_the_words_put_it(name: str, parameter: str) -> None:
    words = GUARDS[name][parameter]
    if words.startswith("greater than 0"):
        error = refusal(name, parameter, 0.0)
        assert error is not None
        assert (error.required, error.given) == (words, 0.0)
        assert refusal(name, parameter, 5e-324) is None or refusal(name, parameter, 5e-324).required != words
    if words.startswith("zero or greater"):
        zero, below = refusal(name, parameter, 0.0), refusal(name, parameter, -5e-324)
        assert zero is None or zero.required != words
        assert below is not None
        assert (below.required, below.given) == (words, -5e-324)
    if words.startswith(("greater than 0", "zero or greater", "a finite")):
        assert refusal(name, parameter, math.inf) is not None


def test_the_message_says_name_condition_and_value() -> None:
    error = refusal("circular.angular_frequency_from_period", "period", -2.0)
    assert str(error) == "period must be greater than 0 s; it was -2.0"
