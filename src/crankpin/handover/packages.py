"""Packages as files: what a teacher hands to the platform."""

from __future__ import annotations

import zipfile
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path

from crankpin.calculator.declaration import Calculator
from crankpin.faults import AuthorError
from crankpin.handover import qti12, qti21
from crankpin.handover.cartridge import Folder
from crankpin.handover.cartridge import files as cartridge_files
from crankpin.handover.questions import items_of
from crankpin.handover.reader import PackageFaultsError, check_cartridge, check_qti21
from crankpin.problems.declaration import Problem
from crankpin.problems.faults import NoNumberError, WordingError

_EPOCH = (1980, 1, 1, 0, 0, 0)


def write_questions(
    title: str, problems: Sequence[Problem], numbers: Sequence[int], calculators: Mapping[str, Calculator], folder: Path
) -> list[Path]:
    """Write the QTI 2.1 and 1.2 packages of some problems, with these sets of numbers; return the files.

    Raises `AuthorError` for a problem that cannot be packed.
    """
    try:
        packed = [(problem.title, items_of(problem, numbers, calculators)) for problem in problems]
    except (WordingError, NoNumberError) as error:
        raise AuthorError(str(error)) from None
    files = qti21.files(title, packed)
    _sound(lambda: check_qti21(files))
    # Trees are used up by writing them: the second format has its own.
    again = [(problem.title, items_of(problem, numbers, calculators)) for problem in problems]
    older = {"questions.xml": qti12.file(title, again)}
    return [_zipped(folder / "questions-qti21.zip", files), _zipped(folder / "questions-qti12.zip", older)]


def write_cartridge(title: str, folders: Sequence[Folder], folder: Path) -> Path:
    """Write a Common Cartridge of links; return the file. Raises `AuthorError`."""
    files = cartridge_files(title, folders)
    _sound(lambda: check_cartridge(files))
    return _zipped(folder / "course.imscc", files)


def _sound(check: Callable[[], None]) -> None:
    try:
        check()
    except PackageFaultsError as error:
        raise AuthorError(f"the package is not as the standard asks: {error}") from None


def _zipped(path: Path, files: Mapping[str, bytes]) -> Path:
    """Write files into an archive; equal files give equal bytes."""
    path.parent.mkdir(parents=True, exist_ok=True)
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive:
        for name in sorted(files):
            entry = zipfile.ZipInfo(name, _EPOCH)
            entry.compress_type = zipfile.ZIP_DEFLATED
            archive.writestr(entry, files[name])
    return path
