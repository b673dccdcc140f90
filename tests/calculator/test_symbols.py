"""Symbols: read from TeX, written three ways."""

import pytest

from crankpin.calculator.symbols import read_symbol


@pytest.mark.parametrize(
    ("tex", "text", "words", "mathml"),
    [
        ("A", "A", "A", "<mi>A</mi>"),
        (r"\omega", "ω", "omega", "<mi>ω</mi>"),
        ("x_0", "x_0", "x zero", "<msub><mi>x</mi><mn>0</mn></msub>"),
        (r"v_{\max}", "v_max", "v max", "<msub><mi>v</mi><mtext>max</mtext></msub>"),
        (r"a_{\mathrm{c}}", "a_c", "a c", '<msub><mi>a</mi><mi mathvariant="normal">c</mi></msub>'),
        ("A_x", "A_x", "A x", "<msub><mi>A</mi><mi>x</mi></msub>"),
        ("R^2", "R²", "R squared", "<msup><mi>R</mi><mn>2</mn></msup>"),
        ("t_{1/2}", "t_1/2", "t 1/2", "<msub><mi>t</mi><mtext>1/2</mtext></msub>"),
        (r"\Delta\Theta", "ΔΘ", "change in Theta", '<mrow><mi mathvariant="normal">Δ</mi><mi>Θ</mi></mrow>'),
        (r"\Delta L", "ΔL", "change in L", '<mrow><mi mathvariant="normal">Δ</mi><mi>L</mi></mrow>'),
        (r"\Delta", "Δ", "Delta", "<mi>Δ</mi>"),
        (r"T/T_{\mathrm{small}}", "T/T_small", "T over T small",
         "<mrow><mi>T</mi><mo>/</mo><msub><mi>T</mi><mtext>small</mtext></msub></mrow>"),
    ],
)  # fmt: skip
def test_symbols(tex: str, text: str, words: str, mathml: str) -> None:
    symbol = read_symbol(tex)
    assert symbol is not None
    assert (symbol.text(), symbol.words(), symbol.mathml()) == (text, words, mathml)


@pytest.mark.parametrize("tex", ["", "AB", r"\nonsense", r"\DeltaL", "A_{", r"\frac{a}{b}", "<b>", "A/", "/g"])
def test_what_is_no_symbol(tex: str) -> None:
    assert read_symbol(tex) is None
