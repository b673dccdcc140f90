"""The words in which a calculator is declared, and what turns a declaration into answers.

It runs unchanged under CPython and under Pyodide, and knows no page, no form and no figure file.

May import: the standard library, crankpin.mechanics.
"""
