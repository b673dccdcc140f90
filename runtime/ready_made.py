"""Runs inside Pyodide while the runtime is built: does beforehand what modules do with texts when they are imported.

A data class has its functions compiled from a text, and a regular expression is compiled from its pattern, each time
Python starts; on a phone that took a third of the start. Here the same library does both, and what came out is kept
beside ``dataclasses`` and ``re``, by text and by pattern. These two look there first. What they do not find (in a
teacher's own calculator, say) they compile as ever.
"""

import dataclasses
import importlib
import re
import sys
from importlib.util import module_from_spec, spec_from_loader
from types import CodeType

TAKEN = """
import marshal
_ready = marshal.loads(__loader__.get_data(f"{__loader__.archive}/%s"))
"""
CLASSES = "ready_classes.marshal"
PATTERNS = "ready_patterns.marshal"
CHANGES = {
    "dataclasses.py": (
        CLASSES,
        "        exec(txt, self.globals, ns)\n",
        "        exec(_ready.get(txt, txt), self.globals, ns)\n",
    ),
    "re/_compiler.py": (
        PATTERNS,
        "    if isstring(p):\n        pattern = p\n",
        "    if isstring(p):\n        if (p, flags) in _ready:\n            return _sre.compile(p, *_ready[p, flags])\n"
        "        pattern = p\n",
    ),
}


def with_changes(sources: dict[str, str]) -> dict[str, str]:
    """Return sources by path, of which the two that compile look first for what is ready made."""
    changed = {}
    for path, (store, before, after) in CHANGES.items():
        if sources[path].count(before) != 1:
            raise ValueError(f"{path} has changed: {before!r} must stand in it once. Look at runtime/ready_made.py.")
        changed[path] = sources[path].replace(before, after) + TAKEN % store
    return sources | changed


def ready_made(archive: str, own: list[str], library: list[str]) -> dict[str, object]:
    """Import our modules from an archive, run the library's once more, and return all that they had compiled."""
    texts: set[str] = set()
    patterns: dict[tuple[str | bytes, int], tuple[object, ...]] = {}
    compiler = re._compiler

    def execute(text: str, names: dict[str, object], space: dict[str, object]) -> None:
        texts.add(text)
        exec(text, names, space)

    class Recorded:
        def __getattr__(self, name: str) -> object:
            return getattr(sre, name)

        def compile(self, pattern: str | bytes, flags: int, code: list[int], *rest: object) -> object:
            patterns[pattern, asked[-1]] = (int(flags), list(map(int, code)), *rest)
            return sre.compile(pattern, flags, code, *rest)

    def compile_pattern(pattern: str | bytes, flags: int = 0) -> object:
        asked.append(int(flags))
        return whole(pattern, flags)

    asked: list[int] = []
    sre, whole = compiler._sre, compiler.compile
    dataclasses.exec, compiler._sre, compiler.compile = execute, Recorded(), compile_pattern
    re.purge()
    sys.path.insert(0, archive)
    try:
        for name in own:
            importlib.import_module(name)
        for name in library:
            _run_again(name)
    finally:
        sys.path.remove(archive)
        del dataclasses.exec
        compiler._sre, compiler.compile = sre, whole
    return {CLASSES: {text: _compiled(text) for text in sorted(texts)}, PATTERNS: _in_order(patterns)}


def _run_again(name: str) -> None:
    """Run a module's code in a module that nobody keeps."""
    loader = importlib.import_module(name).__spec__.loader
    spec = spec_from_loader(name, loader)
    loader.exec_module(module_from_spec(spec))


def _compiled(text: str) -> CodeType:
    return compile(text, "<string>", "exec", dont_inherit=True)


def _in_order(patterns: dict[tuple[str | bytes, int], tuple[object, ...]]) -> dict[tuple[str | bytes, int], object]:
    return {key: patterns[key] for key in sorted(patterns, key=repr)}
