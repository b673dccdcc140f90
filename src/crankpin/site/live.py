"""Puts the scripts of live calculators into a built site, on the pages that have one."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from crankpin.browser.bundle import HEAD, KEEP, PROBLEMS, START, live_files
from crankpin.browser.runtime import RuntimeFilesError, find_runtime
from crankpin.calculator.catalogue import Catalogue
from crankpin.calculator.faults import DeclarationFault

FOLDER = "assets/crankpin/live"
_PROBLEM = "<crankpin-problem"
_ELEMENTS = ("<crankpin-calculator", "<crankpin-scene", _PROBLEM)
_NOT_ON_PAGES = (
    "{} is not in the Python of the page, so the calculator would be dead for readers; use math and crankpin.mechanics"
)
_KEEP_LINE = "data-keep"


@dataclass(frozen=True)
class LiveScripts:
    """The scripts of the pages, by their addresses from the site's root."""

    head: str
    """On pages with a calculator, as are `start` and `soon`."""
    start: str
    keep: str
    """On every page that has a place for the line about what is kept on the reader's device."""
    soon: tuple[str, ...]
    """What `start` imports; named by the page, so that a phone does not ask for one after another."""
    problems: str
    """On pages with a problem."""
    soon_for_problems: tuple[str, ...]
    """What `problems` imports beside."""

    def in_page(self, page: str, root: str) -> str:
        """Return a page with the scripts that it needs; ``root`` is the site's root seen from it."""
        if _KEEP_LINE in page:
            page = _at_the_end(page, root + self.keep)
        if not any(element in page for element in _ELEMENTS):
            return page
        start = f'<script type="module" async src="{root}{self.start}"></script>'
        soon = self.soon
        if _PROBLEM in page:
            start += f'<script type="module" async src="{root}{self.problems}"></script>'
            soon += self.soon_for_problems
        early = f'<script src="{root}{self.head}"></script>{start}'
        page = page.replace("</title>", f"</title>{early}", 1)
        links = "".join(f'<link rel="modulepreload" href="{root}{script}">' for script in soon)
        return page.replace("</head>", f"{links}</head>", 1)


def _at_the_end(page: str, address: str) -> str:
    before, body, after = page.rpartition("</body>")
    return f'{before}<script type="module" src="{address}"></script>{body}{after}'


def faults_of_imports(catalogue: Catalogue) -> list[DeclarationFault]:
    """Return a fault for each module that a calculator imports and the page's Python has not.

    There is none where that Python has not been built.
    """
    try:
        runtime = find_runtime()
    except RuntimeFilesError:
        return []
    return [
        DeclarationFault(str(catalogue.files[name]), _line_of(module, source), _NOT_ON_PAGES.format(module))
        for name, source in catalogue.sources.items()
        for module in runtime.missing_imports(source)
    ]


def _line_of(module: str, source: str) -> int:
    lines = source.splitlines()
    found = (n for n, line in enumerate(lines, 1) if re.match(rf"\s*(import|from)\b.*\b{re.escape(module)}\b", line))
    return next(found, 1)


def publish(site: Path, calculators: Mapping[str, Path]) -> LiveScripts:
    """Write everything that live pages need into a built site; return what its pages must load.

    ``calculators`` gives the file of each calculator by its id. Raises `RuntimeFilesError` when the page's
    Python has not been built.
    """
    live = live_files(calculators, find_runtime())
    folder = site / FOLDER
    folder.mkdir(parents=True, exist_ok=True)
    for name, content in live.files.items():
        (folder / name).write_bytes(content)
    head, start, keep, problems = (f"{FOLDER}/{live.names[name]}" for name in (HEAD, START, KEEP, PROBLEMS))
    soon = [f"{FOLDER}/{name}" for name in live.imported_by(START)]
    more = [f"{FOLDER}/{name}" for name in live.imported_by(PROBLEMS)]
    beside = tuple(name for name in more if name not in (start, *soon))
    return LiveScripts(head, start, keep, tuple(soon), problems, beside)
