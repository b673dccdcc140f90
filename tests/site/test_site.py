"""Whole builds of a small course through the site generator, and what a browser makes of them."""

import functools
import http.server
import json
import logging
import os
import re
import shutil
import socket
import subprocess
import sys
import threading
import time
import urllib.request
from collections.abc import Iterator
from pathlib import Path

import pytest
from mkdocs.commands.build import build
from mkdocs.config import load_config
from mkdocs.exceptions import Abort

from crankpin.site.search import indexable

ROOT = Path(__file__).parents[2]
AXE = ROOT / "node_modules/axe-core/axe.min.js"

CHAPTER = """\
---
description: The wheel on the pier.
---

# Turning

The rim of the pier wheel moves at {= pier-wheel.v =}, and $v = r\\omega$.

```calculator pier-wheel
```

## The curve of $x$

$$x = A\\cos(\\omega t + \\varphi) + A\\cos(\\omega t + \\varphi) + A\\cos(\\omega t + \\varphi) + A\\cos(\\omega t)$$

| quantity | value |
|---|--:|
| period | {= pier-wheel.T =} |
"""

VALUES = """\
[pier-wheel]
calculator = "turning-rate"
r = "1.8 m"
rate = "4 rpm"
"""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return course_in(tmp_path)


def course_in(folder: Path) -> Path:
    (folder / "docs/chapters").mkdir(parents=True)
    (folder / "docs/assets").mkdir()
    shutil.copy(ROOT / "mkdocs.yml", folder)
    shutil.copy(ROOT / "docs/index.md", folder / "docs")
    shutil.copy(ROOT / "docs/assets/wheel.svg", folder / "docs/assets")
    (folder / "docs/chapters/01-turning.md").write_text(CHAPTER, "utf-8")
    (folder / "harbour.toml").write_text(VALUES, "utf-8")
    (folder / "THIRD_PARTY.md").write_text("# Licences\n\nOne part.\n", "utf-8")
    (folder / "calculators").mkdir()
    shutil.copy(ROOT / "calculators/turning_rate.py", folder / "calculators")
    return folder


def built(folder: Path, site: str = "site") -> Path:
    build(load_config(str(folder / "mkdocs.yml"), site_dir=str(folder / site), strict=True))
    return folder / site


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return built(course_in(tmp_path_factory.mktemp("course")))


def test_no_page_needs_more_than_the_site(site: Path) -> None:
    pages = sorted(path.relative_to(site).as_posix() for path in site.rglob("*.html"))
    assert [page for page in pages if not page.startswith("q/")] == [
        "404.html",
        "chapters/01-turning/index.html",
        "index.html",
        "reference/notices/index.html",
    ]
    for page in pages:
        text = (site / page).read_text("utf-8")
        assert text.count('http-equiv="Content-Security-Policy"') == 1
        assert not re.search(r"<script(?![^>]*\bsrc=)(?![^>]*application/json)", text)
        assert " style=" not in text
        for kind, address in re.findall(r'<(?:script|link|img)\b[^>]*?\b(src|href)="([^"#]+)', text):
            if "harbour.example" in address:
                continue
            local = address.removeprefix("/course/") if address.startswith("/course/") else None
            target = site / local if local else (site / page).parent / address
            assert target.exists(), (page, kind, address)


def test_numbers_and_formulas_are_prerendered(site: Path) -> None:
    text = (site / "chapters/01-turning/index.html").read_text("utf-8")
    assert '<span class="number">0.754\u00a0m/s</span>' in text
    assert "<math>" in text
    assert "arithmatex" not in text
    assert '<a href="#the-curve-of-x">The curve of x</a>' in text
    assert "Chapter 1</p>" in text


def test_the_contents_beside_every_page_lead_to_pages_that_are_there(site: Path) -> None:
    for path in sorted(site.rglob("*.html")):
        found = re.search(r'<nav class="contents".*?</nav>', path.read_text("utf-8"), re.DOTALL)
        if found is None:
            continue
        addresses = [one for one in re.findall(r'href="([^"]+)"', found[0]) if not one.startswith("#")]
        assert len(addresses) > 2
        root = site if path.name == "404.html" else path.parent
        for address in addresses:
            assert (root / address.removeprefix("/course/") / "index.html").is_file(), (path, address)
        here = re.findall(r'href="([^"]+)" aria-current="page"', found[0])
        assert [(path.parent / one).resolve() for one in here] in ([], [path.parent.resolve()])
        assert here or path.name == "404.html", path


def test_search_keeps_the_words_of_cells_and_items_apart() -> None:
    assert indexable("<tr><td>period</td><td>of a swing</td></tr>") == "<tr><td>period </td><td>of a swing </td></tr>"
    assert indexable("<dl><dt>Beat</dt><dd>a swell</dd></dl>") == "<dl><dt>Beat </dt><dd>a swell </dd></dl>"


def test_search_knows_formulas_as_text_and_no_controls(site: Path) -> None:
    (index,) = (site / "search").glob("index.*.json")
    entries = {one["location"]: one for one in json.loads(index.read_text("utf-8"))["docs"]}
    assert "v = rω" in entries["chapters/01-turning/"]["text"]
    assert entries["chapters/01-turning/#the-curve-of-x"]["title"] == "The curve of x"
    assert "step less" not in index.read_text("utf-8")
    assert not any(location.startswith("reference/notices") for location in entries)
    assert json.loads((site / "search/search_index.json").read_text("utf-8"))["docs"] == []


def test_same_sources_same_bytes(site: Path) -> None:
    again = built(site.parent, "again")
    files = {path.relative_to(site) for path in site.rglob("*") if path.is_file()}
    assert files == {path.relative_to(again) for path in again.rglob("*") if path.is_file()}
    for name in files - {Path("sitemap.xml.gz")}:
        assert (site / name).read_bytes() == (again / name).read_bytes(), name


@pytest.mark.parametrize(
    ("file", "old", "new", "message"),
    [
        (
            "docs/chapters/01-turning.md",
            "pier-wheel.v =",
            "pier-wheel.q =",
            "chapters/01-turning.md:7: {= pier-wheel.q =}: pier-wheel has no quantity q; given are r, rate",
        ),
        (
            "docs/chapters/01-turning.md",
            "r\\omega",
            "\\foo",
            "chapters/01-turning.md:7: the formula v = \\foo cannot be read",
        ),
        (
            "docs/chapters/01-turning.md",
            "calculator pier-wheel",
            "calculator peer",
            "chapters/01-turning.md:9: there is no",
        ),
        ("harbour.toml", '"1.8 m"', '"1.8 kg"', "harbour.toml:3: pier-wheel: r, "),
        (
            "calculators/turning_rate.py",
            "calculator = Calc",
            "calculators = Calc",
            "calculators/turning_rate.py:1: the file must",
        ),
    ],
)
def test_a_fault_stops_the_build_with_one_message(
    folder: Path, caplog: pytest.LogCaptureFixture, file: str, old: str, new: str, message: str
) -> None:
    path = folder / file
    path.write_text(path.read_text("utf-8").replace(old, new), "utf-8")
    with caplog.at_level(logging.ERROR), pytest.raises(Abort):
        built(folder)
    (record,) = [record for record in caplog.records if record.levelno >= logging.ERROR]
    assert record.getMessage().startswith(message)


def test_faults_are_told_at_their_places_where_other_hands_bake(folder: Path, caplog: pytest.LogCaptureFixture) -> None:
    page = folder / "docs/chapters/01-turning.md"
    given = [*(f"rate = {one} rpm" for one in range(1, 12)), "rate = much"]
    blocks = "\n".join(f"```calculator pier-wheel\n{one}\n```\n" for one in given)
    page.write_text(f"{CHAPTER}\n{blocks}\n## More {{ #pier-wheel-3-given }}\n", "utf-8")
    with caplog.at_level(logging.ERROR), pytest.raises(Abort):
        built(folder)
    line = page.read_text("utf-8").split("\n").index("rate = much")
    (record,) = [record for record in caplog.records if record.levelno >= logging.ERROR]
    first, second = record.getMessage().split("\n")
    assert first.startswith(f"chapters/01-turning.md:{line}: pier-wheel-13: rate (ω), ")
    assert second.startswith('chapters/01-turning.md: a heading and "calculator pier-wheel" both have the id pier-w')


def test_an_edit_of_chapter_calculator_or_values_reloads(folder: Path) -> None:
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    command = [sys.executable, "-m", "mkdocs", "serve", "-q", "-a", f"127.0.0.1:{port}"]
    serving = subprocess.Popen(command, cwd=folder, env={**os.environ, "NO_MKDOCS_2_WARNING": "1"})
    page = f"http://127.0.0.1:{port}/course/chapters/01-turning/"
    try:
        assert wait_for(page, "0.754\u00a0m/s")
        replace(folder / "harbour.toml", '"4 rpm"', '"8 rpm"')
        assert wait_for(page, "1.51\u00a0m/s")
        replace(folder / "docs/chapters/01-turning.md", "The rim", "The outer rim")
        assert wait_for(page, "The outer rim")
        replace(folder / "calculators/turning_rate.py", "How fast does it turn?", "How fast round?")
        assert wait_for(page, "How fast round?")
        assert "'unsafe-inline'" in fetch(page)
    finally:
        serving.terminate()
        serving.wait(10)


def replace(path: Path, old: str, new: str) -> None:
    text = path.read_text("utf-8")
    assert old in text
    path.write_text(text.replace(old, new), "utf-8")


def fetch(address: str) -> str:
    try:
        with urllib.request.urlopen(address, timeout=10) as answer:
            return str(answer.read().decode("utf-8"))
    except OSError:
        return ""


def wait_for(address: str, words: str, seconds: float = 40.0) -> bool:
    end = time.monotonic() + seconds
    while time.monotonic() < end:
        if words in fetch(address):
            return True
        time.sleep(0.3)
    return False


@pytest.fixture(scope="module")
def address(site: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """The address of the site under a path of its own, as on a host that holds several sites."""
    root = tmp_path_factory.mktemp("host")
    shutil.copytree(site, root / "course")

    class Quiet(http.server.SimpleHTTPRequestHandler):
        def log_message(self, *_: object) -> None: ...

    server = http.server.ThreadingHTTPServer(("127.0.0.1", 0), functools.partial(Quiet, directory=str(root)))
    threading.Thread(target=server.serve_forever, daemon=True).start()
    yield f"http://127.0.0.1:{server.server_port}/course/"
    server.shutdown()
    server.server_close()


@pytest.fixture
def browser(chromium: object) -> object:
    return chromium


PAGES = ["", "chapters/01-turning/", "reference/notices/", "404.html"]


@pytest.mark.browser
@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("width", [320, 1280])
def test_pages_keep_the_policy_and_to_their_own_host(browser, address: str, scheme: str, width: int) -> None:  # type: ignore[no-untyped-def]
    context = browser.new_context(viewport={"width": width, "height": 800}, color_scheme=scheme)
    page = context.new_page()
    said: list[str] = []
    asked: list[str] = []
    page.on("console", lambda message: said.append(message.text))
    page.on("pageerror", lambda error: said.append(str(error)))
    page.on("request", lambda request: asked.append(request.url))
    for name in PAGES:
        page.goto(address + name, wait_until="networkidle")
        assert page.evaluate("document.documentElement.scrollWidth") <= width, name
        scheme_shown = page.evaluate("document.body.dataset.mdColorScheme")
        assert scheme_shown == {"light": "paper", "dark": "night"}[scheme]
    assert said == []
    assert all(one.startswith(address) for one in asked)
    assert not any("/search/index." in one or "/workers/search." in one for one in asked)
    context.close()


@pytest.mark.browser
def test_search_answers_when_words_come(browser, address: str) -> None:  # type: ignore[no-untyped-def]
    context = browser.new_context(viewport={"width": 390, "height": 844})
    page = context.new_page()
    page.goto(address + "chapters/01-turning/", wait_until="networkidle")
    page.click("header button[aria-label=Search]")
    page.fill("input[name=query]", "wheel")
    page.keyboard.press("Shift")  # one key up, one question: the one that also fetches the engine
    page.wait_for_selector(".md-search-result__item")
    assert "Turning" in page.inner_text(".md-search-result__list")
    context.close()


@pytest.mark.browser
def test_the_closed_drawer_keeps_focus_out(browser, address: str) -> None:  # type: ignore[no-untyped-def]
    context = browser.new_context(viewport={"width": 390, "height": 844})
    page = context.new_page()
    page.goto(address + "chapters/01-turning/", wait_until="networkidle")
    focus = "document.activeElement.closest('.contents') ? 'contents' : document.activeElement.ariaLabel"
    for _ in range(12):
        page.keyboard.press("Tab")
        assert page.evaluate(focus) != "contents"
    page.focus("header button[aria-label=Contents]")
    page.keyboard.press("Enter")
    assert page.evaluate(focus) == "contents"
    page.keyboard.press("Escape")
    assert page.evaluate(focus) == "Contents"
    context.close()


@pytest.mark.browser
@pytest.mark.skipif(not AXE.exists(), reason="axe-core is not installed")
@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("width", [390, 1280])
def test_no_fault_by_wcag_2_2_aa(browser, address: str, scheme: str, width: int) -> None:  # type: ignore[no-untyped-def]
    tags = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]
    context = browser.new_context(
        viewport={"width": width, "height": 800}, color_scheme=scheme, bypass_csp=True, reduced_motion="reduce"
    )
    page = context.new_page()
    for name in PAGES:
        page.goto(address + name, wait_until="networkidle")
        page.add_script_tag(path=str(AXE))
        result = page.evaluate("tags => axe.run({ runOnly: tags })", tags)
        assert result["passes"]
        assert [(one["id"], [node["target"] for node in one["nodes"]]) for one in result["violations"]] == [], name
    context.close()
