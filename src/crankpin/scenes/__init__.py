"""The moving pictures: one declaration a file, each a `Calculator` whose picture holds the tracks of a turning point.

This package may import: the standard library, `crankpin.mechanics` and `crankpin.calculator`. Its files are read as
text, like the calculators of a course, and run on phones.
"""
