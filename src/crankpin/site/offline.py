"""What a reader's device needs to keep the whole course: the list of its files, and the service worker.

An edition is one state of the finished site. Its list, ``offline.NAME.json``, names each file with a hash of its
content, so that a device stores what was published or nothing; NAME is a hash of the list. ``offline.json`` is the few
words that every page asks for: which edition the host has, and how large it is. ``offline.js``, the worker, has the
same name for ever: a browser looks there for a newer one.
"""

from __future__ import annotations

import hashlib
import json
import zlib
from collections.abc import Iterator
from dataclasses import asdict, dataclass
from pathlib import Path
from urllib.parse import quote

NEWS = "offline.json"
WORKER = "offline.js"
_SOURCES = Path(__file__).parent.parent / "browser" / "offline"

#: Never asked for by a page, or offered for printing and downloading: paper is not for the phone.
_LEFT_OUT = {".map", ".gz", ".pdf", ".zip"}
_LEFT_OUT_PATHS = ("_headers", ".htaccess", "404.html", "offline.", "sitemap.xml", "assets/javascripts/lunr/")
_LIVE = "assets/crankpin/live/"
_AS_IT_IS = {".woff2", ".png", ".jpg"}


@dataclass(frozen=True)
class KeptFile:
    """One file of an edition."""

    path: str
    """As asked for, from the site's root and percent-encoded: a page ends with ``/``, the first page is ``""``."""
    hash: str
    """The first 32 hexadecimal digits of the content's SHA-256."""
    bytes: int
    packed: int
    """The bytes of the gzipped copy that lies beside it, for hosts that do not compress; 0 where there is none."""


@dataclass(frozen=True)
class Edition:
    """One state of a finished site, as a device keeps it. The same site gives the same edition."""

    files: tuple[KeptFile, ...]
    fetched: int
    """About how many bytes go over the network."""
    paper: int
    """The bytes of the PDFs, which are not kept."""

    @property
    def bytes(self) -> int:
        """How many bytes a device stores."""
        return sum(file.bytes for file in self.files)

    @property
    def list(self) -> str:
        """The list of its files as JSON."""
        return json.dumps([asdict(file) for file in self.files], separators=(",", ":"))

    @property
    def name(self) -> str:
        """A hash of the list."""
        return hashlib.sha256(self.list.encode()).hexdigest()[:16]

    @property
    def news(self) -> str:
        """What every page asks for, as JSON."""
        return json.dumps({"edition": self.name, "bytes": self.bytes, "fetched": self.fetched, "paper": self.paper})


def publish(site: Path) -> None:
    """Write the list of a finished site and the worker that answers from it."""
    found = edition(site)
    for older in site.glob("offline.*.json"):
        older.unlink()
    (site / f"offline.{found.name}.json").write_text(found.list, "utf-8")
    (site / NEWS).write_text(found.news, "utf-8")
    (site / WORKER).write_bytes((_SOURCES / "keeper.js").read_bytes())


def switch_off(site: Path) -> None:
    """Write the worker that removes what earlier states of this site have left on devices."""
    (site / WORKER).write_bytes((_SOURCES / "switched_off.js").read_bytes())


def edition(site: Path) -> Edition:
    """Return the edition that a finished site is."""
    files = []
    fetched = 0
    for name, path in _kept_paths(site):
        content = path.read_bytes()
        copy = path.with_name(path.name + ".gz")
        packed = copy.stat().st_size if copy.exists() else 0
        address = name.removesuffix("index.html") if f"/{name}".endswith("/index.html") else name
        files.append(KeptFile(quote(address), hashlib.sha256(content).hexdigest()[:32], len(content), packed))
        fetched += packed or _compressed_size(path, content)
    return Edition(tuple(files), fetched, sum(path.stat().st_size for path in site.rglob("*.pdf")))


def _kept_paths(site: Path) -> Iterator[tuple[str, Path]]:
    for path in sorted(path for path in site.rglob("*") if path.is_file()):
        name = path.relative_to(site).as_posix()
        left_out = path.suffix in _LEFT_OUT and not (path.suffix == ".zip" and name.startswith(_LIVE))
        if not left_out and not name.startswith(_LEFT_OUT_PATHS):
            yield name, path


def _compressed_size(path: Path, content: bytes) -> int:
    return len(content) if path.suffix in _AS_IT_IS else len(zlib.compress(content, 1))
