"""The physics of the course, topic by topic; nothing here knows a page, a form or a figure.

This package may import: the standard library, and itself.
Everything is in SI units and radians; another unit is a suffix of the name.
"""
