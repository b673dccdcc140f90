"""What several declarations share: inputs ready made, and results that may not exist."""

import sys
from collections.abc import Callable
from typing import Any

from crankpin.calculator.declaration import Input, Output
from crankpin.calculator.faults import Absent
from crankpin.mechanics.errors import AbsentError


def or_absent(find: Callable[..., Any], *given: Any) -> Any:
    """Return what ``find`` gives, or `Absent` with the mechanics' reason where there is no such quantity."""
    try:
        return find(*given)
    except AbsentError as error:
        return Absent(error.reason)


def _made(ready: dict[str, Any], changes: dict[str, Any]) -> Input:
    """Return the input, its faults told at the line of the declaration that asked for it."""
    return Input(**{"line": sys._getframe(2).f_lineno, **ready, **changes})


def _found(ready: dict[str, Any], changes: dict[str, Any]) -> Output:
    """Return the output, its faults told at the line of the declaration that asked for it."""
    return Output(**{"line": sys._getframe(2).f_lineno, **ready, **changes})


def mass(default: str = "400 g", **changes: Any) -> Input:
    """Return the input ``m``, a mass; any part of it may be changed."""
    ready: dict[str, Any] = {
        "key": "m",
        "symbol": "m",
        "meaning": "mass",
        "unit": "kg",
        "also": ("g", "t"),
        "default": default,
        "lowest": "1e-9 kg",
        "highest": "1e9 kg",
        "slider": ("50 g", "1000 g"),
        "step": "50 g",
        "parameter": "mass",
    }
    return _made(ready, changes)


def stiffness(default: str = "20 N/m", **changes: Any) -> Input:
    """Return the input ``k``, a spring's constant; any part of it may be changed."""
    ready: dict[str, Any] = {
        "key": "k",
        "symbol": "k",
        "meaning": "spring constant",
        "unit": "N/m",
        "also": ("N/cm", "N/mm", "kN/m"),
        "default": default,
        "lowest": "1e-9 N/m",
        "highest": "1e12 N/m",
        "slider": ("5 N/m", "100 N/m"),
        "step": "5 N/m",
        "parameter": "stiffness",
    }
    return _made(ready, changes)


def resistance(default: str, **changes: Any) -> Input:
    """Return the input ``b``, the resisting force over the velocity; any part of it may be changed."""
    ready: dict[str, Any] = {
        "key": "b",
        "symbol": "b",
        "meaning": "damping constant: resistive force divided by velocity",
        "unit": "kg/s",
        "also": ("g/s",),
        "default": default,
        "lowest": "0 kg/s",
        "highest": "1e12 kg/s",
        "slider": ("0 kg/s", "3000 kg/s"),
        "step": "20 kg/s",
        "parameter": "damping",
        "help": "1 kg/s is the same as 1 N per m/s.",
    }
    return _made(ready, changes)


def gravity(default: str = "9.81 m/s2", **changes: Any) -> Input:
    """Return the input ``g``, the acceleration of free fall; any part of it may be changed."""
    ready: dict[str, Any] = {
        "key": "g",
        "symbol": "g",
        "meaning": "acceleration of free fall",
        "unit": "m/s2",
        "also": ("cm/s2",),
        "default": default,
        "lowest": "1e-6 m/s2",
        "highest": "1e6 m/s2",
        "slider": ("1.6 m/s2", "25 m/s2"),
        "step": "0.01 m/s2",
        "parameter": "gravity",
        "help": "Near the ground from 9.78 m/s² at the equator to 9.83 m/s² at the poles.",
    }
    return _made(ready, changes)


def amplitude(default: str = "12 cm", **changes: Any) -> Input:
    """Return the input ``A``, an amplitude; any part of it may be changed."""
    ready: dict[str, Any] = {
        "key": "A",
        "symbol": "A",
        "meaning": "amplitude",
        "unit": "m",
        "also": ("cm", "mm"),
        "default": default,
        "lowest": "1e-9 m",
        "highest": "1e9 m",
        "slider": ("1 cm", "50 cm"),
        "step": "1 cm",
        "parameter": "amplitude",
    }
    return _made(ready, changes)


def radius(default: str = "1.8 m", **changes: Any) -> Input:
    """Return the input ``r``, the radius of a turning wheel; any part of it may be changed."""
    ready: dict[str, Any] = {
        "key": "r",
        "symbol": "r",
        "meaning": "radius",
        "unit": "m",
        "also": ("cm", "mm", "km"),
        "default": default,
        "lowest": "1e-16 m",
        "highest": "1e22 m",
        "slider": ("0.1 m", "5 m"),
        "step": "0.1 m",
        "parameter": "radius",
        "help": "From the axle to the point that goes round.",
    }
    return _made(ready, changes)


def turning_rate(default: str = "4 rpm", **changes: Any) -> Input:
    """Return the input ``rate``, how fast a wheel turns, in any form; any part of it may be changed."""
    ready: dict[str, Any] = {
        "key": "rate",
        "symbol": r"\omega",
        "meaning": "angular velocity",
        "unit": "rad/s",
        "also": ("rpm", "deg/s", "Hz", "s"),
        "default": default,
        "lowest": "1e-18 rad/s",
        "highest": "1e20 rad/s",
        "slider": ("0.5 rpm", "60 rpm"),
        "step": "0.5 rpm",
        "parameter": "angular_frequency",
        "help": "Choose the unit for what you know: rad/s, turns per minute (rpm), degrees per second, turns per "
        "second "
        "(Hz), or the time for one turn (s).",
    }
    return _made(ready, changes)


def speed(default: str, **changes: Any) -> Input:
    """Return the input ``v``, a speed; any part of it may be changed."""
    ready: dict[str, Any] = {
        "key": "v",
        "symbol": "v",
        "meaning": "speed",
        "unit": "m/s",
        "also": ("km/h", "cm/s"),
        "default": default,
        "lowest": "1e-9 m/s",
        "highest": "1e6 m/s",
        "slider": ("1 m/s", "60 m/s"),
        "step": "1 m/s",
        "parameter": "speed",
    }
    return _made(ready, changes)


def static_friction(default: str, **changes: Any) -> Input:
    """Return the input ``mu``, a coefficient of static friction; any part of it may be changed."""
    ready: dict[str, Any] = {
        "key": "mu",
        "symbol": r"\mu",
        "meaning": "coefficient of static friction",
        "unit": "1",
        "default": default,
        "lowest": "0",
        "highest": "100",
        "slider": ("0", "1.2"),
        "step": "0.05",
        "parameter": "coefficient",
    }
    return _made(ready, changes)


def gravitational_constant(**changes: Any) -> Output:
    """Return the output ``G``, the gravitational constant; any part of it may be changed."""
    ready: dict[str, Any] = {
        "key": "G",
        "symbol": "G",
        "meaning": "gravitational constant",
        "unit": "m3/(kg s2)",
        "method": "A measured value: CODATA 2018, good to 22 parts in a million.",
        "digits": 6,
    }
    return _found(ready, changes)


def kepler_constant(**changes: Any) -> Output:
    """Return the output ``kepler``, radius cubed over period squared; any part of it may be changed."""
    ready: dict[str, Any] = {
        "key": "kepler",
        "symbol": "C",
        "meaning": "radius cubed over period squared",
        "unit": "m3/s2",
        "formula": "r**3/T**2",
        "method": "Kepler’s third law: the same for everything that orbits this body.",
    }
    return _found(ready, changes)
