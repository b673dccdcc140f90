"""Stands in for Pyodide's documentation of its own C functions, which nobody reads on a page."""


def get_cmeth_docstring(function):
    """Return no words."""
    return ""
