"""A host behind a slow network: the project's own server, at 9 Mbit/s shared by all answers and 60 ms a round trip."""

import hashlib
import subprocess
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from crankpin import server

BYTES_A_SECOND = 9e6 / 8
ROUND_TRIP = 0.060
PIECE = 8192
CODINGS = {"br": "br", "gz": "gzip"}
_COMPRESS = Path(__file__).with_name("compress.mjs")


class Line:
    """What all answers share: pieces go out one after another, in the order in which they come to hand."""

    def __init__(self, *, slow: bool) -> None:
        self.slow = slow
        self.sent = 0
        self._free = 0.0
        self._lock = threading.Lock()

    def wait(self) -> None:
        """Wait for one round trip."""
        if self.slow:
            time.sleep(ROUND_TRIP)

    def take(self, size: int) -> None:
        """Wait until a piece of that many bytes has gone through."""
        with self._lock:
            self.sent += size
            now = time.monotonic()
            self._free = max(now, self._free) + size / BYTES_A_SECOND
            pause = self._free - now
        if self.slow:
            time.sleep(pause)


class _Slowly:
    """The writing end of a connection, by way of the line."""

    def __init__(self, file: Any, line: Line) -> None:
        self._file, self._line = file, line

    def write(self, content: bytes) -> int:
        for start in range(0, len(content), PIECE):
            piece = content[start : start + PIECE]
            self._line.take(len(piece))
            self._file.write(piece)
        return len(content)

    def __getattr__(self, name: str) -> Any:
        return getattr(self._file, name)


class _CompressedSite(server.Site):
    """A site whose files were compressed beforehand, by one coding."""

    def __init__(self, folder: Path, prefix: str, store: Path, coding: str) -> None:
        super().__init__(folder, prefix)
        self._store, self._coding = store, coding

    def asset(self, path: Path) -> server.Asset:
        plain = super().asset(path)
        packed = self._store / f"{hashlib.sha256(plain.body).hexdigest()}.{self._coding}"
        shorter = packed.read_bytes() if packed.is_file() else None
        return server.Asset(plain.body, shorter, plain.content_type, plain.tag, plain.lasting)


class _Handler(server._Handler):
    """The project's own answers, late and slow."""

    server: Any
    wbufsize = 0

    def setup(self) -> None:
        super().setup()
        self.server.line.wait()  # to open the connection
        self.wfile = _Slowly(self.wfile, self.server.line)

    def do_GET(self) -> None:
        self.server.line.wait()
        super().do_GET()

    def send_header(self, keyword: str, value: str) -> None:
        super().send_header(keyword, self.server.coding if keyword == "Content-Encoding" else value)


class _Server(server.SiteServer):
    def __init__(self, site: server.Site, line: Line, coding: str) -> None:
        self.line, self.coding = line, coding
        super().__init__(site, "127.0.0.1", 0)
        self.RequestHandlerClass = _Handler


@contextmanager
def serving(
    folder: Path, store: Path, *, prefix: str = "/", coding: str = "br", slow: bool = True
) -> Iterator[tuple[str, Line]]:
    """Serve a folder compressed by ``br`` or ``gz``; yield its address and the line to it."""
    subprocess.run(["node", str(_COMPRESS), str(folder), str(store)], check=True)
    line = Line(slow=slow)
    site = _CompressedSite(folder, prefix, store, coding)
    for path in folder.rglob("*"):
        if path.is_file():
            server.Site.asset(site, path)  # read beforehand
    with _Server(site, line, CODINGS[coding]) as served:
        thread = threading.Thread(target=served.serve_forever, kwargs={"poll_interval": 0.05})
        thread.start()
        try:
            yield f"http://127.0.0.1:{served.server_port}{site.prefix}", line
        finally:
            served.shutdown()
            thread.join()
