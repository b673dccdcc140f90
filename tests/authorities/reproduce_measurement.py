"""Constants and units, uncertainty and rounding."""

from crankpin.mechanics import bends, constants, measurement
from tests.authorities.printed import Record


def standard_gravity(r: Record) -> dict[str, float]:
    return {"g_n": constants.STANDARD_GRAVITY}


def one_degree(r: Record) -> dict[str, float]:
    return {"rad": constants.DEGREE}


def estimate(r: Record) -> dict[str, float]:
    return {"y_rounded": measurement.rounded(r["y"], measurement.last_place(r["u"]))}


def rounded_up(r: Record) -> dict[str, float]:
    return {"u_rounded": measurement.rounded_up(r["u"])}


def pulse(r: Record) -> dict[str, float]:
    return {"rel": measurement.relative_uncertainty(r["y"], r["u"])}


def force(r: Record) -> dict[str, float]:
    return {"F": bends.centripetal_force(r["m"], r["a"])}


REPRODUCTIONS = {
    "co-gn": standard_gravity,
    "co-degree": one_degree,
    "un-gum-y": estimate,
    "un-gum-u-up": rounded_up,
    "un-pulse": pulse,
    "un-force": force,
}
