"""A search that costs nothing until someone searches.

The theme fetches the whole index and its search engine with every page. Here the engine's worker is a few lines that
answer at once, and fetch the engine and the index when the first words come.
"""

from __future__ import annotations

import hashlib
import json
import re
from dataclasses import dataclass
from pathlib import Path

from crankpin.formulas.mathml import words

_STAND_IN = Path(__file__).parent / "theme/scripts/search.js"
_SKIPPED = re.compile(r'<(svg|math|template)\b.*?</\1>|<a class="footnote-backref".*?</a>', re.DOTALL)
_ENDS = re.compile(r"(?=</(?:t[dh]|d[td]|li|summary|figcaption)>)")


def indexable(page: str) -> str:
    """Return the HTML of a page as the index should see it: formulas as plain text, drawings left out, cells apart."""
    return _ENDS.sub(" ", _SKIPPED.sub("", words(page)))


@dataclass(frozen=True)
class LazySearch:
    """Addresses from the site's root: the engine as the theme names it, and what stands in for it."""

    engine: str
    worker: str

    def in_page(self, page: str) -> str:
        """Return a finished page that starts the stand-in instead of the engine."""
        return page.replace(self.engine, self.worker)


def make_lazy(site: Path) -> LazySearch | None:
    """Split the index in a built site and add the worker; None where the site has no search."""
    index = site / "search" / "search_index.json"
    engine = next(iter(sorted((site / "assets/javascripts/workers").glob("search.*.min.js"))), None)
    if engine is None or not index.exists():
        return None
    whole = json.loads(index.read_text("utf-8"))
    text = json.dumps(whole, ensure_ascii=False, separators=(",", ":"))
    docs = f"search/index.{_hash(text)}.json"
    (site / docs).write_text(text, "utf-8")
    index.write_text(json.dumps({"config": whole["config"], "docs": []}), "utf-8")
    engine_at = engine.relative_to(site).as_posix()
    code = _STAND_IN.read_text("utf-8").replace("ENGINE", engine_at).replace("INDEX", docs)
    worker = f"assets/crankpin/search.{_hash(code)}.js"
    (site / worker).parent.mkdir(parents=True, exist_ok=True)
    (site / worker).write_text(code, "utf-8")
    return LazySearch(engine_at, worker)


def _hash(text: str) -> str:
    return hashlib.sha256(text.encode()).hexdigest()[:10]
