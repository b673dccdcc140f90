"""Runs in a whole Pyodide: what a stand-in offers that the module it stands for has not, or does not take."""

import importlib
import inspect
import types
from collections.abc import Iterator
from inspect import Parameter

import annotationlib

BY_PLACE = (Parameter.POSITIONAL_ONLY, Parameter.POSITIONAL_OR_KEYWORD)


def differences(sources: dict[str, str]) -> list[str]:
    """Compare stand-ins, path and text of each, with the modules of this Python; one line a difference."""
    return [f"{path}: {fault}" for path, text in sources.items() for fault in _faults(path, text)]


def _faults(path: str, text: str) -> Iterator[str]:
    name = path.removesuffix(".py").replace("/", ".")
    whole = importlib.import_module(name)
    stand_in = types.ModuleType(name)
    exec(compile(text, path, "exec"), stand_in.__dict__)
    for key, offered in _offered(stand_in, text):
        if not hasattr(whole, key):
            yield f"{name} has no {key}"
        elif inspect.isfunction(offered):
            yield from _calls_refused(key, offered, getattr(whole, key))


def _offered(stand_in: types.ModuleType, text: str) -> Iterator[tuple[str, object]]:
    """What others may ask for: all but what it imports for itself, and private names that it makes use of itself."""
    for key, found in vars(stand_in).items():
        is_own = getattr(found, "__module__", None) in (None, stand_in.__name__)
        is_imported = isinstance(found, types.ModuleType) or not is_own
        is_helper = key.startswith("_") and text.count(key) > 1
        if key in vars(stand_in).get("__all__", ()) or not (key.startswith("__") or is_imported or is_helper):
            yield key, found


def _calls_refused(key: str, offered: types.FunctionType, whole: object) -> Iterator[str]:
    """Try the fewest arguments that the whole function takes, then all of them."""
    parameters = inspect.signature(whole, annotation_format=annotationlib.Format.FORWARDREF).parameters.values()
    needed = [parameter for parameter in parameters if parameter.default is Parameter.empty]
    for given in (needed, parameters):
        by_place = [parameter.name for parameter in given if parameter.kind in BY_PLACE]
        by_name = {parameter.name: None for parameter in given if parameter.kind is Parameter.KEYWORD_ONLY}
        try:
            inspect.signature(offered).bind(*by_place, **by_name)
        except TypeError as error:
            yield f"{key} refuses a call that the whole one takes: {error}"
