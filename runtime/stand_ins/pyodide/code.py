"""Stands in for pyodide.code: what runs code, without what reads signatures."""

from _pyodide._base import eval_code

__all__ = ["eval_code"]
