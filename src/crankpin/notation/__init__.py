"""What a chapter and a file of cases say: passages, fenced blocks, cases, references to their quantities.

May import: the standard library, crankpin.calculator, crankpin.faults.
"""
