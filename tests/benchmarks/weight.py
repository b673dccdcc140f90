"""How heavy each page of the built site is before any Python: what a phone's first visit fetches, under gzip.

Counted are the page itself and what it names (styles with the fonts in them, scripts, pictures), and what the scripts
import. Told in two sums: ``page`` is what is read and moves without Python; ``all`` has the scripts too that serve live
calculators alone. Not counted: Python with the calculators' worker; what search fetches when it is opened. Needs a
course that was built with ``crankpin site``.
"""

import gzip
import json
import re
from pathlib import Path
from typing import Any

from crankpin.build import built_site

ROOT = Path(__file__).resolve().parents[2]
BAR = 200_000
_NAMED = re.compile(r'<(?:script|img|link)\b[^>]*?\s(?:src|href)="([^"#?]+)"[^>]*>')
_LATER = re.compile(r'rel="?(?:canonical|prev|next|prefetch|alternate|license)')
_IMPORTED = re.compile(r'(?:from|import)\s*"(\./[^"]+)"')
#: What only live calculators run: their controls, their charts, and the worker's other end.
_FOR_LIVE = ("calculator.", "chart.", "client.", "fields.")
_PACKED = {".woff2", ".png", ".jpg"}


def loaded_by(page: Path) -> set[Path]:
    """Return the files that a first visit to a page fetches."""
    text = page.read_text("utf-8")
    named = [found[1] for found in _NAMED.finditer(text) if not _LATER.search(found[0])]
    files = {page}
    waiting = [(page.parent / name).resolve() for name in named if "://" not in name]
    while waiting:
        file = waiting.pop()
        if file in files or not file.is_file():
            continue
        files.add(file)
        if file.suffix == ".mjs":
            waiting += [(file.parent / name).resolve() for name in _IMPORTED.findall(file.read_text("utf-8"))]
    return files


def size(file: Path) -> int:
    """Return the bytes of a file over the network."""
    content = file.read_bytes()
    return len(content) if file.suffix in _PACKED else len(gzip.compress(content, 9))


def measured() -> dict[str, Any]:
    """Measure every page of the built site."""
    site = built_site(ROOT)[0].resolve()
    known: dict[Path, int] = {}
    pages: dict[str, dict[str, int]] = {}
    for page in sorted(site.rglob("index.html")):
        name = page.parent.relative_to(site).as_posix()
        if name.startswith("q/"):
            continue
        parts: dict[str, int] = {}
        live = 0
        for file in loaded_by(page):
            known.setdefault(file, size(file))
            kind = file.suffix.lstrip(".").replace("mjs", "js")
            parts[kind] = parts.get(kind, 0) + known[file]
            live += known[file] if file.name.startswith(_FOR_LIVE) and file.suffix == ".mjs" else 0
        whole = sum(parts.values())
        pages[name] = {"page": whole - live, "all": whole, **dict(sorted(parts.items()))}
    heaviest = max(pages, key=lambda name: pages[name]["page"])
    return {
        "bar": BAR,
        "heaviest": heaviest,
        "heaviest_bytes": pages[heaviest]["page"],
        "above_the_bar": [name for name, parts in pages.items() if parts["page"] > BAR],
        "above_the_bar_with_live_scripts": [name for name, parts in pages.items() if parts["all"] > BAR],
        "pages": pages,
    }


if __name__ == "__main__":
    print(json.dumps(measured(), indent=1))
