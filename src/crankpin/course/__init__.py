"""From Markdown chapters to the HTML of their pages.

Everything here is plain functions over text, so that a course can outlive the site generator that calls them.

May import: the standard library, crankpin.calculator, crankpin.elements, crankpin.faults, crankpin.formulas,
crankpin.notation, crankpin.problems, markdown.
"""
