"""Stands in for the Python signatures of JavaScript functions: here each takes whatever it is given."""

from _pyodide_core import JsFuncSignature, js2py_default_call_result, py2js_default


def _whatever(*args, **kwargs):
    pass


no_default = object()
default_signature = JsFuncSignature(
    _whatever, False, 0, (), (), py2js_default, (), (), (), py2js_default, js2py_default_call_result
)


def func_to_sig(function):
    """Return the one signature."""
    return default_signature


def get_attr_sig(signature, name):
    """Tell that nothing is known of an attribute."""
    return (False, None)


def bind_class_sig(signature):
    """Return the signature of a class, by the signature of its objects."""
    return type[signature]
