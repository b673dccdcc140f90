"""Formulas as marks and as words: TeX to MathML, on one line, as spoken.

May import: the standard library, crankpin.calculator, crankpin.faults, math_core.
"""
