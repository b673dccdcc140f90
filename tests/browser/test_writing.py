"""A page that is open while its author writes: it changes by itself, and tells what is wrong."""

import threading
import time
from pathlib import Path

import pytest

from crankpin.build import site_to_serve
from crankpin.drafts import Drafts
from crankpin.scaffold import new_course
from crankpin.server import Site, open_server

pytestmark = pytest.mark.browser


@pytest.fixture
def writing(tmp_path: Path):
    course = tmp_path / "course"
    new_course(course)
    site = Site(*site_to_serve(course))
    server = open_server(site, "127.0.0.1")
    threading.Thread(target=server.serve_forever, daemon=True).start()
    drafts = Drafts(course, site, lambda line: None)
    drafts.start()
    yield course, f"http://127.0.0.1:{server.server_port}/"
    drafts.close()
    server.shutdown()
    server.server_close()


def change(file: Path, old: str, new: str) -> None:
    text = file.read_text("utf-8")
    assert old in text
    file.write_text(text.replace(old, new), "utf-8")


def until(found) -> None:
    end = time.monotonic() + 60
    while not found():
        assert time.monotonic() < end
        time.sleep(0.1)


def words(page) -> str:
    try:
        return page.evaluate("document.body.innerText")
    except Exception:  # the page is just being loaded again
        return ""


def test_a_page_follows_its_author(writing, chromium) -> None:
    course, address = writing
    context = chromium.new_context()
    page = context.new_page()
    page.goto(address)
    until(lambda: "A drum that turns" in words(page))  # it was being built when the page was opened
    page.goto(f"{address}chapters/01-turning/")
    chapter = course / "docs/chapters/01-turning.md"

    change(chapter, "A rope runs off", "A wet rope runs off")
    until(lambda: "A wet rope runs off" in words(page))

    change(chapter, "drum.v =", "drum.q =")
    until(lambda: "drum has no quantity q" in words(page))
    assert "01-turning.md:" in words(page)
    assert "A wet rope runs off" in words(page)

    change(chapter, "drum.q =", "drum.v =")
    until(lambda: "drum has no quantity q" not in words(page) and "A wet rope" in words(page))

    change(course / "calculators/rope_drum.py", "speed of the rope", "how fast the rope goes")
    until(lambda: "how fast the rope goes" in words(page))

    change(course / "values.toml", "45 cm", "50 cm")
    until(lambda: "50.0\u00a0cm" in words(page))
    context.close()
