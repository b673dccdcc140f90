"""Stands in for what runs Python text for JavaScript: without what parses it twice, awaits, or looks for imports."""

import _ast
from importlib import import_module


def eval_code(source, globals=None, locals=None, **_):
    """Run a text and return the value of its last line where that is an expression."""
    tree = compile(source, "<exec>", "exec", _ast.PyCF_ONLY_AST, dont_inherit=True)
    last = tree.body.pop() if tree.body and isinstance(tree.body[-1], _ast.Expr) else None
    globals = {} if globals is None else globals
    exec(compile(tree, "<exec>", "exec", dont_inherit=True), globals, locals)
    if last is None:
        return None
    return eval(compile(_ast.Expression(last.value), "<exec>", "eval", dont_inherit=True), globals, locals)


def pyimport_impl(path):
    """Return a module, or a name in one."""
    stem, *name = path.rsplit(".", 1)
    module = __import__(stem, fromlist=name)
    return getattr(module, name[0], None) or import_module(path) if name else module
