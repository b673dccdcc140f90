"""Uniform circular motion, rotation with constant angular acceleration, bends."""

from crankpin.mechanics import bends, circular, rotation
from tests.authorities.printed import Record


def tyre_life(r: Record) -> dict[str, float]:
    return {"N": circular.rolled_turns(r["s"], r["r"])}


def rate_from_speed(r: Record) -> dict[str, float]:
    omega = circular.angular_velocity_from_speed(r["v"], r["r"])
    return dict.fromkeys(r.expect, omega)


def car_on_a_curve(r: Record) -> dict[str, float]:
    a = circular.centripetal_acceleration_from_speed(r["v"], r["r"])
    return {"a": a, "a_over_g": circular.gravity_ratio(a, r["g"])}


def ultracentrifuge(r: Record) -> dict[str, float]:
    a = circular.centripetal_acceleration(r["r"], r["n"])
    return {"omega": r["n"], "a": a, "a_over_g": circular.gravity_ratio(a, r["g"])}


def fairground(r: Record) -> dict[str, float]:
    return {"n": circular.angular_speed_from_acceleration(r["a_over_g"] * r["g"], r["r"])}


def grindstone(r: Record) -> dict[str, float]:
    a = circular.centripetal_acceleration(r["r"], r["n"])
    return {"a": a, "a_over_g": circular.gravity_ratio(a, r["g"]), "v": circular.rim_speed(r["r"], r["n"])}


def skater(r: Record) -> dict[str, float]:
    return {
        "omega": r["f1"],
        "a1": circular.centripetal_acceleration(r["r"], r["f1"]),
        "a2": circular.centripetal_acceleration(r["r"], r["f2"]),
    }


def jet_tyre(r: Record) -> dict[str, float]:
    radius = 0.5 * r["D"]
    a = circular.centripetal_acceleration_from_speed(r["v"], radius)
    return {
        "n": circular.angular_velocity_from_speed(r["v"], radius),
        "a": a,
        "F": bends.centripetal_force(r["m"], a),
        "F_over_weight": circular.gravity_ratio(a, r["g"]),
    }


def particle(r: Record) -> dict[str, float]:
    return {"a": circular.centripetal_acceleration_from_speed(r["v"], r["r"])}


def venus(r: Record) -> dict[str, float]:
    omega = circular.angular_frequency_from_period(r["T"])
    return {
        "T_s": circular.period(omega),
        "v": circular.rim_speed(r["r"], omega),
        "a": circular.centripetal_acceleration(r["r"], omega),
    }


def fan(r: Record) -> dict[str, float]:
    return {
        "f": circular.frequency(r["n"]),
        "v": circular.rim_speed(r["r"], r["n"]),
        "a": circular.centripetal_acceleration(r["r"], r["n"]),
    }


def flywheel_rim(r: Record) -> dict[str, float]:
    omega = circular.angular_speed_from_acceleration(r["a"], r["r"])
    return {"v": circular.rim_speed(r["r"], omega)}


def proton(r: Record) -> dict[str, float]:
    omega = circular.angular_velocity_from_speed(r["v"], r["r"])
    at = circular.plane_motion(r["r"], omega, circular.angle(omega, r["t"], r["phase0"]))
    return {"T": circular.period(omega), "omega": omega, "x": at.x, "y": at.y}


def flat_bend(r: Record) -> dict[str, float]:
    return {"mu": bends.friction_needed(r["v"], r["r"], r["g"])}


def greatest_speed(r: Record) -> dict[str, float]:
    return {"v": bends.greatest_speed_on_flat(r["mu"], r["r"], r["g"])}


def banked(r: Record) -> dict[str, float]:
    return {"v": bends.speed_for_bank(r["theta"], r["r"], r["g"])}


def bobsled(r: Record) -> dict[str, float]:
    radius = bends.radius_for_bank(r["v"], r["theta"], r["g"])
    a = circular.centripetal_acceleration_from_speed(r["v"], radius)
    return {"r": radius, "a": a, "a_over_g": circular.gravity_ratio(a, r["g"])}


def centrifuge_cage(r: Record) -> dict[str, float]:
    a = r["a_over_g"] * r["g"]
    return {
        "omega": circular.angular_speed_from_acceleration(a, r["r"]),
        "theta": bends.hanging_angle(a, r["g"]),
    }


def bike_wheel(r: Record) -> dict[str, float]:
    return {
        "omega": r["n"],
        "alpha": rotation.angular_acceleration(0.0, r["n"], r["t"]),
        "t_stop": rotation.stopping_time(r["n"], r["alpha_brake"]),
    }


def motorcycle(r: Record) -> dict[str, float]:
    alpha = rotation.angular_acceleration(0.0, circular.angular_velocity_from_speed(r["v"], r["r"]), r["t"])
    return {"a": rotation.tangential_acceleration(r["r"], alpha), "alpha": alpha}


def reel(r: Record) -> dict[str, float]:
    omega = rotation.rate_after(0.0, r["alpha"], r["t"])
    angle = rotation.angle_after(0.0, r["alpha"], r["t"])
    return {
        "omega": omega,
        "v": circular.rim_speed(r["r"], omega),
        "N": circular.turns(angle),
        "s": circular.arc_length(r["r"], angle),
    }


def reel_stop(r: Record) -> dict[str, float]:
    return {"t": rotation.stopping_time(r["omega0"], r["alpha"])}


def train(r: Record) -> dict[str, float]:
    omega = rotation.rate_through(0.0, r["alpha"], r["N"])
    return {
        "s": circular.arc_length(r["r"], r["N"]),
        "omega": omega,
        "v": circular.rim_speed(r["r"], omega),
    }


def fly(r: Record) -> dict[str, float]:
    theta = circular.angle(r["n"], r["t"])
    return {"theta": theta, "s": circular.arc_length(r["r"], theta)}


def gyroscope(r: Record) -> dict[str, float]:
    return {
        "t": rotation.stopping_time(r["omega0"], r["alpha"]),
        "N": rotation.stopping_angle(r["omega0"], r["alpha"]),
    }


def yoyo(r: Record) -> dict[str, float]:
    alpha = rotation.angular_acceleration_of_rim(r["a"], r["r"])
    return {
        "alpha": alpha,
        "omega": rotation.rate_after(0.0, alpha, r["t"]),
        "a_t": rotation.tangential_acceleration(r["R"], alpha),
    }


def one_lap(r: Record) -> dict[str, float]:
    return {"omega": circular.angular_frequency_from_period(r["T"])}


def through_an_angle(r: Record) -> dict[str, float]:
    return {
        "omega": rotation.rate_through(0.0, r["alpha"], r["theta"]),
        "t": rotation.time_through(0.0, r["alpha"], r["theta"]),
    }


def at_a_time(r: Record) -> dict[str, float]:
    omega = rotation.rate_after(r["omega0"], r["alpha"], r["t"])
    found = {
        "omega": omega,
        "theta": rotation.angle_after(r["omega0"], r["alpha"], r["t"]),
        "v": circular.rim_speed(r["r"], omega),
        "a_t": rotation.tangential_acceleration(r["r"], r["alpha"]),
    }
    return {key: found[key] for key in r.expect}


def turbine(r: Record) -> dict[str, float]:
    alpha = rotation.angular_acceleration(r["f"], 0.0, r["t"])
    inward = circular.centripetal_acceleration(r["r"], r["f"])
    size, angle = rotation.total_acceleration(inward, rotation.tangential_acceleration(r["r"], alpha))
    return {"alpha": alpha, "a_c": inward, "a_total": size, "angle": angle}


def run_down(r: Record) -> dict[str, float]:
    alpha = rotation.angular_acceleration(r["n0"], 0.0, r["t"])
    return {"omega0": r["n0"], "alpha": alpha, "theta": rotation.stopping_angle(r["n0"], alpha)}


REPRODUCTIONS = {
    "ucm-tyre-life": tyre_life,
    "ucm-forearm": rate_from_speed,
    "ucm-truck-rpm": rate_from_speed,
    "ucm-car-curve": car_on_a_curve,
    "ucm-ultracentrifuge": ultracentrifuge,
    "ucm-fairground-1.5g": fairground,
    "ucm-grindstone": grindstone,
    "ucm-skater": skater,
    "ucm-jet-tyre": jet_tyre,
    "ucm-particle-20": particle,
    "ucm-venus": venus,
    "ucm-fan": fan,
    "ucm-flywheel-rim": flywheel_rim,
    "ucm-proton": proton,
    "cf-flat-bend": flat_bend,
    "cf-max-speed": greatest_speed,
    "cf-bank-65": banked,
    "cf-bank-31": banked,
    "cf-bobsled": bobsled,
    "cf-centrifuge-10g": centrifuge_cage,
    "cf-rail-5deg": banked,
    "cf-unbanked-30": flat_bend,
    "rot-bike-wheel": bike_wheel,
    "rot-motorcycle": motorcycle,
    "rot-reel": reel,
    "rot-reel-stop": reel_stop,
    "rot-train": train,
    "rot-fly-oven": fly,
    "rot-gyro-down": gyroscope,
    "rot-yoyo": yoyo,
    "rot-track-star": one_lap,
    "rot-300rad": through_an_angle,
    "rot-wheel-10s": at_a_time,
    "rot-disk-5s": at_a_time,
    "rot-turbine-accel": turbine,
    "rot-7000rpm": run_down,
}
