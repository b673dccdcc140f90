"""The words in which a calculator is declared, and what turns a declaration into answers.

This package may import: the standard library, ``crankpin.mechanics`` and itself.
It runs unchanged under CPython and under Pyodide, and knows no page, no form and no figure file.
"""
