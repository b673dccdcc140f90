"""A calculator from formulas. The file's name is the calculator's name on pages: bouncing-toy."""

from crankpin.calculator.short_form import calculator_from

calculator = calculator_from(
    title="A toy on a spring",
    purpose="How long one bounce of a toy on a light spring takes.",
    # CHANGE: what the reader may change.
    given=[
        "m = 100 g, from 20 g to 500 g: mass of the toy",
        "k = 10 N/m, from 2 N/m to 50 N/m: spring constant",
    ],
    # CHANGE: what is worked out. sqrt, sin, cos, pi and ** (to the power of) may be used.
    found=[
        "omega = sqrt(k/m) in rad/s: angular frequency",
        "T = 2*pi/omega in s: period",
    ],
    # CHANGE: a value that you worked out by hand.
    check="m = 100 g, k = 10 N/m gives T = 0.628 s",
    cautions=["A stretched spring can let go: wear eye protection; your school’s own rules come first."],
)
