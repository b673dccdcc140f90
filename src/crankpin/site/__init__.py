"""The finished site around the pages: fonts, policy, search, styles, theme, what is kept offline.

May import: the standard library, crankpin.browser, crankpin.calculator, crankpin.elements, crankpin.faults,
crankpin.formulas, crankpin.notation, crankpin.store, fontTools, mkdocs, pymdownx.
"""
