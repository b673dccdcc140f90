"""Between Markdown chapters and a strict page.

May import `crankpin.mechanics`, `crankpin.calculator` and the declarations; never `crankpin.plugin` or `crankpin.cli`.
Everything here is plain functions over text, so that a course can outlive the site generator that calls them.
"""
