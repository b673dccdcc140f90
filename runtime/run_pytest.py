"""Runs inside a whole Pyodide: pytest over the course's folder, which is mounted at /course."""

import os
import sys

import pytest


class WithoutDeadlines:
    """Hypothesis for a slower Python: no deadlines, no database, and 30 examples where CPython tries 100."""

    def pytest_configure(self):
        """Set the profile once pytest has started; imported earlier, Hypothesis would be warned about."""
        from hypothesis import settings

        settings.register_profile("pyodide", derandomize=True, deadline=None, database=None, max_examples=30)
        settings.load_profile("pyodide")


def run(options):
    """Run pytest in /course and return its exit status."""
    sys.dont_write_bytecode = True
    os.chdir("/course")
    sys.path[:0] = ["/course", "/course/src"]
    return int(pytest.main(["-p", "no:cacheprovider", *options], plugins=[WithoutDeadlines()]))
