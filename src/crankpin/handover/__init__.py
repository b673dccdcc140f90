"""Problems and links as packages for a learning platform, by open standards: QTI 2.1, QTI 1.2, Common Cartridge.

May import: the standard library, crankpin.calculator, crankpin.course, crankpin.elements, crankpin.faults,
crankpin.problems.
"""
