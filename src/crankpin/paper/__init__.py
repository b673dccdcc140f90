"""The print pages of chapters and the bench cards, and the PDFs made of them.

May import: the standard library, crankpin.calculator, crankpin.chromium, crankpin.course, crankpin.elements,
crankpin.faults, crankpin.figures, crankpin.formulas, crankpin.notation, crankpin.problems,
crankpin.site, crankpin.store,
markdown, mkdocs, pikepdf, playwright.
"""
