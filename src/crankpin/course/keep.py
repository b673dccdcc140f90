"""What a reader's device needs to keep the whole course: the list of its files, and the service worker.

An edition is one state of the finished site. Its list, ``offline.json``, names each file with a hash of its content, so
that a device stores what was published or nothing. ``offline.js``, the worker, has the same name for ever: a browser
looks there for a newer one.
"""

from __future__ import annotations

import hashlib
import json
import zlib
from collections.abc import Iterator
from dataclasses import asdict, dataclass
from pathlib import Path

LIST = "offline.json"
WORKER = "offline.js"
_SOURCES = Path(__file__).parent.parent / "browser" / "offline"

#: Never asked for by a page, or offered for printing and downloading: paper is not for the phone.
_LEFT_OUT = {".map", ".gz", ".pdf", ".zip"}
_LEFT_OUT_PATHS = ("404.html", LIST, WORKER, "sitemap.xml", "assets/javascripts/lunr/")
_LIVE = "assets/crankpin/live/"
_AS_IT_IS = {".woff2", ".png", ".jpg"}


@dataclass(frozen=True)
class KeptFile:
    """One file of an edition."""

    path: str
    """As asked for, from the site's root: a page ends with ``/``, the first page is ``""``."""
    hash: str
    """The first 32 hexadecimal digits of the content's SHA-256."""
    bytes: int
    packed: bool
    """Whether a gzipped copy lies beside it, for hosts that do not compress."""


def publish(site: Path) -> None:
    """Write the list of a finished site and the worker that answers from it."""
    (site / LIST).write_text(edition(site), "utf-8")
    (site / WORKER).write_bytes((_SOURCES / "keeper.js").read_bytes())


def switch_off(site: Path) -> None:
    """Write the worker that removes what earlier states of this site have left on devices."""
    (site / WORKER).write_bytes((_SOURCES / "switched_off.js").read_bytes())


def edition(site: Path) -> str:
    """Return the list of a finished site as JSON: its files, their bytes, and about how many go over the network.

    The same site gives the same text; the edition's name is a hash of it.
    """
    files = []
    fetched = 0
    for name, path in _kept_paths(site):
        content = path.read_bytes()
        packed = path.with_name(path.name + ".gz")
        address = name.removesuffix("index.html") if f"/{name}".endswith("/index.html") else name
        files.append(KeptFile(address, hashlib.sha256(content).hexdigest()[:32], len(content), packed.exists()))
        fetched += packed.stat().st_size if packed.exists() else _compressed_size(path, content)
    listed = [asdict(file) for file in files]
    name = hashlib.sha256(json.dumps(listed).encode()).hexdigest()[:16]
    total = sum(file.bytes for file in files)
    return json.dumps({"edition": name, "bytes": total, "fetched": fetched, "files": listed}, separators=(",", ":"))


def _kept_paths(site: Path) -> Iterator[tuple[str, Path]]:
    for path in sorted(path for path in site.rglob("*") if path.is_file()):
        name = path.relative_to(site).as_posix()
        left_out = path.suffix in _LEFT_OUT and not (path.suffix == ".zip" and name.startswith(_LIVE))
        if not left_out and not name.startswith(_LEFT_OUT_PATHS):
            yield name, path


def _compressed_size(path: Path, content: bytes) -> int:
    return len(content) if path.suffix in _AS_IT_IS else len(zlib.compress(content, 1))
