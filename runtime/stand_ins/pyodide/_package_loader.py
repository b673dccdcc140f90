"""Stands in for Pyodide's package loader: all that a page needs is there from the start."""


class _Folder:
    def __init__(self, path):
        self.path = path

    def __str__(self):
        return self.path


SITE_PACKAGES = _Folder("/lib/python3.14/site-packages")
DSO_DIR = _Folder("/usr/lib")


def init_loaded_packages():
    """There are none."""
