"""Stands in for traceback until something has gone wrong: the whole of it then comes from whole_traceback."""

import sys


def print_exception(*given, **options):
    """Print an error, as the whole module does."""
    _whole().print_exception(*given, **options)


def _whole():
    import whole_traceback

    sys.modules["traceback"] = whole_traceback
    return whole_traceback


def __getattr__(name):
    if name.startswith("__"):
        raise AttributeError(name)
    return getattr(_whole(), name)
