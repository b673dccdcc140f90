"""Says clearly which modules the page's Python has, and finds them soon; part of the runtime, started by boot.mjs."""

import gc
import sys
from _frozen_importlib import BuiltinImporter


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


class EmptyModules(MissingModules):
    """The first finder: keeps Python away from compiled modules whose code has been taken out of the engine."""

    def __init__(self, allowed, emptied):
        super().__init__(allowed)
        self.emptied = emptied

    def find_spec(self, name, path=None, target=None):
        """Raise for an emptied module; leave all others to the finders after this one."""
        return super().find_spec(name) if name in self.emptied else None


def install(allowed, emptied):
    """Put the finders on the import path: the modules a calculator may import, and those without code.

    Archives are looked into before folders. Nothing is collected as garbage until the service is open: all that is made
    until then stays.
    """
    gc.disable()
    sys.path.sort(key=lambda place: not place.endswith(".zip"))
    allowed = list(allowed)
    sys.meta_path.insert(sys.meta_path.index(BuiltinImporter), EmptyModules(allowed, frozenset(emptied)))
    sys.meta_path.append(MissingModules(allowed))


def settle():
    """Collect garbage from now on, but none of what is there."""
    gc.freeze()
    gc.enable()
