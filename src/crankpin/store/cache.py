"""What a build worked out and the next one need not: kept beside the course, found again by what it follows from.

A key is a hash over everything that can change the result: crankpin's own code, the versions of Python and of the
libraries, a calculator's file, every value. Nothing is ever brought up to date: what has another cause has another
key, and while crankpin's own files change, nothing is kept. The folder may be removed at any time; an entry that was
damaged, or cannot be read, is made anew.
"""

from __future__ import annotations

import contextlib
import hashlib
import json
import os
import platform
import tempfile
import time
from collections.abc import Iterator, Mapping
from functools import cache
from importlib import metadata
from pathlib import Path
from typing import Any

#: Where it lies, seen from the course's folder.
FOLDER = Path("build") / "cache"
LIBRARIES = ("matplotlib", "numpy", "fonttools", "brotli", "math-core", "markdown")
#: No more is kept than this, the longest unused going first.
LARGEST_BYTES = 200_000_000
#: What no build has asked for in so many seconds goes.
LONGEST_UNUSED = 30 * 86400.0
_MARK_AGAIN = 86400.0
_PACKAGE = Path(__file__).parents[1]
_STARTED = time.time()
#: A process has read crankpin's files no longer than so many seconds before it read this one.
_TO_LOAD = 10.0
_DIGEST_BYTES = 32


@cache
def code_state() -> str:
    """Return a hash over crankpin's own Python files, and over the versions of Python and of the libraries."""
    whole = hashlib.sha256(platform.python_version().encode())
    for name in LIBRARIES:
        whole.update(f"{name} {_version(name)}\0".encode())
    for path in sorted(_PACKAGE.rglob("*.py")):
        content = path.read_bytes()
        whole.update(f"{path.relative_to(_PACKAGE).as_posix()} {len(content)}\0".encode() + content)
    return whole.hexdigest()


def _settled() -> bool:
    """Return whether crankpin's files are still those that this process has read."""
    try:
        return all(path.stat().st_mtime < _STARTED - _TO_LOAD for path in _PACKAGE.rglob("*.py"))
    except OSError:
        return False


def _version(name: str) -> str:
    try:
        return metadata.version(name)
    except metadata.PackageNotFoundError:
        return ""


class Cache:
    """Results in a folder, by what they follow from; without a folder nothing is kept."""

    def __init__(self, folder: Path | None) -> None:
        self._folder = folder

    def is_new(self) -> bool:
        """Return whether nothing was kept before."""
        return self._folder is not None and not self._folder.exists()

    def key(self, kind: str, *causes: object) -> str:
        """Return the key of a result that follows from these causes (plain data) and from the code."""
        return hashlib.sha256(json.dumps([kind, code_state(), *causes]).encode()).hexdigest()

    def has(self, key: str) -> bool:
        """Return whether there is an entry; it may still prove damaged."""
        return self._folder is not None and (self._folder / key).is_file()

    def find(self, key: str) -> Mapping[str, Any] | None:
        """Return the plain data kept under a key; None where there is none, or none that is whole."""
        content = self._read(key)
        found: Mapping[str, Any] | None = None if content is None else json.loads(content)
        return found

    def keep(self, key: str, data: Mapping[str, Any]) -> None:
        """Keep plain data under a key, whole or not at all; where nothing can be written, nothing is kept."""
        self.keep_all({key: data})

    def keep_all(self, entries: Mapping[str, Mapping[str, Any]]) -> None:
        """Keep each under its key. All must have been worked out before: the code is looked at once for them all."""
        if self._folder is None or not entries or not _settled():
            return
        for key, data in entries.items():
            self._write(self._folder, key, data)

    def _write(self, folder: Path, key: str, data: Mapping[str, Any]) -> None:
        content = json.dumps(data, ensure_ascii=False).encode()
        with contextlib.suppress(OSError):
            folder.mkdir(parents=True, exist_ok=True)
            with tempfile.NamedTemporaryFile(dir=folder, prefix="new-", delete=False) as file:
                file.write(hashlib.sha256(content).digest() + content)
            try:
                Path(file.name).replace(folder / key)
            except OSError:
                Path(file.name).unlink()

    def _read(self, key: str) -> bytes | None:
        if self._folder is None:
            return None
        try:
            entry = (self._folder / key).read_bytes()
        except OSError:
            return None
        digest, content = entry[:_DIGEST_BYTES], entry[_DIGEST_BYTES:]
        if hashlib.sha256(content).digest() != digest:
            return None
        self._mark(self._folder / key)
        return content

    def _mark(self, path: Path) -> None:
        """Note, once a day, that an entry is in use."""
        now = time.time()
        with contextlib.suppress(OSError):
            if now - path.stat().st_mtime > _MARK_AGAIN:
                os.utime(path, (now, now))

    def prune(self) -> None:
        """Remove what has long been unused, and the longest unused of what is too much."""
        total = 0
        for state, path in sorted(self._entries(), key=lambda entry: -entry[0].st_mtime):
            total += state.st_size
            if total > LARGEST_BYTES or time.time() - state.st_mtime > LONGEST_UNUSED:
                with contextlib.suppress(OSError):
                    path.unlink()

    def _entries(self) -> Iterator[tuple[os.stat_result, Path]]:
        if self._folder is None:
            return
        with contextlib.suppress(OSError):
            for entry in os.scandir(self._folder):
                with contextlib.suppress(OSError):
                    yield entry.stat(), Path(entry.path)
