"""The two typefaces of the site, cut down to the characters its pages use.

Text: Source Serif 4; maths: STIX Two Math; both under the SIL Open Font License (see `fonts/`). The cut faces carry
names of our own, as the licence asks of changed fonts with a reserved name. Same pages, same bytes: no dates are
written and the file name is a hash of the content.
"""

from __future__ import annotations

import hashlib
import html
import io
import re
import string
from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from fontTools.subset import Options, Subsetter
from fontTools.ttLib import TTFont

FOLDER = Path(__file__).parent / "fonts"
TEXT_FAMILY = "Quay Text"
MATHS_FAMILY = "Quay Maths"


@dataclass(frozen=True)
class Face:
    """One font file as delivered, and the face it becomes."""

    file: str
    family: str
    weight: int
    style: str


def _text_faces() -> tuple[Face, ...]:
    return tuple(
        Face(f"source-serif-4-{part}-{weight}-{style}.woff2", TEXT_FAMILY, weight, style)
        for weight in (400, 600)
        for style in ("normal", "italic")
        for part in ("latin", "latin-ext", "greek")
    )


TEXT_FACES = _text_faces()
MATHS_FACE = Face("stix-two-math.woff2", MATHS_FAMILY, 400, "normal")

# Results computed on the reader's device may need any of these, whether or not the built pages do.
LIVE = string.digits + string.ascii_letters + string.punctuation + " \u00a0\u2009\u202f−×·°±²³⁰¹⁴⁵⁶⁷⁸⁹⁻⁺µπ√≈…–‘’“”′"
# Maths also draws radicals, primes, fences and italic letters that no page writes out as such.
_ITALIC = "".join(map(chr, [*range(0x1D434, 0x1D468), 0x210E, *range(0x1D6E4, 0x1D71C)]))
LIVE_MATHS = LIVE + _ITALIC + "√→¯⁡′∓∕∞ℎΔΣΩαβγδεϵζηθϑκλμνξπρστυφϕχψω≤≥≠∝≡∫∂∑"


@dataclass(frozen=True)
class CutFace:
    """A face cut to size: its file name (with the hash of the content) and its bytes."""

    face: Face
    name: str
    data: bytes
    characters: frozenset[int]


_MATH = re.compile(r"<math\b.*?</math>", re.DOTALL)
_TAGS = re.compile(r"<(?!/?math\b)[^>]*>")


def characters(pages: Iterable[str]) -> tuple[set[str], set[str]]:
    """Return the characters used in text and in maths by these HTML pages."""
    text: set[str] = set()
    maths: set[str] = set()
    for page in pages:
        plain = html.unescape(page)
        text.update(plain)
        for formula in _MATH.findall(plain):
            maths.update(_TAGS.sub("", formula))
    return text, maths


def cut(pages: Iterable[str]) -> list[CutFace]:
    """Return the faces for a site with these pages: only those in which a page has characters.

    A character that the text face lacks is left to the maths face, which stands second in the font list.
    """
    text, maths = characters(pages)
    wanted = frozenset(map(ord, text | set(LIVE)))
    faces = [face for face in (_cut(face, wanted) for face in TEXT_FACES) if face]
    upright = {code for face in faces if face.face.weight == 400 for code in face.characters}
    missing = {code for code in wanted if code > 0x7F} - upright
    maths_face = _cut(MATHS_FACE, frozenset(map(ord, maths | set(LIVE_MATHS))) | missing)
    return [*faces, *([maths_face] if maths_face else [])]


@lru_cache(maxsize=64)
def _cut(face: Face, wanted: frozenset[int]) -> CutFace | None:
    font = TTFont(FOLDER / face.file, recalcTimestamp=False)
    kept = wanted & font.getBestCmap().keys()
    if not kept - {0x20, 0xA0}:
        return None
    options = Options(flavor="woff2", layout_features=["*"], notdef_outline=True, drop_tables=["DSIG"])
    options.name_IDs = [1, 2]
    cutter = Subsetter(options)
    cutter.populate(unicodes=kept)
    cutter.subset(font)
    _rename(font, face)
    font.flavor = "woff2"
    out = io.BytesIO()
    font.save(out, reorderTables=False)
    data = out.getvalue()
    stem = face.file.removesuffix(".woff2").replace("source-serif-4", "text").replace("stix-two-math", "maths")
    return CutFace(face, f"{stem}.{hashlib.sha256(data).hexdigest()[:10]}.woff2", data, frozenset(kept))


def _rename(font: TTFont, face: Face) -> None:
    for record in font["name"].names:
        if record.nameID == 1:
            record.string = face.family


def stylesheet(faces: Iterable[CutFace], folder: str) -> str:
    """Return the `@font-face` rules; `folder` is the address of the font files as seen from the style sheet."""
    return "\n".join(
        f'@font-face{{font-family:"{cut.face.family}";font-weight:{cut.face.weight};font-style:{cut.face.style};'
        f'font-display:swap;src:url("{folder}{cut.name}") format("woff2");unicode-range:{_ranges(cut.characters)}}}'
        for cut in faces
    )


def _ranges(codes: frozenset[int]) -> str:
    out: list[list[int]] = []
    for code in sorted(codes):
        if out and code == out[-1][1] + 1:
            out[-1][1] = code
        else:
            out.append([code, code])
    return ",".join(f"U+{a:X}" if a == b else f"U+{a:X}-{b:X}" for a, b in out)
