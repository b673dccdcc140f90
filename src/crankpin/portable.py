"""A copy of a built site for a room without internet: one zip with the site and a small starter.

This module may import: the standard library alone.
"""

from __future__ import annotations

import zipfile
from html import escape
from pathlib import Path

#: Every entry has this date, so that equal sites give equal zips.
_DATE = (1980, 1, 1, 0, 0, 0)
START = '''\
"""Serve this copy of the course: python start.py (this machine), python start.py room (phones on its network too)."""

import http.server
import pathlib
import socket
import sys
import webbrowser

FOLDER = pathlib.Path(__file__).resolve().parent / "site"
TYPES = {".mjs": "text/javascript", ".js": "text/javascript", ".wasm": "application/wasm", ".woff2": "font/woff2"}


class Handler(http.server.SimpleHTTPRequestHandler):
    extensions_map = {**http.server.SimpleHTTPRequestHandler.extensions_map, **TYPES}

    def __init__(self, *given, **named):
        super().__init__(*given, directory=str(FOLDER), **named)

    def log_message(self, *words):
        pass


def own_address():
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect(("192.0.2.1", 9))  # nothing is sent; an address set aside for documentation
            return probe.getsockname()[0]
        except OSError:
            return "localhost"


def main():
    room = "room" in sys.argv
    server = None
    for port in range(8000, 8100):
        try:
            server = http.server.ThreadingHTTPServer(("" if room else "127.0.0.1", port), Handler)
            break
        except OSError:
            continue
    if server is None:
        sys.exit("No port from 8000 to 8099 is free; end another program and try again.")
    print(f"On this machine: http://localhost:{server.server_port}/", flush=True)
    if room:
        print(f"On this network: http://{own_address()}:{server.server_port}/", flush=True)
    print("Ctrl+C ends it.", flush=True)
    if "quiet" not in sys.argv:
        webbrowser.open(f"http://localhost:{server.server_port}/")
    try:
        server.serve_forever()
    except KeyboardInterrupt:
        pass


if __name__ == "__main__":
    main()
'''
_OPEN_ME = """\
<!doctype html><html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width">
<title>{title}</title></head><body><h1>{title}</h1>
<p>Best: unpack this folder and run <code>python start.py</code> (Python 3.8 or later). Everything works then; with
<code>python start.py room</code> for phones on the same network as well.</p>
<p>Opened straight from a stick, without that, a browser shows the pages as printed: text, numbers, figures. It
does not run the calculators, check answers, search, or follow the links from page
to page; come back to this list instead.</p>
<h2>Pages</h2><ul>{pages}</ul>{prints}</body></html>
"""


def pack_site(site: Path, title: str, out: Path) -> Path:
    """Write the zip and return it; equal sites give equal bytes."""
    files = {f"site/{path.relative_to(site).as_posix()}": path.read_bytes() for path in _files_of(site)}
    files["start.py"] = START.encode()
    files["open-me.html"] = _list_of_pages(site, title).encode()
    out.parent.mkdir(parents=True, exist_ok=True)
    with zipfile.ZipFile(out, "w") as archive:
        for name in sorted(files):
            entry = zipfile.ZipInfo(f"{out.stem}/{name}", _DATE)
            entry.compress_type = zipfile.ZIP_DEFLATED
            entry.external_attr = 0o644 << 16
            archive.writestr(entry, files[name])
    return out


def _files_of(site: Path) -> list[Path]:
    return sorted(path for path in site.rglob("*") if path.is_file())


def _list_of_pages(site: Path, title: str) -> str:
    paths = [path.relative_to(site).as_posix() for path in _files_of(site)]
    pages = [path for path in paths if path.endswith("index.html") and not path.startswith("q/")]
    prints = [path for path in paths if path.startswith("print/") and path.endswith(".pdf")]
    listed = f"<h2>For paper</h2><ul>{''.join(map(_link, prints))}</ul>" if prints else ""
    return _OPEN_ME.format(title=escape(title), pages="".join(map(_link, pages)), prints=listed)


def _link(path: str) -> str:
    words = path.removesuffix("index.html").rstrip("/") or "First page"
    return f'<li><a href="site/{escape(path)}">{escape(words)}</a></li>'
