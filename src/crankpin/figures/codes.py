"""The square code that leads a phone from the sheet to the page, as inline SVG."""

from __future__ import annotations

import re
from html import escape

import segno

#: Longest address that a phone reads surely from a code of 20 mm on a copied sheet.
LONGEST = 80


def code_svg(address: str) -> str:
    """Return a QR code (level M, quiet border of four modules) as one ``<svg>``, black on white.

    The text alternative says where it leads.
    """
    code = segno.make(address, error="m", micro=False)
    drawn = code.svg_inline(border=4, dark="#000", light="#fff", omitsize=True, svgclass=None, lineclass=None)
    said = escape(f"QR code that leads to {address}", quote=True)
    return re.sub(r"^<svg ", f'<svg class="code" role="img" aria-label="{said}" ', drawn)


def printed_address(address: str) -> str:
    """Return an address as it is printed: without the scheme, and with places where a line may end."""
    return re.sub(r"(?<=[/.])", "<wbr>", escape(address.split("://", 1)[-1].rstrip("/")))
