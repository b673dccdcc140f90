"""Formulas as words."""

import pytest

from crankpin.formulas.mathml import mathml
from crankpin.formulas.spoken import spoken


@pytest.mark.parametrize(
    ("tex", "words"),
    [
        (r"x = A\cos(\omega t + \varphi)", "x equals A cosine of open bracket omega t plus phi close bracket"),
        (r"T = \frac{2\pi}{\omega}", "T equals the fraction 2 pi over omega, end of fraction"),
        (r"f = \frac{1}{T}", "f equals 1 over T"),
        (r"a_{\mathrm{c}} = r\omega^2", "a c equals r omega squared"),
        (r"\vec a = -\omega^2\,\vec r", "a vector equals minus omega squared r vector"),
        (r"\sqrt{\frac{k}{m}}", "the square root of k over m, end of root"),
        (r"\int_0^T \cos^2(\omega t)\,\dd t",
         "the integral from 0 to T of cosine squared of open bracket omega t close bracket d t"),
        (r"1\unit{s^{-1}}", "1 s to the power minus 1"),
        (r"x_0 \le 3.5\unit{m}", "x zero is at most 3.5 m"),
        (r"\Delta t \to 0", "delta t tends to 0"),
        (r"a < b", "a is less than b"),
    ],
)  # fmt: skip
def test_words(tex: str, words: str) -> None:
    assert spoken(mathml(tex, display=True)) == words
