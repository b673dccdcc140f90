"""A course that is served while its author writes: what is changed is shown at once, and the whole course soon after.

A process of its own builds the whole course into a folder under ``build/draft/`` and then waits. When one page is
changed it makes that page alone again, with everything it knows of the others; at the same time a second process
builds the whole course afresh, as other pages may depend on the change, and takes the first one's place. So nothing
stays behind, whatever was changed: pages, calculators, cases, settings or crankpin itself.

The site as it was built stays untouched, and is what is served until something changes.

This module may import: everything but the command line.
"""

from __future__ import annotations

import contextlib
import json
import logging
import queue
import signal
import subprocess
import sys
import threading
import time
from collections.abc import Callable, Iterable, Mapping
from pathlib import Path
from typing import Any

from crankpin.build import CONFIGURATION
from crankpin.server import News, Site

FOLDER = Path("build") / "draft"
#: What is changed within so many seconds is one change: editors write a file in several steps.
TOGETHER = 0.03

Message = Mapping[str, Any]


class Drafts:
    """Watches a course that is being served, and serves what it becomes."""

    def __init__(self, course: Path, site: Site, tell: Callable[[str], None]) -> None:
        self._course, self._site, self._tell = course.resolve(), site, tell
        self._news: queue.Queue[Path | tuple[_Process, Message] | None] = queue.Queue()
        self._shown: _Process | None = None
        self._coming: _Process | None = None
        self._watched: set[Path] = set()
        self._ended = threading.Event()
        self._pages = site.news = site.news or News()
        self._changed_at = 0.0
        self._thread = threading.Thread(target=self._run, daemon=True)

    def start(self) -> None:
        """Begin; the first draft is built in the background."""
        self._thread.start()

    def close(self) -> None:
        """End watching and every process."""
        self._ended.set()
        self._news.put(None)
        self._thread.join()
        for process in (self._shown, self._coming):
            if process:
                process.end()

    def _run(self) -> None:
        self._build_whole()
        while (news := self._news.get()) is not None:
            if isinstance(news, Path):
                self._changed(self._all_of(news))
            elif news[0] in (self._shown, self._coming):
                self._answered(*news)

    def _all_of(self, first: Path) -> set[Path]:
        """Return everything that changes together."""
        changed, later = {first}, []
        until = time.monotonic() + TOGETHER
        while (left := until - time.monotonic()) > 0:
            with contextlib.suppress(queue.Empty):
                news = self._news.get(timeout=left)
                if isinstance(news, Path):
                    changed.add(news)
                else:
                    later.append(news)
        for one in later:
            self._news.put(one)
        return changed

    def _changed(self, paths: set[Path]) -> None:
        self._changed_at = time.monotonic()
        if self._coming:
            self._coming.end()
            self._coming = None
        there = [path for path in paths if path.exists()]  # some editors write a file under another name first
        if self._shown and len(there) == 1 and there[0].suffix == ".md":
            self._shown.ask(there[0])
        else:
            self._build_whole()

    def _build_whole(self) -> None:
        if self._coming:
            self._coming.end()
        folders = [self._course / FOLDER / name for name in ("one", "two")]
        free = next(folder for folder in folders if not self._shown or folder != self._shown.folder)
        self._coming = _Process(self._course, free, self._news)

    def _answered(self, process: _Process, message: Message) -> None:
        if "watch" in message:
            self._watch(map(Path, message["watch"]))
        elif "fault" in message:
            self._tell(message["fault"])
            self._pages.tell(message["fault"])
            if process is self._coming:
                process.end()
                self._coming = None
        elif "whole" in message and process is self._coming:
            if self._shown:
                self._shown.end()
            self._shown, self._coming = process, None
            if self._changed_at or self._site.folder.name == "waiting":
                self._show(process, "the whole course")
        elif "page" in message and process is self._shown:
            if message["page"]:
                self._show(process, message["page"])
            self._build_whole()

    def _show(self, process: _Process, what: str) -> None:
        self._site.folder = process.folder
        self._pages.tell()
        since = (
            f", {time.monotonic() - self._changed_at:.1f} s after the change" if self._changed_at else ", first built"
        )
        self._tell(what + since)

    def _watch(self, paths: Iterable[Path]) -> None:
        wanted = {path.resolve() for path in paths} - self._watched
        self._watched |= wanted
        folders = {path for path in wanted if path.is_dir()}
        files = {path for path in wanted - folders if path.parent.is_dir()}
        if folders:
            self._listen(folders, lambda path: True, deep=True)
        if files:
            self._listen({file.parent for file in files}, lambda path: path in files, deep=False)

    def _listen(self, folders: set[Path], matters: Callable[[Path], bool], *, deep: bool) -> None:
        from watchfiles import watch

        def listen() -> None:
            changes = watch(*folders, step=10, debounce=200, recursive=deep, stop_event=self._ended, watch_filter=None)
            for change in changes:
                for path in {Path(name) for _, name in change}:
                    if path.suffix != ".pyc" and path.name[0] != "." and path.name[-1] != "~" and matters(path):
                        self._news.put(path)

        threading.Thread(target=listen, daemon=True).start()


class _Process:
    """A process that has built, or is building, the whole course into a folder."""

    def __init__(self, course: Path, folder: Path, news: queue.Queue[Any]) -> None:
        self.folder = folder
        self._process = subprocess.Popen(
            [sys.executable, "-m", "crankpin.drafts", str(course), str(folder)],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
            encoding="utf-8",
        )
        self._reader = threading.Thread(target=self._read, args=(news,), daemon=True)
        self._reader.start()

    def _read(self, news: queue.Queue[Any]) -> None:
        assert self._process.stdout is not None
        for line in self._process.stdout:
            if line.endswith("\n"):  # not a last word cut short
                news.put((self, json.loads(line)))

    def ask(self, page: Path) -> None:
        """Ask for one page again; the answer comes with the news."""
        assert self._process.stdin is not None
        with contextlib.suppress(OSError):
            self._process.stdin.write(f"{page}\n")
            self._process.stdin.flush()

    def end(self) -> None:
        """End the process at once."""
        self._process.kill()
        self._process.wait()
        self._reader.join()
        for pipe in (self._process.stdin, self._process.stdout):
            assert pipe is not None
            with contextlib.suppress(OSError):
                pipe.close()


def build_and_wait(course: Path, folder: Path) -> None:
    """Build a course into a folder; then make each page again whose file is named on the standard input.

    Each answer is a line of JSON: ``watch``, the files and folders that matter; ``whole``, when all is built;
    ``page``, the page that was made, or "" where one page alone will not do; ``fault``, what is wrong.
    """
    from mkdocs.commands.build import build
    from mkdocs.config import load_config
    from mkdocs.exceptions import MkDocsException

    signal.signal(signal.SIGINT, signal.SIG_IGN)  # the server ends this process
    logging.getLogger("mkdocs").setLevel(logging.ERROR)
    settings = course / CONFIGURATION
    _answer(watch=[str(settings)])
    try:
        config = load_config(str(settings), site_dir=str(folder))
        plugin: Any = config.plugins.get("crankpin")
        config.plugins.on_startup(command="serve", dirty=False)
        if plugin:
            plugin.reloads = False  # the pages are read from our own server, which adds nothing to them
        own = plugin.depends_on(config) if plugin else []
        _answer(watch=[str(path) for path in (Path(config.docs_dir), *own)])
        build(config)
        _answer(whole=True)
        _load_what_draws()
    except MkDocsException as error:
        _answer(fault=str(error))
        return
    for line in sys.stdin:
        try:
            _answer(page=plugin.page_again(Path(line.rstrip("\n"))) if plugin else "")
        except MkDocsException as error:
            _answer(fault=str(error))


def _load_what_draws() -> None:
    """Draw something, so that the first changed figure need not wait for the library to load."""
    from crankpin.figures.plots import inline_svg

    inline_svg(lambda figure: figure.text(0.5, 0.5, "$x$"), (72, 72), title="", words="", prefix="first")


def _answer(**message: object) -> None:
    print(json.dumps(message), flush=True)


if __name__ == "__main__":
    build_and_wait(Path(sys.argv[1]), Path(sys.argv[2]))
