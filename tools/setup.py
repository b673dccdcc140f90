"""Make a bare machine ready: Python packages, Node packages, and a browser to print with.

    python3 tools/setup.py             what is missing, or out of step with its lock file
    python3 tools/setup.py --browser   look for a browser again after a fruitless search

Only the standard library is used, because nothing is installed yet. Each step leaves a stamp, the hash of
the files that it follows, so that a second run takes a moment.
"""

from __future__ import annotations

import hashlib
import os
import shutil
import subprocess
import sys
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
VENV = ROOT / ".venv"
VENV_PYTHON = VENV / ("Scripts/python.exe" if sys.platform == "win32" else "bin/python")
NODE_MODULES = ROOT / "node_modules"
NO_BROWSER = ROOT / "build" / "no-browser"
OLDEST_PYTHON = (3, 11)
OLDEST_NODE = 18
STARTED = time.monotonic()

sys.path.insert(0, str(ROOT / "src"))


def main() -> None:
    """Run the steps in order; each says what it does only when it does something."""
    use_new_enough_python()
    make_environment()
    install_python_packages()
    install_project()
    install_node_packages()
    provide_browser(again="--browser" in sys.argv[1:])


def use_new_enough_python() -> None:
    """Start again under a newer Python when the one that was called is too old."""
    if sys.version_info >= OLDEST_PYTHON:
        return
    for name in ("python3.13", "python3.12", "python3.11", "python3.14"):
        found = shutil.which(name)
        if found:
            os.execv(found, [found, *sys.argv])
    stop(f"Python 3.11 or later is needed, and this is {sys.version.split()[0]}. Install it, then run again.")


def make_environment() -> None:
    """Create .venv, with Debian's python3-venv installed first where it is missing."""
    if VENV_PYTHON.exists() and succeeds([VENV_PYTHON, "-m", "pip", "--version"]):
        return
    say("a virtual environment in .venv")
    command = [sys.executable, "-m", "venv", "--clear", VENV]
    if succeeds(command):
        return
    if not apt_install(f"python3.{sys.version_info[1]}-venv") and not apt_install("python3-venv"):
        stop(
            "Python cannot make a virtual environment here: its venv module is missing. On Debian or Ubuntu "
            "run 'apt-get install python3-venv' as root; elsewhere install Python in full. Then run again."
        )
    run(command, "Python could not make the virtual environment .venv.")


def install_python_packages() -> None:
    """Install what requirements.lock lists; pip refuses a file whose hash differs."""
    lock = ROOT / "requirements.lock"
    stamp = Stamp(VENV / "packages.stamp", [lock])
    if stamp.fits():
        return
    say("Python packages from requirements.lock (some 200 MB the first time)")
    options = ["-qq", "--disable-pip-version-check", "--progress-bar", "off"]
    run(
        [VENV_PYTHON, "-m", "pip", "install", *options, "--require-hashes", "-r", lock],
        "The Python packages could not be installed. Is the network there? Then run again.",
    )
    stamp.write()


def install_project() -> None:
    """Install crankpin itself from this folder, so that an edit counts at once."""
    stamp = Stamp(VENV / "project.stamp", [ROOT / "pyproject.toml", ROOT / "requirements.lock"])
    if stamp.fits():
        return
    say("crankpin itself, from this folder")
    options = ["-qq", "--disable-pip-version-check", "--no-deps", "--no-build-isolation"]
    run(
        [VENV_PYTHON, "-m", "pip", "install", *options, "--editable", ROOT],
        "crankpin could not be installed from this folder; the lines above say why.",
    )
    stamp.write()


def install_node_packages() -> None:
    """Install what package-lock.json lists: the Python that runs in the browser, and the chart."""
    stamp = Stamp(NODE_MODULES / "packages.stamp", [ROOT / "package-lock.json", ROOT / ".npmrc"])
    if stamp.fits():
        return
    npm, node = shutil.which("npm"), shutil.which("node")
    if npm is None or node is None:
        stop(f"Node.js {OLDEST_NODE} or later, with npm, is needed and was not found. Install it, run again.")
    version = subprocess.run([node, "--version"], capture_output=True, text=True, check=True).stdout.strip()
    if int(version.lstrip("v").split(".")[0]) < OLDEST_NODE:
        stop(f"Node.js {OLDEST_NODE} or later is needed, and {node} is {version}. Install it, then run again.")
    say("Node packages from package-lock.json (some 30 MB the first time)")
    run(
        [npm, "ci", "--no-audit", "--no-fund", "--loglevel=error", "--no-progress"],
        "The Node packages could not be installed. Is the network there? Then run again.",
    )
    stamp.write()


def provide_browser(*, again: bool) -> None:
    """See to a Chromium for the PDF pages: found, else Debian's, else Playwright's, else none."""
    from crankpin.chromium import find_browser

    try:
        if find_browser():
            return
    except FileNotFoundError as error:
        stop(str(error))
    if again or not NO_BROWSER.exists():
        say("a browser to print with (some 100 MB)")
        if apt_install("chromium") and find_browser():
            return
        if download_browser() and find_browser():
            return
    NO_BROWSER.parent.mkdir(exist_ok=True)
    NO_BROWSER.touch()
    print(
        "No Chromium, Chrome or Edge was found, so the site is built without its PDF pages. Install one of "
        "them, or name one in CRANKPIN_BROWSER, and they come; 'make browser' tries to fetch one again."
    )


def download_browser() -> bool:
    """Let Playwright fetch its own Chromium; tell whether it did."""
    return succeeds([VENV_PYTHON, "-m", "playwright", "install", "--only-shell", "chromium"])


def apt_install(package: str) -> bool:
    """Install a Debian package if we may; tell whether that worked."""
    if shutil.which("apt-get") is None or os.geteuid() != 0:
        return False
    environment = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
    install = ["apt-get", "install", "--yes", "--quiet", "--no-install-recommends", package]
    return succeeds(["apt-get", "update", "--quiet"], environment) and succeeds(install, environment)


class Stamp:
    """A small file that says which state of its source files a step was last done for."""

    def __init__(self, path: Path, sources: list[Path]) -> None:
        self.path = path
        digest = hashlib.sha256()
        for source in sources:
            digest.update(source.read_bytes())
        self.value = digest.hexdigest()

    def fits(self) -> bool:
        """Tell whether the step was done for the sources as they are now."""
        return self.path.is_file() and self.path.read_text(encoding="utf-8") == self.value

    def write(self) -> None:
        """Record that the step is done."""
        self.path.write_text(self.value, encoding="utf-8")


def say(what: str) -> None:
    """Print one line of progress, with the seconds since the start."""
    print(f"{time.monotonic() - STARTED:6.1f} s  {what}", flush=True)


def succeeds(command: list[str | Path], environment: dict[str, str] | None = None) -> bool:
    """Run a command whose failure has another way out; tell whether it ended well."""
    answer = subprocess.run(
        [str(part) for part in command],
        env=environment,
        stdin=subprocess.DEVNULL,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
        check=False,
    )
    return answer.returncode == 0


def run(command: list[str | Path], complaint: str) -> None:
    """Run a command that must end well, showing what it complains of, else stop with one message."""
    words = [str(part) for part in command]
    silent = subprocess.DEVNULL
    answer = subprocess.run(words, cwd=ROOT, stdin=silent, stdout=silent, check=False)
    if answer.returncode != 0:
        stop(complaint)


def stop(message: str) -> None:
    """End with one clear message."""
    sys.exit(message)


if __name__ == "__main__":
    main()
