"""The calculators of a course: one file each, found in a folder, read with every mistake told at once."""

import re
from collections.abc import Callable, Iterator, Mapping
from pathlib import Path

from crankpin.calculator.checks import faults_of
from crankpin.calculator.declaration import Calculator
from crankpin.calculator.declared import declared
from crankpin.calculator.faults import DeclarationFault, DeclarationFaultsError

_NAME = re.compile(r"[a-z][a-z0-9_]*")


class Catalogue(Mapping[str, Calculator]):
    """Calculators by id; the id is the file's name with ``-`` for ``_``."""

    def __init__(
        self, calculators: Mapping[str, Calculator], files: Mapping[str, Path], sources: Mapping[str, str]
    ) -> None:
        self._calculators = dict(calculators)
        #: The file of each calculator.
        self.files = dict(files)
        #: The text of each file, as it was read.
        self.sources = dict(sources)

    def __getitem__(self, name: str) -> Calculator:
        """Return a calculator; raises KeyError."""
        return self._calculators[name]

    def __iter__(self) -> Iterator[str]:
        """Go through the ids in order."""
        return iter(self._calculators)

    def __len__(self) -> int:
        """Return how many there are."""
        return len(self._calculators)


def load_catalogue(folder: Path, *, known_sound: Callable[[str], bool] = lambda source: False) -> Catalogue:
    """Read every calculator in a folder.

    ``known_sound`` says of a source text whether it was held against itself before, with the same code, and found
    without a mistake. Raises `DeclarationFaultsError` with all the mistakes of all the files.
    """
    calculators: dict[str, Calculator] = {}
    files: dict[str, Path] = {}
    sources: dict[str, str] = {}
    faults: list[DeclarationFault] = []
    for file in sorted(folder.glob("*.py")):
        if file.name.startswith("_"):
            continue
        found, source = _read(file)
        if isinstance(found, Calculator):
            faults += [] if known_sound(source) else faults_of(found, str(file))
            name = file.stem.replace("_", "-")
            calculators[name], files[name], sources[name] = found, file, source
        else:
            faults.append(found)
    if faults:
        raise DeclarationFaultsError(faults)
    return Catalogue(calculators, files, sources)


def names_in(folder: Path) -> list[str]:
    """Return the ids of the calculators in a folder, without reading them."""
    return [file.stem.replace("_", "-") for file in sorted(folder.glob("*.py")) if not file.name.startswith("_")]


def load_one(folder: Path, name: str) -> Calculator:
    """Read one calculator of a folder by its id; raises KeyError, or `DeclarationFaultsError` with its mistakes."""
    if name not in names_in(folder):
        raise KeyError(name)
    file = folder / f"{name.replace('-', '_')}.py"
    found, _ = _read(file)
    faults = faults_of(found, str(file)) if isinstance(found, Calculator) else [found]
    if faults or not isinstance(found, Calculator):
        raise DeclarationFaultsError(faults)
    return found


def _read(file: Path) -> tuple[Calculator | DeclarationFault, str]:
    if not _NAME.fullmatch(file.stem):
        return DeclarationFault(str(file), 1, "a calculator's file name is small letters, digits and _"), ""
    try:
        source = file.read_text(encoding="utf-8")
    except (OSError, UnicodeDecodeError):
        return DeclarationFault(str(file), 1, "this file cannot be read as text; save it as UTF-8"), ""
    return declared(source, str(file)), source
