"""The moving pictures: one declaration a file, each a `Calculator` whose picture holds the tracks of a turning point.

Its files are read as text, like the calculators of a course, and run on phones.

May import: the standard library, crankpin.calculator, crankpin.mechanics.
"""
