"""Stands in for pyodide.code: what runs code, without what reads signatures."""

from _pyodide._base import CodeRunner, eval_code, eval_code_async, find_imports, should_quiet

__all__ = ["CodeRunner", "eval_code", "eval_code_async", "find_imports", "should_quiet"]
