import io
import json
import re
import zipfile
from types import MappingProxyType

import pytest

from crankpin.browser import bundle
from crankpin.browser.bundle import course_archive, live_files
from crankpin.browser.runtime import BrowserRuntime, package_sources, sources_hash


@pytest.fixture
def runtime(tmp_path):
    """A runtime that is current, with one small file of each kind."""
    files = {
        "wasm": {"name": "engine.0a.wasm", "raw": 4, "gzip": 3, "brotli": 2, "packed": {"name": "engine.0a.wasm.gz"}},
        "python": {"name": "python-0b.zip", "raw": 3, "gzip": 2, "brotli": 2},
    }
    manifest = {
        "files": files,
        "modules": ["math"],
        "emptied": [],
        "lock_info": {},
        "sources": {"hash": sources_hash(package_sources())},
    }
    (tmp_path / "manifest.json").write_text(json.dumps(manifest), encoding="utf-8")
    for name in ("engine.0a.wasm", "engine.0a.wasm.gz", "python-0b.zip"):
        (tmp_path / name).write_bytes(b"abcd")
    return BrowserRuntime(tmp_path, MappingProxyType(manifest))


def names_in(archive):
    return zipfile.ZipFile(io.BytesIO(archive)).namelist()


def test_equal_sources_give_equal_bytes(catalogue):
    backwards = dict(reversed(list(catalogue.files.items())))
    assert course_archive(catalogue.files, whole=True) == course_archive(backwards, whole=True)


def test_the_archive_is_small_unless_the_runtime_is_stale(catalogue):
    small, whole = (names_in(course_archive(catalogue.files, whole=whole)) for whole in (False, True))
    scenes = [f"scenes/{path.name}" for path in bundle.SCENES.glob("[a-z]*.py")]
    calculators = [f"calculators/{path.name}" for path in catalogue.files.values()]
    assert small == sorted([*calculators, *scenes])
    assert set(whole) == {*small, *package_sources()}


def test_a_stale_runtime_is_noticed(catalogue, runtime):
    fresh = live_files(catalogue.files, runtime)
    runtime.manifest["sources"]["hash"] = "another"
    stale = live_files(catalogue.files, runtime)
    assert "crankpin/mechanics/harmonic.py" not in names_in(fresh.files[fresh.names["course.zip"]])
    assert "crankpin/mechanics/harmonic.py" in names_in(stale.files[stale.names["course.zip"]])


def test_every_file_that_a_script_names_is_there_under_its_hash(catalogue, runtime):
    live = live_files(catalogue.files, runtime)
    named = set()
    for name, content in live.files.items():
        if name.endswith(("js", "mjs")):
            code = re.sub(r"/\*.*?\*/", "", content.decode(), flags=re.DOTALL)
            named |= set(re.findall(r'"\./([\w.-]+\.(?:mjs|js|zip))"', code))
    assert len(named) >= 10
    assert named <= set(live.files)
    assert all(re.search(r"\.[0-9a-f]{10}\.", name) for name in named)


def test_a_change_deep_down_changes_every_name_above_it(catalogue, runtime, tmp_path, monkeypatch):
    before = live_files(catalogue.files, runtime).names
    changed = tmp_path / "static"
    changed.mkdir()
    for path in bundle.STATIC.glob("*js"):
        more = "\n// changed\n" if path.name == "messages.mjs" else ""
        (changed / path.name).write_text(path.read_text(encoding="utf-8") + more, encoding="utf-8")
    monkeypatch.setattr(bundle, "STATIC", changed)
    after = live_files(catalogue.files, runtime).names
    moved = {name for name in before if before[name] != after[name]}
    assert moved == {"messages.mjs", "worker-client.mjs", "worker.mjs", "start.mjs", "problems.mjs", "head.js"}


@pytest.mark.parametrize(
    ("texts", "told"),
    [
        ({"a.mjs": 'import "./b.mjs"', "b.mjs": 'import "./a.mjs"'}, "ring: a.mjs → b.mjs → a.mjs"),
        ({"a.mjs": 'import "./lost.mjs"'}, "a.mjs names lost.mjs, which is not there"),
    ],
)
def test_scripts_that_cannot_be_published(runtime, tmp_path, monkeypatch, texts, told):
    folder = tmp_path / "static"
    folder.mkdir()
    for name, text in texts.items():
        (folder / name).write_text(text, encoding="utf-8")
    monkeypatch.setattr(bundle, "STATIC", folder)
    with pytest.raises(ValueError, match=told):
        live_files({}, runtime)


def test_the_runtimes_files_keep_their_names(catalogue, runtime):
    live = live_files(catalogue.files, runtime)
    assert live.files["engine.0a.wasm.gz"] == b"abcd"
    assert b'"engine.0a.wasm"' in live.files[live.names["manifest.mjs"]]
