"""Stands in for Pyodide's event loop: the page's Python answers one question at a time and awaits nothing."""


def _initialize_event_loop():
    """Start none."""
