"""The kinds of question, one a file; a file's name, with ``-`` for ``_``, is the kind's name in a declaration.

This package may import: the standard library, ``crankpin.mechanics``, ``crankpin.calculator`` and
``crankpin.problems``.
"""
