"""Runs on the trimmed runtime: uses everything that a page uses, so that a module trimmed too far shows."""

import importlib
import json
import traceback

from pyodide.ffi import create_proxy, to_js

from crankpin.calculator.declared import read_calculator
from crankpin.calculator.serialise import answer


def faults(modules, calculators):
    """Import each module and evaluate each calculator (path: source) at its defaults; return what failed."""
    found = [f"{name}: {error!r}" for name in modules if (error := _import_error(name))]
    found += [f"{path}: {fault}" for path, source in calculators.items() if (fault := _fault(path, source))]
    found += _report_faults()
    return to_js(found)


def _import_error(name):
    try:
        importlib.import_module(name)
    except Exception as error:
        return error
    return None


def _fault(path, source):
    try:
        shown, numbers = answer(path, read_calculator(source, path), {})
        json.dumps(shown)
        create_proxy(numbers).destroy()
    except Exception as error:
        return repr(error)
    return shown.get("faults")


def _report_faults():
    """Errors of the library, of crankpin and of a calculator must all print with their reasons."""
    try:
        try:
            json.loads("{")
        except ValueError as error:
            error.add_note("a note")
            raise RuntimeError("while reading") from error
    except RuntimeError as error:
        text = "".join(traceback.format_exception(error))
        wanted = ("decoder.py", "a note", "The above exception was the direct cause", "smoke.py")
        return [f"the traceback lacks {part!r}: {text}" for part in wanted if part not in text]
    return ["json read what it cannot read"]
