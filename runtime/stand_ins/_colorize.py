"""Stands in for _colorize: tracebacks without colour."""


class _Plain:
    def __getattr__(self, part):
        return ""


class _Theme:
    traceback = _Plain()


def can_colorize(**_):
    """No."""
    return False


def get_theme(**_):
    """Return the theme whose colours are empty."""
    return _Theme
