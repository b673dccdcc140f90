"""TeX to MathML: what each mend does to the converter's output, and how faults read."""

import pytest

from crankpin.calculator.rendering import MathmlScript
from crankpin.faults import AuthorError
from crankpin.formulas.mathml import as_text, convert, mathml, title_words, words


def test_vectors_carry_an_arrow_that_is_drawn_over_the_letter() -> None:
    assert mathml(r"\vec{v}", display=False) == (
        '<math><mover><mi>v</mi><mo stretchy="false" class="vector">→</mo></mover></math>'
    )


@pytest.mark.parametrize(
    ("tex", "number"),
    [
        (r"12\,345", "12\u2009345"),
        (r"12\,345.67", "12\u2009345.67"),
        (r"1\,234\,567", "1\u2009234\u2009567"),
        (r"12\,345.678\,9", "12\u2009345.678\u20099"),
        (r"0.123\,456\,7", "0.123\u2009456\u20097"),
    ],
)
def test_a_grouped_number_is_one_number(tex: str, number: str) -> None:
    assert f"<mn>{number}</mn>" in mathml(tex, display=False)
    assert mathml(tex, display=False).count("<mn>") == 1


def test_a_unit_alone_has_no_space_before_it() -> None:
    assert mathml(r"\unit{s}", display=False) == '<math><mrow><mi mathvariant="normal">s</mi></mrow></math>'


def test_two_numbers_side_by_side_stay_two() -> None:
    assert mathml(r"2\,\pi\,12", display=False).count("<mn>") == 2
    assert mathml(r"3\,45", display=False).count("<mn>") == 2


@pytest.mark.parametrize(
    ("tex", "part"),
    [
        (r"\dd t", '<mi mathvariant="normal">d</mi>'),
        (r"\ee^{x}", '<mi mathvariant="normal">e</mi>'),
        (r"3\unit{m}", '<mspace width="0.16666667em"/><mrow><mi mathvariant="normal">m</mi></mrow>'),
        (r"-x", "−"),
        (r"\bar{x}", '<mover><mi>x</mi><mo stretchy="false" class="mark">¯</mo></mover>'),
        (r"\ddot{x}", '<mover><mi>x</mi><mo class="mark">¨</mo></mover>'),
        (r"\cos x", "\u2061"),
    ],
)
def test_own_commands_and_mends(tex: str, part: str) -> None:
    assert part in mathml(tex, display=False)


@pytest.mark.parametrize(
    "tex",
    [r"\begin{aligned}a&=b\\&=c\end{aligned}", r"\begin{cases}a&b\\c&d\end{cases}", r"\begin{pmatrix}1&2\end{pmatrix}"],
)
def test_no_style_attribute_is_left(tex: str) -> None:
    assert " style=" not in mathml(tex, display=True)


@pytest.mark.parametrize(
    ("tex", "message"),
    [
        (r"a = \foo", r'the formula a = \foo cannot be read at "\foo": Unknown command "\foo"'),
        (r"\frac{a", r"the formula \frac{a cannot be read at its end"),
        (r"\boxed{x}", "which browsers do not draw"),
        (r"\textcolor{red}{x}", "colours and boxes belong to the theme"),
    ],
)
def test_a_fault_names_the_formula_and_the_place(tex: str, message: str) -> None:
    with pytest.raises(AuthorError) as told:
        mathml(tex, display=False)
    assert message in str(told.value)


def test_wrappers_become_maths_and_punctuation_stays_on_the_line() -> None:
    page = r'<p>at <span class="arithmatex">\(x&lt;y\)</span>, and <span class="arithmatex">\(z\)</span> then</p>'
    done = convert(page)
    assert '<span class="math-in-line"><math>' in done
    assert "</math>,</span>" in done
    assert "<mo>&lt;</mo>" in done
    assert "arithmatex" not in done


def test_an_opening_bracket_stays_with_its_formula() -> None:
    done = convert(
        r'<p>smaller (<span class="arithmatex">\(v^2/r\)</span>) and “<span class="arithmatex">\(z\)</span></p>'
    )
    assert 'smaller <span class="math-in-line">(<math>' in done
    assert "</math>)</span>" in done
    assert '<span class="math-in-line">“<math>' in done


def test_pi_is_a_number_and_stands_upright_as_in_the_workings() -> None:
    upright = MathmlScript().name("pi")
    assert f"<mn>2</mn>{upright}<mi>f</mi>" in mathml(r"2\pi f", display=False)
    assert upright in mathml(r"2π", display=False)


def test_displayed_maths_gets_a_box_of_its_own() -> None:
    done = convert('<div class="arithmatex">\\[\na &amp;lt; b\n\\]</div>')
    assert done.startswith('<div class="eq"><math display="block">')
    assert "&lt;" in done


@pytest.mark.parametrize(
    ("tex", "text"),
    [
        (r"\omega = 2\pi f", "ω = 2πf"),
        (r"f = \frac{1}{T}", "f = 1/T"),
        (r"\frac{\frac{a}{b}}{c}", "(a/b)/c"),
        (r"v_\text{max}", "vmax"),
        (r"\omega = \sqrt{\frac{k}{m}}", "ω = √(k/m)"),
        (r"x = A\cos(\omega t + \varphi)", "x = A cos (ωt + φ)"),
        (r"-A\omega^2", "−Aω²"),
        (r"\ee^{-\gamma t}", "e^(−γt)"),
        (r"x' = \vec{v} \cdot \dot{x}", "x′ = v⋅x"),
        (r"a < b", "a &lt; b"),
        (r"\begin{aligned}a&=b\\&=c\end{aligned}", "a = b = c"),
    ],
)
def test_a_formula_as_text_for_searching(tex: str, text: str) -> None:
    assert as_text(tex) == text


def test_words_put_text_in_the_place_of_formulas() -> None:
    assert words(r'<p><span class="arithmatex">\(f = \frac{1}{T}\)</span>.</p>') == "<p>f = 1/T.</p>"
    assert title_words(r"The curve \(x\)") == "The curve x"


def test_a_root_sign_over_a_low_letter_is_as_tall_as_over_any_other():
    """Without a strut the sign hangs below the line, and its bar touches the letter."""
    assert '<msqrt><mspace class="strut" height="0.72em" depth="0.2em"/>' in mathml(r"\sqrt{n}", display=False)
    assert as_text(r"s/\sqrt{n}") == "s/√n"
