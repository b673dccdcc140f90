"""Moons and orbits."""

from crankpin.mechanics import circular, orbits
from tests.authorities.printed import Record


def moon_period(r: Record) -> dict[str, float]:
    return {"T": orbits.orbital_period(r["GM"], r["a"])}


def moon_speed(r: Record) -> dict[str, float]:
    return {"v": circular.rim_speed(r["a"], circular.angular_frequency_from_period(r["T"]))}


def third_law(r: Record) -> dict[str, float]:
    return {"k": orbits.kepler_ratio(r["r"], r["T"])}


def third_law_in_days(r: Record) -> dict[str, float]:
    return {"k": orbits.kepler_ratio(r["r"], r["T"]), "T_days": r["T"]}


def mass(r: Record) -> dict[str, float]:
    return {"M": orbits.gravitational_parameter(r["r"], r["T"]) / r["G"]}


def moon_acceleration(r: Record) -> dict[str, float]:
    omega = circular.angular_frequency_from_period(r["T"])
    return {"omega": omega, "a": circular.centripetal_acceleration(r["r"], omega)}


def satellite(r: Record) -> dict[str, float]:
    return {"T2": orbits.scaled_period(r["T1"], r["r2"] / r["r1"])}


def one_hour(r: Record) -> dict[str, float]:
    return {"r": orbits.orbital_radius(r["G"] * r["M"], r["T"])}


def one_hour_from_the_moon(r: Record) -> dict[str, float]:
    return {"r": orbits.scaled_radius(r["r1"], r["T"] / r["T1"])}


def space_station(r: Record) -> dict[str, float]:
    return {
        "v": orbits.orbital_speed(r["GM"], r["r"]),
        "T": orbits.orbital_period(r["GM"], r["r_T"]),
    }


def twice_the_speed(r: Record) -> dict[str, float]:
    closer = orbits.radius_ratio_for_speed(r["v_ratio"])
    return {"r_ratio": closer, "T_ratio": orbits.scaled_period(1.0, closer)}


def mass_ratio(r: Record) -> dict[str, float]:
    return {"ratio": orbits.parameter_from_ratio(r["kJ"]) / orbits.parameter_from_ratio(r["kE"])}


REPRODUCTIONS = {
    "mo-europa": moon_period,
    "mo-europa-speed": moon_speed,
    "mo-callisto": moon_period,
    "mo-callisto-speed": moon_speed,
    "mo-k3-europa": third_law,
    "mo-k3-callisto": third_law_in_days,
    "mo-ast-europa": moon_period,
    "mo-ast-callisto": moon_period,
    "mo-earth-mass": mass,
    "mo-moon-acc": moon_acceleration,
    "mo-satellite-1500km": satellite,
    "mo-one-hour": one_hour,
    "mo-one-hour-moon": one_hour_from_the_moon,
    "mo-iss-speed": space_station,
    "mo-asteroid": mass,
    "mo-orbit-ratio": twice_the_speed,
    "mo-jup-earth": mass_ratio,
}
