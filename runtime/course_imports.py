"""Says clearly which modules the page's Python has; part of the runtime, started by boot.mjs."""

import sys


class MissingModules:
    """The last finder: whoever asks it has asked for a module that is not here."""

    def __init__(self, allowed):
        self.allowed = allowed

    def find_spec(self, name, path=None, target=None):
        """Raise ModuleNotFoundError with the list of what may be imported."""
        fault = ModuleNotFoundError(
            f"{name!r} is not in the Python that runs on the page. A calculator may import crankpin's own "
            f"packages and these modules: {', '.join(self.allowed)}.",
            name=name,
        )
        fault._PYODIDE_ADDED_NOTE = True  # its own note would speak of browser limitations
        raise fault


def install(allowed):
    """Put the finder last on the import path; ``allowed`` lists the modules a calculator may import."""
    sys.meta_path.append(MissingModules(list(allowed)))
