"""Runs inside Pyodide while the runtime is built: sources in, one stored zip of bytecode out.

A host Python cannot do this work: its bytecode has another magic number.
"""

import gzip
import io
import marshal
import sys
import zipfile
from collections.abc import Iterable
from importlib._bootstrap_external import _code_to_hash_pyc  # the standard library's own writer
from importlib.util import source_hash
from pathlib import Path
from types import CodeType

from ready_made import ready_made, with_changes

STANDARD_LIBRARY = "/lib/python314.zip"
WHOLE = "whole_"  # the name of a module of the library for which another stands in until it is needed
EPOCH = (1980, 1, 1, 0, 0, 0)


def without_lines(code: CodeType) -> CodeType:
    """The same code without line numbers, in it and in every code object among its constants.

    An empty location table breaks ``traceback``; this one says "no location" for every instruction
    (Objects/locations.md in CPython: entry kind 15, up to eight code units an entry).
    """
    constants = tuple(without_lines(c) if isinstance(c, CodeType) else c for c in code.co_consts)
    full, rest = divmod(len(code.co_code) // 2, 8)
    table = b"\xff" * full + (bytes([0xF8 | rest - 1]) if rest else b"")
    return code.replace(co_consts=constants, co_linetable=table)


def bytecode(source: str, name: str, *, own: bool) -> bytes:
    """An unchecked hash-based .pyc. ``own`` code keeps its lines, asserts and docstrings; the library does not."""
    code = compile(source, name, "exec", dont_inherit=True, optimize=0 if own else 2)
    if not own:
        code = without_lines(code)
    return bytes(_code_to_hash_pyc(marshal.loads(settled(code)), source_hash(source.encode()), False))


def settled(value: object) -> bytes:
    """A value marshalled; twice, because the flags that marshal sets depend on reference counts, and settle."""
    return marshal.dumps(marshal.loads(marshal.dumps(value)))


def library_sources(modules: list[str]) -> dict[str, str]:
    """Path in the zip and source of each named module of the standard library that has one."""
    found = {}
    with zipfile.ZipFile(STANDARD_LIBRARY) as library:
        names = set(library.namelist())
        for module in modules:
            stem = module.removeprefix(WHOLE).replace(".", "/")
            for path in (f"{stem}.py", f"{stem}/__init__.py"):
                if path in names:
                    found[WHOLE + path if module.startswith(WHOLE) else path] = library.read(path).decode()
    return found


def stored_zip(files: dict[str, bytes]) -> bytes:
    """A zip without compression: the host compresses it whole, which is smaller."""
    buffer = io.BytesIO()
    with zipfile.ZipFile(buffer, "w", zipfile.ZIP_STORED) as archive:
        for path in sorted(files):
            archive.writestr(zipfile.ZipInfo(path, EPOCH), files[path])
    return buffer.getvalue()


def gzipped(content: bytes) -> bytes:
    """A gzip file with no date and no name."""
    return gzip.compress(bytes(content), compresslevel=9, mtime=0)


def library_files(modules: list[str], stand_ins: dict[str, str], own_sources: dict[str, str]) -> dict[str, bytes]:
    """Path in the zip and bytecode of the library's modules, of what stands in for some, and of our own sources."""
    replaced = {path.removesuffix(".py").replace("/", ".") for path in stand_ins}
    library = library_sources([name for name in modules if name not in replaced]) | dict(stand_ins)
    ready = ready_made(written(own_sources), names_of(own_sources), names_of(set(library) - set(stand_ins)))
    files = {f"{path}c": bytecode(text, path, own=False) for path, text in with_changes(library).items()}
    files |= {path: settled(without_lines_in(found)) for path, found in ready.items()}
    return files | {f"{path}c": bytecode(text, path, own=True) for path, text in own_sources.items()}


def written(sources: dict[str, str]) -> str:
    """The path of an archive with these sources."""
    archive = Path("/own_sources.zip")
    archive.write_bytes(stored_zip({path: text.encode() for path, text in sources.items()}))
    return str(archive)


def names_of(paths: Iterable[str]) -> list[str]:
    """The names of modules by their paths, sorted."""
    stems = (path.removeprefix(WHOLE).removesuffix(".py").removesuffix("/__init__") for path in paths)
    return sorted(stem.replace("/", ".") for stem in stems)


def without_lines_in(found: dict[object, object]) -> dict[object, object]:
    """The same, with each code object among the values without lines."""
    return {key: without_lines(value) if isinstance(value, CodeType) else value for key, value in found.items()}


def library_zip(modules: list[str], stand_ins: dict[str, str], own_sources: dict[str, str]) -> bytes:
    """The zip that stands at STANDARD_LIBRARY in the browser."""
    return stored_zip(library_files(modules, stand_ins, own_sources))


def whole_library_zip(own_sources: dict[str, str]) -> bytes:
    """The whole standard library as it came, with our own sources; for tests that need more of it than a page."""
    with zipfile.ZipFile(STANDARD_LIBRARY) as library:
        files = {name: library.read(name) for name in library.namelist() if not name.endswith("/")}
    return stored_zip(files | {path: text.encode() for path, text in own_sources.items()})


def loaded_modules() -> list[str]:
    """What a started Pyodide has imported from its standard library."""
    return sorted(
        name
        for name, module in sys.modules.items()
        if STANDARD_LIBRARY in str(getattr(getattr(module, "__spec__", None), "origin", None))
    )
