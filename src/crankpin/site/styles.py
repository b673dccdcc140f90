"""The site's style sheet: the plain files of `theme/styles/` and those of formulas, figures and browser, as one."""

from __future__ import annotations

from pathlib import Path

STYLES = Path(__file__).parent / "theme" / "styles"
BROWSER = Path(__file__).parent.parent / "browser" / "static"
FIGURES = Path(__file__).parent.parent / "figures" / "figures.css"
FORMULAS = Path(__file__).parent.parent / "formulas" / "formulas.css"

STANDS_FOR_ALL = "assets/crankpin/course.css"
"""The name that templates link to; `finish` puts the name with the hash in its place."""

_FIRST = ("paper.css", "night.css", "type.css", "frame.css")


def sheet() -> str:
    """Return all rules: palette and type first, then every other file by name."""
    files = [STYLES / name for name in _FIRST]
    files += sorted(path for path in STYLES.glob("*.css") if path.name not in _FIRST)
    files += [FORMULAS, FIGURES, *sorted(BROWSER.glob("*.css"))]
    return "\n".join([*(path.read_text("utf-8").strip() for path in files), _night_without_script()])


def _night_without_script() -> str:
    """Return the dark palette for readers whose system asks for it, until the theme's script has run."""
    night = (STYLES / "night.css").read_text("utf-8")
    rules = night.replace('[data-md-color-scheme="night"]', '.no-js [data-md-color-scheme="paper"]')
    return "@media screen and (prefers-color-scheme: dark) {\n" + rules.strip() + "\n}\n"
