"""More processes for a moment, where there is much to draw and cut."""

from __future__ import annotations

import gc
import os
from collections.abc import Callable, Sequence
from concurrent.futures import Future, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from contextlib import suppress
from multiprocessing import get_context
from typing import Generic, TypeVar

Job = TypeVar("Job")
Result = TypeVar("Result")

#: More processes than this do not help: each takes a second to start and a good deal of memory.
MOST = 4
#: No more jobs than this go to a process at a time, so that the first results are soon there.
_TOGETHER = 8


class Begun(Generic[Job, Result]):
    """The results of jobs that are being done."""

    def __init__(
        self,
        work: Callable[[Job], Result],
        jobs: Sequence[Job],
        size: int,
        under_way: Sequence[Future[list[Result]]],
    ) -> None:
        self._work, self._jobs = work, jobs
        self._size, self._under_way = size, under_way

    def result(self, i: int) -> Result:
        """Return the result of one job, by its number, as soon as it is there."""
        try:
            return self._under_way[i // self._size].result()[i % self._size]
        except (IndexError, OSError, BrokenProcessPool):
            return self._work(self._jobs[i])


def _some(work: Callable[[Job], Result], jobs: Sequence[Job]) -> list[Result]:
    return [work(job) for job in jobs]


class Pool:
    """Does many jobs at a time, in processes that are started when first needed and end with `close`."""

    def __init__(self) -> None:
        self._pool: ProcessPoolExecutor | None = None

    def get_ready(self, work: Callable[[], None]) -> None:
        """Start the processes, each with this work: they read their code while much else is done here."""
        with suppress(OSError, BrokenProcessPool):
            for _ in range(min(MOST, os.cpu_count() or 1)):
                self._started().submit(work)

    def begin(self, work: Callable[[Job], Result], jobs: Sequence[Job], *, worth: int) -> Begun[Job, Result]:
        """Begin all jobs and return their results, for which one waits; fewer jobs than ``worth`` are done here.

        ``work`` must be a function of a module, and never raise; where no process can be started all is done here.
        """
        size = max(1, min(_TOGETHER, len(jobs) // (2 * MOST)))
        under_way: list[Future[list[Result]]] = []
        if len(jobs) >= worth and (os.cpu_count() or 1) > 1:
            with suppress(OSError, BrokenProcessPool):
                for first in range(0, len(jobs), size):
                    under_way.append(self._started().submit(_some, work, jobs[first : first + size]))
        return Begun(work, jobs, size, under_way)

    def do(self, work: Callable[[Job], Result], jobs: Sequence[Job], *, worth: int) -> list[Result]:
        """Return the results of all jobs in order, as `begin` does them."""
        begun = self.begin(work, jobs, worth=worth)
        return [begun.result(i) for i in range(len(jobs))]

    def _started(self) -> ProcessPoolExecutor:
        if self._pool is None:
            processes = min(MOST, os.cpu_count() or 1)
            self._pool = ProcessPoolExecutor(processes, get_context("spawn"), initializer=_tidy_up_seldom)
        return self._pool

    def close(self) -> None:
        """End the processes."""
        if self._pool is not None:
            self._pool.shutdown(cancel_futures=True)
            self._pool = None


def _tidy_up_seldom() -> None:
    """Look for garbage less often: drawing makes very many small objects, and the process is short-lived."""
    gc.set_threshold(50_000, 20, 50)
