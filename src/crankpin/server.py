"""Serve a built site to this machine and to the phones on its network.

This module may import: the standard library. The site is plain files and runs on any static host; this
small server adds what a lesson needs: right types, compression, and addresses a class can scan.
"""

import gzip
import hashlib
import ipaddress
import json
import re
import socket
import sys
import threading
from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass, replace
from http import HTTPStatus
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import Any
from urllib.parse import quote, unquote, urlsplit

TYPES = {
    ".css": "text/css; charset=utf-8",
    ".csv": "text/csv; charset=utf-8",
    ".gz": "application/gzip",
    ".html": "text/html; charset=utf-8",
    ".ico": "image/vnd.microsoft.icon",
    ".jpg": "image/jpeg",
    ".js": "text/javascript; charset=utf-8",
    ".json": "application/json",
    ".map": "application/json",
    ".md": "text/markdown; charset=utf-8",
    ".mjs": "text/javascript; charset=utf-8",
    ".pdf": "application/pdf",
    ".png": "image/png",
    ".svg": "image/svg+xml",
    ".txt": "text/plain; charset=utf-8",
    ".wasm": "application/wasm",
    ".webmanifest": "application/manifest+json",
    ".woff2": "font/woff2",
    ".xml": "application/xml",
    ".zip": "application/zip",
}
COMPRESSED_ALREADY = {".gz", ".jpg", ".pdf", ".png", ".woff2"}
HASHED_NAME = re.compile(r"(?:^|[.-])[0-9a-f]{8,64}\.[a-z0-9.]+$")
FIRST_PORT = 8000
PORTS = 100
#: Addresses from the site's root that only a served draft has.
NEWS, NEWS_SCRIPT = "crankpin-news", "crankpin-news.mjs"
#: So many seconds a page waits for news before it asks again.
PATIENCE = 20.0


@dataclass(frozen=True)
class Asset:
    """One file of the site, ready to be sent."""

    body: bytes
    compressed: bytes | None
    """The body under gzip, or None where that saves nothing."""
    content_type: str
    tag: str
    """The entity tag: a hash of the content, so that a rebuilt but equal file is not sent again."""
    lasting: bool
    """The name holds a hash of the content, so a browser may keep the file for ever."""


class News:
    """What pages that are open want to know while their author writes: a new version, or what is wrong."""

    def __init__(self) -> None:
        self._told = threading.Condition()
        self._number = 0
        self._fault = ""

    def tell(self, fault: str = "") -> None:
        """Tell of a new version of the site, or of what keeps it from being made."""
        with self._told:
            self._number, self._fault = self._number + 1, fault
            self._told.notify_all()

    def since(self, number: int, patience: float = PATIENCE) -> tuple[int, str]:
        """Return the number of the latest news and the fault it tells; wait for news later than ``number``."""
        with self._told:
            self._told.wait_for(lambda: self._number != number, patience)
            return self._number, self._fault


class Site:
    """A folder of built files under a prefix such as ``/`` or ``/physics/``."""

    def __init__(self, folder: Path, prefix: str = "/", headers: Mapping[str, str] | None = None) -> None:
        """``headers`` are sent with every answer."""
        self.folder = folder.resolve()
        self.prefix = "/" + prefix.strip("/") + "/" if prefix.strip("/") else "/"
        self.headers = dict(headers or {"X-Content-Type-Options": "nosniff"})
        self._assets: dict[Path, tuple[tuple[int, int], Asset]] = {}
        self._locks: defaultdict[Path, threading.Lock] = defaultdict(threading.Lock)
        self.news: News | None = None

    def find(self, address: str) -> Path | str | None:
        """Return the file for an address, or the address to go to instead, or None."""
        if not address.startswith(self.prefix):
            return self.prefix if address in ("/", self.prefix.rstrip("/")) else None
        inside = unquote(address[len(self.prefix) :])
        if "\0" in inside or "\\" in inside:
            return None
        path = (self.folder / inside).resolve()
        if path != self.folder and self.folder not in path.parents:
            return None
        if path.is_dir():
            if not address.endswith("/"):
                return address + "/"
            path = path / "index.html"
        elif address.endswith("/"):
            return None
        return path if path.is_file() else None

    def asset(self, path: Path) -> Asset:
        """Return a file's content, compressed once and kept until the file changes."""
        stat = path.stat()
        state = (stat.st_mtime_ns, stat.st_size)
        with self._locks[path]:
            kept = self._assets.get(path)
            if kept is None or kept[0] != state:
                kept = (state, load(path))
                self._assets[path] = kept
        return kept[1]


def load(path: Path) -> Asset:
    """Read a file and work out how it is to be sent."""
    body = path.read_bytes()
    suffix = path.suffix.lower()
    compressed = None
    if suffix not in COMPRESSED_ALREADY:
        shorter = gzip.compress(body, compresslevel=6, mtime=0)
        compressed = shorter if len(shorter) < 0.95 * len(body) else None
    return Asset(
        body=body,
        compressed=compressed,
        content_type=TYPES.get(suffix, "application/octet-stream"),
        tag=hashlib.sha256(body).hexdigest()[:24],
        lasting=HASHED_NAME.search(path.name) is not None,
    )


class _Handler(BaseHTTPRequestHandler):
    """Answer GET and HEAD for one site."""

    protocol_version = "HTTP/1.1"
    timeout = 60
    server: "SiteServer"

    def do_GET(self) -> None:
        """Send the file, or the way to it, or the site's own page for a missing one."""
        parts = urlsplit(self.path)
        site = self.server.site
        if site.news and parts.path == site.prefix + NEWS:
            self._send_news(site.news, parts.query)
            return
        if site.news and parts.path == site.prefix + NEWS_SCRIPT:
            self._send(load(Path(__file__).parent / "browser" / "writing" / "news.mjs"), HTTPStatus.OK)
            return
        found = site.find(parts.path)
        if isinstance(found, str):
            query = f"?{parts.query}" if parts.query else ""
            self._redirect(quote(found, safe="/%") + query)
        elif found is None:
            self._missing()
        else:
            self._send(self._listening(site.asset(found)), HTTPStatus.OK)

    def _listening(self, asset: Asset) -> Asset:
        """Return a page with the script that waits for news, where there may be some."""
        if self.server.site.news is None or not asset.content_type.startswith("text/html"):
            return asset
        before, body, after = asset.body.rpartition(b"</body>")
        script = f'<script type="module" src="{self.server.site.prefix}{NEWS_SCRIPT}"></script>'
        return replace(asset, body=before + script.encode() + body + after, compressed=None, tag=f"{asset.tag}-n")

    def _send_news(self, news: News, query: str) -> None:
        """Send the latest news; what is wrong is told on the author's own machine alone."""
        number, fault = news.since(int(query) if query.isdigit() else -1)
        own = ipaddress.ip_address(self.client_address[0]).is_loopback
        body = json.dumps({"number": number, "fault": fault if own else ""}).encode()
        self._send(Asset(body, None, TYPES[".json"], str(number), False), HTTPStatus.OK)

    def do_HEAD(self) -> None:
        """Send what GET would, less the content."""
        self.do_GET()

    def version_string(self) -> str:
        """Name the program in the header Server, and nothing of the machine."""
        return "crankpin"

    def log_message(self, format: str, *args: Any) -> None:
        """Keep quiet: a class of phones asks for thousands of files."""

    def _redirect(self, address: str) -> None:
        self.send_response(HTTPStatus.MOVED_PERMANENTLY)
        self.send_header("Location", address)
        self.send_header("Content-Length", "0")
        self.end_headers()

    def _missing(self) -> None:
        page = self.server.site.folder / "404.html"
        if page.is_file():
            self._send(self.server.site.asset(page), HTTPStatus.NOT_FOUND)
        else:
            text = b"This page does not exist.\n"
            self._send(Asset(text, None, TYPES[".txt"], "missing", False), HTTPStatus.NOT_FOUND)

    def _send(self, asset: Asset, status: HTTPStatus) -> None:
        zipped = asset.compressed is not None and accepts_gzip(self.headers.get("Accept-Encoding", ""))
        tag = f'"{asset.tag}-gz"' if zipped else f'"{asset.tag}"'
        fresh = status is HTTPStatus.OK and tag in self.headers.get("If-None-Match", "")
        self.send_response(HTTPStatus.NOT_MODIFIED if fresh else status)
        self.send_header("Cache-Control", "public, max-age=31536000, immutable" if asset.lasting else "no-cache")
        self.send_header("ETag", tag)
        self.send_header("Vary", "Accept-Encoding")
        for name, value in self.server.site.headers.items():
            self.send_header(name, value)
        if fresh:
            self.end_headers()
            return
        body = asset.compressed if zipped and asset.compressed is not None else asset.body
        self.send_header("Content-Type", asset.content_type)
        self.send_header("Content-Length", str(len(body)))
        if zipped:
            self.send_header("Content-Encoding", "gzip")
        self.end_headers()
        if self.command != "HEAD":
            self.wfile.write(body)


def accepts_gzip(header: str) -> bool:
    """Read an Accept-Encoding header; ``gzip;q=0`` refuses."""
    for part in header.lower().split(","):
        name, _, weight = part.partition(";")
        if name.strip() in ("gzip", "*"):
            return re.fullmatch(r"\s*q=0(\.0*)?\s*", weight) is None
    return False


class SiteServer(ThreadingHTTPServer):
    """One thread a connection; a whole class may knock at once."""

    daemon_threads = True
    request_queue_size = 128
    allow_reuse_address = sys.platform != "win32"

    def __init__(self, site: Site, host: str, port: int) -> None:
        self.site = site
        super().__init__((host, port), _Handler)

    def handle_error(self, request: Any, client_address: Any) -> None:
        """Pass over a phone that went away; tell of anything else."""
        if not isinstance(sys.exc_info()[1], (ConnectionError, TimeoutError)):
            super().handle_error(request, client_address)


def open_server(site: Site, host: str, first_port: int = FIRST_PORT) -> SiteServer:
    """Listen on the first free port from ``first_port`` up; OSError when none of a hundred is free."""
    for port in range(first_port, first_port + PORTS):
        try:
            return SiteServer(site, host, port)
        except OSError:
            continue
    raise OSError(f"no free port from {first_port} to {first_port + PORTS - 1} on {host}")


def network_address() -> str | None:
    """Return this machine's address on its local network, or None when it has none.

    Nothing is sent: the system is only asked which of its addresses would lead out.
    """
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect(("192.0.2.1", 9))  # an address set aside for documentation, RFC 5737
            address = str(probe.getsockname()[0])
        except OSError:
            return None
    return None if address.startswith("127.") else address
