"""A slow phone: a browser whose main threads are slowed four times, and whose workers have a quarter of a processor.

The browser's own slowing (Emulation.setCPUThrottlingRate) does not reach workers. Their threads are put into a control
group of the kernel (version 1) with a quota of 25 %, as soon as they appear. Where that is not allowed, workers run at
full speed, and `SlowWorkers.how` says so.
"""

import contextlib
import os
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from playwright.sync_api import BrowserContext, Page, Playwright

from crankpin.chromium import find_browser, start_options

SLOWED = 4
SCREEN = {"width": 390, "height": 844}
QUOTA_US, PERIOD_US = 1000, 4000
_GROUPS = Path("/sys/fs/cgroup/cpu")
_WORKER = "DedicatedWorker"
_PAUSE = 0.002


def processes_below(top: int) -> list[int]:
    """Return the processes that a process has started, and those that these have."""
    parents = {}
    for folder in Path("/proc").glob("[0-9]*"):
        with contextlib.suppress(OSError):
            status = (folder / "stat").read_text().rpartition(")")[2].split()
            parents[int(folder.name)] = int(status[1])
    found, fresh = [], {top}
    while fresh:
        fresh = {pid for pid, parent in parents.items() if parent in fresh}
        found += fresh
    return found


def is_renderer(pid: int) -> bool:
    """Whether a process is one that holds pages."""
    with contextlib.suppress(OSError):
        return b"--type=renderer" in Path(f"/proc/{pid}/cmdline").read_bytes()
    return False


class SlowWorkers:
    """Holds every worker thread of the browsers that this process starts at a quarter of a processor."""

    def __init__(self) -> None:
        self.group: Path | None = _GROUPS / f"crankpin-{os.getpid()}"
        self.held = 0
        try:
            self.group.mkdir()
            (self.group / "cpu.cfs_period_us").write_text(str(PERIOD_US))
            (self.group / "cpu.cfs_quota_us").write_text(str(QUOTA_US))
        except OSError:
            self.group = None
        self._seen: set[int] = set()
        self._ended = threading.Event()
        self._thread = threading.Thread(target=self._watch)

    @property
    def how(self) -> str:
        """How workers were slowed, in words."""
        if self.group is None:
            return "workers at full speed: no control group (version 1) with a processor quota may be made here"
        return f"{self.held} worker threads held at 25 % of a processor by a control group"

    def __enter__(self) -> "SlowWorkers":
        if self.group:
            self._thread.start()
        return self

    def __exit__(self, *_: object) -> None:
        self._ended.set()
        if self.group:
            self._thread.join()
            time.sleep(0.5)
            with contextlib.suppress(OSError):  # the kernel removes it only when its last thread has gone
                self.group.rmdir()

    def _watch(self) -> None:
        renderers: list[int] = []
        looked = 0.0
        while not self._ended.wait(_PAUSE):
            if time.monotonic() - looked > 0.1:
                renderers = [pid for pid in processes_below(os.getpid()) if is_renderer(pid)]
                looked = time.monotonic()
            for pid in renderers:
                self._hold(pid)

    def _hold(self, pid: int) -> None:
        assert self.group is not None
        with contextlib.suppress(OSError):
            for thread in (int(path.name) for path in Path(f"/proc/{pid}/task").iterdir()):
                if thread in self._seen or _WORKER not in Path(f"/proc/{pid}/task/{thread}/comm").read_text():
                    continue
                (self.group / "tasks").write_text(str(thread))
                self._seen.add(thread)
                self.held += 1


@contextmanager
def browser(playwright: Playwright, profile: Path) -> Iterator[BrowserContext]:
    """Start a browser on a profile, which keeps its caches from one start to the next."""
    context = playwright.chromium.launch_persistent_context(
        str(profile),
        executable_path=str(find_browser()),
        args=start_options(),
        viewport=SCREEN,  # type: ignore[arg-type]
        device_scale_factor=2,
        has_touch=True,
        is_mobile=True,
        service_workers="block",
    )
    try:
        yield context
    finally:
        context.close()


def slowed(context: BrowserContext) -> Page:
    """Open a page on a slow main thread."""
    page = context.new_page()
    context.new_cdp_session(page).send("Emulation.setCPUThrottlingRate", {"rate": SLOWED})
    return page
