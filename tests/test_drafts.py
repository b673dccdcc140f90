"""A course that is changed while it is served."""

import shutil
import threading
import time
from pathlib import Path

import pytest

from crankpin.drafts import Drafts
from crankpin.server import Site

ROOT = Path(__file__).parents[1]
PAGE = """# Turning

The rim moves at {= pier-wheel.v =}.

```calculator pier-wheel
```
"""
VALUES = '[pier-wheel]\ncalculator = "turning-rate"\nr = "1.8 m"\nrate = "4 rpm"\n'


class Served:
    """A course with drafts of it, and what its author is told."""

    def __init__(self, course: Path) -> None:
        (course / "docs").mkdir()
        (course / "calculators").mkdir()
        (course / "site").mkdir()
        (course / "site/index.html").write_text("as it was built", "utf-8")
        (course / "mkdocs.yml").write_text(
            "site_name: Pier\ntheme: {name: material, font: false}\nplugins: [search, crankpin]\n", "utf-8"
        )
        (course / "docs/index.md").write_text("# Course\n\nThe rim: {= pier-wheel.v =}.\n", "utf-8")
        (course / "docs/turning.md").write_text(PAGE, "utf-8")
        (course / "values.toml").write_text(VALUES, "utf-8")
        shutil.copy(ROOT / "calculators/turning_rate.py", course / "calculators")
        self.course, self.told, self._news = course, [], threading.Event()
        self.site = Site(course / "site")
        self.drafts = Drafts(course, self.site, self._tell)

    def _tell(self, line: str) -> None:
        self.told.append(line)
        self._news.set()

    def change(self, name: str, old: str, new: str) -> None:
        file = self.course / name
        text = file.read_text("utf-8")
        assert old in text
        file.write_text(text.replace(old, new), "utf-8")

    def until_told(self, start: str) -> None:
        until = time.monotonic() + 120
        while not any(line.startswith(start) for line in self.told):
            assert time.monotonic() < until, self.told
            self._news.wait(1)
            self._news.clear()

    def page(self, name: str) -> str:
        return (self.site.folder / name).read_text("utf-8")


@pytest.fixture
def served(tmp_path: Path):
    one = Served(tmp_path)
    one.drafts.start()
    until = time.monotonic() + 120
    while one.drafts._shown is None:
        assert time.monotonic() < until
        time.sleep(0.1)
    yield one
    one.drafts.close()


def test_whatever_is_changed_is_shown_everywhere(served: Served) -> None:
    assert served.page("index.html") == "as it was built"

    served.change("docs/turning.md", "The rim moves", "The edge of the wheel moves")
    served.until_told("turning.md, ")
    assert "The edge of the wheel moves at" in served.page("turning/index.html")
    assert 'data-calculator="turning-rate"' in served.page("turning/index.html")
    served.until_told("the whole course, ")
    assert "The edge of the wheel moves at" in served.page("turning/index.html")

    served.told.clear()
    served.change("docs/turning.md", "= pier-wheel.v", "= pier-wheel.q")
    served.until_told("turning.md:3: {= pier-wheel.q =}: pier-wheel has no quantity q")
    assert "The edge of the wheel moves at" in served.page("turning/index.html")

    served.told.clear()
    served.change("docs/turning.md", "= pier-wheel.q", "= pier-wheel.v")
    served.change("values.toml", '"4 rpm"', '"8 rpm"')
    served.until_told("the whole course, ")
    assert "1.51\u00a0m/s" in served.page("index.html")
    assert "1.51\u00a0m/s" in served.page("turning/index.html")
    assert (served.course / "site/index.html").read_text("utf-8") == "as it was built"


def test_a_case_of_one_page_counts_on_the_others(served: Served) -> None:
    served.change("docs/turning.md", "# Turning\n", "# Turning\n\n```case low-wheel turning-rate\nr = 1 m\n```\n")
    served.change("docs/index.md", "pier-wheel.v", "low-wheel.r")
    served.until_told("the whole course, ")
    assert ">1.00\u00a0m</span>" in served.page("index.html")
    served.told.clear()
    served.change("docs/turning.md", "r = 1 m", "r = 3 m")
    served.until_told("the whole course, ")
    assert ">3.00\u00a0m</span>" in served.page("index.html")
