"""Damped oscillators; a circuit's L, R, 1/C stand for mass, damping and stiffness."""

from crankpin.mechanics import damping, energy, springs
from crankpin.mechanics.damping import Regime
from crankpin.mechanics.driving import static_displacement
from tests.authorities.printed import Record


def energy_lost(r: Record) -> dict[str, float]:
    return {"dE": damping.energy_lost_per_turn(damping.decrement_from_peaks(1.0, r["A_ratio"]))}


def frequency_of_a_halving_swing(r: Record) -> dict[str, float]:
    zeta = damping.damping_ratio_from_decrement(damping.decrement_from_peaks(1.0, r["A_ratio"]))
    return {"df": damping.frequency_shortfall(zeta)}


def turning_points(r: Record) -> dict[str, float]:
    constants = r["m"], r["k"], r["b"]
    period = damping.damped_period(*constants)
    return {
        "T": period,
        **{f"x{n}": damping.damped_motion(*constants, 1.0, 0.0, n * period).position for n in (1, 2, 10)},
    }


def decrement_two_ways(r: Record) -> dict[str, float]:
    return {
        "Lambda": damping.log_decrement(r["m"], r["k"], r["b"]),
        "Lambda_from_ratio": damping.decrement_from_peaks(1.0, r["A_ratio"]),
    }


def fall_in_q_turns(r: Record) -> dict[str, float]:
    return {"E_factor": damping.energy_fall_factor(1.0, r["n_over_Q"])}


def horn(r: Record) -> dict[str, float]:
    factor = damping.energy_fall_factor(r["Q"], r["Q"])
    return {"t": damping.energy_fall_time(r["Q"], r["f"], factor)}


def overdamped_circuit(r: Record) -> dict[str, float]:
    stiffness = 1.0 / r["C"]
    over = damping.regime(r["L"], stiffness, r["R"]) is Regime.OVERDAMPED
    assert over == (damping.damping_ratio(r["L"], stiffness, r["R"]) > 1.0)
    return {"E": energy.potential(stiffness, r["q0"]), "zeta_over_1": float(over)}


def swinging(mass: float, stiffness: float, b: float, x_0: float, v_0: float) -> dict[str, float]:
    return {
        "decay": damping.damping_coefficient(mass, b),
        "omega_d": damping.damped_angular_frequency(mass, stiffness, b),
        "c_sin": damping.swing_terms(mass, stiffness, b, x_0, v_0).sine,
    }


def given_constants(r: Record) -> dict[str, float]:
    return swinging(r["m"], r["k"], r["c"], r["x0"], r["v0"])


def overdamped_weight(r: Record) -> dict[str, float]:
    mass = r["W"] / r["g"]
    stiffness = springs.stiffness_from_stretch(mass, r["stretch"], r["g"])
    at = damping.damped_motion(mass, stiffness, r["c"], r["x0"], r["v0"], r["t"])
    return {"k": stiffness, "m": mass, "x_t": at.position, "v_t": at.velocity}


def critical_weight(r: Record) -> dict[str, float]:
    constants = r["m"], r["k"], r["c"]
    assert damping.regime(*constants) is Regime.CRITICAL
    return {
        "decay": damping.damping_coefficient(r["m"], r["c"]),
        "x_t": damping.damped_motion(*constants, r["x0"], r["v0"], r["t"]).position,
    }


def hung_and_swinging(r: Record) -> dict[str, float]:
    stiffness = springs.stiffness_from_stretch(r["m"], r["stretch"], r["g"])
    return {"k": stiffness, **swinging(r["m"], stiffness, r["c"], r["x0"], r["v0"])}


def taken_for_swinging(r: Record) -> dict[str, float]:
    stiffness = springs.stiffness_from_stretch(r["m"], r["stretch"], r["g"])
    critical = damping.regime(r["m"], stiffness, r["c"]) is Regime.CRITICAL
    return {"omega_d": 0.0 if critical else damping.damped_angular_frequency(r["m"], stiffness, r["c"])}


def suspension(r: Record) -> dict[str, float]:
    mass = r["W"] / r["g"]
    stiffness = springs.stiffness_from_stretch(mass, r["stretch"], r["g"])
    rates = damping.decay_rates(mass, stiffness, r["c"])
    terms = damping.creep_terms(mass, stiffness, r["c"], r["x0"], r["v0"])
    return {
        "k": stiffness,
        "m": mass,
        "root_slow": -rates.slow,
        "root_fast": -rates.fast,
        "C_slow": terms.slow,
        "C_fast": terms.fast,
    }


def charging(r: Record) -> dict[str, float]:
    settled = static_displacement(1.0 / r["C"], r["E"])
    start = r["q0"] - settled
    terms = damping.swing_terms(r["L"], 1.0 / r["C"], r["R"], start, r["i0"])
    return {
        "q_inf": settled,
        **swinging(r["L"], 1.0 / r["C"], r["R"], start, r["i0"]),
        "c_cos": terms.cosine,
    }


REPRODUCTIONS = {
    "da-half-per-cycle": energy_lost,
    "da-halved-freq": frequency_of_a_halving_swing,
    "da-sn-decay": turning_points,
    "da-log-dec-10pct": decrement_two_ways,
    "da-e2pi": fall_in_q_turns,
    "da-sax-decay": horn,
    "da-rlc-over": overdamped_circuit,
    "da-dq-rlc": given_constants,
    "da-over-ft": overdamped_weight,
    "da-crit-ft": critical_weight,
    "da-under-si": hung_and_swinging,
    "da-under-800lb": given_constants,
    "da-crit-misclassified": taken_for_swinging,
    "da-motorcycle": suspension,
    "da-rlc-charge": charging,
    "da-rlc-charge2": charging,
}
