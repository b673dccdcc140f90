"""Period and frequency; position, velocity and acceleration; phase from the start.

In the circuit examples charge stands for position, current for velocity, inductance for mass and the
inverse of the capacitance for stiffness.
"""

import math

from crankpin.mechanics import circular, energy, friction, harmonic, springs
from tests.authorities.printed import Record


def frequency(r: Record) -> dict[str, float]:
    return {"f": circular.frequency(circular.angular_frequency_from_period(r["T"]))}


def period(r: Record) -> dict[str, float]:
    return {"T": circular.period(circular.angular_frequency_from_frequency(r["f"]))}


def between_zeros(r: Record) -> dict[str, float]:
    omega = circular.angular_frequency_from_frequency(r["f"])
    first, second = harmonic.passing_times(1.0, omega, 0.0, 0.0)
    return {"dt": second.time - first.time}


def block(r: Record) -> dict[str, float]:
    omega = springs.angular_frequency(r["k"], r["m"])
    return {
        "T": circular.period(omega),
        "omega": omega,
        "v_max": harmonic.greatest_speed(r["A"], omega),
        "a_max": harmonic.greatest_acceleration(r["A"], omega),
    }


def shadow(r: Record) -> dict[str, float]:
    return {"omega": r["n"], "v_max": harmonic.greatest_speed(r["r"], r["n"])}


def half_speed(r: Record) -> dict[str, float]:
    return {"x_over_A": harmonic.position_at_speed(1.0, 1.0, r["v_over_vmax"])}


def block_speeds(r: Record) -> dict[str, float]:
    return {
        "v_0": energy.energy_share(r["m"], r["k"], r["A"], 0.0).speed,
        "v_x": harmonic.speed_at(r["A"], springs.angular_frequency(r["k"], r["m"]), r["x"]),
    }


def stacked_blocks(r: Record) -> dict[str, float]:
    omega = springs.angular_frequency(r["k"], r["M"] + r["m"])
    grip = friction.friction_force(r["mu"], r["m"], r["g"]) / r["m"]
    return {"T": circular.period(omega), "A_max": harmonic.amplitude_for_acceleration(grip, omega)}


def circuit(r: Record) -> dict[str, float]:
    omega = springs.angular_frequency(1.0 / r["C"], r["L"])
    return {
        "omega": omega,
        "I0": harmonic.greatest_speed(r["q0"], omega),
        "T": circular.period(omega),
        "t_quarter": harmonic.passing_times(r["q0"], omega, 0.0, 0.0)[0].time,
    }


def circuit_maxima(r: Record) -> dict[str, float]:
    omega = circular.angular_velocity_from_speed(r["I_max"], r["q_max"])
    first, _ = harmonic.passing_times(r["q_max"], omega, 0.0, 0.0)
    return {"T": circular.period(omega), "t_quarter": first.time}


def circuit_rate(r: Record) -> dict[str, float]:
    return {"omega": springs.angular_frequency(1.0 / r["C"], r["L"])}


def shared_energy(r: Record) -> dict[str, float]:
    return {"q_over_qmax": energy.position_at_kinetic_share(1.0, 1.0 - r["U_ratio"])}


def truck(r: Record) -> dict[str, float]:
    omega = springs.angular_frequency(r["k"], r["m"])
    return {
        "omega": omega,
        "f": circular.frequency(omega),
        "amplitude": harmonic.amplitude_from_start(omega, r["x0"], r["v0"]),
        # the source writes C cos(omega t - gamma)
        "gamma": -harmonic.phase_from_start(omega, r["x0"], r["v0"]),
    }


def kick_limit(r: Record) -> dict[str, float]:
    return {"k_min": energy.stiffness_for_energy(energy.kinetic(r["m"], r["v0"]), r["x_max"])}


def released(r: Record) -> dict[str, float]:
    stiffness = springs.stiffness_from_stretch(r["W"] / r["g"], r["stretch"], r["g"])
    mass = springs.mass_from_stretch(stiffness, r["stretch"], r["g"])
    omega = springs.angular_frequency_from_stretch(r["stretch"], r["g"])
    amplitude = harmonic.amplitude_from_start(omega, r["x0"], r["v0"])
    phase = harmonic.phase_from_start(omega, r["x0"], r["v0"])
    found = {
        "k": stiffness,
        "m": mass,
        "omega": omega,
        "c_cos": harmonic.position(amplitude, omega, phase, 0.0),
        # x = c_cos cos(omega t) + c_sin sin(omega t), so c_sin is x a quarter period on
        "c_sin": harmonic.position(amplitude, omega, phase, 0.5 * math.pi / omega),
        "T": circular.period(omega),
        "f": circular.frequency(omega),
    }
    return {key: found[key] for key in r.expect}


def doubled_capacitance(r: Record) -> dict[str, float]:
    inverse = springs.stiffness_for_rate(r["L"], r["omega"])
    halved = springs.end_to_end(inverse, inverse)
    return {"C": 1.0 / inverse, "omega_2C": springs.angular_frequency(halved, r["L"])}


REPRODUCTIONS = {
    "pf-ultrasound": frequency,
    "pf-middle-c": period,
    "pf-mains": period,
    "pf-heart": period,
    "pf-fork": frequency,
    "pf-strobe": frequency,
    "pf-eu-mains-zero": between_zeros,
    "shm-block": block,
    "shm-merry-shadow": shadow,
    "shm-half-speed": half_speed,
    "shm-block-energy-speeds": block_speeds,
    "shm-blocks-slip": stacked_blocks,
    "shm-lc-analogue": circuit,
    "shm-lc-max-values": circuit_maxima,
    "shm-lc-omega": circuit_rate,
    "shm-lc-shared": shared_energy,
    "ph-truck": truck,
    "ph-kick-limit": kick_limit,
    "ph-us-release": released,
    "ph-us-kick": released,
    "ph-lc-zero-charge": doubled_capacitance,
}
