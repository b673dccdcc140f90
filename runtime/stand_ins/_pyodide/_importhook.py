"""Stands in for Pyodide's import of JavaScript modules: the page's Python has none, and no packages to look for."""


class _Finder:
    def __init__(self):
        self.jsproxies = {}


jsfinder = _Finder()


def register_js_finder():
    """There is none."""


def register_windows_finder():
    """There is none."""


def register_js_module(name, module):
    """Leave it aside."""


def unregister_js_module(name):
    """It was left aside."""


def register_module_not_found_hook(packages):
    """There are none: course_imports.py says what is missing."""


def add_note_to_module_not_found_error(error):
    """Add nothing: course_imports.py says what is missing."""
