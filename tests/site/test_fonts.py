"""Fonts cut to the characters of the pages."""

import io

import pytest
from fontTools.ttLib import TTFont

from crankpin.site import fonts
from crankpin.store.cache import Cache
from crankpin.store.pool import Pool

PAGE = "<p>Turning, façade, ω</p><math><mi>θ</mi><mo>=</mo><mi>h</mi><msqrt><mi>Q</mi></msqrt></math> → ∴"


def cut(page: str) -> list[fonts.CutFace]:
    return fonts.cut(fonts.characters([page]), Cache(None), Pool())()


def test_faces_hold_what_the_pages_use() -> None:
    found = {face.face.name: face for face in cut(PAGE)}
    upright = found["text-400-normal"].characters
    assert set(map(ord, "Tçω0123456789−×")) <= upright
    assert ord("ß") not in upright
    maths = found["maths-400-normal"].characters
    assert set(map(ord, "𝜃ℎ𝑄√=→∴")) <= maths
    assert ord("𝜔") not in maths


def test_same_pages_same_bytes() -> None:
    first = cut(PAGE)
    assert [(face.name, face.data) for face in cut(PAGE)] == [(face.name, face.data) for face in first]


def test_the_cut_faces_carry_our_own_names() -> None:
    for face in cut(PAGE):
        font = TTFont(io.BytesIO(face.data))
        assert font["name"].getDebugName(1) == face.face.family
        assert "Source" not in str(font["name"].getDebugName(1))


def test_root_signs_are_nearly_of_one_width() -> None:
    face = next(face for face in cut(PAGE) if face.face is fonts.MATHS_FACE)
    font = TTFont(io.BytesIO(face.data))
    variants = font["MATH"].table.MathVariants
    plain = font.getBestCmap()[ord("√")]
    forms = variants.VertGlyphConstruction[variants.VertGlyphCoverage.glyphs.index(plain)]
    widths = {font["hmtx"][record.VariantGlyph][0] for record in forms.MathGlyphVariantRecord}
    widths |= {font["hmtx"][part.glyph][0] for part in forms.GlyphAssembly.PartRecords}
    assert max(widths) - min(widths) < 60


@pytest.mark.parametrize("face", [*fonts.SCREEN_FACES, fonts.MATHS_FACE], ids=lambda face: face.name)
def test_what_is_prepared_is_made_of_the_files_as_delivered(face: fonts.Face) -> None:
    made, beside = (TTFont(file) for file in (io.BytesIO(fonts.prepared(face)), fonts.FOLDER / face.file))
    assert sorted(made.reader.keys()) == sorted(beside.reader.keys())
    assert [tag for tag in made.reader.keys() if made.reader[tag] != beside.reader[tag]] == []  # noqa: SIM118
    assert made["name"].getDebugName(1) == face.family
    wanted = {code for file in face.files for code in TTFont(fonts.FOLDER / file).getBestCmap()}
    assert made.getBestCmap().keys() == wanted


def test_rules_name_the_file_and_the_range() -> None:
    face = fonts.CutFace(fonts.MATHS_FACE, "maths.woff2", b"", frozenset({0x41, 0x42, 0x221A}))
    assert fonts.stylesheet([face], "f/") == (
        '@font-face{font-family:"Quay Maths";font-weight:400;font-style:normal;font-display:swap;'
        'src:url("f/maths.woff2");unicode-range:U+41-42,U+221A}'
    )


def test_of_small_forms_only_those_of_primes_are_kept() -> None:
    face = next(
        face for face in cut(PAGE + "<math><msup><mi>x</mi><mo>\u2032</mo></msup></math>") if "maths" in face.name
    )
    font = TTFont(io.BytesIO(face.data))
    table = font["GSUB"].table
    lookups = {
        at for one in table.FeatureList.FeatureRecord if one.FeatureTag == "ssty" for at in one.Feature.LookupListIndex
    }
    changed = {name for at in lookups for part in table.LookupList.Lookup[at].SubTable for name in part.alternates}
    assert changed == {font.getBestCmap()[0x2032]}
