"""What runs on the reader's device: the Python of the page, and the scripts that drive it.

It knows nothing of MkDocs. ``static/`` holds plain ES modules and styles;
``runtime_files/`` holds the Python that ``node runtime/build.mjs`` made.

May import: the standard library.
"""
