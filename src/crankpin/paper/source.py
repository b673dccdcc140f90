"""What the site leaves for the printer: the finished text of each page and the calculators that stand in it.

The build writes it beside the site; the printer reads it. Neither needs the other to run.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Sequence
from dataclasses import asdict, dataclass
from pathlib import Path

from crankpin.elements.embedded import Embedded

#: Where the build leaves it, seen from the course's folder.
FILE = Path("build") / "print" / "pages.json"
_SHORT = 6
_ALPHABET = "23456789abcdefghjkmnpqrstuvwxyz"


@dataclass(frozen=True, slots=True)
class SourcePage:
    """A page: its file, its address under the site's, title, chapter number (0 for other pages), and HTML."""

    file: str
    url: str
    title: str
    chapter: int
    html: str
    calculators: tuple[Embedded, ...]
    answers: tuple[tuple[str, str], ...] = ()
    """The titles of its problems with their short answers."""


@dataclass(frozen=True, slots=True)
class Source:
    """The whole course as built: its name, the address that codes lead to ("" when none is set), its pages.

    ``sheet`` names the size of the paper; ``calculators`` is the folder of the declarations, seen from the course's.
    """

    course: str
    address: str
    language: str
    pages: tuple[SourcePage, ...]
    sheet: str = "A4"
    calculators: str = "calculators"
    terms: str = ""
    """Who may do what with it, as HTML."""

    def save(self, folder: Path) -> Path:
        """Write it under a course's folder and return the file."""
        file = folder / FILE
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(json.dumps(asdict(self), ensure_ascii=False, indent=1), encoding="utf-8")
        return file


def load_source(folder: Path) -> Source:
    """Read what the build of a course left. Raises FileNotFoundError when it was never built."""
    data = json.loads((folder / FILE).read_text(encoding="utf-8"))
    pages = tuple(
        SourcePage(
            **{
                **page,
                "calculators": tuple(Embedded(**one) for one in page["calculators"]),
                "answers": tuple((title, text) for title, text in page.get("answers", ())),
            }
        )
        for page in data["pages"]
    )
    return Source(**{**data, "pages": pages})


def short_name(page: SourcePage, one: Embedded) -> str:
    """Return the six signs that stand for a calculator with its inputs in a printed address."""
    digest = hashlib.sha256(f"{page.url}{one.query()}".encode()).digest()
    return "".join(_ALPHABET[byte % len(_ALPHABET)] for byte in digest[:_SHORT])


def short_address(source: Source, page: SourcePage, one: Embedded) -> str:
    """Return the whole short address, "" where the course has no address."""
    return f"{source.address.rstrip('/')}/q/{short_name(page, one)}/" if source.address else ""


def write_short_pages(site: Path, pages: Sequence[SourcePage]) -> None:
    """Write the pages that short addresses lead to; each leads on to a calculator with its inputs.

    They hold no script and no style, so that they work under any policy and without JavaScript.
    """
    for page in pages:
        for one in page.calculators:
            folder = site / "q" / short_name(page, one)
            folder.mkdir(parents=True, exist_ok=True)
            target = f"../../{page.url}{one.query()}".replace("&", "&amp;")
            (folder / "index.html").write_text(
                '<!doctype html><html lang="en"><head><meta charset="utf-8"><title>To the calculator</title>'
                '<meta http-equiv="Content-Security-Policy" content="default-src \'none\'">'
                '<meta name="viewport" content="width=device-width">'
                f'<meta http-equiv="refresh" content="0; url={target}"></head>'
                f'<body><p><a href="{target}">To the calculator, with the printed numbers</a></p></body></html>\n',
                encoding="utf-8",
            )
