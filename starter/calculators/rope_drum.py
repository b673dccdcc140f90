"""A calculator from formulas: change the lines in quotes. The file gives it its name on pages, rope-drum."""

from crankpin.calculator.short_form import calculator_from

calculator = calculator_from(
    title="A rope on a drum",
    purpose="How fast the rope runs off a drum that turns steadily.",
    # CHANGE: what the reader may change: key = value at first, from lowest to highest: what it is.
    given=[
        "d = 40 cm, from 10 cm to 120 cm: diameter of the drum",
        "T = 2.0 s, from 0.5 s to 10 s: period",
    ],
    # CHANGE: what is worked out, each from what stands above it: key = formula in unit: what it is.
    found=[
        "r = d/2 in cm: radius",
        "v = 2*pi*r/T in m/s: speed of the rope",
    ],
    # CHANGE: a value that you know to be right. "crankpin check" holds the calculator against it.
    check="d = 40 cm, T = 2.0 s gives v = 0.628 m/s",
    cautions=["Keep hands, hair and loose clothes away from a turning drum; your school’s own rules come first."],
)
