"""The course kept on a device: all of it works when the server is gone, and nothing is kept half, mixed or unasked."""

import json
import logging
import subprocess
import sys
from contextlib import contextmanager

import pytest

from crankpin.browser.runtime import RuntimeFilesError, find_runtime
from crankpin.course import keep
from tests.browser.conftest import PAGES, build_course
from tests.browser.pages import results, type_into, wait_for_state, wait_until

pytestmark = pytest.mark.browser

PREFIX = "/physics/wheels/"
STORES = "() => caches.keys()"
WORKERS = "() => navigator.serviceWorker.getRegistrations().then((all) => all.map(({scope}) => scope))"
KEEP = "Keep the course on this device"


SERVE = """
import sys
from pathlib import Path
from crankpin import server
running = server.open_server(server.Site(Path(sys.argv[1]), sys.argv[2]), "127.0.0.1", 8500)
print(running.server_port, flush=True)
running.serve_forever()
"""


class Host:
    """A site served by a process of its own, so that nothing of it is left when it is stopped."""

    def __init__(self, folder):
        self.folder = folder
        command = [sys.executable, "-c", SERVE, str(folder), PREFIX]
        self._process = subprocess.Popen(command, stdout=subprocess.PIPE, text=True)
        self.address = f"http://127.0.0.1:{int(self._process.stdout.readline())}{PREFIX}"

    def stop(self):
        self._process.kill()
        self._process.wait()
        self._process.stdout.close()


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    try:
        find_runtime()
    except RuntimeFilesError as missing:
        pytest.skip(str(missing))
    logging.getLogger("mkdocs").setLevel(logging.ERROR)
    return build_course(tmp_path_factory.mktemp("kept"), PAGES)


@pytest.fixture
def host(folder):
    hosted = Host(folder)
    yield hosted
    hosted.stop()


def line(page):
    return page.locator("[data-keep]")


def press(page, name):
    line(page).get_by_role("button", name=name).click()


def wait_for_words(page, words):
    wait_until(lambda: words in (line(page).text_content() or ""), lambda: f"{words!r}: {line(page).text_content()}")


def keep_all(page, host):
    page.goto(host.address)
    wait_for_words(page, "the whole course takes")
    press(page, KEEP)
    wait_for_words(page, "Ready without a network")


def test_nothing_is_kept_unasked(phone, host):
    page = phone()
    page.goto(host.address)
    wait_for_words(page, "the whole course takes")
    assert page.evaluate(STORES) == []
    assert page.evaluate(WORKERS) == []


def test_the_course_works_when_the_server_is_gone(phone, host):
    page = phone()
    keep_all(page, host)
    host.stop()
    other = page.context.new_page()
    for name, title in (("few/", "A few"), ("words/", "Words only"), ("", "The wheel"), ("few/index.html", "A few")):
        other.goto(host.address + name)
        assert other.locator("h1").text_content().startswith(title)
        wait_for_words(other, "is kept on this device since")
    other.goto(f"{host.address}few/?edge-on.A=30cm#edge-on")
    wait_for_state(other)
    before = results(other)
    type_into(other, {"A": "60 cm"})
    after = results(other)
    assert float(after["v_max"]["value"]) == pytest.approx(2 * float(before["v_max"]["value"]))
    assert other.locator(".md-logo img").first.evaluate("one => one.naturalWidth") > 0
    assert other.evaluate(
        "document.fonts.ready.then(() => [...document.fonts].some(({status}) => status === 'loaded'))"
    )
    press(other, "Check it")
    wait_for_words(other, "Ready without a network")


def test_search_works_when_the_server_is_gone(phone, host):
    page = phone(size={"width": 1280, "height": 800})
    keep_all(page, host)
    host.stop()
    page.goto(host.address)
    page.locator("input[name=query]").fill("nothing to try")
    wait_until(lambda: page.locator(".md-search-result__link").count() > 0, "a page that was found")
    page.locator(".md-search-result__link").first.click()
    wait_until(lambda: "words/" in page.url, "the page that was found")


def test_an_address_that_is_not_kept_is_answered_in_words(phone, host):
    page = phone()
    keep_all(page, host)
    host.stop()
    page.goto(f"{host.address}no-such-page/")
    assert page.locator("h1").text_content() == "Not on this device"
    page.get_by_role("link").click()
    wait_until(lambda: page.locator("h1").text_content().startswith("The wheel"), "the first page")


def test_a_page_asked_for_without_its_last_stroke_is_found(phone, host):
    page = phone()
    keep_all(page, host)
    host.stop()
    page.goto(f"{host.address}words")
    assert page.url == f"{host.address}words/"


def test_removing_takes_all_that_is_ours_and_nothing_else(phone, host):
    page = phone()
    page.goto(host.address)
    page.evaluate("caches.open('crankpin %2Fphysics%2F of a neighbour')")
    keep_all(page, host)
    assert len(page.evaluate(STORES)) == 3
    press(page, "Remove it")
    wait_for_words(page, "Nothing of the course is kept on this device any more")
    assert page.evaluate(STORES) == ["crankpin %2Fphysics%2F of a neighbour"]
    assert page.evaluate(WORKERS) == []


@contextmanager
def other_edition(host):
    """Let the host have a newer edition: one page with another sentence, and the list of it."""
    page, listed = host.folder / "words/index.html", host.folder / keep.LIST
    before = page.read_bytes(), listed.read_bytes()
    page.write_bytes(before[0].replace(b"Nothing to try here", b"Something else is here"))
    listed.write_text(keep.edition(host.folder), "utf-8")
    try:
        yield
    finally:
        page.write_bytes(before[0])
        listed.write_bytes(before[1])


def test_a_newer_edition_is_taken_when_the_reader_says_so(phone, host):
    page = phone()
    keep_all(page, host)
    with other_edition(host):
        page.goto(f"{host.address}words/")
        wait_for_words(page, "It has changed since")
        assert "Nothing to try here" in page.locator("article").text_content()
        sent = []
        page.on("request", lambda request: sent.append(request.url))
        press(page, "Change to the new one")
        wait_until(lambda: "Something else is here" in page.locator("article").text_content(), "the newer edition")
        assert not any("pyodide" in url for url in sent), "what had not changed was fetched again"
        assert len(page.evaluate(STORES)) == 2
        host.stop()
        page.goto(f"{host.address}words/")
        assert "Something else is here" in page.locator("article").text_content()


def test_a_file_that_is_not_as_published_is_refused_and_the_kept_edition_stays(phone, host):
    page = phone()
    keep_all(page, host)
    with other_edition(host):
        changed = host.folder / "words/index.html"
        changed.write_bytes(changed.read_bytes().replace(b"Something else", b"Quite other stuff"))
        page.goto(host.address)
        wait_for_words(page, "It has changed since")
        press(page, "Change to the new one")
        wait_for_words(page, "words/ is not as it was published")
        page.goto(f"{host.address}words/")
        assert "Nothing to try here" in page.locator("article").text_content()


@pytest.mark.parametrize("status", [206, 404])
def test_a_part_of_a_file_is_refused(phone, host, status):
    page = phone()
    page.route("**/words/", lambda route: route.fulfill(status=status, body="<h1>Half"))
    page.goto(host.address)
    wait_for_words(page, "the whole course takes")
    press(page, KEEP)
    wait_for_words(page, f"could not be fetched whole (the host answered {status})")
    page.reload()
    wait_for_words(page, "the whole course takes")
    assert page.evaluate(WORKERS) == []


def test_the_check_finds_what_the_browser_threw_away(phone, host):
    page = phone()
    keep_all(page, host)
    page.evaluate(
        """async (page) => {
      for (const name of await caches.keys()) await (await caches.open(name)).delete(page);
    }""",
        f"{host.address}words/",
    )
    press(page, "Check it")
    wait_for_words(page, "1 of ")
    press(page, "Fetch them again")
    wait_until(lambda: "is kept on this device since" in (line(page).text_content() or ""), "the mended course")
    press(page, "Check it")
    wait_for_words(page, "Ready without a network")


def test_the_course_can_be_switched_off_for_all(phone, host):
    page = phone()
    keep_all(page, host)
    worker = host.folder / keep.WORKER
    before = worker.read_bytes()
    try:
        keep.switch_off(host.folder)
        page.goto(host.address)
        wait_until(lambda: page.evaluate(STORES) == [] and page.evaluate(WORKERS) == [], "an empty device")
    finally:
        worker.write_bytes(before)


def test_the_list_names_what_pages_ask_for_and_leaves_paper_out(folder):
    (folder / "sheet.pdf").write_bytes(b"%PDF")
    try:
        listed = json.loads(keep.edition(folder))
    finally:
        (folder / "sheet.pdf").unlink()
    paths = {file["path"] for file in listed["files"]}
    assert {"", "few/", "words/"} < paths
    assert not any(path.endswith((".pdf", ".map", ".gz")) or "index.html" in path for path in paths)
    assert sum(path.endswith(".wasm") for path in paths) == 1
    assert listed["fetched"] < listed["bytes"] == sum(file["bytes"] for file in listed["files"])
    assert json.loads(keep.edition(folder)) == json.loads((folder / keep.LIST).read_text("utf-8"))
