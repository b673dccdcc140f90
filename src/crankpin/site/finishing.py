"""The last step over a built site: one style sheet, cut fonts, lazy search, the content policy."""

from __future__ import annotations

import hashlib
import re
from dataclasses import dataclass
from pathlib import Path
from urllib.parse import urlsplit

from crankpin.faults import AuthorError, CourseFault, CourseFaultsError, Place
from crankpin.site import fonts, policy, search, styles
from crankpin.site.live import LiveScripts
from crankpin.site.prerendering import Prerenderer
from crankpin.store.cache import Cache
from crankpin.store.pool import Pool

ASSETS = "assets/crankpin"
_FIRST_PRERENDERED = re.compile(r'<crankpin-(?:calculator|scene) id="([^"]*)"')
_FRAME_SCRIPT = f"{ASSETS}/site.js"


@dataclass(frozen=True)
class Site:
    """A built site: its folder, its address, and whether it is being served while its author writes."""

    folder: Path
    address: str
    """The site's public address, "" when it has none; only its path is used."""
    scripts: LiveScripts | None = None
    """The scripts of live calculators, None where there are none to load."""
    writing: bool = False
    reloading: bool = False
    """Whether a server will add a script of its own to each page, as MkDocs's does while it is written."""


class Finishing:
    """Finishes the pages of one built site in place, all of them and then some of them again."""

    def __init__(self, site: Site, prerenderer: Prerenderer, cache: Cache, pool: Pool) -> None:
        self._site, self._prerenderer = site, prerenderer
        self._all = {path: path.read_text("utf-8") for path in sorted(site.folder.rglob("*.html"))}
        used = fonts.characters([*self._all.values(), styles.sheet()]) | prerenderer.characters()
        self._faces = fonts.whole if site.writing else fonts.cut(used, cache, pool)
        self._frame_script = _named_by_content(site.folder, _FRAME_SCRIPT)
        self._lazy = search.make_lazy(site.folder)
        self._moved = policy.Moved()

    def all(self) -> None:
        """Finish every page. Raises `CourseFaultsError` for pages that break the policy."""
        self._finish(self._all)

    def again(self, path: Path) -> None:
        """Finish one page that was written again, under the faces of the whole site. Raises as `all` does."""
        self._finish({path: path.read_text("utf-8")})

    def _finish(self, pages: dict[Path, str]) -> None:
        faults: list[CourseFault] = []
        for path, page in pages.items():
            try:
                pages[path] = self._finished(page, root_from(self._site, path))
            except AuthorError as told:
                faults.append(CourseFault(Place(path.relative_to(self._site.folder).as_posix()), str(told)))
        if faults:
            raise CourseFaultsError(faults)
        style_sheet = _write_styles(self._site, self._faces(), self._moved)
        for path, page in pages.items():
            path.write_text(page.replace(styles.STANDS_FOR_ALL, style_sheet), "utf-8")

    def _finished(self, page: str, root: str) -> str:
        ready = page.replace(_FRAME_SCRIPT, self._frame_script)
        ready = self._site.scripts.in_page(ready, root) if self._site.scripts else ready
        ready = self._lazy.in_page(ready) if self._lazy else ready
        ready = _painted_whole(policy.strict(ready, root, self._moved, reloading=self._site.reloading))
        return self._prerenderer.filled(ready)


def _painted_whole(page: str) -> str:
    """Return a page whose first paint has its first calculator or scene in it.

    Else a browser may paint the page's head alone while it reads on.
    """
    first = _FIRST_PRERENDERED.search(page)
    expected = f'<link rel="expect" href="#{first[1]}" blocking="render"></head>' if first else "</head>"
    return page.replace("</head>", expected, 1)


def root_from(site: Site, page: Path) -> str:
    """Return the address of the site's root as seen from a page; absolute for the page that stands in for lost ones."""
    if page.name == "404.html":
        return urlsplit(site.address).path.rstrip("/") + "/"
    return "../" * (len(page.relative_to(site.folder).parts) - 1) or "./"


def _named_by_content(folder: Path, name: str) -> str:
    """Put the hash of a file into its name, so that no page meets another edition's; return the new name."""
    path = folder / name
    if not path.exists():
        return name
    path = path.rename(path.with_stem(f"{path.stem}.{hashlib.sha256(path.read_bytes()).hexdigest()[:10]}"))
    return path.relative_to(folder).as_posix()


def _write_styles(site: Site, faces: list[fonts.CutFace], moved: policy.Moved) -> str:
    folder = site.folder
    assets = folder / ASSETS
    assets.mkdir(parents=True, exist_ok=True)
    for name, script in moved.files.items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_text(script, "utf-8")
    if site.writing:
        for face in faces:
            (assets / face.name).write_bytes(face.data)
    rules = fonts.stylesheet(faces, "") if site.writing else fonts.stylesheet_with_faces(faces)
    text = "\n".join([rules, styles.sheet(), moved.stylesheet()])
    name = f"{ASSETS}/course.{hashlib.sha256(text.encode()).hexdigest()[:10]}.css"
    (folder / name).write_text(text, "utf-8")
    return name
