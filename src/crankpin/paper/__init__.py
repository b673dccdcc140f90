"""What is made once, at build time, for page and paper: figures, print pages, codes, PDFs.

This package may import: ``crankpin.mechanics``, ``crankpin.calculator``, matplotlib and other libraries;
it knows nothing of MkDocs.
"""
