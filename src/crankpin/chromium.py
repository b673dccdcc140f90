"""Find the browser that prints: Chromium, or another that is built on it.

This module may import: the standard library. The set-up runs it before anything is installed.
"""

import os
import shutil
import sys
from collections.abc import Iterator
from pathlib import Path

VARIABLE = "CRANKPIN_BROWSER"
_COMMANDS = (
    "chromium",
    "chromium-browser",
    "google-chrome",
    "google-chrome-stable",
    "microsoft-edge",
    "microsoft-edge-stable",
    "chrome",
    "msedge",
)
_MAC = (
    "Google Chrome.app/Contents/MacOS/Google Chrome",
    "Microsoft Edge.app/Contents/MacOS/Microsoft Edge",
    "Chromium.app/Contents/MacOS/Chromium",
)
_WINDOWS = (
    "Google/Chrome/Application/chrome.exe",
    "Microsoft/Edge/Application/msedge.exe",
    "Chromium/Application/chrome.exe",
)
_DOWNLOADED = (
    "chromium-*/chrome-linux*/chrome",
    "chromium-*/chrome-mac*/*.app/Contents/MacOS/*",
    "chromium-*/chrome-win*/chrome.exe",
    "chromium_headless_shell-*/*/*headless*shell",
    "chromium_headless_shell-*/*/*headless*shell.exe",
)


def find_browser() -> Path | None:
    """Return the program to print with, or None when this machine has none.

    The environment variable CRANKPIN_BROWSER goes first; then a browser of the system, then one that
    Playwright downloaded. Raises FileNotFoundError when the variable names no file.
    """
    chosen = os.environ.get(VARIABLE)
    if chosen:
        path = Path(chosen).expanduser()
        if not path.is_file():
            raise FileNotFoundError(
                f"{VARIABLE} is set to {chosen!r}, and no such file exists; "
                "give the full path of a Chromium, Chrome or Edge, or unset it"
            )
        return path
    return next((path for path in _candidates() if path.is_file()), None)


def start_options() -> list[str]:
    """Return what the browser must be told on this machine: the administrator cannot use its sandbox."""
    is_root = sys.platform != "win32" and os.geteuid() == 0
    return ["--no-sandbox"] if is_root else []


def _candidates() -> Iterator[Path]:
    for command in _COMMANDS:
        found = shutil.which(command)
        if found:
            yield Path(found)
    if sys.platform == "darwin":
        for folder in (Path("/Applications"), Path.home() / "Applications"):
            yield from (folder / name for name in _MAC)
    if sys.platform == "win32":
        for variable in ("PROGRAMFILES", "PROGRAMFILES(X86)", "LOCALAPPDATA"):
            if variable in os.environ:
                yield from (Path(os.environ[variable]) / name for name in _WINDOWS)
    for pattern in _DOWNLOADED:
        yield from sorted(_downloads().glob(pattern), reverse=True)


def _downloads() -> Path:
    """Return the folder in which Playwright keeps the browsers that it downloads."""
    if "PLAYWRIGHT_BROWSERS_PATH" in os.environ:
        return Path(os.environ["PLAYWRIGHT_BROWSERS_PATH"])
    if sys.platform == "darwin":
        return Path.home() / "Library" / "Caches" / "ms-playwright"
    if sys.platform == "win32":
        return Path(os.environ.get("LOCALAPPDATA", str(Path.home()))) / "ms-playwright"
    return Path(os.environ.get("XDG_CACHE_HOME", str(Path.home() / ".cache"))) / "ms-playwright"
