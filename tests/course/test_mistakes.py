"""Mistakes that Markdown passes over in silence."""

import pytest

from crankpin.course.mistakes import mistakes_in
from crankpin.faults import Place


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("```calculater edge-on\n```", ["a.md:1: there is no block “calculater”; did you mean calculator?"]),
        ("one\n\n```calculator edge-on\nA = 1 m", ["a.md:3: this block is never closed"]),
        ("It is {= pier.v here.\n\nNext", ["a.md:1: “{= pier.v here.” is never closed"]),
        ("!!!  caution\n    Hot", ["a.md:1: write one space behind !!!"]),
        ("!!!caution\n    Hot", ["a.md:1: write one space behind !!!"]),
        ("It is {= pier.v\nto 4 =}, `{= code`.", []),
        ("```python\n{= x\n```\n\n~~~problem a\n{= b =}\n~~~", []),
        ("```c\nint a;\n```", []),
    ],
)
def test_a_mistake_is_told_with_its_line(text: str, told: list[str]) -> None:
    found = [str(fault) for fault in mistakes_in(text, Place("a.md", 1))]
    assert len(found) == len(told)
    assert all(fault.startswith(start) for fault, start in zip(found, told, strict=True))
