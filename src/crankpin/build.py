"""Build the site of a course with MkDocs, telling how it goes in plain lines.

This module may import: everything but the command line.
"""

import logging
import time
from pathlib import Path
from typing import Any

CONFIGURATION = "mkdocs.yml"


class BuildFailedError(Exception):
    """The site could not be built or found; the message says what to do."""


def build_site(course: Path, *, address: str | None = None, strict: bool = False) -> Path:
    """Build the course in a folder and return the folder of the built site.

    ``address`` replaces the course's own ``site_url``. Raises BuildFailedError with the messages of
    MkDocs when the configuration or a page is at fault, and when ``strict`` and something was warned of.
    """
    from mkdocs.commands.build import build
    from mkdocs.config import load_config
    from mkdocs.exceptions import MkDocsException

    log = logging.getLogger("mkdocs")
    progress = _PlainLines()
    log.addHandler(progress)
    log.setLevel(logging.INFO)
    options: dict[str, Any] = {"strict": strict}
    if address:
        options["site_url"] = address
    try:
        config = load_config(str(_configuration(course)), **options)
        config.plugins.on_startup(command="build", dirty=False)
        build(config)
        config.plugins.on_shutdown()
    except MkDocsException as error:
        raise BuildFailedError(f"The site was not built: {error}") from error
    finally:
        log.removeHandler(progress)
    return Path(config.site_dir)


def built_site(course: Path) -> tuple[Path, str]:
    """Return the folder of a course's built site and the path it expects to live under, ``/`` or deeper.

    Raises BuildFailedError when it has not been built yet.
    """
    from urllib.parse import urlsplit

    from mkdocs.utils.yaml import yaml_load

    path = _configuration(course)
    with path.open("rb") as file:
        settings = yaml_load(file)
    folder = path.parent / str(settings.get("site_dir", "site"))
    if not (folder / "index.html").is_file():
        raise BuildFailedError(f"There is no built site in {folder}; run 'crankpin site' first")
    return folder, urlsplit(str(settings.get("site_url") or "")).path or "/"


def _configuration(course: Path) -> Path:
    path = course / CONFIGURATION
    if not path.is_file():
        raise BuildFailedError(
            f"There is no {CONFIGURATION} in {course.resolve()}; go to the course's folder, or name it with --course"
        )
    return path


class _PlainLines(logging.Handler):
    """Print what MkDocs says: one line each, the seconds since the start before it."""

    def __init__(self) -> None:
        super().__init__(logging.INFO)
        self._started = time.monotonic()

    def emit(self, record: logging.LogRecord) -> None:
        """Print one message."""
        word = "" if record.levelno <= logging.INFO else f"{record.levelname.lower()}: "
        print(f"{time.monotonic() - self._started:6.1f} s  {word}{record.getMessage()}", flush=True)
