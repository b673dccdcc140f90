"""The inner half of `mutants.py`: runs within the copy, with mutmut and pytest at hand.

mutmut writes the mutants; the tests are loaded once, and each mutant is tried in a forked child by the tests that reach
the function, quickest first, until one fails or `PATIENCE` is spent. A child may use ten times the processor time of
its tests, and ten seconds; the clock on the wall does not count, so a busy machine makes no mutant look killed.
"""

import json
import os
import resource
import signal
import sys
import time
from collections.abc import Callable, Iterator
from fnmatch import fnmatch
from functools import wraps
from itertools import accumulate
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest
from mutmut.mutation.file_mutation import mutate_file_contents

MECHANICS = Path("src/crankpin/mechanics")
RESULTS = Path("results.json")
MEMORY = 4 * 2**30  # bytes
PATIENCE = 3.0  # seconds of processor time that the tests of one mutant may take; slower tests are left out
EXITS = {0: "survived", 1: "killed"}

Mutants = dict[str, Callable[..., Any]]


class Switch:
    """One function of the mechanics: what a call to it reaches at present."""

    def __init__(self, function: Callable[..., Any], mutants: Mutants, of_class: bool) -> None:
        self.function = self.active = function
        self.mutants = mutants
        self.of_class = of_class
        switches.append(self)

    def record(self, hits: set["Switch"]) -> None:
        """Let each call be noted."""

        def noted(*args: Any, **named: Any) -> Any:
            hits.add(self)
            return self.function(*args, **named)

        self.active = noted

    def use(self, mutant: str) -> None:
        """Let calls reach the mutant from now on."""
        function = self.mutants[mutant]
        self.active = (lambda _, *args, **named: function(*args, **named)) if self.of_class else function

    def restore(self) -> None:
        """Let calls reach the function as it was written."""
        self.active = self.function


switches: list[Switch] = []


def switched(mutants: Mutants, is_classmethod: bool = False) -> Callable[..., Callable[..., Any]]:
    """Stand in for mutmut's own decorator, which asks for the mutant's name at each call."""

    def decorate(function: Callable[..., Any]) -> Callable[..., Any]:
        switch = Switch(function, mutants, is_classmethod)

        @wraps(function)
        def call(*args: Any, **named: Any) -> Any:
            return switch.active(*args, **named)

        return call

    return decorate


def write_mutants() -> None:
    """Replace each module of the copy by one that holds all its mutants."""
    own = ModuleType("switched")
    own.wrap_in_trampoline, own.MutantDict = switched, dict  # type: ignore[attr-defined]
    sys.modules["switched"] = own
    for path in sorted(MECHANICS.glob("*.py")):
        mutated = mutate_file_contents(str(path), path.read_text(encoding="utf-8"))
        text = mutated.code.replace("from mutmut.mutation.trampoline import", "from switched import")
        path.write_text(text, encoding="utf-8")


class Runner:
    """A pytest plugin that takes over once all tests are collected."""

    def __init__(self, patterns: list[str], processes: int) -> None:
        self.patterns, self.processes = patterns, processes
        self.failed = False
        self.results: dict[str, str] = json.loads(RESULTS.read_text()) if RESULTS.exists() else {}

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        """Note a failure, whichever test it came from."""
        self.failed = self.failed or report.failed

    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        """See which tests reach which function, then try the mutants."""
        self.config = session.config
        reached = self.tests_by_function(session.items)
        waiting = [] if self.failed else list(self.mutants())
        running: dict[int, str] = {}
        started, done = time.time(), 0
        for name, switch in waiting:
            if len(running) == self.processes:
                done += self.wait(running)
                if done % 100 == 0:
                    print(f"{done} of {len(waiting)} in {time.time() - started:.0f} s", flush=True)
            running[self.start(name, switch, reached.get(switch, []))] = name
        while running:
            self.wait(running)
        self.save()
        return True

    def tests_by_function(self, items: list[pytest.Item]) -> dict[Switch, list[tuple[float, pytest.Item]]]:
        """Run each test once on the mechanics as it is; return those that reach a function, quickest first.

        If one fails, nothing can be learnt from the mutants: `pytest_runtestloop` tries none.
        """
        reached: dict[Switch, list[tuple[float, pytest.Item]]] = {}
        hits: set[Switch] = set()
        for switch in switches:
            switch.record(hits)
            for mutant in switch.mutants.values():
                getattr(mutant, "__func__", mutant).__doc__ = None  # no examples to run over and over
        for item in items:
            hits.clear()
            begin = time.process_time()
            self.run(item)
            spent = time.process_time() - begin
            if self.failed:
                return {}
            for switch in hits:
                reached.setdefault(switch, []).append((spent, item))
        for switch in switches:
            switch.restore()
        return {switch: within_patience(tests) for switch, tests in reached.items()}

    def mutants(self) -> Iterator[tuple[str, Switch]]:
        """Yield the mutants asked for that are not known to be killed, in the order asked for."""
        names = {
            f"{switch.function.__module__.rpartition('.')[2]}.{mutant}": switch
            for switch in switches
            for mutant in switch.mutants
            if mutant != "_mutmut_orig"
        }
        for pattern in self.patterns:
            for name in sorted(names):
                if fnmatch(name, pattern) and self.results.get(name) != "killed":
                    yield name, names.pop(name)

    def run(self, item: pytest.Item) -> None:
        """Run one test, set-up and all."""
        item.config.hook.pytest_runtest_protocol(item=item, nextitem=None)

    def start(self, name: str, switch: Switch, tests: list[tuple[float, pytest.Item]]) -> int:
        """Try a mutant in a child of this process; return the child's number."""
        child = os.fork()
        if child:
            return child
        self.config.pluginmanager.unregister(name="terminalreporter")
        seconds = 10 + 10 * int(sum(spent for spent, _ in tests))
        resource.setrlimit(resource.RLIMIT_CPU, (seconds, seconds + 5))
        resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))
        signal.signal(signal.SIGXCPU, signal.SIG_DFL)
        switch.use(name.partition(".")[2])
        code = 0
        try:
            for _, item in tests:
                self.run(item)
                if self.failed:
                    code = 1
                    break
        except BaseException:
            code = 1
        os._exit(code)

    def wait(self, running: dict[int, str]) -> int:
        """Wait for one child and note how it ended; return 1."""
        child, status = os.wait()
        name = running.pop(child)
        self.results[name] = EXITS[os.waitstatus_to_exitcode(status)] if os.WIFEXITED(status) else "timed out"
        if len(self.results) % 100 == 0:
            self.save()
        return 1

    def save(self) -> None:
        """Keep what is known so far."""
        RESULTS.write_text(json.dumps(self.results, indent=0, sort_keys=True))


def within_patience(tests: list[tuple[float, pytest.Item]]) -> list[tuple[float, pytest.Item]]:
    """Return the quickest tests, in order."""
    ordered = sorted(tests, key=lambda pair: pair[0])
    until = [*accumulate(spent for spent, _ in ordered)]
    return [pair for pair, spent in zip(ordered, until, strict=True) if spent <= PATIENCE]


if __name__ == "__main__":
    write_mutants()
    sys.path.insert(0, "src")
    wanted = sys.argv[2:]
    options = ["-qqs", "--tb=short", "-p", "no:cacheprovider", "--hypothesis-profile=mutants", "tests/mechanics"]
    raise SystemExit(pytest.main(options, plugins=[Runner(wanted, int(sys.argv[1]))]))
