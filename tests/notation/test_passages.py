"""What counts as code, maths and notation."""

from crankpin.notation.passages import Writers, fences, rewrite


def told(text: str) -> tuple[str, list[tuple[str, bool, int]]]:
    formulas: list[tuple[str, bool, int]] = []
    writers = Writers(
        number=lambda asked, line: f"<{asked}@{line}>",
        tex_number=lambda asked, line: f"T({asked}@{line})",
        formula=lambda tex, display, line: formulas.append((tex, display, line)),
    )
    return "\n".join(rewrite(text.split("\n"), writers)), formulas


def test_prose_and_maths_get_their_own_writers() -> None:
    text, formulas = told("a {= x.y =} b\n\n$v = {= x.v =}$ and\n$$w = {= x.w =}$$")
    assert text == "a <x.y@0> b\n\n$v = T(x.v@2)$ and\n$$w = T(x.w@3)$$"
    assert formulas == [("v = T(x.v@2)", False, 2), ("w = T(x.w@3)", True, 3)]


def test_code_is_left_alone() -> None:
    for code in (
        "`{= x.y =}`",
        "``a ` {= x.y =}``",
        "```\n{= x.y =} $\\foo$\n```",
        "~~~ python\n{= x.y =}\n~~~",
        "    - item\n\n    ```\n    {= x.y =}\n    ```",
        "`$\\foo$`",
    ):
        text, formulas = told(f"before\n\n{code}\n\nafter {{= a.b =}}")
        assert code in text
        assert "<a.b@" in text
        assert formulas == []


def test_a_longer_fence_holds_a_shorter_one() -> None:
    text = "````\n```calculator edge-on\n```\n````\nx"
    (fence,) = fences(text.split("\n"))
    assert (fence.first, fence.last) == (0, 3)


def test_a_fence_that_is_never_closed_is_no_fence() -> None:
    assert list(fences(["```calculator edge-on", "A = 1 cm"])) == []


def test_an_indented_fence_keeps_its_indent_and_loses_it_inside() -> None:
    (fence,) = fences(["!!! example", "", "    ```calculator edge-on", "    A = 1 cm", "    ```"])
    assert (fence.indent, fence.body, fence.info) == ("    ", ("A = 1 cm",), "calculator edge-on")


def test_notation_over_two_lines_is_closed_up() -> None:
    assert told("a {= edge-on.x |\n A = 1 cm =} b")[0] == "a <edge-on.x | A = 1 cm@0> b"


def test_a_paragraph_ends_maths_and_code() -> None:
    text, formulas = told("costs $5\n\nand $6 {= a.b =}")
    assert text == "costs $5\n\nand $6 <a.b@2>"
    assert formulas == []


def test_escaped_dollars_are_no_maths() -> None:
    assert told(r"\$5 {= a.b =} \$6")[0] == r"\$5 <a.b@0> \$6"


def test_other_ways_of_writing_maths() -> None:
    _, formulas = told("\\(a\\)\n\n\\[b\\]\n\n\\begin{align}c\\end{align}")
    assert [(tex, display) for tex, display, _ in formulas] == [
        ("a", False),
        ("b", True),
        ("\\begin{align}c\\end{align}", True),
    ]
