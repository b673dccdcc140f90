"""The content policy over finished pages."""

import html
from pathlib import Path

import pytest

from crankpin.faults import AuthorError
from crankpin.site.policy import HEADER_FILES, HEADERS, POLICY, Moved, strict, write_header_files

HEAD = '<!doctype html><html><head><meta charset="utf-8"></head>'


def done(body: str, moved: Moved | None = None, *, reloading: bool = False) -> str:
    return strict(HEAD + body, "../", moved if moved is not None else Moved(), reloading=reloading)


def test_every_page_carries_the_policy_behind_its_charset() -> None:
    page = done("<body></body>")
    meta = f'<meta http-equiv="Content-Security-Policy" content="{POLICY}">'
    assert page.startswith(f'<!doctype html><html><head><meta charset="utf-8">{meta}')


def test_an_inline_script_moves_to_a_file_named_by_its_content() -> None:
    moved = Moved()
    page = done("<script>var a=1</script><script>var a=1</script><script type=module>b()</script>", moved)
    assert sorted(moved.files.values()) == ["b()", "var a=1"]
    name = next(name for name, text in moved.files.items() if text == "var a=1")
    assert page.count(f'<script src="../{name}"></script>') == 2
    assert "var a=1" not in page


def test_data_and_linked_scripts_stay() -> None:
    body = '<script type="application/json" id="c">{"a":1}</script><script src="x.js"></script>'
    assert body in done(body)


def test_style_attributes_become_classes() -> None:
    moved = Moved()
    page = done('<p style="color: red;">a</p><p class="b" style="color: red">c</p>', moved)
    (name,) = moved.rules
    assert f'<p class="{name}">a</p><p class="{name} b">c</p>' in page
    assert moved.stylesheet() == f".{name}.{name}{{color: red}}"


def test_text_that_looks_like_a_style_attribute_stays() -> None:
    body = '<p title=\'a style="x" b\'>style="y"</p><script src="s.js" data-a="1 > 0"></script>'
    moved = Moved()
    assert body in done(body, moved)
    assert not moved.rules


def test_a_style_element_moves_to_a_file() -> None:
    moved = Moved()
    page = done("<style>p{color:red}</style>", moved)
    ((name, text),) = moved.files.items()
    assert text == "p{color:red}"
    assert f'<link rel="stylesheet" href="../{name}">' in page


@pytest.mark.parametrize(
    "body",
    [
        '<script src="https://example.org/a.js"></script>',
        '<img src="//example.org/a.png">',
        '<link rel="stylesheet" href="https://example.org/a.css">',
        '<iframe src="http://example.org/"></iframe>',
    ],
)
def test_nothing_is_loaded_from_another_host(body: str) -> None:
    with pytest.raises(AuthorError, match="from another host"):
        done(body)


@pytest.mark.parametrize(
    "body", ['<a href="https://example.org/">a</a>', '<link rel="canonical" href="https://example.org/">']
)
def test_links_to_other_hosts_are_fine(body: str) -> None:
    assert body in done(body)


def test_event_attributes_are_told() -> None:
    with pytest.raises(AuthorError, match=r"<p onclick=\.\.\.> runs script from an attribute"):
        done('<p onclick="a()">')


def test_while_writing_the_reloading_script_may_run() -> None:
    assert "script-src 'self' 'unsafe-inline'" in done("", reloading=True)
    assert "unsafe-inline" not in done("")


def test_the_headers_lie_ready_for_hosts_and_say_what_the_pages_say(tmp_path: Path) -> None:
    write_header_files(tmp_path)
    for name in HEADER_FILES:
        text = (tmp_path / name).read_text("utf-8")
        assert all(value in text for value in HEADERS.values())
    assert html.escape(HEADERS["Content-Security-Policy"], quote=False) in done("")
