"""What is kept from build to build: the same as made anew, never stale, never missed when it is damaged."""

import os
import shutil
import time
from pathlib import Path

import pytest

from crankpin.calculator.catalogue import load_catalogue
from crankpin.faults import AuthorError
from crankpin.notation.course import Course
from crankpin.site import fonts, prerendering
from crankpin.site.prerendering import Prerenderer, sound_catalogue
from crankpin.store import cache
from crankpin.store.cache import Cache
from crankpin.store.pool import Pool

ROOT = Path(__file__).parents[2]
GIVEN = {"A": "12 cm"}


@pytest.fixture(autouse=True)
def settled(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(cache, "_settled", lambda: True)


@pytest.fixture
def calculators(tmp_path: Path) -> Path:
    folder = tmp_path / "calculators"
    folder.mkdir()
    shutil.copy(ROOT / "calculators/edge_on.py", folder)
    return folder


def prerendered(folder: Path | None, calculators: Path, given: dict[str, str] = GIVEN) -> str:
    prerenderer = Prerenderer(Cache(folder), Pool())
    return prerenderer.filled(prerenderer.calculator(load_catalogue(calculators), "edge-on", given, "rod"))


def planted(folder: Path, calculators: Path, given: dict[str, str] = GIVEN) -> None:
    """Put something recognisable in the place of what is kept."""
    prerendered(folder, calculators, given)
    kept = Cache(folder)
    for entry in folder.iterdir():
        kept.keep(entry.name, {**(kept.find(entry.name) or {}), "html": "OLD"})
    assert prerendered(folder, calculators, given) == "OLD"


def test_what_is_kept_is_what_is_made(tmp_path: Path, calculators: Path) -> None:
    anew = prerendered(None, calculators)
    assert 'id="rod-drawn-title"' in anew
    assert [prerendered(tmp_path / "kept", calculators) for _ in range(2)] == [anew, anew]
    assert len(list((tmp_path / "kept").iterdir())) == 1


def test_another_value_is_never_answered_from_an_old_one(tmp_path: Path, calculators: Path) -> None:
    planted(tmp_path / "kept", calculators)
    other = {"A": "13 cm"}
    assert prerendered(tmp_path / "kept", calculators, other) == prerendered(None, calculators, other)


def test_a_changed_calculator_is_never_answered_from_the_old_file(tmp_path: Path, calculators: Path) -> None:
    planted(tmp_path / "kept", calculators)
    file = calculators / "edge_on.py"
    file.write_text(file.read_text("utf-8") + "\n# reviewed\n", "utf-8")
    assert prerendered(tmp_path / "kept", calculators) == prerendered(None, calculators) != "OLD"


def test_changed_mechanics_is_never_answered_from_the_old_code(
    tmp_path: Path, calculators: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    package = tmp_path / "package"
    shutil.copytree(ROOT / "src/crankpin/mechanics", package / "mechanics")
    monkeypatch.setattr(cache, "_PACKAGE", package)
    cache.code_state.cache_clear()
    try:
        planted(tmp_path / "kept", calculators)
        file = package / "mechanics/projection.py"
        file.write_text(file.read_text("utf-8").replace("cos", "sin", 1), "utf-8")
        cache.code_state.cache_clear()
        assert prerendered(tmp_path / "kept", calculators) != "OLD"
    finally:
        cache.code_state.cache_clear()


def test_other_libraries_are_another_cause(tmp_path: Path, calculators: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    planted(tmp_path / "kept", calculators)
    monkeypatch.setattr(cache, "_version", lambda name: "0.1")
    cache.code_state.cache_clear()
    try:
        assert prerendered(tmp_path / "kept", calculators) != "OLD"
    finally:
        cache.code_state.cache_clear()


@pytest.mark.parametrize("damage", [b"", b"short", b"\0" * 400])
def test_a_damaged_entry_is_made_anew(tmp_path: Path, calculators: Path, damage: bytes) -> None:
    anew = prerendered(tmp_path / "kept", calculators)
    (entry,) = (tmp_path / "kept").iterdir()
    whole = entry.read_bytes()
    entry.write_bytes(damage)
    assert prerendered(tmp_path / "kept", calculators) == anew
    assert entry.read_bytes() == whole
    entry.write_bytes(whole[:-1])
    assert prerendered(tmp_path / "kept", calculators) == anew


def test_where_nothing_can_be_kept_all_goes_on(tmp_path: Path, calculators: Path) -> None:
    (tmp_path / "kept").write_text("a file, no folder", "utf-8")
    assert prerendered(tmp_path / "kept", calculators) == prerendered(None, calculators)
    Cache(tmp_path / "kept").prune()


def test_nothing_is_kept_while_the_code_changes(
    tmp_path: Path, calculators: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.undo()
    package = tmp_path / "package"
    package.mkdir()
    (package / "one.py").write_text("", "utf-8")
    monkeypatch.setattr(cache, "_PACKAGE", package)
    kept = Cache(tmp_path / "kept")
    kept.keep("a", {"one": 1})
    assert kept.find("a") is None
    os.utime(package / "one.py", (0, 0))
    kept.keep("a", {"one": 1})
    assert kept.find("a") == {"one": 1}


def test_what_is_long_unused_goes_and_so_does_what_is_too_much(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    kept = Cache(tmp_path)
    for i in range(5):
        kept.keep(f"{i}", {"text": "x" * 100})
        os.utime(tmp_path / f"{i}", (time.time() - i * 20 * 86400,) * 2)
    kept.find("2")  # in use again
    kept.prune()
    assert sorted(path.name for path in tmp_path.iterdir()) == ["0", "1", "2"]
    monkeypatch.setattr(cache, "LARGEST_BYTES", 400)
    kept.prune()
    assert sorted(path.name for path in tmp_path.iterdir()) == ["0", "2"]


def test_a_sound_calculator_is_held_against_itself_once(
    tmp_path: Path, calculators: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked = []
    monkeypatch.setattr("crankpin.calculator.catalogue.faults_of", lambda *one: asked.append(one) or [])
    for _ in range(2):
        sound_catalogue(calculators, Cache(tmp_path / "kept"))
    assert len(asked) == 1
    file = calculators / "edge_on.py"
    file.write_text(file.read_text("utf-8") + "\n", "utf-8")
    sound_catalogue(calculators, Cache(tmp_path / "kept"))
    assert len(asked) == 2


def test_many_hands_make_the_same(tmp_path: Path, calculators: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    catalogue = load_catalogue(calculators)
    page = "".join(f"```calculator edge-on\nA = {one} cm\n```\n" for one in (5, 6, "no"))
    monkeypatch.setattr(prerendering, "_WORTH_MORE_HANDS", 2)
    pool = Pool()
    try:
        prerenderer = Prerenderer(Cache(tmp_path / "kept"), pool)
        prerenderer.prepare(Course(catalogue), catalogue, [page])
        for one in (5, 6):
            prerenderer.calculator(catalogue, "edge-on", {"A": f"{one} cm"}, f"rod-{one}")
        with pytest.raises(AuthorError, match=r"^rod-7: .* is not a number"):
            prerenderer.calculator(catalogue, "edge-on", {"A": "no cm"}, "rod-7")
        prerenderer.keep()
    finally:
        pool.close()
    assert len(list((tmp_path / "kept").iterdir())) == 2
    monkeypatch.setattr(prerendering, "_entry", lambda *_: pytest.fail("it was made again"))
    fresh = Prerenderer(Cache(tmp_path / "kept"), Pool())
    made = fresh.filled(fresh.calculator(catalogue, "edge-on", {"A": "6 cm"}, "rod"))
    monkeypatch.undo()
    assert made == prerendered(None, calculators, {"A": "6 cm"})


def test_cut_fonts_are_kept_by_their_characters(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    kept = Cache(tmp_path)
    first = fonts.cut(fonts.characters(["<p>wheel</p>"]), kept, Pool())()
    with monkeypatch.context() as patch:
        patch.setattr(fonts, "_cut", lambda job: pytest.fail("it was cut again"))
        assert fonts.cut(fonts.characters(["<p>wheel</p>"]), kept, Pool())() == first
    other = {face.face.name: face for face in fonts.cut(fonts.characters(["<p>façade</p>"]), kept, Pool())()}
    assert ord("ç") in other["text-400-normal"].characters
    assert ord("ç") not in first[0].characters
