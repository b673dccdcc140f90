"""A small course, built and printed once, at an address that is served while the tests run."""

import shutil
import threading
from dataclasses import dataclass
from pathlib import Path

import pytest

from crankpin import server
from crankpin.build import build_site
from crankpin.chromium import find_browser

ROOT = Path(__file__).resolve().parents[2]
PREFIX = "/course/"

FIRST = """\
---
description: A wheel.
---

# Turning at the rate $\\omega$

The rim moves at {= wheel.v =}, and $v = r\\omega$. See [the other chapter](02-edge-on.md) and
[a page elsewhere](https://elsewhere.example/page).

$$x = A\\cos(\\omega t + \\varphi) + A\\cos(\\omega t + \\varphi) + A\\cos(\\omega t + \\varphi)
+ A\\cos(\\omega t + \\varphi) + A$$

## The numbers {.core}

```calculator wheel
```

| quantity | value |
|---|--:|
| period | {= wheel.T =} |

!!! caution "Before the bench"
    Guard the disc.

## Hypocycloids {.further}

A wheel inside a wheel.
"""
SECOND = """\
---
description: Edge-on.
---

# Edge-on { #the-chapter }

```calculator edge-on
A = 7 cm
```

```calculator edge-on
omega = 20 rpm
```

## Readings

Ten swings, timed three times.

```calculator ten-swings
```
"""
VALUES = """\
[wheel]
calculator = "turning-rate"
r = "1.8 m"
rate = "4 rpm"

[ten-swings]
calculator = "repeated-readings"
times = \"\"\"
7.86
7.95
7.91
\"\"\"
N = "10"
"""
KIT = """\
[mine]
calculator = "edge-on"
A = "9 cm"
omega = "3 s"
phi = "0 rad"
t = "0.5 s"

[disc-lamp]
calculator = "lamp-shadow"
A = "6 cm"
D = "3 m"
S = "3.6 m"
"""
CARD = """\
---
title: A bench card
chapter: 2
code: mine
drawing: disc-and-spring
---

## Purpose

See it.

## Kit

- **lamp**, **screen**
- **disc**, **drive**, **pin**, **ball**, **counterweight**, **guard**
- **mass**, **spring**, **stand**, **foam box**

## Numbers

| for this kit | |
|---|--:|
| greatest speed | {= mine.v_max =} |

## Steps

1. Switch on.

## Readings

| time | place |
|---|---|
| | |

## Look for

- The ends.

## Cautions

Guard the disc.
"""
CALCULATORS = ("turning_rate", "edge_on", "repeated_readings", "lamp_shadow")


@dataclass
class Printed:
    """A printed course: its folder, its address, what the build said."""

    folder: Path
    address: str
    said: str

    @property
    def site(self) -> Path:
        return self.folder / "site"

    def pdf(self, name: str) -> Path:
        return self.site / "print" / f"{name}.pdf"


def write_course(folder: Path) -> Path:
    """Write the small course into a folder."""
    (folder / "docs/chapters").mkdir(parents=True)
    (folder / "calculators").mkdir()
    (folder / "cards").mkdir()
    for name in CALCULATORS:
        shutil.copy(ROOT / f"calculators/{name}.py", folder / "calculators")
    shutil.copy(ROOT / "mkdocs.yml", folder)
    shutil.copytree(ROOT / "docs/assets", folder / "docs/assets")
    (folder / "docs/index.md").write_text("---\ntemplate: home.html\n---\n\n# The course\n\nWords.\n", "utf-8")
    (folder / "docs/chapters/01-turning.md").write_text(FIRST, "utf-8")
    (folder / "docs/chapters/02-edge-on.md").write_text(SECOND, "utf-8")
    (folder / "harbour.toml").write_text(VALUES, "utf-8")
    (folder / "bench.toml").write_text(KIT, "utf-8")
    (folder / "cards/bench.md").write_text(CARD, "utf-8")
    (folder / "THIRD_PARTY.md").write_text("# Licences\n\nOne part.\n", "utf-8")
    return folder


@pytest.fixture(scope="session")
def program():
    pytest.importorskip("playwright")
    pytest.importorskip("pikepdf")
    found = find_browser()
    if found is None:
        pytest.skip("this machine has no Chromium")
    return found


@pytest.fixture(scope="session")
def printed(tmp_path_factory, program):
    folder = write_course(tmp_path_factory.mktemp("printed"))
    (folder / "site").mkdir()
    with server.open_server(server.Site(folder / "site", PREFIX), "127.0.0.1", 8500) as served:
        thread = threading.Thread(target=served.serve_forever, kwargs={"poll_interval": 0.01})
        thread.start()
        address = f"http://127.0.0.1:{served.server_port}{PREFIX}"
        try:
            with pytest.MonkeyPatch.context() as patch:
                lines = []
                patch.setattr("builtins.print", lambda *words, **_: lines.append(" ".join(map(str, words))))
                build_site(folder, address=address)
            yield Printed(folder, address, "\n".join(lines))
        finally:
            served.shutdown()
            thread.join()


@pytest.fixture
def page(chromium):
    context = chromium.new_context(viewport={"width": 390, "height": 844})
    yield context.new_page()
    context.close()
