"""A static host with habits: what real ones do to the runtime's files, one at a time."""

import gzip
import threading
from collections.abc import Callable
from contextlib import contextmanager
from dataclasses import dataclass, field
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from urllib.parse import urlsplit

TYPES = {".html": "text/html", ".json": "application/json", ".mjs": "text/javascript", ".wasm": "application/wasm"}


@dataclass
class Answer:
    """What the host sends for one file."""

    body: bytes
    type: str
    status: int = 200
    length: int | None = None
    """Content-Length; None for the body's own. Where it is greater, the host goes silent in mid-body."""
    headers: dict = field(default_factory=dict)


def _plainly(name, answer):
    return answer


@dataclass
class Host:
    """Folders by prefix, a way of compressing, and a habit that may change an answer."""

    folders: dict
    compresses: bool = True
    habit: Callable = _plainly
    prefix: str = "/"
    asked: list = field(default_factory=list)

    def answer(self, address):
        path = urlsplit(address).path
        if not path.startswith(self.prefix):
            return Answer(b"", "text/plain", 404)
        name = path[len(self.prefix) :] or "index.html"
        self.asked.append(name)
        file = self._file(name)
        if file is None:
            return Answer(b"not here", "text/plain", 404)
        answer = Answer(file.read_bytes(), TYPES.get(file.suffix, "application/octet-stream"))
        if self.compresses and file.suffix != ".gz":
            answer.headers["Content-Encoding"] = "gzip"
        return self.habit(name, answer)

    def _file(self, name):
        for prefix, folder in self.folders.items():
            file = Path(folder) / name.removeprefix(prefix)
            if name.startswith(prefix) and file.is_file():
                return file
        return None


class _Handler(BaseHTTPRequestHandler):
    protocol_version = "HTTP/1.1"

    def do_GET(self):
        answer = self.server.host.answer(self.path)
        body = answer.body
        if answer.headers.get("Content-Encoding") == "gzip":
            body = gzip.compress(body, compresslevel=1)
        self.send_response(answer.status)
        self.send_header("Content-Type", answer.type)
        self.send_header("Content-Length", str(len(body) if answer.length is None else answer.length))
        self.send_header("Content-Security-Policy", "default-src 'self'; script-src 'self' 'wasm-unsafe-eval'")
        for name, value in answer.headers.items():
            self.send_header(name, value)
        self.end_headers()
        try:
            self.wfile.write(body)
            self.wfile.flush()
            if answer.length is not None and answer.length > len(body):
                self.server.closing.wait(20)
        except OSError:
            self.close_connection = True

    def log_message(self, *_):
        """Say nothing."""


class _Server(ThreadingHTTPServer):
    daemon_threads = True

    def handle_error(self, request, client_address):
        """Let a browser hang up: the boot does so when it changes its mind."""


@contextmanager
def serving(host):
    """The host's address, while it serves."""
    with _Server(("127.0.0.1", 0), _Handler) as server:
        server.host = host
        server.closing = threading.Event()
        thread = threading.Thread(target=server.serve_forever, kwargs={"poll_interval": 0.01})
        thread.start()
        try:
            yield f"http://127.0.0.1:{server.server_port}{host.prefix}"
        finally:
            server.closing.set()
            server.shutdown()
            thread.join()
