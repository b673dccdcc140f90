"""The physics of the course, topic by topic; nothing here knows a page, a form or a figure.

Everything is in SI units and radians; another unit is a suffix of the name.

May import: the standard library.
"""
