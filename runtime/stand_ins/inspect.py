"""Stands in for inspect: the few functions that dataclasses and Pyodide ask for."""


def signature(function, **_):
    """Refuse, as for a function whose signature cannot be told; a data class without words then has its name alone."""
    raise ValueError(f"the Python that runs on the page cannot tell the signature of {function!r}")


def unwrap(function, *, stop=None):
    """Return what stands at the end of a chain of wrappers."""
    while hasattr(function, "__wrapped__") and not (stop and stop(function)):
        function = function.__wrapped__
    return function


def iscoroutinefunction(function):
    """No function is one: nothing on a page awaits anything."""
    return False
