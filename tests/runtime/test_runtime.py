"""The built runtime: whole, named by its content, made of what the lists say, and known when it is stale."""

import gzip
import hashlib
import importlib.util
import io
import json
import shutil
import subprocess
import zipfile
from dataclasses import replace
from pathlib import Path

import pytest

from crankpin.browser.runtime import RuntimeFilesError, find_runtime, package_sources, sources_hash

pytestmark = pytest.mark.pyodide

ROOT = Path(__file__).resolve().parent.parent.parent
# fmt: off
PROMISED = [
    "abc", "array", "bisect", "cmath", "collections", "dataclasses", "enum", "fractions", "functools", "importlib",
    "io", "itertools", "json", "math", "numbers", "operator", "random", "re", "string", "traceback", "types",
    "zipimport",
]
# fmt: on


@pytest.fixture(scope="module")
def runtime():
    return find_runtime()


@pytest.fixture(scope="module")
def library(runtime):
    name = next(file.name for file in runtime.files if file.role == "python")
    with zipfile.ZipFile(runtime.folder / name) as archive:
        yield archive


def node(*arguments, folder=ROOT):
    done = subprocess.run(["node", *arguments], cwd=folder, capture_output=True, text=True, timeout=300, check=False)
    assert done.returncode == 0, done.stderr
    return done.stdout


def test_every_file_is_there_and_named_by_its_content(runtime):
    assert {file.role for file in runtime.files} == {"wasm", "engine", "loader", "python"}
    assert {path.name for path in runtime.folder.iterdir()} == set(runtime.names)
    for file in runtime.files:
        content = (runtime.folder / file.name).read_bytes()
        assert len(content) == file.raw
        assert hashlib.sha256(content).hexdigest()[:12] in file.name
        if file.packed:
            packed = (runtime.folder / file.packed).read_bytes()
            assert len(packed) == file.gzip
            assert gzip.decompress(packed) == content
        assert file.brotli < file.gzip < file.raw


def test_the_version_is_the_pinned_one(runtime):
    pinned = json.loads((ROOT / "package.json").read_text(encoding="utf-8"))["dependencies"]["pyodide"]
    assert runtime.manifest["pyodide"] == pinned


def test_the_zip_is_stored_undated_bytecode_of_the_listed_modules(runtime, library):
    groups = json.loads((ROOT / "runtime" / "allowed_modules.json").read_text(encoding="utf-8"))
    listed = {module for group in groups for module in group["modules"]}
    own = {f"{path}c" for path in runtime.manifest["sources"]["paths"]} | {"course_imports.pyc"}
    own |= {"ready_classes.marshal", "ready_patterns.marshal"}
    for entry in library.infolist():
        assert entry.compress_type == zipfile.ZIP_STORED
        assert entry.date_time == (1980, 1, 1, 0, 0, 0)
        module = entry.filename.removesuffix(".pyc").removesuffix("/__init__").replace("/", ".")
        assert entry.filename in own or module in listed
    assert own <= set(library.namelist())


def test_a_library_that_compiles_otherwise_is_noticed():
    spec = importlib.util.spec_from_file_location("ready_made", ROOT / "runtime" / "ready_made.py")
    ready_made = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(ready_made)
    known = {path: before for path, (_, before, _) in ready_made.CHANGES.items()}
    assert all("_ready" in text for text in ready_made.with_changes(known).values())
    with pytest.raises(ValueError, match=r"dataclasses\.py has changed"):
        ready_made.with_changes(known | {"dataclasses.py": "exec(other)\n"})


def test_a_calculator_may_import_what_was_promised(runtime):
    assert set(PROMISED) <= set(runtime.modules)
    assert runtime.missing_imports("\n".join(f"import {name}" for name in PROMISED)) == ()


def test_what_the_page_lacks_is_found_in_a_source(runtime):
    source = "import math, csv\nfrom collections.abc import Mapping\ndef f():\n    import numpy.linalg\n"
    own = "import crankpin.mechanics.harmonic, crankpin.calculator\nfrom crankpin.figures import plots\n"
    assert runtime.missing_imports(source + own) == ("crankpin.figures", "csv", "numpy.linalg")


def test_each_group_of_modules_has_its_reason():
    for name in ("allowed_modules.json", "cold_units.json"):
        groups = json.loads((ROOT / "runtime" / name).read_text(encoding="utf-8"))
        modules = [module for group in groups for module in group["modules"]]
        assert all(len(group["reason"]) > 10 for group in groups)
        assert len(modules) == len(set(modules))


def test_both_sides_hash_the_sources_alike():
    script = 'import("./runtime/sources.mjs").then((s) => console.log(s.sourcesHash(s.ownSources())))'
    assert node("-e", script).strip() == sources_hash(package_sources())


def test_a_changed_source_makes_the_runtime_stale(runtime):
    sources = package_sources()
    built = {"sources": {"hash": sources_hash(sources)}}
    assert replace(runtime, manifest={**runtime.manifest, **built}).current
    sources["crankpin/mechanics/errors.py"] += b"\n"
    changed = {"sources": {"hash": sources_hash(sources)}}
    assert not replace(runtime, manifest={**runtime.manifest, **changed}).current


def test_nothing_built_is_said_with_what_to_do(tmp_path):
    with pytest.raises(RuntimeFilesError, match=r"has not been built: run 'make runtime'"):
        find_runtime(tmp_path)


@pytest.fixture
def copy(runtime, tmp_path):
    return Path(shutil.copytree(runtime.folder, tmp_path / "copy"))


def test_a_broken_copy_is_said_with_what_to_do(copy):
    manifest = json.loads((copy / "manifest.json").read_text(encoding="utf-8"))
    (copy / manifest["files"]["python"]["packed"]["name"]).unlink()
    with pytest.raises(RuntimeFilesError, match=r"zip\.gz of the page's Python is missing: run"):
        find_runtime(copy)
    (copy / manifest["files"]["loader"]["name"]).write_text("", encoding="utf-8")
    with pytest.raises(RuntimeFilesError, match=r"mjs of the page's Python is missing or broken"):
        find_runtime(copy)
    (copy / "manifest.json").write_text("<!doctype html>", encoding="utf-8")
    with pytest.raises(RuntimeFilesError, match=r"manifest\.json of the page's Python cannot be read"):
        find_runtime(copy)


SCRIPT = """
async function make(given={}){var Module=given;function used(){return helper()}used.sig="i";var helper=()=>1;
function lost(){return alone()}lost.sig="v";var alone=()=>2;Module["said"]=()=>3;Module["unsaid"]=alone;
var wasmImports={used,lost};var byText=()=>4;function late(){}Module["said"];late("byText")}export default make;
"""


def test_of_the_engine_s_script_stays_what_something_that_stays_names():
    call = f"slimScript({json.dumps(SCRIPT)}, {{wanted: new Set(['used']), loader: ''}})"
    slim = node("--input-type=module", "-e", f"import {{slimScript}} from './runtime/script.mjs'; console.log({call})")
    for kept in ("function used", 'used.sig="i"', "helper=()=>1", 'Module["said"]', "byText=()=>4", "{used}", "late("):
        assert kept in slim
    for dropped in ("lost", "alone", "unsaid"):
        assert dropped not in slim


def test_the_engine_s_script_gives_what_the_engine_imports_and_no_graphics(runtime):
    names = {file.role: str(runtime.folder / file.name) for file in runtime.files}
    module = f"new WebAssembly.Module((await import('node:fs')).readFileSync({json.dumps(names['wasm'])}))"
    listed = node("--input-type=module", "-e", f"console.log(JSON.stringify(WebAssembly.Module.imports({module})))")
    script = Path(names["engine"]).read_text()
    table = script.split("var wasmImports={")[1].split("}")[0]
    given = {entry.split(":")[0] for entry in table.split(",")}
    # boot.mjs adds these two, which are made for each browser
    assert {one["name"] for one in json.loads(listed)} - given <= {"Jsv_GetError_import", "JsvError_Check"}
    assert not [name for name in given if name.startswith(("gl", "SDL_", "emscripten_gl"))]


def test_the_library_is_made_again_to_the_same_bytes(copy, tmp_path):
    def made(folder):
        manifest = json.loads((folder / "manifest.json").read_text(encoding="utf-8"))
        name = manifest["files"]["python"]["name"]
        manifest["inputs"]["library"] = "changed"
        (folder / "manifest.json").write_text(json.dumps(manifest), encoding="utf-8")
        return (folder / name).read_bytes()

    made(copy)
    node("runtime/build.mjs", str(copy))
    first = made(copy)
    node("runtime/build.mjs", str(copy))
    second = made(copy)
    assert first == second
    assert zipfile.is_zipfile(io.BytesIO(first))


def test_the_engine_s_table_is_known_where_it_holds_exported_functions(runtime):
    wasm = next(file.name for file in runtime.files if file.role == "wasm")
    script = f"""
        import {{readFileSync}} from "node:fs";
        import {{bootInNode, PRODUCT}} from "./runtime/node_boot.mjs";
        import {{readExports}} from "./runtime/wasm_file.mjs";
        const bytes = readFileSync(PRODUCT + "{wasm}");
        const imports = WebAssembly.Module.imports(new WebAssembly.Module(bytes));
        const before = imports.filter(({{kind}}) => kind === "function").length;
        const exported = new Set([...readExports(bytes).values()].map((index) => String(before + index)));
        const {{wasmTable, getFunctionAddress}} = (await bootInNode())._module;
        const places = new Map();
        for (let i = 0; i < wasmTable.length; i++) {{
          const one = wasmTable.get(i); // its name is its index in the file
          if (one && exported.has(one.name) && !places.has(one)) places.set(one, i);
        }}
        const found = [...places].map(([one, place]) => [place, getFunctionAddress(one)]);
        console.log(JSON.stringify(found));
    """
    found = json.loads(node("--input-type=module", "-e", script))
    assert len(found) >= 10
    assert all(place == told for place, told in found), found
