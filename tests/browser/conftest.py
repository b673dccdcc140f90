"""A small course, built once by the real plugin and served as a class would get it, and a phone to read it with."""

import logging
import threading
from dataclasses import dataclass, field
from pathlib import Path

import pytest
from mkdocs.commands.build import build
from mkdocs.config import load_config

from crankpin import server
from crankpin.browser.runtime import RuntimeFilesError, find_runtime
from crankpin.calculator.catalogue import load_catalogue
from crankpin.site.policy import HEADERS

ROOT = Path(__file__).resolve().parent.parent.parent
PREFIX = "/course/"
PHONE = {"width": 390, "height": 844}

PAGES = {
    "index": "# The wheel\n\nSome words first.\n\n```calculator edge-on\n```\n\nAnd after.\n",
    "few": "# A few\n\n"
    + "".join(f"```calculator {name}\n```\n\n" for name in ("turning-rate", "edge-on", "edge-on", "passing-times")),
    "case": "# A case\n\n```case pump edge-on\nA = 20 cm\n```\n\n" + "Words.\n\n" * 60 + "```calculator pump\n```\n",
    "moving": "# Moving\n\n```scene wheel\nA = 12 cm\nomega = 18 rpm\nbody = rod\narrows = v a\ncurves = x v a\n```\n\n"
    + "Words to scroll past.\n\n" * 60
    + "```scene spiral\ncurves = x\n```\n",
    "swings": "# Swings\n\n```scene circle\narrows = v a\n```\n\n```scene pendulum\ncurves = x\n```\n",
    "parts": "# Parts\n\n" + "".join(f"## Part {part}\n\n" + "Words.\n\n" * 30 for part in ("one", "two", "three")),
    "asked": "# Asked\n\n```calculator spring-mass\n```\n\n```case asked-length pendulum\nfind = L\nT = 2.00 s\n```\n\n"
    "```calculator asked-length\n```\n",
    "words": "# Words only\n\nNothing to try here.\n",
}


def build_course(folder, pages):
    """Build a trial course of these pages with the project's own settings and the plugin that everyone uses."""
    docs = folder / "docs"
    docs.mkdir(parents=True)
    for name, text in pages.items():
        (docs / f"{name}.md").write_text(text, encoding="utf-8")
    config = load_config(str(ROOT / "mkdocs.yml"), docs_dir=str(docs), site_dir=str(folder / "site"), nav=None)
    config.theme["logo"] = config.theme["favicon"] = "assets/images/favicon.png"
    config.plugins.on_startup(command="build", dirty=False)
    build(config)
    config.plugins.on_shutdown()
    return folder / "site"


@dataclass
class Course:
    """A built course at an address."""

    address: str
    folder: Path
    calculators: dict

    def page(self, name="index"):
        return self.address if name == "index" else f"{self.address}{name}/"


@pytest.fixture(scope="session")
def catalogue():
    return load_catalogue(ROOT / "calculators")


@pytest.fixture(scope="session")
def course(tmp_path_factory, catalogue):
    try:
        find_runtime()
    except RuntimeFilesError as missing:
        pytest.skip(str(missing))
    logging.getLogger("mkdocs").setLevel(logging.ERROR)
    everything = "# All\n\n" + "".join(f"```calculator {name}\n```\n\n" for name in catalogue)
    chapter = (ROOT / "docs" / "chapters" / "01-turning.md").read_text(encoding="utf-8")
    problems = (ROOT / "docs" / "problems" / "01-turning.md").read_text(encoding="utf-8").replace("../chapters/01-", "")
    problems = problems.replace("(turning.md)", "(chapter.md)")
    pages = PAGES | {"all": everything, "chapter": chapter, "problems": problems}
    folder = build_course(tmp_path_factory.mktemp("course"), pages)
    with server.open_server(server.Site(folder, PREFIX, HEADERS), "127.0.0.1", 8400) as served:
        thread = threading.Thread(target=served.serve_forever, kwargs={"poll_interval": 0.01})
        thread.start()
        try:
            yield Course(f"http://127.0.0.1:{served.server_port}{PREFIX}", folder, dict(catalogue))
        finally:
            served.shutdown()
            thread.join()


@dataclass
class Heard:
    """What a page said that a quiet page does not say."""

    complaints: list = field(default_factory=list)
    requests: list = field(default_factory=list)
    failed: list = field(default_factory=list)


@pytest.fixture
def phone(chromium):
    """Return a function that opens a phone; everything opened is closed at the end."""
    contexts = []

    def take(*, javascript=True, dark=False, size=PHONE):
        context = chromium.new_context(
            viewport=size,
            has_touch=True,
            java_script_enabled=javascript,
            color_scheme="dark" if dark else "light",
        )
        contexts.append(context)
        context.set_default_timeout(30_000)
        page = context.new_page()
        page.heard = Heard()
        page.on("console", lambda message: page.heard.complaints.append(f"{message.type}: {message.text}"))
        page.on("pageerror", lambda error: page.heard.complaints.append(f"error: {error}"))
        page.on("request", lambda request: page.heard.requests.append(request.url))
        return page

    yield take
    for context in contexts:
        context.close()
