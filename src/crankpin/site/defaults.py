"""What a course's settings need not say: Markdown's extensions, the theme's letters and grounds.

Whatever `mkdocs.yml` says itself is kept.
"""

from __future__ import annotations

from collections.abc import MutableMapping
from typing import TYPE_CHECKING, Any

from pymdownx.slugs import slugify

if TYPE_CHECKING:
    from mkdocs.theme import Theme

THEME = "material"
#: Extensions of Markdown, with the settings that each gets where `mkdocs.yml` gives none.
EXTENSIONS: dict[str, dict[str, Any]] = {
    "abbr": {},
    "admonition": {},
    "attr_list": {},
    "def_list": {},
    "footnotes": {},
    "md_in_html": {},
    "tables": {},
    "toc": {
        "title": "On this page",
        "permalink": "#",
        "permalink_title": "Link to this heading",
        "slugify": slugify(case="lower"),
    },
    "pymdownx.arithmatex": {},
    "pymdownx.details": {},
    "pymdownx.superfences": {},
    "smarty": {},
}
#: Settings without which pages come out wrong; they hold whatever is written.
NEEDED: dict[str, dict[str, Any]] = {
    "tables": {"use_align_attribute": True},
    "pymdownx.arithmatex": {"generic": True},
}
_PALETTE = [
    {
        "media": "(prefers-color-scheme: light)",
        "scheme": "paper",
        "toggle": {"icon": "material/weather-night", "name": "Change to the dark ground"},
    },
    {
        "media": "(prefers-color-scheme: dark)",
        "scheme": "night",
        "toggle": {"icon": "material/weather-sunny", "name": "Change to the light ground"},
    },
]
_FEATURES = ["navigation.sections", "navigation.top", "toc.follow"]


def theme_fault(theme: Theme) -> str:
    """Return what is wrong with the theme, "" for nothing."""
    if theme.name == THEME:
        return ""
    return f"the theme is {theme.name or 'none'}; crankpin's pages are made for {THEME}: write 'theme: {THEME}'"


def complete_theme(theme: Any) -> None:
    """Give the theme what it was not told: no letters from elsewhere, two grounds, the places of its parts."""
    theme["font"] = False
    if not theme.get("palette"):
        theme["palette"] = _PALETTE
    if not theme.get("features"):
        theme["features"] = _FEATURES


def complete_extensions(names: list[Any], settings: MutableMapping[str, dict[str, Any]]) -> list[Any]:
    """Return the extensions of Markdown with those added that chapters use; settings are completed in place."""
    added = [name for name in EXTENSIONS if name not in names]
    for name, own in EXTENSIONS.items():
        settings[name] = {**own, **settings.get(name, {}), **NEEDED.get(name, {})}
    return [*names, *added]
