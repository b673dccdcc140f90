"""The course kept on a device: all of it works when the server is gone, and nothing is kept half, mixed or unasked."""

import hashlib
import json
import logging
import os
import re
import shutil
import subprocess
import sys
from contextlib import contextmanager

import pytest

from crankpin.browser.runtime import RuntimeFilesError, find_runtime
from crankpin.site import offline
from tests.browser.conftest import PAGES, build_course
from tests.browser.pages import results, type_into, wait_for_state, wait_until

pytestmark = pytest.mark.browser

PREFIX = "/physics/wheels/"
STORES = "() => caches.keys()"
WORKERS = "() => navigator.serviceWorker.getRegistrations().then((all) => all.map(({scope}) => scope))"
KEEP = "Keep the course on this device"
CHANGE = "Switch to the newer one"
NOTHING = "the whole course takes"
NEWER = "There is a newer one"
READY = "Ready without a network"
EARLIER = "This page is still the earlier one"


SERVE = """
import sys
from pathlib import Path
from crankpin import server
folder, prefix, compressing = sys.argv[1:]
if compressing == "no":
    server.accepts_gzip = lambda header: False
running = server.open_server(server.Site(Path(folder), prefix), "127.0.0.1", 8500)
print(running.server_port, flush=True)
running.serve_forever()
"""


class Host:
    """A site served by a process of its own, so that nothing of it is left when it is stopped."""

    def __init__(self, folder, prefix=PREFIX, *, compressing=True):
        self.folder = folder
        command = [sys.executable, "-c", SERVE, str(folder), prefix, "yes" if compressing else "no"]
        self._process = subprocess.Popen(command, stdout=subprocess.PIPE, text=True)
        self.address = f"http://127.0.0.1:{int(self._process.stdout.readline())}{prefix}"

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


@pytest.fixture
def plain_host(folder):
    hosted = Host(folder, compressing=False)
    yield hosted
    hosted.stop()


def line(page):
    return page.locator("[data-keep]")


def words(page):
    return line(page).text_content() or ""


def press(page, name):
    line(page).get_by_role("button", name=name).click()


def wait_for_words(page, wanted):
    wait_until(lambda: wanted in words(page), lambda: f"{wanted!r}: {words(page)}")


def ask_to_keep(page, address):
    page.goto(address)
    wait_for_words(page, NOTHING)
    press(page, KEEP)


def keep_all(page, host):
    ask_to_keep(page, host.address)
    wait_for_words(page, READY)


def hold_words(page):
    """Let the host leave one page unanswered; return the list that its requests are put into."""
    held = []

    def hold(route):
        held.append(route)

    page.route("**/words/", hold)
    return held


def text(page):
    return page.locator("article").text_content()


def test_nothing_is_kept_unasked(phone, host):
    page = phone()
    page.goto(host.address)
    wait_for_words(page, NOTHING)
    assert page.evaluate(STORES) == []
    assert page.evaluate(WORKERS) == []


def test_a_page_asks_only_for_the_few_words_about_the_edition(phone, host):
    page = phone()
    page.goto(host.address)
    wait_for_words(page, NOTHING)
    asked = [url.removeprefix(host.address) for url in page.heard.requests if "/offline" in url]
    assert asked == [offline.NEWS]


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
    wait_for_words(other, READY)


def test_scenes_play_when_the_server_is_gone(phone, host):
    page = phone()
    keep_all(page, host)
    host.stop()
    page.goto(f"{host.address}moving/")
    scene = page.locator("crankpin-scene#wheel")
    wait_until(lambda: scene.get_attribute("data-state") == "ready", "the scene")
    before = page.evaluate("document.getElementById('wheel').now")
    scene.locator("[data-do=go]").click()
    wait_until(lambda: page.evaluate("document.getElementById('wheel').now") != before, "movement")


def test_search_works_when_the_server_is_gone(phone, host):
    page = phone()
    keep_all(page, host)
    host.stop()
    page.goto(host.address)
    page.get_by_role("button", name="Search", exact=True).click()
    page.locator("input[name=query]").press_sequentially("nothing to try")
    wait_until(lambda: page.locator(".md-search-result__link").count() > 0, "a page that was found")
    page.locator(".md-search-result__link").first.click()
    wait_until(lambda: "words/" in page.url, "the page that was found")


def test_a_short_address_leads_on_when_the_server_is_gone(phone, host):
    page = phone()
    keep_all(page, host)
    host.stop()
    short = min(path.parent.name for path in host.folder.glob("q/*/index.html"))
    page.goto(f"{host.address}q/{short}/")
    page.wait_for_url(lambda url: "/q/" not in url)
    assert "?" in page.url and "#" in page.url
    wait_until(lambda: page.locator("crankpin-calculator, crankpin-scene").count() > 0, "the calculator")


def test_an_address_that_is_not_kept_is_answered_in_words(phone, host):
    page = phone()
    keep_all(page, host)
    host.stop()
    page.goto(f"{host.address}no-such-page/")
    assert page.locator("h1").text_content() == "Not on this device"
    page.get_by_role("link").click()
    wait_until(lambda: page.locator("h1").text_content().startswith("The wheel"), "the first page")


def test_a_sheet_for_printing_is_not_kept_and_its_address_says_so(phone, host):
    page = phone()
    keep_all(page, host)
    host.stop()
    page.goto(f"{host.address}print/course.pdf")
    assert "Sheets for printing (PDF) are not kept" in " ".join(page.locator("body").inner_text().split())


def test_a_page_asked_for_without_its_last_stroke_is_found(phone, host):
    page = phone()
    keep_all(page, host)
    host.stop()
    page.goto(f"{host.address}words?edge-on.A=30cm")
    assert page.url == f"{host.address}words/?edge-on.A=30cm"


def test_removing_takes_all_that_is_ours_and_nothing_else(phone, host):
    page = phone()
    page.goto(host.address)
    page.evaluate("caches.open('crankpin %2Fphysics%2F of a neighbour')")
    keep_all(page, host)
    assert len(page.evaluate(STORES)) == 3
    press(page, "Remove it")
    wait_for_words(page, "The course is no longer kept on this device")
    assert page.evaluate(STORES) == ["crankpin %2Fphysics%2F of a neighbour"]
    assert page.evaluate(WORKERS) == []
    press(page, "Keep it again")
    wait_for_words(page, READY)


def test_two_courses_of_one_host_keep_out_of_each_others_way(phone, folder, tmp_path):
    site = tmp_path / "host"
    for inside in ("physics", "physics/inner"):
        shutil.copytree(folder, site / inside, copy_function=os.link)
    host = Host(site, "/")
    try:
        page = phone()
        outer, inner = (f"{host.address}{path}" for path in ("physics/", "physics/inner/"))
        for address in (outer, inner):
            ask_to_keep(page, address)
            wait_for_words(page, READY)
        assert len(page.evaluate(STORES)) == 4
        host.stop()
        for address in (outer, inner):
            page.goto(f"{address}words/")
            press(page, "Check it")
            wait_for_words(page, READY)
        press(page, "Remove it")
        wait_for_words(page, "The course is no longer kept on this device")
        page.goto(f"{outer}words/")
        press(page, "Check it")
        wait_for_words(page, READY)
    finally:
        host.stop()


# Newer editions.


@contextmanager
def other_edition(host):
    """Let the host have a newer edition: one page with another sentence, and the list of it."""
    page = host.folder / "words/index.html"
    before = page.read_bytes()
    page.write_bytes(before.replace(b"Nothing to try here", b"Something else is here"))
    offline.publish(host.folder)
    try:
        yield
    finally:
        page.write_bytes(before)
        offline.publish(host.folder)


def test_a_newer_edition_is_taken_when_the_reader_says_so(phone, host):
    page = phone()
    keep_all(page, host)
    with other_edition(host):
        page.goto(f"{host.address}words/")
        wait_for_words(page, NEWER)
        assert "Nothing to try here" in text(page)
        sent = []
        page.on("request", lambda request: sent.append(request.url))
        press(page, CHANGE)
        wait_for_words(page, EARLIER)
        assert "Nothing to try here" in text(page), "the page in sight was changed unasked"
        assert not any("pyodide" in url for url in sent), "what had not changed was fetched again"
        press(page, "Show the newer page")
        wait_until(lambda: "Something else is here" in text(page), "the newer edition")
        wait_until(lambda: len(page.evaluate(STORES)) == 2, "one edition and its list")
        host.stop()
        page.goto(f"{host.address}words/")
        assert "Something else is here" in text(page)


def test_news_stays_in_sight_until_the_reader_puts_it_off(phone, host):
    page = phone()
    keep_all(page, host)
    with other_edition(host):
        page.goto(f"{host.address}case/")
        wait_for_words(page, NEWER)
        box = line(page).bounding_box()
        assert box["y"] + box["height"] == pytest.approx(844), "in sight at the top of a long page"
        press(page, "Not now")
        wait_until(lambda: line(page).bounding_box()["y"] > 844, "the line at its quiet place")
        page.goto(f"{host.address}words/")
        wait_for_words(page, NEWER)
        assert "has-news" not in line(page).get_attribute("class")
        assert "Nothing to try here" in text(page)
        press(page, CHANGE)
        wait_for_words(page, EARLIER)


def test_a_page_open_while_another_tab_changes_the_course_still_finds_its_own_files(phone, host):
    old = host.folder / "assets/trial.0123456789.js"
    old.write_text("// of the earlier edition", "utf-8")
    offline.publish(host.folder)
    try:
        page = phone()
        keep_all(page, host)
        old.unlink()
        with other_edition(host):
            other = page.context.new_page()
            other.goto(f"{host.address}words/")
            wait_for_words(other, NEWER)
            press(other, CHANGE)
            wait_for_words(other, EARLIER)
            status = "url => fetch(url, {cache: 'no-store'}).then(({status}) => status)"
            assert page.evaluate(status, f"{host.address}assets/trial.0123456789.js") == 200
            press(other, "Show the newer page")
            wait_until(lambda: len(other.evaluate(STORES)) == 2, "one edition and its list")
            assert page.evaluate(status, f"{host.address}assets/trial.0123456789.js") == 404
    finally:
        old.unlink(missing_ok=True)
        offline.publish(host.folder)


def test_a_file_that_is_not_as_published_is_refused_and_the_kept_edition_stays(phone, host):
    page = phone()
    keep_all(page, host)
    with other_edition(host):
        changed = host.folder / "words/index.html"
        changed.write_bytes(changed.read_bytes().replace(b"Something else", b"Quite other stuff"))
        page.goto(host.address)
        wait_for_words(page, NEWER)
        press(page, CHANGE)
        wait_for_words(page, "words/ is not as it was published")
        page.goto(f"{host.address}words/")
        assert "Nothing to try here" in text(page)


# Downloads that do not end well.


def test_a_list_that_is_not_the_one_announced_is_refused(phone, host):
    page = phone()
    page.route("**/offline.*.json", lambda route: route.fulfill(body="[]"))
    ask_to_keep(page, host.address)
    wait_for_words(page, "is not as it was published")
    assert page.evaluate(STORES) == []


def test_a_page_of_the_host_in_the_place_of_the_news_is_no_news(phone, host):
    page = phone()
    page.route("**/offline.json", lambda route: route.fulfill(body="<h1>Please log in</h1>", content_type="text/html"))
    page.goto(host.address)
    wait_for_words(page, "the network does not supply it just now")
    assert line(page).get_by_role("button").count() == 0


def test_a_page_of_the_host_in_the_place_of_a_file_is_refused(phone, host):
    page = phone()
    page.route("**/live/*.zip", lambda route: route.fulfill(body="<h1>Welcome</h1>", content_type="text/html"))
    ask_to_keep(page, f"{host.address}words/")
    wait_for_words(page, "is not as it was published")
    assert page.evaluate(WORKERS) == []


@pytest.mark.parametrize("status", [206, 404])
def test_a_part_of_a_file_is_refused(phone, host, status):
    page = phone()
    page.route("**/words/", lambda route: route.fulfill(status=status, body="<h1>Half"))
    ask_to_keep(page, host.address)
    wait_for_words(page, f"could not be fetched whole (the host answered {status})")
    page.reload()
    wait_for_words(page, "the course is not complete yet")
    assert page.evaluate(WORKERS) == []
    page.unroute("**/words/")
    press(page, "Go on")
    wait_for_words(page, READY)


def test_what_came_before_a_stop_is_told_and_used(phone, host):
    page = phone()
    held = hold_words(page)
    ask_to_keep(page, f"{host.address}few/")
    others = len(offline.edition(host.folder).files) - 1
    wait_until(lambda: page.evaluate(SHELVED) == others and held, "all files but one")
    press(page, "Stop")
    wait_for_words(page, "Stopped.")
    page.unroute("**/words/")
    page.goto(f"{host.address}words/")
    wait_for_words(page, "the course is not complete yet")
    came = float(re.match(r"([\d.]+)\sMB of ", words(page))[1])
    assert came > 1
    fetched = []
    page.on("request", lambda request: "crankpin-fresh" in request.headers and fetched.append(request.url))
    press(page, "Go on")
    wait_for_words(page, READY)
    assert f"{host.address}words/" in fetched and not any(".wasm" in url for url in fetched)


SHELVED = """async () => {
  let count = 0;
  for (const name of await caches.keys()) count += (await (await caches.open(name)).keys()).length;
  return count;
}"""


def test_what_came_before_a_stop_can_be_removed(phone, host):
    page = phone()
    page.route("**/words/", lambda route: route.abort())
    ask_to_keep(page, host.address)
    wait_for_words(page, "did not answer")
    press(page, "Remove the download")
    wait_for_words(page, "The course is no longer kept on this device")
    assert page.evaluate(STORES) == []


def test_a_host_that_falls_silent_is_given_up(phone, host):
    page = phone()
    page.clock.install()
    held = hold_words(page)
    ask_to_keep(page, host.address)
    wait_until(lambda: page.evaluate("true") and held, "the request that is not answered")
    wait_until(lambda: page.evaluate(SHELVED) > 9, "the others")
    page.clock.fast_forward(31_000)
    wait_for_words(page, "Nothing has arrived for 30 seconds")


def test_too_little_room_is_told_and_leaves_nothing_half_kept(phone, host):
    page = phone()
    page.goto(host.address)
    wait_for_words(page, NOTHING)
    session = page.context.new_cdp_session(page)
    origin = page.evaluate("location.origin")
    session.send("Storage.overrideQuotaForOrigin", {"origin": origin, "quotaSize": 3_000_000})
    press(page, KEEP)
    wait_for_words(page, "There is not enough space on this device")
    assert page.evaluate(WORKERS) == []
    session.send("Storage.overrideQuotaForOrigin", {"origin": origin})
    press(page, "Go on")
    wait_for_words(page, READY)


def test_one_tab_at_a_time_changes_what_is_kept(phone, host):
    page = phone()
    held = hold_words(page)
    page.goto(host.address)
    wait_for_words(page, NOTHING)
    other = page.context.new_page()
    other.goto(host.address)
    wait_for_words(other, NOTHING)
    press(page, KEEP)
    wait_until(lambda: page.evaluate("true") and held, "the first tab at work")
    press(other, KEEP)
    wait_for_words(other, "Another tab is saving or removing the course just now")
    press(other, "Remove the download")
    wait_for_words(other, "Another tab is saving or removing the course just now")
    held.pop().continue_()
    wait_for_words(page, READY)


def test_an_edition_of_which_a_part_is_thrown_away_meanwhile_is_not_kept(phone, host):
    page = phone()
    held = hold_words(page)
    ask_to_keep(page, host.address)
    wait_until(lambda: page.evaluate(SHELVED) > 9 and held, "the last file")
    page.evaluate("caches.keys().then((names) => Promise.all(names.map((name) => caches.delete(name))))")
    held.pop().continue_()
    wait_for_words(page, "The browser discarded part of the download")
    page.reload()
    wait_for_words(page, NOTHING)


def test_a_host_without_compression_is_asked_for_the_gzipped_copies(phone, plain_host):
    page = phone()
    page.goto(f"{plain_host.address}words/")
    wait_for_words(page, NOTHING)
    sent = []
    page.on("request", lambda request: sent.append(request.url))
    press(page, KEEP)
    wait_for_words(page, READY)
    assert any(url.endswith(".wasm.gz") for url in sent)
    plain_host.stop()
    page.goto(plain_host.address)
    wait_for_state(page)


def test_a_host_without_the_gzipped_copies_is_asked_for_the_files_themselves(phone, plain_host):
    page = phone()
    page.route("**/*.gz", lambda route: route.fulfill(status=404))
    ask_to_keep(page, f"{plain_host.address}words/")
    wait_for_words(page, READY)


def test_progress_is_told_in_bytes_that_only_grow(phone, host):
    page = phone()
    page.goto(f"{host.address}words/")
    wait_for_words(page, NOTHING)
    page.evaluate(
        """() => {
          window.told = [];
          new MutationObserver(() => {
            const bar = document.querySelector("[data-keep] progress");
            if (bar) told.push([bar.value, bar.max]);
          }).observe(document.querySelector("[data-keep]"), {subtree: true, childList: true, characterData: true});
        }"""
    )
    press(page, KEEP)
    wait_for_words(page, READY)
    told = page.evaluate("told")
    come = [value for value, _ in told]
    whole = json.loads((host.folder / offline.NEWS).read_text("utf-8"))["bytes"]
    assert come == sorted(come) and come[0] == 0 and come[-1] == pytest.approx(whole)
    assert len(set(come)) > 10
    assert {most for _, most in told[1:]} == {whole}


# What the browser does.


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
    press(page, "Download them again")
    wait_for_words(page, READY)


def test_all_storage_thrown_away_by_the_browser_is_told(phone, host):
    page = phone()
    keep_all(page, host)
    session = page.context.new_cdp_session(page)
    origin = page.evaluate("location.origin")
    session.send("Storage.clearDataForOrigin", {"origin": origin, "storageTypes": "cache_storage,service_workers"})
    page.goto(f"{host.address}words/")
    wait_for_words(page, NOTHING)


def test_a_browser_that_keeps_nothing_is_told_of(phone, host):
    page = phone()
    page.add_init_script(
        "CacheStorage.prototype.keys = CacheStorage.prototype.match = "
        "() => Promise.reject(new DOMException('', 'SecurityError'))"
    )
    page.goto(host.address)
    wait_for_words(page, "a private window or a setting forbids it")
    assert line(page).get_by_role("button").count() == 0


def test_without_https_the_line_says_what_is_needed(phone, host):
    page = phone()
    page.add_init_script("Object.defineProperty(window, 'isSecureContext', {value: false})")
    page.goto(host.address)
    wait_for_words(page, "an address that begins with https")
    assert line(page).get_by_role("button").count() == 0


def test_the_course_can_be_switched_off_for_all(phone, host):
    page = phone()
    keep_all(page, host)
    worker = host.folder / offline.WORKER
    before = worker.read_bytes()
    try:
        offline.switch_off(host.folder)
        page.goto(host.address)
        wait_until(lambda: page.evaluate(STORES) == [] and page.evaluate(WORKERS) == [], "an empty device")
    finally:
        worker.write_bytes(before)


# What the build lists.


def test_the_list_names_what_pages_ask_for_and_leaves_paper_out(folder):
    (folder / "sheet.pdf").write_bytes(b"%PDF")
    (folder / "100 % & #1.txt").write_text("odd", "utf-8")
    try:
        found = offline.edition(folder)
    finally:
        (folder / "sheet.pdf").unlink()
        (folder / "100 % & #1.txt").unlink()
    paths = {file.path for file in found.files}
    assert {"", "few/", "words/", "100%20%25%20%26%20%231.txt"} < paths
    assert any(path.startswith("q/") for path in paths)
    assert not any(path.endswith((".pdf", ".map", ".gz")) or "index.html" in path for path in paths)
    assert not any(path.startswith("offline") for path in paths)
    assert sum(path.endswith(".wasm") for path in paths) == 1
    assert found.fetched < found.bytes == sum(file.bytes for file in found.files)
    assert found.paper == 4


def test_one_site_is_one_edition(folder):
    found = offline.edition(folder)
    assert (folder / offline.NEWS).read_text("utf-8") == found.news
    assert [path.name for path in folder.glob("offline.*.json")] == [f"offline.{found.name}.json"]
    listed = (folder / f"offline.{found.name}.json").read_bytes()
    assert hashlib.sha256(listed).hexdigest().startswith(found.name)


def test_what_a_page_loads_is_named_by_its_content(folder):
    named = [*folder.glob("assets/crankpin/*.css"), *folder.glob("assets/crankpin/site*.js")]
    named += [*folder.glob("assets/crankpin/*.woff2"), *folder.glob("assets/moved/*.js")]
    assert len(named) > 6
    for path in named:
        assert hashlib.sha256(path.read_bytes()).hexdigest()[:10] in path.name, path.name
