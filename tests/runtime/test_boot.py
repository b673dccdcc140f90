"""boot.mjs in a browser's worker, under a strict policy, against hosts that do well and hosts that do not."""

import time
from dataclasses import replace
from pathlib import Path
from urllib.parse import urlencode

import pytest

from crankpin.browser.runtime import find_runtime
from tests.runtime.hosts import Host, serving

pytestmark = [pytest.mark.browser, pytest.mark.pyodide]

HERE = Path(__file__).parent
STATIC = HERE.parent.parent / "src" / "crankpin" / "browser" / "static"
HTML = b"<!doctype html><title>Welcome to the harbour</title>" + b"<p>Nothing here.</p>" * 400


@pytest.fixture(scope="module")
def runtime():
    return find_runtime()


@pytest.fixture
def host(runtime, tmp_path):
    (tmp_path / "boot.mjs").write_bytes((STATIC / "boot.mjs").read_bytes())
    return Host({"runtime/": runtime.folder, "boot.mjs": tmp_path / "boot.mjs", "": HERE / "page"})


def said_by_worker(chromium, host, patience=60, **asked):
    """Everything that the worker of the trial page said, up to its result or its failure."""
    with serving(host) as address:
        page = chromium.new_page()
        try:
            page.goto(f"{address}?{urlencode(asked)}")
            give_up = time.monotonic() + patience
            while time.monotonic() < give_up:
                said = page.evaluate("window.said")
                if said and not said[-1].get("progress"):
                    return said
                page.wait_for_timeout(50)
        finally:
            page.close()
    raise AssertionError(f"neither a result nor an error after {patience} s: {said}")


def name_of(runtime, role):
    return next(file.name for file in runtime.files if file.role == role)


def one_file(wanted, **changes):
    """A habit: the host answers differently for the file whose name ends so."""
    return lambda name, answer: replace(answer, **changes) if name.endswith(wanted) else answer


def test_it_computes_and_tells_how_far_it_is(chromium, host, runtime):
    program = "from crankpin.mechanics import circular; circular.angular_frequency_from_period(2.0)"
    said = said_by_worker(chromium, host, program=program)
    assert said[-1] == {"result": pytest.approx(3.141592653589793, rel=1e-15)}
    told = [message["progress"] for message in said[:-1]]
    assert {step["total"] for step in told} == {sum(file.raw for file in runtime.files)}
    assert [step["loaded"] for step in told] == sorted(step["loaded"] for step in told)
    assert list(dict.fromkeys(step["stage"] for step in told)) == ["fetching", "starting", "ready"]
    assert told[-1]["loaded"] == told[-1]["total"]
    assert sorted(url.rpartition("/")[2] for url in told[-1]["urls"]) == sorted(f.name for f in runtime.files)
    assert told[-1]["notes"] == []
    assert not any(name.endswith(".gz") for name in host.asked)


def test_under_a_longer_path(chromium, host):
    said = said_by_worker(chromium, replace(host, prefix="/harbour/course/"))
    assert said[-1] == {"result": 1}


def test_a_host_that_does_not_compress_sends_the_gzipped_copies(chromium, host, runtime):
    said = said_by_worker(chromium, replace(host, compresses=False))
    assert said[-1] == {"result": 1}
    ready = said[-2]["progress"]
    packed = {file.packed for file in runtime.files if file.packed}
    assert packed <= {url.rpartition("/")[2] for url in ready["urls"]}
    assert len(ready["notes"]) == len(packed)


def test_a_host_that_unpacks_the_gzipped_copies_itself(chromium, host):
    def habit(name, answer):
        if name.endswith(".gz"):
            answer.body = host.folders["runtime/"].joinpath(name.rpartition("/")[2].removesuffix(".gz")).read_bytes()
            answer.headers["Content-Encoding"] = "gzip"
        return answer

    assert said_by_worker(chromium, replace(host, compresses=False, habit=habit))[-1] == {"result": 1}


def test_a_host_without_the_gzipped_copies(chromium, host):
    habit = one_file(".gz", status=404)
    assert said_by_worker(chromium, replace(host, compresses=False, habit=habit))[-1] == {"result": 1}


def test_the_type_of_the_engine_does_not_matter(chromium, host):
    assert said_by_worker(chromium, replace(host, habit=one_file(".wasm", type="text/plain")))[-1] == {"result": 1}


@pytest.mark.parametrize(
    ("habit", "code", "words"),
    [
        (one_file("manifest.json", status=404), "missing", "manifest.json is not on this host (it answered 404)"),
        (one_file("manifest.json", body=HTML), "manifest", "manifest.json is not a runtime's manifest"),
        (one_file("manifest.json", body=b"{}"), "manifest", "manifest.json is not a runtime's manifest"),
        (one_file((".wasm", ".wasm.gz"), status=404), "missing", "(it answered 404)"),
        (one_file(".zip", body=HTML, type="text/html"), "wrong-file", "(the host sent type text/html)"),
        (one_file((".wasm", ".wasm.gz"), body=HTML, type="text/html"), "wrong-file", "is something else"),
        (one_file(".zip", body=b""), "wrong-file", "is something else"),
    ],
)
def test_what_a_host_does_wrong_is_said(chromium, host, habit, code, words):
    failed = said_by_worker(chromium, replace(host, habit=habit))[-1]["failed"]
    assert failed["code"] == code
    assert words in failed["message"]


@pytest.mark.parametrize("role", ["loader", "engine"])
def test_a_script_that_is_missing_or_of_another_type_is_said(chromium, host, runtime, role):
    name = name_of(runtime, role)
    missing = said_by_worker(chromium, replace(host, habit=one_file(name, status=404)))[-1]["failed"]
    assert (missing["code"], missing["file"]) == ("missing", name)
    refused = said_by_worker(chromium, replace(host, habit=one_file(name, type="text/plain")))[-1]["failed"]
    assert (refused["code"], refused["file"]) == ("script", name)
    assert "sent as text/plain" in refused["message"]


def shortened(name_end):
    def habit(name, answer):
        if name.endswith(name_end):
            answer.body = answer.body[: len(answer.body) // 2]
        return answer

    return habit


@pytest.mark.parametrize("role", ["wasm", "python"])
def test_a_file_that_ends_early_is_said(chromium, host, runtime, role):
    name = name_of(runtime, role)
    failed = said_by_worker(chromium, replace(host, habit=shortened(name)))[-1]["failed"]
    assert (failed["code"], failed["file"]) == ("incomplete", name)


@pytest.mark.parametrize("role", ["wasm", "python", "engine"])
def test_a_host_that_goes_silent_is_given_up(chromium, host, runtime, role):
    def habit(name, answer):
        if name.endswith(name_of(runtime, role)):
            answer.headers.pop("Content-Encoding", None)
            answer.headers["Content-Encoding"] = "identity"
            answer.body, answer.length = answer.body[:5000], len(answer.body)
        return answer

    started = time.monotonic()
    failed = said_by_worker(chromium, replace(host, habit=habit), stallSeconds="2")[-1]["failed"]
    assert failed["code"] == "stalled"
    assert time.monotonic() - started < 40


def test_an_engine_that_is_damaged_is_said(chromium, host, runtime):
    def habit(name, answer):
        if name.endswith(".wasm"):
            middle = len(answer.body) // 2
            answer.body = answer.body[:middle] + bytes(1000) + answer.body[middle + 1000 :]
        return answer

    assert said_by_worker(chromium, replace(host, habit=habit))[-1]["failed"]["code"] == "engine"


def test_a_module_that_is_not_there_is_explained(chromium, host):
    program = "try: import csv\nexcept ModuleNotFoundError as error: said = str(error)\nsaid"
    said = said_by_worker(chromium, host, program=program)[-1]["result"]
    assert "'csv' is not in the Python that runs on the page" in said
    assert "math" in said
