"""Calculators and scenes as finished HTML, made once for each set of values and kept from build to build.

While a page is being made, a short stand-in holds the place of each; `Prerenderer.filled` puts the finished ones in. So
what changes pages on their way, and there is much of it, never goes through figures and workings.
"""

from __future__ import annotations

import hashlib
import re
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import asdict, dataclass
from functools import cache
from pathlib import Path
from typing import Any

from crankpin.calculator.catalogue import Catalogue, load_catalogue
from crankpin.calculator.declaration import Calculator
from crankpin.calculator.declared import read_calculator
from crankpin.calculator.evaluate import evaluate
from crankpin.calculator.faults import DeclarationFaultsError, InputFaultsError
from crankpin.elements.calculator import calculator_html_and_inputs, ids_in
from crankpin.elements.scene import scene_html, worked_out
from crankpin.faults import AuthorError
from crankpin.notation.blocks import read_pairs
from crankpin.notation.course import Course
from crankpin.notation.passages import fences
from crankpin.site import fonts, policy
from crankpin.store.cache import Cache
from crankpin.store.pool import Begun, Pool

#: Stands for the element's id, which begins every id inside; a character that no text holds.
_ID = "\ue000"
_STAND_IN = re.compile(
    r'<(crankpin-calculator|crankpin-scene) id="(?P<id>[^"]*)" data-prerendered="(?P<key>[0-9a-f]{64})" '
    r"data-search-exclude></\1>"
)
_WORTH_MORE_HANDS = 8


@dataclass(frozen=True)
class Prerendered:
    """One calculator or scene as it stands in a page, but for its element's id."""

    html: str
    calculator: str
    """The calculator's id, "" for a scene."""
    ids: Sequence[str]
    """The ids of all elements inside, and its own."""
    typed: Mapping[str, str]
    """Every input of a calculator as typed, with its unit."""
    text: str
    """The characters of its text, each once."""
    maths: str
    """The characters of its formulas, each once."""


@dataclass(frozen=True)
class Wanted:
    """What is to be prerendered: a calculator with its inputs, or a scene with its options, all worked out."""

    scene: bool
    name: str
    given: Mapping[str, str]
    file: str
    """The calculator's file, "" for a scene."""
    digest: str
    """The hash of the calculator's source text."""


class Prerenderer:
    """Bakes for one build of a course."""

    def __init__(self, cache: Cache, pool: Pool) -> None:
        self._cache = cache
        self._pool = pool
        self._digests: dict[str, str] = {}
        #: What pages use and is prerendered, by its key.
        self.used: dict[str, Prerendered] = {}
        self._waiting: dict[str, tuple[Wanted, Calculator | None, str]] = {}
        self._places: dict[str, int] = {}
        self._begun: Begun[Wanted, dict[str, Any] | None] | None = None
        self._new: dict[str, dict[str, Any]] = {}

    def calculator(self, catalogue: Catalogue, name: str, given: Mapping[str, str], element_id: str) -> str:
        """Return what stands in for a calculator. Raises `AuthorError` with every fault of what is given."""
        return self._placed(self._wanted(catalogue, name, given), element_id, catalogue[name])

    def scene(self, course: Course, kind: str, options: Mapping[str, str], element_id: str) -> str:
        """Return what stands in for a scene. Raises `AuthorError` with every fault of its options."""
        return self._placed(_wanted_scene(course, kind, options), element_id, None)

    def in_page(self, page: str) -> Iterator[tuple[str, Prerendered]]:
        """Yield what stands in a page, in order: the element's id, and what is prerendered."""
        for found in _STAND_IN.finditer(page):
            yield found["id"], self._prerendered(found["key"])

    def filled(self, page: str) -> str:
        """Return a page with everything prerendered in the places of the stand-ins."""
        return _STAND_IN.sub(lambda found: self._prerendered(found["key"]).html.replace(_ID, found["id"]), page)

    def ids(self, part: str, among: Collection[str]) -> Iterator[str]:
        """Yield which of some ids a part of a page has, in what is prerendered or beside it.

        What is prerendered begins every id with its element's, so that one need seldom wait for it.
        """
        for found in _STAND_IN.finditer(part):
            element_id = found["id"]
            if any(one.startswith(element_id) for one in among):
                has = (one.replace(_ID, element_id) for one in self._prerendered(found["key"]).ids)
                yield from (one for one in has if one in among)
        yield from (one for one in ids_in(_STAND_IN.sub("", part)) if one in among)

    def characters(self) -> fonts.Used:
        """Return the characters of everything that pages use."""
        self._wait_for_all()
        prerendered = self.used.values()
        return fonts.Used(
            frozenset("".join(one.text for one in prerendered)), frozenset("".join(one.maths for one in prerendered))
        )

    def prepare(self, course: Course, catalogue: Catalogue, pages: Iterable[str]) -> bool:
        """Begin to prerender what these Markdown texts ask for and is not kept; faults are told when it is used.

        Returns whether it is so much that more processes are at it.
        """
        missing: dict[str, Wanted] = {}
        for wanted in self._asked_for(course, catalogue, pages):
            key = self._key(wanted)
            if not self._cache.has(key):
                missing[key] = wanted
        if len(missing) >= _WORTH_MORE_HANDS:
            self._places = {key: i for i, key in enumerate(missing)}
            self._begun = self._pool.begin(prerender, list(missing.values()), worth=_WORTH_MORE_HANDS)
        return bool(self._places)

    def keep(self) -> None:
        """Keep what was prerendered by other processes and is used."""
        self._wait_for_all()
        self._cache.keep_all(self._new)
        self._new.clear()

    def _asked_for(self, course: Course, catalogue: Catalogue, pages: Iterable[str]) -> Iterable[Wanted]:
        for page in pages:
            for fence in fences(page.split("\n")):
                kind, _, name = fence.info.partition(" ")
                try:
                    if kind == "calculator":
                        given = course.given(name, read_pairs(fence.body))
                        yield self._wanted(catalogue, course.calculator_of(name), given)
                    elif kind == "scene":
                        yield _wanted_scene(course, name, read_pairs(fence.body))
                except AuthorError:
                    continue

    def _wanted(self, catalogue: Catalogue, name: str, given: Mapping[str, str]) -> Wanted:
        if name not in self._digests:
            self._digests[name] = _digest(catalogue.sources[name])
        return Wanted(False, name, given, str(catalogue.files[name]), self._digests[name])

    def _placed(self, wanted: Wanted, element_id: str, declared: Calculator | None) -> str:
        key = self._key(wanted)
        if key not in self.used and key not in self._waiting:
            self._waiting[key] = (wanted, declared, element_id)
            if not (key in self._places and declared and _answers(declared, wanted.given)):
                self._prerendered(key)
        element = "crankpin-scene" if wanted.scene else "crankpin-calculator"
        return f'<{element} id="{element_id}" data-prerendered="{key}" data-search-exclude></{element}>'

    def _prerendered(self, key: str) -> Prerendered:
        """Return what stands in a page under a key, and wait for it where it is still being prerendered."""
        if key in self._waiting:
            wanted, declared, element_id = self._waiting.pop(key)
            found = self._begun_before(key) or self._cache.find(key) or self._made(key, wanted, declared, element_id)
            self.used[key] = Prerendered(**found)
        return self.used[key]

    def _wait_for_all(self) -> None:
        for key in list(self._waiting):
            self._prerendered(key)

    def _begun_before(self, key: str) -> dict[str, Any] | None:
        place = self._places.pop(key, None)
        entry = self._begun.result(place) if self._begun and place is not None else None
        if entry is not None:
            self._new[key] = entry
        return entry

    def _key(self, wanted: Wanted) -> str:
        return self._cache.key("prerendered", wanted.scene, wanted.name, list(wanted.given.items()), wanted.digest)

    def _made(self, key: str, wanted: Wanted, declared: Calculator | None, element_id: str) -> dict[str, Any]:
        entry = _entry(wanted, declared, element_id)
        self._cache.keep(key, entry)
        return entry


def sound_catalogue(folder: Path, cache: Cache) -> Catalogue:
    """Read the calculators in a folder; what was found without a mistake before is not held against itself again.

    Raises `DeclarationFaultsError` with all the mistakes of all the files.
    """
    catalogue = load_catalogue(folder, known_sound=lambda source: cache.has(cache.key("sound", source)))
    for source in catalogue.sources.values():
        key = cache.key("sound", source)
        if not cache.has(key):
            cache.keep(key, {})
    return catalogue


def _answers(calculator: Calculator, given: Mapping[str, str]) -> bool:
    """Return whether a calculator takes what is given; if not, its page must be told at once, with the line."""
    try:
        evaluate(calculator, given)
    except InputFaultsError:
        return False
    return True


def _wanted_scene(course: Course, kind: str, options: Mapping[str, str]) -> Wanted:
    return Wanted(True, kind, worked_out(course, kind, options), "", "")


def _entry(wanted: Wanted, declared: Calculator | None, element_id: str) -> dict[str, Any]:
    """Prerender one thing. Raises `AuthorError` with its faults, told of the element's id."""
    try:
        if declared is None:
            html = scene_html(wanted.name, wanted.given, _ID, course=Course({}))
            typed: Mapping[str, str] = {}
        else:
            calculators = {wanted.name: declared}
            html, typed = calculator_html_and_inputs(wanted.name, wanted.given, _ID, calculators=calculators)
    except AuthorError as told:
        raise AuthorError(str(told).replace(_ID, element_id)) from None
    policy.check_part(html)
    used = fonts.characters([html.replace(_ID, "")])
    text, maths = ("".join(sorted(one)) for one in (used.text, used.maths))
    return asdict(Prerendered(html, wanted.name if declared else "", ids_in(html), typed, text, maths))


def prerender(wanted: Wanted) -> dict[str, Any] | None:
    """Prerender one thing in a process of its own; None where it is at fault or its file has changed since."""
    try:
        return _entry(wanted, None if wanted.scene else _declared(wanted.name, wanted.file, wanted.digest), "")
    except (AuthorError, DeclarationFaultsError, OSError):
        return None


def get_ready() -> None:
    """Do nothing: what prerendering needs has been read when this is called."""


@cache
def _declared(name: str, file: str, digest: str) -> Calculator:
    source = Path(file).read_text("utf-8")
    if _digest(source) != digest:
        raise OSError(f"{file} was changed while the course was built")
    return read_calculator(source, file)


def _digest(source: str) -> str:
    return hashlib.sha256(source.encode()).hexdigest()
