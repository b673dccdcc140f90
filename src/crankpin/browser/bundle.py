"""What a site publishes for its live pages: scripts, the Python of the page, the course's calculators.

All of it lies in one folder. Each name holds a hash of the content, and each script names the others so,
that an old page never meets a new script. `live_files` makes them; nothing here writes to disk.
"""

from __future__ import annotations

import hashlib
import io
import json
import re
import zipfile
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from crankpin.browser.runtime import BrowserRuntime, package_sources

STATIC = Path(__file__).parent / "static"
SCENES = Path(__file__).parent.parent / "scenes"
HEAD = "head.js"
"""The classic script that stands in the head of every page."""
START = "start.mjs"
"""The module that stands at the end of every page with a calculator."""
PROBLEMS = "problems.mjs"
"""The module behind the problems of a page that has some."""
KEEP = "keep.mjs"
"""The module behind the line about what is kept on the reader's device."""
COURSE = "course.zip"
MANIFEST = "manifest.mjs"

_EPOCH = (1980, 1, 1, 0, 0, 0)
_IMPORTED = re.compile(r'(?:from |import\()"\./([\w.-]+\.mjs)"')
_NAMED = re.compile(r'"\./([\w.-]+\.(?:mjs|js|zip))"')


@dataclass(frozen=True)
class LiveFiles:
    """Files by the name under which they are published, and the published name of each script and archive."""

    files: Mapping[str, bytes]
    names: Mapping[str, str]
    """``start.mjs`` to ``start.0a1b2c3d4e.mjs``; the runtime's own files keep their names."""

    def imported_by(self, script: str) -> list[str]:
        """Return the published names of the modules that a script imports, and that these import, in their order."""
        found: list[str] = []
        waiting = [self.names[script]]
        while waiting:
            code = self.files[waiting.pop(0)].decode("utf-8")
            fresh = [name for name in dict.fromkeys(_IMPORTED.findall(code)) if name not in found]
            found += fresh
            waiting += fresh
        return found


def live_files(calculators: Mapping[str, Path], runtime: BrowserRuntime) -> LiveFiles:
    """Return everything to publish for a course.

    ``calculators`` gives the file of each calculator by its id. Raises ValueError where a script names a file
    that is not there, or scripts name each other in a ring.
    """
    plain = {path.name: path.read_bytes() for path in STATIC.glob("*js")}
    plain[MANIFEST] = _manifest_module(runtime)
    plain[COURSE] = course_archive(calculators, whole=not runtime.current)
    names: dict[str, str] = {}
    files: dict[str, bytes] = {}
    for name in sorted(plain):
        _publish(name, plain, names, files, ())
    for name in runtime.names:
        files[name] = (runtime.folder / name).read_bytes()
    return LiveFiles(files, names)


def course_archive(calculators: Mapping[str, Path], *, whole: bool) -> bytes:
    """Return the archive that the worker puts on Python's path; equal sources give equal bytes.

    It holds the calculators and scenes, which are read one by one when a page uses them; crankpin's own packages too
    where ``whole`` says that the runtime's are not those installed.
    """
    contents = {f"calculators/{path.name}": path.read_bytes() for path in calculators.values()}
    contents |= {f"scenes/{path.name}": path.read_bytes() for path in SCENES.glob("[!_]*.py")}
    if whole:
        contents |= package_sources()
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as archive:
        for name in sorted(contents):
            entry = zipfile.ZipInfo(name, _EPOCH)
            entry.compress_type = zipfile.ZIP_DEFLATED
            archive.writestr(entry, contents[name], compresslevel=9)
    return out.getvalue()


def _manifest_module(runtime: BrowserRuntime) -> bytes:
    kept = {key: runtime.manifest[key] for key in ("files", "modules", "emptied", "lock_info")}
    return f"export default {json.dumps(kept, sort_keys=True)};\n".encode()


def _publish(
    name: str, plain: Mapping[str, bytes], names: dict[str, str], files: dict[str, bytes], above: tuple[str, ...]
) -> str:
    """Publish a file after those that it names; return its published name."""
    if name in names:
        return names[name]
    if name in above:
        raise ValueError(f"scripts name each other in a ring: {' → '.join((*above, name))}")
    content = plain[name]
    if name.endswith("js"):
        for other in _named_in(name, content, plain):
            put = _publish(other, plain, names, files, (*above, name))
            content = content.replace(f'"./{other}"'.encode(), f'"./{put}"'.encode())
    stem, dot, suffix = name.partition(".")
    names[name] = f"{stem}.{hashlib.sha256(content).hexdigest()[:10]}{dot}{suffix}"
    files[names[name]] = content
    return names[name]


def _named_in(name: str, content: bytes, plain: Mapping[str, bytes]) -> Iterator[str]:
    code = re.sub(r"/\*.*?\*/", "", content.decode("utf-8"), flags=re.DOTALL)
    for other in dict.fromkeys(_NAMED.findall(code)):
        if other not in plain:
            raise ValueError(f"{name} names {other}, which is not there")
        yield other
