"""Simple, finite-amplitude, physical and torsion pendulums."""

import math

from crankpin.mechanics import inertia, pendulum
from crankpin.mechanics.constants import DAY
from tests.authorities.printed import Record


def length_from_period(r: Record) -> dict[str, float]:
    return {"L": pendulum.length_for_period(r["T"], r["g"])}


def small_period(r: Record) -> dict[str, float]:
    return {"T": pendulum.small_swing_period(r["L"], r["g"])}


def small_frequency(r: Record) -> dict[str, float]:
    return {"f": 1.0 / pendulum.small_swing_period(r["L"], r["g"])}


def moved_period(r: Record) -> dict[str, float]:
    length = pendulum.length_for_period(r["T1"], r["g1"])
    return {"T2": pendulum.small_swing_period(length, r["g2"])}


def moved_gravity(r: Record) -> dict[str, float]:
    length = pendulum.length_for_period(r["T1"], r["g1"])
    return {"g2": pendulum.gravity_from_period(length, r["T2"])}


def scaled_lengths(r: Record) -> dict[str, float]:
    unit = pendulum.small_swing_period(1.0, 1.0)
    return {
        "T_ratio": pendulum.small_swing_period(r["L_ratio"], 1.0) / unit,
        "T_ratio2": pendulum.small_swing_period(r["L_ratio2"], 1.0) / unit,
    }


def gaining_clock(r: Record) -> dict[str, float]:
    return {"dL_over_L": pendulum.small_length_change(r["gain"] * DAY)}


def struck_bob(r: Record) -> dict[str, float]:
    speed = r["m"] * r["u"] / (r["M"] + r["m"])  # the two stick together
    return {
        "omega": math.tau / pendulum.small_swing_period(r["L"], r["g"]),
        "theta_max": pendulum.amplitude_from_speed(speed, r["L"], r["g"]),
    }


def turning_plane(r: Record) -> dict[str, float]:
    return {
        "T": pendulum.small_swing_period(r["L"], r["g"]),
        "precession": pendulum.plane_turning_rate(r["latitude"], r["sidereal_rate"]),
    }


def error_of_small_swing(r: Record) -> dict[str, float]:
    return {"rel_err": -pendulum.daily_drift(r["theta0"]) / DAY}


def departure(r: Record) -> dict[str, float]:
    return {"rel": -pendulum.daily_drift(r["theta0"]) / DAY}


def wide_swing(r: Record) -> dict[str, float]:
    return {"T": pendulum.swing_period(r["L"], r["g"], r["theta0"])}


def quarter_period(r: Record) -> dict[str, float]:
    return {"K": pendulum.quarter_period(r["m"])}


def quarter_period_and_ratio(r: Record) -> dict[str, float]:
    return {**quarter_period(r), "T_ratio_90deg": pendulum.period_ratio(2 * math.asin(math.sqrt(r["m"])))}


def quarter_period_of_modulus(r: Record) -> dict[str, float]:
    return {"K": pendulum.quarter_period(r["k"] ** 2)}


def metre_stick_pivot(r: Record) -> dict[str, float]:
    nearer, _ = pendulum.pivot_distances(inertia.rod(1.0, r["L"]), 1.0, r["T"], r["g"])
    return {"x": nearer}


def metre_stick_period(r: Record) -> dict[str, float]:
    about_pivot = inertia.about_parallel_axis(inertia.rod(1.0, r["L"]), 1.0, r["x"])
    return {"T": pendulum.rigid_pendulum_period(about_pivot, 1.0, r["x"], r["g"])}


def rod_from_its_end(r: Record) -> dict[str, float]:
    about_end = inertia.about_parallel_axis(inertia.rod(1.0, 1.0), 1.0, 0.5)
    rod = pendulum.rigid_pendulum_period(about_end, 1.0, 0.5, 1.0)
    assert math.isclose(pendulum.equivalent_length(about_end, 1.0, 0.5), r["L_ratio"], rel_tol=1e-15)
    return {"T_ratio": rod / pendulum.small_swing_period(1.0, 1.0)}


def disc_on_its_rim(r: Record) -> dict[str, float]:
    about_rim = inertia.about_parallel_axis(inertia.disc(1.0, r["R"]), 1.0, r["R"])
    return {"T": pendulum.rigid_pendulum_period(about_rim, 1.0, r["R"], r["g"])}


def other_pivot(r: Record) -> dict[str, float]:
    return {"r": pendulum.conjugate_distance(inertia.disc(1.0, r["R"]), 1.0, r["R"])}


def disc_on_a_wire(r: Record) -> dict[str, float]:
    about_wire = inertia.disc(r["m"], r["R"])
    return {"I": about_wire, "kappa": pendulum.torsion_stiffness(about_wire, r["T"])}


def sphere_on_a_wire(r: Record) -> dict[str, float]:
    kappa = r["tau"] / r["theta"]
    return {"kappa": kappa, "T": pendulum.torsion_period(kappa, inertia.sphere(r["m"], r["R"]))}


REPRODUCTIONS = {
    "pe-half-s": length_from_period,
    "pe-1m": small_period,
    "pe-swing-4m": small_period,
    "pe-parakeets": small_frequency,
    "pe-move-3s": moved_period,
    "pe-move-2s": moved_gravity,
    "pe-double-length": scaled_lengths,
    "pe-gains-5s": gaining_clock,
    "pe-collision": struck_bob,
    "pe-foucault": turning_plane,
    "fa-dq-90": error_of_small_swing,
    "fa-dq-45": error_of_small_swing,
    "fa-dq-5": error_of_small_swing,
    "fa-gmu-30": wide_swing,
    "fa-gmu-40": wide_swing,
    "fa-gmu-50": wide_swing,
    "fa-gmu-70": wide_swing,
    "fa-gmu-depart-1": departure,
    "fa-K-half": quarter_period_and_ratio,
    "fa-gsl-k0p99": quarter_period_of_modulus,
    "fa-gsl-k0p01": quarter_period_of_modulus,
    "fa-km-05": quarter_period,
    "fa-km-10": quarter_period,
    "fa-km-15": quarter_period,
    "fa-km-30": quarter_period,
    "pp-metre-stick": metre_stick_pivot,
    "pp-metre-stick-root2": metre_stick_period,
    "pp-rod-end-vs-simple": rod_from_its_end,
    "pp-disk-rim": disc_on_its_rim,
    "pp-disk-half": other_pivot,
    "tp-ncert-disc": disc_on_a_wire,
    "tp-yf-disk": disc_on_a_wire,
    "tp-hr-sphere": sphere_on_a_wire,
}
