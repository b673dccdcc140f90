import gzip
import http.client
import socket
import threading
from contextlib import contextmanager

import pytest

from crankpin import server

LONG = "x = A cos(omega t)\n" * 200


@pytest.fixture
def folder(tmp_path):
    files = {
        "index.html": "<title>Pier wheel</title>" + LONG,
        "404.html": "<title>No such page</title>",
        "chapter/index.html": "<title>Chapter</title>",
        "chapter/two words.html": "<title>Two words</title>",
        "engine/start.mjs": "export const start = 1;\n" + LONG,
        "engine/python-0a1b2c3d4e5f6071.wasm": "\0asm" + LONG,
        "pages/print.pdf": "%PDF-1.7" + LONG,
        "tiny.json": "{}",
        "odd.xyz": "?",
    }
    for name, text in files.items():
        path = tmp_path / "site" / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    (tmp_path / "secret.txt").write_text("not for the class", encoding="utf-8")
    return tmp_path / "site"


@contextmanager
def running(folder, prefix="/"):
    with server.open_server(server.Site(folder, prefix), "127.0.0.1") as served:
        thread = threading.Thread(target=served.serve_forever, kwargs={"poll_interval": 0.01})
        thread.start()
        try:
            yield Browser(served.server_port)
        finally:
            served.shutdown()
            thread.join()


class Browser:
    def __init__(self, port):
        self.port = port

    def ask(self, address, method="GET", **headers):
        connection = http.client.HTTPConnection("127.0.0.1", self.port, timeout=10)
        try:
            named = {name.replace("_", "-"): value for name, value in headers.items()}
            connection.request(method, address, headers=named)
            answer = connection.getresponse()
            return answer.status, answer.headers, answer.read()
        finally:
            connection.close()


@pytest.mark.parametrize(
    ("address", "expected"),
    [
        ("/", "text/html; charset=utf-8"),
        ("/engine/start.mjs", "text/javascript; charset=utf-8"),
        ("/engine/python-0a1b2c3d4e5f6071.wasm", "application/wasm"),
        ("/pages/print.pdf", "application/pdf"),
        ("/tiny.json", "application/json"),
        ("/odd.xyz", "application/octet-stream"),
    ],
)
def test_each_file_has_its_type_and_a_browser_may_not_guess(folder, address, expected):
    with running(folder) as browser:
        status, headers, _ = browser.ask(address)
    assert status == 200
    assert headers["Content-Type"] == expected
    assert headers["X-Content-Type-Options"] == "nosniff"


def test_text_and_wasm_are_compressed_for_those_who_accept_it(folder):
    whole = (folder / "engine/python-0a1b2c3d4e5f6071.wasm").read_bytes()
    with running(folder) as browser:
        _, packed, body = browser.ask("/engine/python-0a1b2c3d4e5f6071.wasm", Accept_Encoding="br, gzip")
        _, plain, same = browser.ask("/engine/python-0a1b2c3d4e5f6071.wasm", Accept_Encoding="gzip;q=0")
    assert packed["Content-Encoding"] == "gzip"
    assert packed["Vary"] == "Accept-Encoding"
    assert int(packed["Content-Length"]) == len(body) < len(whole) / 4
    assert gzip.decompress(body) == whole
    assert plain["Content-Encoding"] is None
    assert same == whole
    assert packed["ETag"] != plain["ETag"]


@pytest.mark.parametrize("address", ["/pages/print.pdf", "/tiny.json"])
def test_what_would_not_shrink_goes_as_it_is(folder, address):
    with running(folder) as browser:
        _, headers, body = browser.ask(address, Accept_Encoding="gzip")
    assert headers["Content-Encoding"] is None
    assert body == (folder / address[1:]).read_bytes()


def test_hashed_names_are_kept_and_others_asked_about_again(folder):
    with running(folder) as browser:
        _, hashed, _ = browser.ask("/engine/python-0a1b2c3d4e5f6071.wasm")
        _, page, _ = browser.ask("/chapter/")
        again, _, nothing = browser.ask("/chapter/", If_None_Match=page["ETag"])
        (folder / "chapter/index.html").write_text("<title>Changed</title>", encoding="utf-8")
        changed, _, body = browser.ask("/chapter/", If_None_Match=page["ETag"])
    assert hashed["Cache-Control"] == "public, max-age=31536000, immutable"
    assert page["Cache-Control"] == "no-cache"
    assert (again, nothing) == (304, b"")
    assert (changed, body) == (200, b"<title>Changed</title>")


def test_a_rebuilt_but_equal_file_is_not_sent_again(folder):
    with running(folder) as browser:
        _, headers, _ = browser.ask("/")
        text = (folder / "index.html").read_text(encoding="utf-8")
        (folder / "index.html").unlink()
        (folder / "index.html").write_text(text, encoding="utf-8")
        status, _, _ = browser.ask("/", If_None_Match=headers["ETag"])
    assert status == 304


def test_a_missing_page_gets_the_site_s_own_page(folder):
    with running(folder) as browser:
        status, headers, body = browser.ask("/nowhere/")
        (folder / "404.html").unlink()
        bare_status, _, bare = browser.ask("/nowhere/")
    assert (status, body) == (404, b"<title>No such page</title>")
    assert headers["Content-Type"] == "text/html; charset=utf-8"
    assert (bare_status, bare) == (404, b"This page does not exist.\n")


def test_head_is_get_without_the_content(folder):
    with running(folder) as browser:
        _, got, body = browser.ask("/engine/start.mjs")
        with socket.create_connection(("127.0.0.1", browser.port), timeout=10) as raw:
            raw.sendall(b"HEAD /engine/start.mjs HTTP/1.1\r\nHost: x\r\nConnection: close\r\n\r\n")
            answer = raw.makefile("rb").read()
    head, nothing = answer.split(b"\r\n\r\n")
    assert nothing == b""
    assert f"Content-Length: {len(body)}".encode() in head
    assert f"ETag: {got['ETag']}".encode() in head


def test_a_folder_without_its_slash_leads_on_and_keeps_the_inputs(folder):
    with running(folder) as browser:
        status, headers, _ = browser.ask("/chapter?edge-on.A=12cm")
    assert (status, headers["Location"]) == (301, "/chapter/?edge-on.A=12cm")


def test_a_name_with_a_space_is_found(folder):
    with running(folder) as browser:
        status, _, body = browser.ask("/chapter/two%20words.html")
    assert (status, body) == (200, b"<title>Two words</title>")


def test_a_site_lives_under_a_prefix(folder):
    with running(folder, "/physics") as browser:
        start, headers, _ = browser.ask("/")
        bare, to, _ = browser.ask("/physics")
        page, _, body = browser.ask("/physics/chapter/")
        outside, _, _ = browser.ask("/chapter/")
    assert (start, headers["Location"]) == (301, "/physics/")
    assert (bare, to["Location"]) == (301, "/physics/")
    assert (page, body) == (200, b"<title>Chapter</title>")
    assert outside == 404


@pytest.mark.parametrize(
    "address",
    ["/../secret.txt", "/%2e%2e/secret.txt", "/chapter/..%2f../secret.txt", "/..%5csecret.txt", "/%00"],
)
def test_nothing_outside_the_folder_is_sent(folder, address):
    with running(folder) as browser:
        status, _, body = browser.ask(address)
    assert status == 404
    assert b"not for the class" not in body


def test_the_next_free_port_is_taken(folder):
    site = server.Site(folder)
    with (
        server.open_server(site, "127.0.0.1") as first,
        server.open_server(site, "127.0.0.1", first.server_port) as second,
    ):
        assert second.server_port > first.server_port


def test_many_phones_at_once_get_the_same_file(folder):
    whole = (folder / "engine/start.mjs").read_bytes()
    bodies = []
    with running(folder) as browser:
        phones = [
            threading.Thread(target=lambda: bodies.append(browser.ask("/engine/start.mjs")[2])) for _ in range(40)
        ]
        for phone in phones:
            phone.start()
        for phone in phones:
            phone.join()
    assert bodies == [whole] * 40
