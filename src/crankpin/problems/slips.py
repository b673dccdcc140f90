"""The slips that students make, by name: what is said of each, and how it changes what goes into the working.

A problem names a slip in one of three ways:

    diameter_for_radius = "r"                 the quantity it happens to; the change is known here
    f_for_omega = "omega = 1/T"               quantities with other expressions in their place
    squared_forgotten = "r*omega"             the wrong answer itself

What is said leads to the mistake and never gives the answer.
"""

import re
from dataclasses import dataclass

from crankpin.problems.declaration import Slip
from crankpin.problems.faults import WordingError


@dataclass(frozen=True, slots=True)
class KnownSlip:
    """What is said of a slip, and what it does to the quantity it happens to ("" where a problem must say)."""

    says: str
    change: str = ""


SLIPS: dict[str, KnownSlip] = {
    "degrees_for_radians": KnownSlip(
        "Was your pocket calculator set to degrees? The angle in this formula is in radians.", "{}*pi/180"
    ),
    "radians_for_degrees": KnownSlip(
        "Was your pocket calculator set to radians? This angle is given in degrees.", "{}*180/pi"
    ),
    "f_for_omega": KnownSlip(
        "Look at what you put in for the rate: the frequency counts turns, the angular frequency counts radians.",
        "{}/(2*pi)",
    ),
    "omega_for_f": KnownSlip(
        "Look at the rate once more: the angular frequency counts radians, and here turns are counted.", "{}*2*pi"
    ),
    "period_for_frequency": KnownSlip(
        "A period and a frequency are each one over the other. Which of them does your formula want?", "1/{}"
    ),
    "lost_minus": KnownSlip("The size may be right. Look at the signs: which way does it point?", "-{}"),
    "peak_to_peak": KnownSlip(
        "Is that the amplitude? It reaches from the middle to one end, half of the whole way across.", "2*{}"
    ),
    "amplitude_for_peak_to_peak": KnownSlip(
        "The amplitude reaches from the middle to one end; here the whole way across counts.", "{}/2"
    ),
    "diameter_for_radius": KnownSlip("Did the diameter go in where the formula wants the radius?", "2*{}"),
    "radius_for_diameter": KnownSlip("Did the radius go in where the diameter counts?", "{}/2"),
    "grams_left_in": KnownSlip("Look at the mass: in newtons and joules it must be in kilograms.", "1000*{}"),
    "centimetres_left_in": KnownSlip("Look at the lengths: was one left in centimetres?", "100*{}"),
    "millimetres_left_in": KnownSlip("Look at the lengths: was one left in millimetres?", "1000*{}"),
    "minutes_left_in": KnownSlip("Look at the times: was one left in minutes?", "{}/60"),
    "half_turn_for_turn": KnownSlip("Is that one whole period, there and back?", "{}/2"),
    "two_turns_for_turn": KnownSlip("Is that one period only? Count the passings in one direction.", "2*{}"),
    "rounded_early": KnownSlip(
        "The way looks right, but a number on it was rounded too early. Keep all digits until the end.",
        "rounded({}, 2)",
    ),
    "squared_forgotten": KnownSlip("Look at the powers: something that should be squared was not."),
    "squared_twice": KnownSlip("Look at the powers: something was squared that should not be."),
    "root_forgotten": KnownSlip("Is there a square root still to take?"),
    "half_forgotten": KnownSlip("Look for a factor of two: where does the formula have a half?"),
    "two_pi_forgotten": KnownSlip("Look for 2π: a whole turn has that many radians."),
    "sine_for_cosine": KnownSlip("Sine or cosine? Ask where the motion is when the clock starts."),
    "cosine_for_sine": KnownSlip("Cosine or sine? Ask where the motion is when the clock starts."),
    "speed_for_acceleration": KnownSlip("Is that a speed? An acceleration is asked for."),
    "small_angle": KnownSlip("The formula for small swings was used. Is this swing small enough for it?"),
    "upside_down": KnownSlip("Is the fraction the right way up? Try it with the units."),
    "weight_for_mass": KnownSlip("Mass or weight? One is in kilograms, the other in newtons."),
    "mass_for_weight": KnownSlip("Mass or weight? A force is needed here, in newtons."),
    "weight_left_out": KnownSlip("Draw every force on it. Is the weight among them?"),
    "one_for_all": KnownSlip("Is that the share of one alone? Count how many there are."),
    "values_swapped": KnownSlip("Which number belongs to which symbol? Two of them may have changed places."),
    "from_rest_position": KnownSlip("From where did you measure? The displacement counts from the equilibrium."),
    "added_straight": KnownSlip("These do not simply add: they are out of step, or independent of each other."),
    "percent_for_fraction": KnownSlip(
        "A percentage is a number of hundredths: look where the point belongs.", "100*{}"
    ),
}

_CHANGE = re.compile(r"(?P<key>[A-Za-z]\w*)\s*=(?!=)\s*(?P<expression>.+)")
_KEY = re.compile(r"[A-Za-z]\w*")


def read_slip(name: str, written: object, line: int) -> Slip:
    """Return the slip that a line of the declaration names. Raises `WordingError`."""
    value, says = _parts(name, written)
    known = SLIPS.get(name)
    if known is None and not says:
        raise WordingError(
            f"{name} is not a slip that has its own words yet; write {name} = "
            '{ is = "…", says = "…" }, or use one of ' + ", ".join(SLIPS)
        )
    if set(says) & set("$*_`{}<"):
        raise WordingError(f"{name}: what is said must be plain words, without formulas or Markdown")
    said = says or (known.says if known else "")
    if known and known.change and _KEY.fullmatch(value):
        return Slip(name, said, ((value, known.change.format(value)),), line=line)
    changes = [_CHANGE.fullmatch(part.strip()) for part in value.split(";")]
    if all(changes):
        return Slip(name, said, tuple((found["key"], found["expression"]) for found in changes if found), line=line)
    if ";" in value:
        raise WordingError(f"{name}: “{value}” must be changes such as r = 2*r, with semicolons between them")
    return Slip(name, said, expression=value, line=line)


def _parts(name: str, written: object) -> tuple[str, str]:
    if isinstance(written, str):
        return written.strip(), ""
    if isinstance(written, dict) and isinstance(written.get("is"), str) and set(written) <= {"is", "says"}:
        return written["is"].strip(), str(written.get("says", ""))
    raise WordingError(f'{name} must be a text, or {{ is = "…", says = "…" }} with the words that are said')
