"""A strict content policy for finished pages.

Nothing is loaded from another host, no script or style stands in the page: inline scripts and styles move to files
named by their content, `style` attributes become classes. The policy stands in a `<meta>` of every page, so that a
plain static host needs no headers. A worker has no page: only a host's header reaches it. `crankpin serve` sends that
header; for other hosts it lies ready in the two files that most of them read.
"""

from __future__ import annotations

import hashlib
import html
import re
from dataclasses import dataclass, field
from pathlib import Path

from crankpin.faults import AuthorError

POLICY = (
    "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; img-src 'self' data:; "
    "font-src 'self' data:; connect-src 'self'; worker-src 'self'; manifest-src 'self'; base-uri 'self'; "
    "form-action 'self'"
)
HEADERS = {
    "Content-Security-Policy": POLICY,
    "Referrer-Policy": "no-referrer",
    "X-Content-Type-Options": "nosniff",
}
"""What a host should send with every file."""
HEADER_FILES = ("_headers", ".htaccess")
# While MkDocs's own server runs it adds its own reloading script to each page.
POLICY_WHILE_RELOADING = POLICY.replace("script-src 'self'", "script-src 'self' 'unsafe-inline'")

_SCRIPT = re.compile(r"<script(?P<attributes>[^>]*)>(?P<code>.*?)</script>", re.DOTALL)
_STYLE = re.compile(r"<style[^>]*>(?P<rules>.*?)</style>", re.DOTALL)
_OPAQUE = re.compile(r"(<script\b.*?</script>|<style\b.*?</style>|<!--.*?-->|<textarea\b.*?</textarea>)", re.DOTALL)
_TAG = re.compile(r"<[a-zA-Z][\w:-]*(?:\s+[^\s=<>\"'/]+(?:\s*=\s*(?:\"[^\"]*\"|'[^']*'|[^\s\"'<>]+))?)*\s*/?>")
_ATTRIBUTE = re.compile(r"\s+([^\s=<>\"'/]+)(?:\s*=\s*(\"[^\"]*\"|'[^']*'|[^\s\"'<>]+))?")
# Most tags have nothing of what may not stay, and are not taken apart.
_MAY_NOT_STAY = re.compile(r"(?i)^<(?:script|img|link|iframe|source|object)\b|\s(?:style|on)")
_CHARSET = re.compile(r'<meta charset="?utf-8"?\s*/?>', re.IGNORECASE)
_LOADED = {"script": "src", "img": "src", "link": "href", "iframe": "src", "source": "src", "object": "data"}
_NOT_LOADED = {"canonical", "prev", "next", "alternate", "license"}


@dataclass
class Moved:
    """What was moved out of the pages: file contents by address from the site's root."""

    files: dict[str, str] = field(default_factory=dict)
    rules: dict[str, str] = field(default_factory=dict)
    """Declarations by class name."""
    plain: set[str] = field(default_factory=set)
    """Tags that were looked at and may stay; the contents of a course bring the same ones to every page."""

    def file(self, folder: str, suffix: str, text: str) -> str:
        """Keep a text and return its address from the site's root."""
        name = f"{folder}/{_hash(text)}.{suffix}"
        self.files[name] = text
        return name

    def class_for(self, declarations: str) -> str:
        """Keep declarations and return the class that stands for them."""
        tidy = ";".join(part.strip() for part in declarations.split(";") if part.strip())
        name = f"s-{_hash(tidy)}"
        self.rules[name] = tidy
        return name

    def stylesheet(self) -> str:
        """Return the rules that stand for the `style` attributes."""
        return "\n".join(f".{name}.{name}{{{rules}}}" for name, rules in sorted(self.rules.items()))


def write_header_files(site: Path) -> None:
    """Write the headers into a finished site, in the two forms that hosts of plain files read."""
    lines = "".join(f"  {name}: {value}\n" for name, value in HEADERS.items())
    (site / HEADER_FILES[0]).write_text(f"/*\n{lines}", "utf-8")
    rules = "".join(f'  Header always set {name} "{value}"\n' for name, value in HEADERS.items())
    types = "AddType text/javascript .mjs\nAddType application/wasm .wasm\n"
    (site / HEADER_FILES[1]).write_text(f"<IfModule mod_headers.c>\n{rules}</IfModule>\n{types}", "utf-8")


def _hash(text: str) -> str:
    return hashlib.sha256(text.encode()).hexdigest()[:10]


def strict(page: str, root: str, moved: Moved, *, reloading: bool = False) -> str:
    """Return the finished page under the policy.

    `root` is the address of the site's root as seen from the page (`../../`, or `/course/` for the page that stands
    in for missing ones). Raises `AuthorError` where a page loads from another host or carries an event attribute.
    """
    page = _strict_part(page, root, moved)
    if not _CHARSET.search(page):
        raise AuthorError("the page has no <meta charset>, so that the content policy has no place")
    policy = html.escape(POLICY_WHILE_RELOADING if reloading else POLICY, quote=True).replace("&#x27;", "'")
    return _CHARSET.sub(
        lambda m: f'{m[0]}<meta http-equiv="Content-Security-Policy" content="{policy}">', page, count=1
    )


def _strict_part(part: str, root: str, moved: Moved) -> str:
    part = _SCRIPT.sub(lambda m: _outside_script(m, root, moved), part)
    part = _STYLE.sub(lambda m: _outside_style(m["rules"], root, moved), part)
    pieces = _OPAQUE.split(part)
    pieces[::2] = [_strict_piece(piece, moved) for piece in pieces[::2]]
    return "".join(pieces)


def _strict_piece(piece: str, moved: Moved) -> str:
    tags = set(_TAG.findall(piece)) - moved.plain
    if any(_strict_tag(tag, moved) != tag for tag in filter(_MAY_NOT_STAY.search, tags)):
        return _TAG.sub(lambda m: _strict_tag(m[0], moved), piece)
    moved.plain |= tags
    return piece


def check_part(part: str) -> None:
    """Raise `AuthorError` where a part of a page could not stand under the policy just as it is."""
    if _strict_part(part, "", Moved()) != part:
        raise AuthorError("a part of the page brings styles or scripts of its own, which the content policy forbids")


def _outside_script(found: re.Match[str], root: str, moved: Moved) -> str:
    attributes = found["attributes"]
    _check_loading("script", _attributes(f"<script{attributes}>"))
    kind = re.search(r'type="?([\w/+-]+)', attributes)
    runs = kind is None or kind.group(1) in ("module", "text/javascript", "application/javascript")
    if not runs or re.search(r"\bsrc\s*=", attributes) or not found["code"].strip():
        return found[0]
    return f'<script{attributes} src="{root}{moved.file("assets/moved", "js", found["code"])}"></script>'


def _outside_style(rules: str, root: str, moved: Moved) -> str:
    return f'<link rel="stylesheet" href="{root}{moved.file("assets/moved", "css", rules)}">'


def _strict_tag(tag: str, moved: Moved) -> str:
    if tag in moved.plain:
        return tag
    name = re.match(r"<([\w:-]+)", tag)
    assert name is not None
    attributes = _attributes(tag)
    _check_loading(name[1].lower(), attributes)
    for key in attributes:
        if key.lower().startswith("on"):
            raise AuthorError(f"<{name[1]} {key}=...> runs script from an attribute, which the content policy forbids")
    if "style" not in attributes:
        moved.plain.add(tag)
        return tag
    return _with_class(tag, moved.class_for(attributes["style"]))


def _attributes(tag: str) -> dict[str, str]:
    return {m[1]: html.unescape(_unquoted(m[2])) for m in _ATTRIBUTE.finditer(tag)}


def _unquoted(value: str | None) -> str:
    if value is None:
        return ""
    return value[1:-1] if value[0] in "\"'" else value


def _with_class(tag: str, name: str) -> str:
    tag = re.sub(r"\s+style\s*=\s*(\"[^\"]*\"|'[^']*')", "", tag, count=1)
    if re.search(r"\sclass=\"", tag):
        return re.sub(r"(\sclass=\")", rf"\g<1>{name} ", tag, count=1)
    return re.sub(r"^<([\w:-]+)", rf'<\g<1> class="{name}"', tag)


def _check_loading(name: str, attributes: dict[str, str]) -> None:
    address = attributes.get(_LOADED.get(name, ""), "")
    if not re.match(r"(https?:)?//", address):
        return
    if name == "link" and set(attributes.get("rel", "").split()) <= _NOT_LOADED:
        return
    raise AuthorError(f"<{name}> loads {address} from another host; keep a copy in the docs folder instead")
