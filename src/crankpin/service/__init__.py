"""What answers in the worker, on the phone: calculators asked and given back as plain data.

It runs on phones.

May import: the standard library, crankpin.calculator, crankpin.problems.
"""
