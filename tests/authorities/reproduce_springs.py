"""Spring-mass period, vertical springs, springs together, energy, dry friction."""

from crankpin.mechanics import circular, energy, friction, harmonic, springs
from tests.authorities.printed import Record


def stiffness(r: Record) -> dict[str, float]:
    return {"k": springs.stiffness_for_rate(r["m"], circular.angular_frequency_from_period(r["T"]))}


def added_mass(r: Record) -> dict[str, float]:
    k = springs.stiffness_for_rate(r["m"], circular.angular_frequency_from_period(r["T1"]))
    return {"dm": springs.mass_for_rate(k, circular.angular_frequency_from_period(r["T2"])) - r["m"]}


def tuned_mass(r: Record) -> dict[str, float]:
    k = stiffness(r)["k"]
    return {"k": k, "E": energy.potential(k, r["A"])}


def rope_rates(r: Record) -> dict[str, float]:
    longer = springs.stiffness_of_length(r["k"], 2.0)
    return {
        "f": circular.frequency(springs.angular_frequency(r["k"], r["m"])),
        "f_double_length": circular.frequency(springs.angular_frequency(longer, r["m"])),
    }


def settling(r: Record) -> dict[str, float]:
    return {"k": springs.stiffness_from_stretch(r["m"], r["x"], r["g"])}


def scale(r: Record) -> dict[str, float]:
    k = springs.stiffness_from_stretch(r["m"], r["x"], r["g"])
    found = {"k": k, "m2": springs.mass_from_stretch(k, r["x2"], r["g"])}
    if "spacing" in r.expect:
        found["spacing"] = springs.static_stretch(r["dm"], k, r["g"])
    return found


def baby(r: Record) -> dict[str, float]:
    omega = springs.angular_frequency_from_stretch(r["x"], r["g"])
    return {
        "k": springs.stiffness_from_stretch(r["m"], r["x"], r["g"]),
        "T": circular.period(omega),
        "v_max": harmonic.greatest_speed(r["A"], omega),
    }


def pulled_down(r: Record) -> dict[str, float]:
    omega = springs.angular_frequency_from_stretch(r["stretch"], r["g"])
    return {
        "omega": omega,
        "T": circular.period(omega),
        "f": circular.frequency(omega),
        "amplitude": harmonic.amplitude_from_start(omega, r["x0"], 0.0),
    }


def hung(r: Record) -> dict[str, float]:
    stretch = springs.static_stretch(r["m"], r["k"], r["g"])
    return {
        "x": stretch,
        "dU_g": energy.gravitational(r["m"], r["g"], -stretch),
        "U_s": energy.potential(r["k"], stretch),
    }


def lost_in_the_fall(r: Record) -> dict[str, float]:
    kept = energy.potential(r["k"], r["d"])
    return {"W_f": kept + energy.gravitational(r["m"], r["g"], -r["d"])}


def climber(r: Record) -> dict[str, float]:
    longer = springs.stiffness_of_length(r["k"], 2.0)
    return {
        "f": circular.frequency(springs.angular_frequency(r["k"], r["m"])),
        "x": springs.stretch_after_fall(r["m"], r["k"], r["g"], r["h"]),
        "x_double": springs.stretch_after_fall(r["m"], longer, r["g"], r["h"]),
    }


def climber_simply(r: Record) -> dict[str, float]:
    given = energy.gravitational(r["m"], r["g"], r["h"])
    return {
        "x": energy.amplitude_for_energy(r["k"], given),
        "x_double": energy.amplitude_for_energy(springs.stiffness_of_length(r["k"], 2.0), given),
    }


def four_springs(r: Record) -> dict[str, float]:
    each = springs.stiffness_of_length(r["k"], r["n"])
    together = springs.side_by_side(*[each] * int(r["n"]))
    return {"x": springs.static_stretch(r["m"], together, r["g"]), "k_each": each}


def in_a_row(r: Record) -> dict[str, float]:
    k = springs.end_to_end(r["k1"], r["k2"])
    omega = springs.angular_frequency(k, r["m"])
    return {"k_eff": k, "omega": omega, "T": circular.period(omega)}


def rope_halves(r: Record) -> dict[str, float]:
    k = springs.end_to_end(r["k"], r["k"])
    return {"f_series": circular.frequency(springs.angular_frequency(k, r["m"]))}


def between_two(r: Record) -> dict[str, float]:
    return {"T": circular.period(springs.angular_frequency(r["k_eff"], r["m"]))}


def energy_of_speed(r: Record) -> dict[str, float]:
    return {"E": energy.kinetic(r["m"], r["v"])}


def energy_of_amplitude(r: Record) -> dict[str, float]:
    return {"E": energy.potential(r["k"], r["A"])}


def bridge(r: Record) -> dict[str, float]:
    more = energy.work_to_stretch(r["k"], r["A1"], r["A2"])
    return {"E": energy.potential(r["k"], r["A1"]), "t": more / r["P"]}


def stretched_twice(r: Record) -> dict[str, float]:
    k = energy.stiffness_for_energy(r["W"], r["x"])
    return {"k": k, "W2": energy.work_to_stretch(k, r["x"], 2.0 * r["x"])}


def pogo(r: Record) -> dict[str, float]:
    rise = energy.height_from_energy(energy.potential(r["k"], r["x"]), r["m"], r["g"])
    return {"h": rise - r["x"]}


def friction_path(r: Record) -> dict[str, float]:
    sliding = friction.greatest_held_stretch(r["mu"], r["m"], r["k"], r["g"])
    return {
        "F": friction.friction_force(r["mu"], r["m"], r["g"]),
        "d": friction.slide_by_energy(r["A"], sliding),
    }


def two_frictions(r: Record) -> dict[str, float]:
    held = friction.greatest_held_stretch(r["mu_s"], r["m"], r["k"], r["g"])
    sliding = friction.greatest_held_stretch(r["mu_k"], r["m"], r["k"], r["g"])
    return {"x_static": held, "total": friction.slide_to_rest(2.0 * held, held, sliding).path}


def ratio(r: Record) -> dict[str, float]:
    return {"A_ratio": energy.amplitude_ratio(r["I_ratio"])}


REPRODUCTIONS = {
    "sp-cuckoo": stiffness,
    "sp-add-mass": added_mass,
    "sp-citigroup": tuned_mass,
    "sp-climber-f": rope_rates,
    "vs-car-settle": settling,
    "vs-fish": scale,
    "vs-rugby": scale,
    "vs-baby": baby,
    "vs-400g": pulled_down,
    "vs-hung": hung,
    "vs-friction-fall": lost_in_the_fall,
    "vs-climber-stretch": climber,
    "vs-climber-simple": climber_simply,
    "sc-truck-four": four_springs,
    "sc-series-fitz": in_a_row,
    "sc-rope-halves": rope_halves,
    "sc-parallel-yf": between_two,
    "en-shocks-KE": energy_of_speed,
    "en-shocks-U": energy_of_amplitude,
    "en-bridge": bridge,
    "en-spring-6cm": stretched_twice,
    "en-pogo-height": pogo,
    "en-friction-distance": friction_path,
    "en-friction-two-mu": two_frictions,
    "en-intensity-ratio": ratio,
}
