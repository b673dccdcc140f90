"""The two typefaces of the site, cut down to the characters its pages use.

Text: Source Serif 4; maths: STIX Two Math; both under the SIL Open Font License (see `fonts/`). The cut faces carry
names of our own, as the licence asks of changed fonts with a reserved name. Same pages, same bytes: no dates are
written and the file name is a hash of the content.

What is the same for every course is done beforehand: `prepared` makes each face of the files as delivered, whole, and
`tools/faces.py` puts it beside them. A build cuts that.
"""

from __future__ import annotations

import hashlib
import html
import importlib
import io
import re
import string
from base64 import b64decode, b64encode
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from crankpin.store.cache import Cache
from crankpin.store.pool import Pool

if TYPE_CHECKING:
    from fontTools.ttLib import TTFont

FOLDER = Path(__file__).parent / "fonts"
TEXT_FAMILY = "Quay Text"
MATHS_FAMILY = "Quay Maths"


@dataclass(frozen=True)
class Face:
    """One face of the site, and the font files as delivered that it is made of."""

    name: str
    family: str
    weight: int
    style: str
    files: tuple[str, ...]

    @property
    def file(self) -> str:
        """The file in which it is prepared, whole; of the text's faces those of `SCREEN_FACES` are."""
        return f"quay-{self.name}.woff2"


TEXT_FACES = tuple(
    Face(
        f"text-{weight}-{style}",
        TEXT_FAMILY,
        weight,
        style,
        tuple(f"source-serif-4-{part}-{weight}-{style}.woff2" for part in ("latin", "latin-ext", "greek")),
    )
    for weight in (400, 600)
    for style in ("normal", "italic")
)
#: Slanted semi-bold letters are so few on the pages that the browser thickens the slanted face for them.
SCREEN_FACES = TEXT_FACES[:3]
MATHS_FACE = Face("maths-400-normal", MATHS_FAMILY, 400, "normal", ("stix-two-math.woff2",))

# Results computed on the reader's device may need any of these, whether or not the built pages do.
LIVE = string.digits + string.ascii_letters + string.punctuation + " \u00a0\u2009\u202f−×·°±²³⁰¹⁴⁵⁶⁷⁸⁹⁻⁺µπ√≈…–‘’“”′"
# Numbers and units in live formulas; radicals, primes, bars and arrows are drawn without being written in the page.
LIVE_MATHS = string.digits + string.ascii_letters + " .,()[]{}|/=+−-×·°%\u2009\u202f√′¯→∞"


@dataclass(frozen=True)
class CutFace:
    """A face cut to size: its file name (with the hash of the content) and its bytes."""

    face: Face
    name: str
    data: bytes
    characters: frozenset[int]


_MATH = re.compile(r"<math\b.*?</math>", re.DOTALL)
_TAGS = re.compile(r"<[^>]*>")


@dataclass(frozen=True)
class Used:
    """The characters that pages use in text and in maths; letters of maths also in italic."""

    text: frozenset[str]
    maths: frozenset[str]

    def __or__(self, other: Used) -> Used:
        """Return what either uses."""
        return Used(self.text | other.text, self.maths | other.maths)


def characters(pages: Iterable[str]) -> Used:
    """Return the characters used by these HTML pages."""
    text: set[str] = set()
    maths: set[str] = set()
    for page in pages:
        plain = html.unescape(page)
        text.update(plain)
        for formula in _MATH.findall(plain):
            maths.update(_TAGS.sub("", formula))
    return Used(frozenset(text), frozenset(maths | {italic for italic in map(_italic, maths) if italic}))


def _italic(letter: str) -> str:
    """Return the letter that MathML draws for a single `<mi>`, "" where it draws the letter itself."""
    if letter == "h":
        return "ℎ"
    if letter in string.ascii_uppercase:
        return chr(0x1D434 + ord(letter) - ord("A"))
    if letter in string.ascii_lowercase:
        return chr(0x1D44E + ord(letter) - ord("a"))
    if "Α" <= letter <= "Ω":
        return chr(0x1D6E2 + ord(letter) - ord("Α"))
    if "α" <= letter <= "ω":
        return chr(0x1D6FC + ord(letter) - ord("α"))
    return {"∂": "𝜕", "ϵ": "𝜖", "ϑ": "𝜗", "ϕ": "𝜙", "ϱ": "𝜚", "ϖ": "𝜛"}.get(letter, "")


def cut(used: Used, cache: Cache, pool: Pool) -> Callable[[], list[CutFace]]:
    """Begin to cut the faces for a site that uses these characters, and return what waits for them.

    A character that the text face lacks is left to the maths face, which stands second in the font list.
    """
    wanted = frozenset(map(ord, used.text | set(LIVE)))
    missing = {code for code in wanted if code > 0x7F} - _held(TEXT_FACES[0], cache)
    of_maths = frozenset(map(ord, used.maths | set(LIVE_MATHS))) | missing
    jobs = [*((face, wanted) for face in SCREEN_FACES), (MATHS_FACE, of_maths)]
    keys = [cache.key("face", face.name, sorted(codes), _digest(face)) for face, codes in jobs]
    found = [cache.find(key) for key in keys]
    waiting = [i for i, one in enumerate(found) if one is None]
    begun = pool.begin(_cut, [jobs[i] for i in waiting], worth=2)

    def faces() -> list[CutFace]:
        for number, i in enumerate(waiting):
            found[i] = made = begun.result(number)
            cache.keep(keys[i], made)
        waiting.clear()
        return [_named(face, one) for (face, _), one in zip(jobs, found, strict=True) if one is not None]

    return faces


def _held(face: Face, cache: Cache) -> frozenset[int]:
    """Return the characters of a whole face."""
    key = cache.key("characters of a face", _digest(face))
    found = cache.find(key)
    if found is None:
        found = {"characters": sorted(_opened(face.file).getBestCmap())}
        cache.keep(key, found)
    return frozenset(found["characters"])


def _digest(face: Face) -> str:
    return hashlib.sha256((FOLDER / face.file).read_bytes()).hexdigest()


def _named(face: Face, cut: Mapping[str, Any]) -> CutFace:
    data = b64decode(cut["data"])
    name = f"{face.name}.{hashlib.sha256(data).hexdigest()[:10]}.woff2"
    return CutFace(face, name, data, frozenset(cut["characters"]))


def whole() -> list[CutFace]:
    """Return the faces uncut, for looking at a site while it is being written."""
    return [
        CutFace(face, file, (FOLDER / file).read_bytes(), frozenset(_opened(file).getBestCmap()))
        for face in (*TEXT_FACES, MATHS_FACE)
        for file in face.files
    ]


def for_paper() -> list[CutFace]:
    """Return the faces uncut, for print: no change of a text changes them. The roots of the maths face are mended."""
    maths = _opened(MATHS_FACE.files[0])
    characters = frozenset(maths.getBestCmap())
    _narrow_roots(maths)
    _name(maths, MATHS_FACE, maths["head"].created)
    maths.flavor = None
    text = [cut for cut in whole() if cut.face is not MATHS_FACE]
    return [*text, CutFace(MATHS_FACE, f"{MATHS_FACE.name}.ttf", _saved(maths).getvalue(), characters)]


def _opened(file: str) -> TTFont:
    from fontTools.ttLib import TTFont

    return TTFont(FOLDER / file, recalcTimestamp=False)


def prepared(face: Face) -> bytes:
    """Return a face made of the files as delivered, whole: merged, named, without hinting, the maths face mended.

    It is packed so that a cut need not take all its outlines apart.
    """
    from fontTools.merge import Merger
    from fontTools.ttLib.woff2 import WOFF2FlavorData

    parts = [_opened(file) for file in face.files]
    made = parts[0]["head"].created
    for part in parts:
        if "MATH" in part:
            _drop_small_forms(part)
        _leave_only(part, frozenset(part.getBestCmap()))
    font = parts[0] if len(parts) == 1 else Merger().merge([_saved(part) for part in parts])
    if face.name == MATHS_FACE.name:
        _narrow_roots(font)
    _name(font, face, made)
    font.flavor, font.flavorData = "woff2", WOFF2FlavorData(transformedTables=())
    return _saved(font).getvalue()


def get_ready() -> None:
    """Read the library that cuts."""
    importlib.import_module("fontTools.subset")
    importlib.import_module("fontTools.ttLib.woff2")


def _cut(job: tuple[Face, frozenset[int]]) -> dict[str, Any]:
    face, wanted = job
    font = _opened(face.file)
    made, names = font["head"].created, font["name"]
    del font["name"]  # only what is needed is in it, and cutting it would look through all rules for what they name
    _leave_only(font, wanted & font.getBestCmap().keys())
    font["name"] = names
    _name(font, face, made)
    font.flavor = "woff2"
    return {"data": b64encode(_saved(font).getvalue()).decode(), "characters": sorted(font.getBestCmap())}


def _leave_only(font: TTFont, kept: frozenset[int]) -> None:
    from fontTools.subset import Options, Subsetter

    options = Options(layout_features=["*"], hinting=False, drop_tables=["DSIG", "STAT", "BASE"], name_IDs=[1, 2])
    cutter = Subsetter(options)
    cutter.populate(unicodes=kept)
    cutter.subset(font)
    font.flavor = font.flavorData = None


def _drop_small_forms(font: TTFont) -> None:
    """Keep of the forms drawn for indices and powers those of primes alone.

    They are half of the face. Other letters are made small from the plain ones; a prime would come out dot-like.
    """
    primes = {name for code, name in font.getBestCmap().items() if 0x2032 <= code <= 0x2037 or code == 0x2057}
    table = font["GSUB"].table
    wanted = {
        at for one in table.FeatureList.FeatureRecord if one.FeatureTag == "ssty" for at in one.Feature.LookupListIndex
    }
    for at in wanted:
        for part in table.LookupList.Lookup[at].SubTable:
            rule = getattr(part, "ExtSubTable", part)
            forms = rule.alternates if hasattr(rule, "alternates") else rule.mapping
            for name in forms.keys() - primes:
                del forms[name]


# Em units of 1/1000. The plain root sign is 794 wide, its tall forms up to 1212.
_ROOT_WIDTH = 850


def _narrow_roots(font: TTFont) -> None:
    """Bring the tall root signs near to the width of the plain one.

    Chromium reserves for a formula in a line the width of the widest form, which leaves a gap after every small root.
    """
    variants = font["MATH"].table.MathVariants
    plain = font.getBestCmap()[ord("√")]
    forms = variants.VertGlyphConstruction[variants.VertGlyphCoverage.glyphs.index(plain)]
    tall = [record.VariantGlyph for record in forms.MathGlyphVariantRecord if record.VariantGlyph != plain]
    tall += [part.glyph for part in forms.GlyphAssembly.PartRecords]
    for name in tall:
        width, side = font["hmtx"][name]
        scale = _ROOT_WIDTH / width
        glyph = font["glyf"][name]
        glyph.coordinates.scale((scale, 1))
        glyph.coordinates.toInt()
        glyph.recalcBounds(font["glyf"])
        font["hmtx"][name] = (_ROOT_WIDTH, round(side * scale))


def _saved(font: TTFont) -> io.BytesIO:
    out = io.BytesIO()
    font.save(out, reorderTables=False)
    out.seek(0)
    return out


def _name(font: TTFont, face: Face, made: int) -> None:
    """Give the face its own name, and no date but that of the face it was cut from."""
    font.recalcTimestamp = False
    font["head"].created = font["head"].modified = made
    for record in font["name"].names:
        if record.nameID == 1:
            record.string = face.family


def stylesheet(faces: Iterable[CutFace], folder: str) -> str:
    """Return the `@font-face` rules; `folder` is the address of the font files as seen from the style sheet."""
    return "\n".join(_rule(cut, folder + cut.name) for cut in faces)


def stylesheet_with_faces(faces: Iterable[CutFace]) -> str:
    """Return the `@font-face` rules with the fonts inside: they come with the rules, and no line moves under a reader.

    A font file of its own comes after the first lines are drawn, in another face of other widths.
    """
    return "\n".join(_rule(cut, f"data:font/woff2;base64,{b64encode(cut.data).decode()}") for cut in faces)


def _rule(cut: CutFace, address: str) -> str:
    return (
        f'@font-face{{font-family:"{cut.face.family}";font-weight:{cut.face.weight};font-style:{cut.face.style};'
        f'font-display:swap;src:url("{address}");unicode-range:{_ranges(cut.characters)}}}'
    )


def _ranges(codes: frozenset[int]) -> str:
    out: list[list[int]] = []
    for code in sorted(codes):
        if out and code == out[-1][1] + 1:
            out[-1][1] = code
        else:
            out.append([code, code])
    return ",".join(f"U+{a:X}" if a == b else f"U+{a:X}-{b:X}" for a, b in out)
