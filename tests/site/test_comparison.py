"""What came out differently between two built pages."""

import pytest

from crankpin.site.comparison import compare_pages, items_in

RESULT = '<output name="v" data-meaning="speed">0.471 m/s</output>'
PAGE = f"""<article><p>The drum is <span class="number">45 cm</span> wide and
<b>turns</b> once in <span class="number">3.0 s</span>.<br>So <math><mi>v</mi><mo>=</mo><mn>0.471</mn></math> and
<math><mi>r</mi></math>.</p>
<crankpin-calculator id="drum"><svg class="figure"><path d="M0 0L1 1"/><text x="1">a</text></svg>
{RESULT}</crankpin-calculator></article>"""


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ("45 cm", "50 cm", "number, behind “The drum is”: 45 cm → 50 cm"),
        ("3.0 s", "4.0 s", "number, behind “The drum is wide and turns once in”: 3.0 s → 4.0 s"),
        (">0.471<", ">0.5<", "formula: v=0.471 → v=0.5"),
        ("0.471 m/s", "0.5 m/s", "result, drum, speed: 0.471 m/s → 0.5 m/s"),
        ("L1 1", "L2 2", "figure, drum: drawn differently"),
        ("<mi>r</mi>", "<mi>r</mi><mn>2</mn>", "formula: new: r2"),
        (
            '<output name="v" data-meaning="speed">0.471 m/s</output>',
            "",
            "result, drum, speed: no longer there: 0.471 m/s",
        ),
        ("wide", "broad", None),
        ("</article>", "<!-- another --></article>", ""),
    ],
)
def test_one_change_is_told_once(old: str, new: str, told: str | None) -> None:
    assert old in PAGE
    found = [" ".join(str(change).split()) for change in compare_pages("a", PAGE, PAGE.replace(old, new))]
    if told is None:  # the words that say where a number stands
        assert all("3.0 s" in change for change in found)
    else:
        assert found == ([told] if told else [])


def test_a_page_that_is_new_has_only_new_items() -> None:
    assert len(items_in(PAGE)) == 5
    found = list(compare_pages("a", "", PAGE))
    assert [change.before for change in found] == [""] * 5
