"""The worked lines and the data that a page receives."""

import json
from pathlib import Path

from crankpin.calculator.catalogue import load_catalogue
from crankpin.calculator.curves import Axis, Curve, Drawing, Mark, Panel, Picture, drawn, spread
from crankpin.calculator.declaration import Output
from crankpin.calculator.evaluate import evaluate
from crankpin.calculator.faults import Absent
from crankpin.calculator.rendering import TexScript, TextScript, WordsScript
from crankpin.calculator.serialise import answer
from crankpin.calculator.working import formula_gap, quantity_mathml, working
from tests.calculator.test_evaluate import calculator


def test_formula_numbers_and_result() -> None:
    (line,) = working(evaluate(calculator()), TextScript())
    assert (line.symbols, line.numbers, line.result) == ("d = 2 A", "2 × 0.12 m", "24.0 cm")
    (line,) = working(evaluate(calculator()), TexScript())
    assert (line.symbols, line.numbers) == (r"d = 2\,A", r"2 \times 0.12\,\text{m}")
    (line,) = working(evaluate(calculator()), WordsScript())
    assert line.symbols == "d equals 2 times A"


def test_an_absent_output_has_no_working_line() -> None:
    assert working(evaluate(calculator(function=lambda A: {"d": Absent("No.")}))) == []


def test_a_formula_may_be_chosen_by_the_values() -> None:
    outputs = (Output(key="d", symbol="d", meaning="d", unit="m", formula=lambda v: "2*A" if v["A"] > 1 else "A + A"),)
    one = calculator(outputs=outputs)
    assert working(evaluate(one), TextScript())[0].symbols == "d = A + A"
    assert working(evaluate(one, {"A": "2 m"}), TextScript())[0].symbols == "d = 2 A"


def test_a_formula_that_disagrees_is_seen() -> None:
    outputs = (Output(key="d", symbol="d", meaning="d", unit="m", formula="2.5*A"),)
    one = calculator(outputs=outputs)
    assert abs(formula_gap(evaluate(one), one.outputs[0]) - 0.2) < 1e-12


def test_quantities_as_mathml() -> None:
    assert quantity_mathml("−1.20×10⁻³ m/s²") == (
        '<mrow><mo form="prefix">−</mo><mn>1.20</mn><mo>×</mo><msup><mn>10</mn><mn>−3</mn></msup>'
        "<mtext>\u00a0m/s²</mtext></mrow>"
    )
    assert quantity_mathml("90.0°") == "<mrow><mn>90.0</mn><mtext>°</mtext></mrow>"


PICTURE = Picture(
    caption="A line",
    panels=(
        Panel(
            horizontal=Axis(symbol="t", meaning="time", unit="s"),
            vertical=Axis(symbol="x", meaning="position", unit="m", shown_in="A"),
            curves=(Curve(key="x", label="x", role="position"), Curve(key="lost", label="lost")),
            marks=(Mark(key="now", label="now"), Mark(key="gone", label="gone")),
        ),
    ),
    draw=lambda v: Drawing(
        {"x": ([0.0, 1.0], [0.0, v["A"]]), "lost": ([0.0, 1.0], [0.0, float("inf")])},
        {"now": (1.0, v["A"]), "gone": None},
    ),
)


def test_a_picture_comes_in_the_units_shown_and_leaves_out_what_is_not_finite() -> None:
    picture = drawn(PICTURE, {"A": 0.12}, {"A": "cm"})
    (panel,) = picture.panels
    assert (panel.horizontal.title, panel.vertical.title) == ("t / s", "x / cm")
    assert [curve.curve.key for curve in panel.curves] == ["x"]
    assert list(panel.curves[0].ys) == [0.0, 12.0]
    assert [(mark.key, x, y) for mark, x, y in panel.marks] == [("now", 1.0, 12.0)]
    assert picture.words == (
        "x: position against time from 0 s to 1.00 s; begins at 0 cm, highest 12.0 cm, lowest 0 cm, ends at 12.0 cm. "
        "now: 1.00 s, 12.0 cm."
    )


def test_spread_meets_both_ends() -> None:
    times = spread(0.0, 0.7, 8)
    assert (times[0], times[-1], len(times)) == (0.0, 0.7, 8)


def test_an_answer_is_plain_data_with_its_curves_in_one_array() -> None:
    told, numbers = answer("try-it", calculator(picture=PICTURE), {"A": "12 cm"})
    assert json.loads(json.dumps(told)) == told
    named = {"symbol": "<mi>A</mi>", "meaning": "amplitude"}
    given = {"value": 0.12, "unit": "m", "text": "12.0 cm", "chosen": "cm", "typed": "12"}
    assert told["inputs"]["A"] == given | named
    found = {"value": 0.24, "unit": "m", "text": "24.0 cm", "full": "24.0 cm", "chosen": "cm"}
    assert told["outputs"]["d"] == found
    curve = told["picture"]["panels"][0]["curves"][0]
    assert list(numbers[curve["start"] : curve["start"] + 2 * curve["count"]]) == [0.0, 1.0, 0.0, 12.0]


def test_faults_come_as_data() -> None:
    told, numbers = answer("try-it", calculator(), {"A": "x"})
    assert [fault["key"] for fault in told["faults"]] == ["A"]
    assert len(numbers) == 0


def test_numbers_put_in_have_the_digits_of_their_own_results() -> None:
    two_means = load_catalogue(Path("calculators"))["two-means"]
    by_key = {line.key: line for line in working(evaluate(two_means, {}), TextScript())}
    assert by_key["a_1"].numbers == "(1 + 0.707106781)/2"
    assert by_key["b_0"].numbers == "cos((1.570796327 rad)/2)"


def test_a_long_number_of_a_formula_stands_in_groups() -> None:
    pendulum = load_catalogue(Path("calculators"))["pendulum"]
    found = evaluate(pendulum, {})
    scripts = (TextScript, TexScript, WordsScript)
    drift = [output.key for output in pendulum.outputs].index("drift")
    written = {script: working(found, script())[drift].symbols for script in scripts}
    assert "86\u202f400" in written[TextScript]
    assert r"86\,400" in written[TexScript]
    assert "86400" in written[WordsScript]
