"""What a page can hold, one module an element: a calculator, a scene, an index; on the page and on paper.

May import: the standard library, crankpin.calculator, crankpin.faults, crankpin.figures, crankpin.formulas,
crankpin.notation, crankpin.problems, crankpin.scenes, crankpin.service, jinja2, markupsafe.
"""
