"""What of a chapter goes onto its handout."""

import re

from hypothesis import given
from hypothesis import strategies as st

from crankpin.paper.handout import blocks, handout_html

PAGE = """
<h1 id="t">Turning</h1>
<p>On a pier stands a wheel.</p>
<div class="admonition goals"><p class="admonition-title">After this you can</p>
<ul><li>find a speed;</li><li>(further) bank a curve.</li></ul></div>
<h2 id="a">Before</h2>
<p>Words before the core.</p>
<h2 class="core" id="b">The speed</h2>
<p>The first words.</p>
<p>More words.</p>
<p>The speed is</p>
<div class="eq"><math><mi>v</mi></math></div>
<p>where the radius counts.</p>
<details class="derivation"><summary>Long</summary><p>The proof.</p></details>
<h3 class="further" id="c">Aside</h3>
<p>Beside the core.</p>
<h3 id="d">Again</h3>
<div class="admonition example further"><p>A hard example.</p></div>
<div class="admonition example"><p>An example.<br>Two lines, <img src="x.svg" alt="">.</p></div>
<div class="admonition example"><p>A second example.</p></div>
<crankpin-calculator id="one"><input value="a > b"></crankpin-calculator>
<crankpin-calculator id="two"></crankpin-calculator>
<h2 class="further" id="e">Banked curves</h2>
<p>Only here:</p>
<div class="eq"><math><mi>q</mi></math></div>
"""


def ids(html):
    return re.findall(r'id="([^"]+)"', html)


def test_the_core_alone_stands_on_it():
    short = handout_html(PAGE)
    assert ids(short) == ["t", "b", "one"]
    for words in ("find a speed", "The first words", "The speed is", "<mi>v</mi>", "where the radius", "An example"):
        assert words in short
    for words in ("bank a curve", "More words", "The proof", "Beside the core", "A second", "hard", "<mi>q</mi>"):
        assert words not in short


def test_a_chapter_without_a_mark_gives_all_that_is_not_further():
    short = handout_html(PAGE.replace('class="core" ', ""))
    assert ids(short) == ["t", "a", "b", "one"]
    assert "Words before the core" in short and "Banked" not in short


def test_an_open_derivation_stays_where_it_holds_the_only_formula():
    proof = '<div class="admonition derivation"><p>By Newton</p><div class="eq"><math><mi>w</mi></math></div></div>'
    alone = f'<h1 id="t">T</h1><h2 class="core" id="a">From force to motion</h2><p>First.</p>{proof}'
    assert "<mi>w</mi>" in handout_html(alone)
    assert "<mi>w</mi>" not in handout_html(alone + '<p>So</p><div class="eq"><math><mi>v</mi></math></div>')
    folded = alone.replace('<div class="admonition derivation">', '<details class="derivation">')
    assert "<mi>w</mi>" not in handout_html(folded.removesuffix("</div>") + "</details>")


def test_elements_that_hold_nothing_do_not_open_one():
    found = blocks('<p>a<br>b<img src="x">c</p> between <hr><p class="two words">d</p>')
    assert [block.tag for block in found] == ["p", "p"]
    assert found[1].classes == {"two", "words"} and found[1].inside == "d"


@given(
    st.lists(st.sampled_from(["<p>a</p>", "<div><p>a</p><p>b</p></div>", "<ul><li>ä ∑</li></ul>", "<p>\n&amp;</p>"]))
)
def test_blocks_put_together_are_what_they_were_taken_from(parts):
    assert [block.html for block in blocks("\n".join(parts))] == parts
