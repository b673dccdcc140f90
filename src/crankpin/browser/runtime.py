"""The Python that runs on a page: the files that ``node runtime/build.mjs`` made, and whether they are current.

The product lies in ``runtime_files/`` beside this module, in a clone as in an installed wheel. A site is
built from it without Node. It holds crankpin's own packages as they were when it was made; when they have
changed since, ``current`` says so and the site ships ``package_sources`` itself, ahead of the runtime's.
"""

from __future__ import annotations

import ast
import hashlib
import json
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from types import MappingProxyType
from typing import Any

PRODUCT = Path(__file__).parent / "runtime_files"
MANIFEST = "manifest.json"
PACKAGES = ("mechanics", "calculator", "problems", "service")
"""The parts of crankpin that run on a phone; ``runtime/sources.mjs`` has the same list."""

AT_BUILD_TIME = frozenset({"__main__.py", "cases.py", "check.py", "notation.py", "parsing.py", "trial.py"})
"""What of ``problems`` reads and tries them when a course is built, and stays off phones; listed there too."""


class RuntimeFilesError(Exception):
    """The runtime is not there, or not whole; the message says what to do."""


@dataclass(frozen=True)
class RuntimeFile:
    """One file of the runtime; sizes in bytes."""

    role: str
    """``wasm``, ``engine``, ``loader`` or ``python``."""
    name: str
    """The file's name, which holds a hash of its content."""
    raw: int
    gzip: int
    brotli: int
    packed: str | None
    """The name of the gzipped copy, for hosts that do not compress; None where there is none."""

    @property
    def names(self) -> tuple[str, ...]:
        """The names to publish."""
        return (self.name,) if self.packed is None else (self.name, self.packed)


@dataclass(frozen=True)
class BrowserRuntime:
    """The built runtime: where it lies and what its manifest says."""

    folder: Path
    manifest: Mapping[str, Any]
    """``manifest.json`` as read: what ``boot.mjs`` takes as its ``manifest``."""

    @property
    def files(self) -> tuple[RuntimeFile, ...]:
        """Every file, the engine first."""
        return tuple(
            RuntimeFile(
                role, file["name"], file["raw"], file["gzip"], file["brotli"], file.get("packed", {}).get("name")
            )
            for role, file in self.manifest["files"].items()
        )

    @property
    def names(self) -> tuple[str, ...]:
        """The names of all files to publish, the manifest among them."""
        return (*(name for file in self.files for name in file.names), MANIFEST)

    @property
    def modules(self) -> tuple[str, ...]:
        """The modules of the standard library that a calculator may import."""
        return tuple(self.manifest["modules"])

    @property
    def current(self) -> bool:
        """Whether the runtime holds crankpin's packages as they are installed now."""
        return bool(self.manifest["sources"]["hash"] == sources_hash(package_sources()))

    def missing_imports(self, source: str) -> tuple[str, ...]:
        """Return the modules that a calculator's source imports and the page's Python has not, sorted.

        Raises SyntaxError when the source is no Python.
        """
        wanted = {name for node in ast.walk(ast.parse(source)) for name in _imported(node)}
        return tuple(sorted(name for name in wanted if not self._has(name)))

    def _has(self, module: str) -> bool:
        own = module.split(".")
        if own[0] == "crankpin":
            return own[1:2] == [] or own[1] in PACKAGES
        return module in self.modules


def find_runtime(folder: Path = PRODUCT) -> BrowserRuntime:
    """Return the runtime in a folder.

    Raises RuntimeFilesError when it has not been built, or a file of it is missing or has another size.
    """
    advice = "run 'make runtime' (it needs Node), or install crankpin from its wheel"
    try:
        manifest = json.loads((folder / MANIFEST).read_text(encoding="utf-8"))
    except FileNotFoundError:
        raise RuntimeFilesError(f"The page's Python has not been built: {advice}") from None
    except ValueError as error:
        raise RuntimeFilesError(f"{MANIFEST} of the page's Python cannot be read ({error}): {advice}") from None
    runtime = BrowserRuntime(folder, MappingProxyType(manifest))
    for file in runtime.files:
        path = folder / file.name
        if not path.is_file() or path.stat().st_size != file.raw:
            raise RuntimeFilesError(f"{file.name} of the page's Python is missing or broken: {advice}")
        if file.packed is not None and not (folder / file.packed).is_file():
            raise RuntimeFilesError(f"{file.packed} of the page's Python is missing: {advice}")
    return runtime


def package_sources() -> dict[str, bytes]:
    """Return path (``crankpin/mechanics/circular.py``) and source of all that runs on a phone, sorted."""
    package = Path(__file__).parent.parent
    paths = [package / "__init__.py", *(path for part in PACKAGES for path in (package / part).rglob("*.py"))]
    left_out = {package / "problems" / name for name in AT_BUILD_TIME}
    named = {path.relative_to(package.parent).as_posix(): path for path in paths if path not in left_out}
    return {name: named[name].read_bytes() for name in sorted(named)}


def sources_hash(sources: Mapping[str, bytes]) -> str:
    """Return the SHA-256 over "path NUL length NUL bytes" of each source, as ``runtime/sources.mjs`` does."""
    digest = hashlib.sha256()
    for path, source in sources.items():
        digest.update(f"{path}\0{len(source)}\0".encode() + source)
    return digest.hexdigest()


def _imported(node: ast.AST) -> list[str]:
    if isinstance(node, ast.Import):
        return [alias.name for alias in node.names]
    if isinstance(node, ast.ImportFrom) and node.module is not None and node.level == 0:
        return [node.module]
    return []
