"""A Common Cartridge 1.3 with links to the chapters, their problems and their calculators.

Names and structure follow the IMS Common Cartridge 1.3 profile, from memory; no schema was at hand.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from xml.etree.ElementTree import Element, SubElement, register_namespace, tostring

PACKAGE = "http://www.imsglobal.org/xsd/imsccv1p3/imscp_v1p1"
LOM = "http://ltsc.ieee.org/xsd/imsccv1p3/LOM/manifest"
LINK = "http://www.imsglobal.org/xsd/imsccv1p3/imswl_v1p3"
KIND = "imswl_xmlv1p3"


@dataclass(frozen=True)
class Folder:
    """A chapter: its title, and links as (title, address)."""

    title: str
    links: tuple[tuple[str, str], ...]


def files(title: str, folders: Sequence[Folder]) -> dict[str, bytes]:
    """Return the files of a cartridge by their names."""
    found: dict[str, bytes] = {}
    root = Element(f"{{{PACKAGE}}}manifest", identifier="cartridge")
    _metadata(root, title)
    organization = SubElement(
        SubElement(root, _p("organizations")), _p("organization"), identifier="course", structure="rooted-hierarchy"
    )
    top = SubElement(organization, _p("item"), identifier="root")
    resources = SubElement(root, _p("resources"))
    for at, folder in enumerate(folders, 1):
        item = SubElement(top, _p("item"), identifier=f"folder-{at}")
        SubElement(item, _p("title")).text = folder.title
        for number, (name, address) in enumerate(folder.links, 1):
            key = f"link-{at}-{number}"
            leaf = SubElement(item, _p("item"), identifier=f"item-{key}", identifierref=key)
            SubElement(leaf, _p("title")).text = name
            resource = SubElement(resources, _p("resource"), identifier=key, type=KIND)
            SubElement(resource, _p("file"), href=f"{key}.xml")
            found[f"{key}.xml"] = _link(name, address)
    found["imsmanifest.xml"] = _written(root, PACKAGE)
    return found


def _metadata(root: Element, title: str) -> None:
    metadata = SubElement(root, _p("metadata"))
    SubElement(metadata, _p("schema")).text = "IMS Common Cartridge"
    SubElement(metadata, _p("schemaversion")).text = "1.3.0"
    general = SubElement(SubElement(metadata, f"{{{LOM}}}lom"), f"{{{LOM}}}general")
    SubElement(SubElement(general, f"{{{LOM}}}title"), f"{{{LOM}}}string", language="en").text = title


def _link(title: str, address: str) -> bytes:
    root = Element(f"{{{LINK}}}webLink")
    SubElement(root, f"{{{LINK}}}title").text = title
    SubElement(root, f"{{{LINK}}}url", href=address, target="_blank")
    return _written(root, LINK)


def _p(name: str) -> str:
    return f"{{{PACKAGE}}}{name}"


def _written(root: Element, namespace: str) -> bytes:
    register_namespace("", namespace)
    register_namespace("lomm", LOM)
    return bytes(tostring(root, encoding="utf-8", xml_declaration=True))
