"""How heavy each page of the built site is before any Python: what a first visit fetches, under gzip.

Counted are the page itself and what it names (styles, scripts, early fonts, pictures), the fonts that a browser then
asks for, and what the scripts import. Not counted: Python with the calculators' worker, and what search fetches when
the first words are typed. Needs a course that was built with ``crankpin site``.
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
_FONT = re.compile(r'url\("?([^")]+\.woff2)"?\)')
_SEARCH = ("assets/crankpin/search.*.js", "search/search_index.json")
_PACKED = {".woff2", ".png", ".jpg"}


def loaded_by(page: Path, site: Path) -> set[Path]:
    """Return the files that a first visit to a page fetches."""
    text = page.read_text("utf-8")
    named = [found[1] for found in _NAMED.finditer(text) if not _LATER.search(found[0])]
    files = {page, *(site / path.relative_to(site) for pattern in _SEARCH for path in site.glob(pattern))}
    waiting = [(page.parent / name).resolve() for name in named if "://" not in name]
    while waiting:
        file = waiting.pop()
        if file in files or not file.is_file():
            continue
        files.add(file)
        if file.suffix in (".mjs", ".css"):
            pattern = _IMPORTED if file.suffix == ".mjs" else _FONT
            waiting += [(file.parent / name).resolve() for name in pattern.findall(file.read_text("utf-8"))]
    return files


def size(file: Path) -> int:
    """Return the bytes of a file over the network."""
    content = file.read_bytes()
    return len(content) if file.suffix in _PACKED else len(gzip.compress(content, 9))


def measured() -> dict[str, Any]:
    """Measure every page of the built site; the fonts are all counted, as if each page used every face."""
    site = built_site(ROOT)[0].resolve()
    known: dict[Path, int] = {}
    pages: dict[str, dict[str, int]] = {}
    for page in sorted(site.rglob("index.html")):
        name = page.parent.relative_to(site).as_posix()
        if name.startswith("q/"):
            continue
        parts: dict[str, int] = {}
        for file in loaded_by(page, site):
            known.setdefault(file, size(file))
            kind = file.suffix.lstrip(".").replace("mjs", "js")
            parts[kind] = parts.get(kind, 0) + known[file]
        pages[name] = {"all": sum(parts.values()), **dict(sorted(parts.items()))}
    heaviest = max(pages, key=lambda name: pages[name]["all"])
    return {
        "bar": BAR,
        "heaviest": heaviest,
        "heaviest_bytes": pages[heaviest]["all"],
        "above_the_bar": [name for name, parts in pages.items() if parts["all"] > BAR],
        "pages": pages,
    }


if __name__ == "__main__":
    print(json.dumps(measured(), indent=1))
