"""What a figure is made of: layout, marks, ticks and labels, worked out once, and what paints them.

May import: the standard library, crankpin.calculator, matplotlib, segno.
"""
