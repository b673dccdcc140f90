"""Prepare the faces of the site from the fonts as delivered, once for all courses: `src/crankpin/site/fonts/quay-*`.

    .venv/bin/python tools/faces.py

Needed after a change of a font file, or of what is done to every face; a test compares them.
"""

from crankpin.site import fonts

for face in (*fonts.SCREEN_FACES, fonts.MATHS_FACE):
    (fonts.FOLDER / face.file).write_bytes(fonts.prepared(face))
