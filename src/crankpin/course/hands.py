"""More processes for a moment, where there is much to draw and cut."""

from __future__ import annotations

import gc
import os
from collections.abc import Callable, Iterable, Sequence
from concurrent.futures import ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from multiprocessing import get_context
from typing import TypeVar

Job = TypeVar("Job")
Result = TypeVar("Result")

#: More processes than this do not help: each takes a second to start and a good deal of memory.
MOST = 4


class Hands:
    """Does many jobs at a time, in processes that are started when first needed and end with `close`."""

    def __init__(self) -> None:
        self._pool: ProcessPoolExecutor | None = None

    def do(self, work: Callable[[Job], Result], jobs: Sequence[Job], *, worth: int) -> Iterable[Result]:
        """Yield the result of each job in order; fewer jobs than ``worth`` are done here.

        ``work`` must be a function of a module, and never raise; where no process can be started all is done here.
        """
        if len(jobs) < worth or (os.cpu_count() or 1) < 2:
            return map(work, jobs)
        try:
            chunk = max(1, len(jobs) // (8 * MOST))
            return list(self._started().map(work, jobs, chunksize=chunk))
        except (OSError, BrokenProcessPool):
            self.close()
            return map(work, jobs)

    def _started(self) -> ProcessPoolExecutor:
        if self._pool is None:
            processes = min(MOST, os.cpu_count() or 1)
            self._pool = ProcessPoolExecutor(processes, get_context("spawn"), initializer=_tidy_up_seldom)
        return self._pool

    def close(self) -> None:
        """End the processes."""
        if self._pool is not None:
            self._pool.shutdown()
            self._pool = None


def _tidy_up_seldom() -> None:
    """Look for garbage less often: drawing makes very many small objects, and the process is short-lived."""
    gc.set_threshold(50_000, 20, 50)
