"""A strict reader of packages, written from the standards: what is not known here is a fault.

It holds a package against the element names, attributes, children and cross-references that the standards allow for
what crankpin writes; it is no schema. `marks` answers an item as a platform would.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from decimal import Decimal, InvalidOperation
from xml.etree.ElementTree import Element, ParseError, fromstring

from crankpin.handover import cartridge
from crankpin.handover.qti21 import PACKAGE, QTI
from crankpin.handover.xhtml import MATHML

_PLAIN = {"p", "div", "span", "b", "strong", "i", "em", "sub", "sup", "ul", "ol", "li", "br", "img"}
_PLAIN |= {"table", "thead", "tbody", "tr", "th", "td", "dl", "dt", "dd", "code", "pre", "blockquote"}
#: What each element of QTI 2.1 may hold, and its attributes; those with * must be there.
_QTI: Mapping[str, tuple[set[str], set[str]]] = {
    "assessmentItem": (
        {"responseDeclaration", "outcomeDeclaration", "itemBody", "responseProcessing"},
        {"identifier*", "title*", "adaptive*", "timeDependent*"},
    ),
    "responseDeclaration": ({"correctResponse"}, {"identifier*", "cardinality*", "baseType*"}),
    "outcomeDeclaration": ({"defaultValue"}, {"identifier*", "cardinality*", "baseType*"}),
    "correctResponse": ({"value"}, set()),
    "defaultValue": ({"value"}, set()),
    "value": (set(), set()),
    "itemBody": ({"div"}, set()),
    "prompt": (_PLAIN, set()),
    "textEntryInteraction": (set(), {"responseIdentifier*", "expectedLength"}),
    "extendedTextInteraction": (set(), {"responseIdentifier*", "expectedLines"}),
    "choiceInteraction": ({"prompt", "simpleChoice"}, {"responseIdentifier*", "shuffle*", "maxChoices*"}),
    "orderInteraction": ({"prompt", "simpleChoice"}, {"responseIdentifier*", "shuffle*"}),
    "simpleChoice": (_PLAIN, {"identifier*"}),
    "responseProcessing": ({"responseCondition"}, set()),
    "responseCondition": ({"responseIf"}, set()),
    "responseIf": ({"and", "match", "setOutcomeValue"}, set()),
    "and": ({"gte", "lte"}, set()),
    "gte": ({"variable", "baseValue"}, set()),
    "lte": ({"variable", "baseValue"}, set()),
    "match": ({"variable", "correct"}, set()),
    "variable": (set(), {"identifier*"}),
    "correct": (set(), {"identifier*"}),
    "baseValue": (set(), {"baseType*"}),
    "setOutcomeValue": ({"sum"}, {"identifier*"}),
    "sum": ({"variable", "baseValue"}, set()),
    "assessmentTest": ({"testPart"}, {"identifier*", "title*"}),
    "testPart": ({"assessmentSection"}, {"identifier*", "navigationMode*", "submissionMode*"}),
    "assessmentSection": ({"selection", "assessmentItemRef"}, {"identifier*", "title*", "visible*"}),
    "selection": (set(), {"select*"}),
    "assessmentItemRef": (set(), {"identifier*", "href*"}),
}
_BLOCKS = _PLAIN | {"textEntryInteraction", "extendedTextInteraction", "choiceInteraction", "orderInteraction"}


class PackageFaultsError(ValueError):
    """Everything that is wrong with a package, one line a fault."""


def check_qti21(files: Mapping[str, bytes]) -> None:
    """Hold a QTI 2.1 package against the standard. Raises `PackageFaultsError`."""
    faults: list[str] = []
    trees = _parsed(files, faults)
    manifest = trees.get("imsmanifest.xml")
    if manifest is None:
        faults.append("imsmanifest.xml is missing")
    else:
        _check_manifest(manifest, PACKAGE, files, faults)
    for name, tree in trees.items():
        if name != "imsmanifest.xml":
            _check_element(tree, name, faults)
            _check_references(tree, name, files, faults)
    if faults:
        raise PackageFaultsError("\n".join(faults))


def check_cartridge(files: Mapping[str, bytes]) -> None:
    """Hold a Common Cartridge of links against the standard. Raises `PackageFaultsError`."""
    faults: list[str] = []
    trees = _parsed(files, faults)
    manifest = trees.get("imsmanifest.xml")
    if manifest is None:
        raise PackageFaultsError("imsmanifest.xml is missing")
    _check_manifest(manifest, cartridge.PACKAGE, files, faults)
    schema = [manifest.findtext(f".//{{{cartridge.PACKAGE}}}{name}") for name in ("schema", "schemaversion")]
    if schema != ["IMS Common Cartridge", "1.3.0"]:
        faults.append(f"the manifest says {schema}")
    for name, tree in trees.items():
        link = tree.find(f"{{{cartridge.LINK}}}url")
        if name != "imsmanifest.xml" and (link is None or not link.get("href", "").startswith("http")):
            faults.append(f"{name} is no link")
    if faults:
        raise PackageFaultsError("\n".join(faults))


def _parsed(files: Mapping[str, bytes], faults: list[str]) -> dict[str, Element]:
    trees = {}
    for name, data in files.items():
        if name.endswith(".xml"):
            try:
                trees[name] = fromstring(data)
            except ParseError as error:
                faults.append(f"{name} is not XML: {error}")
    return trees


def _check_manifest(manifest: Element, namespace: str, files: Mapping[str, bytes], faults: list[str]) -> None:
    if manifest.tag != f"{{{namespace}}}manifest":
        faults.append(f"the manifest is {manifest.tag}")
    resources = {one.get("identifier", ""): one for one in manifest.iter(f"{{{namespace}}}resource")}
    identifiers = [one.get("identifier") for one in manifest.iter() if one.get("identifier")]
    faults += [f"the identifier {one} stands twice" for one in set(identifiers) if identifiers.count(one) > 1]
    listed = {one.get("href") for one in manifest.iter(f"{{{namespace}}}file")}
    faults += [f"{name} is not in the manifest" for name in set(files) - listed - {"imsmanifest.xml"}]
    faults += [f"the manifest names {name}, which is not there" for name in listed - set(files)]
    references = [one.get("identifierref") for one in manifest.iter() if one.get("identifierref")]
    faults += [f"there is no resource {one}" for one in references if one not in resources]


def _check_element(element: Element, place: str, faults: list[str]) -> None:
    space, _, name = element.tag.removeprefix("{").partition("}")
    if space == MATHML:
        return
    if space != QTI:
        faults.append(f"{place}: {element.tag} is of another standard")
        return
    children, attributes = _QTI.get(name, (_BLOCKS, {"src", "alt"} if name == "img" else set()))
    if name not in _QTI and name not in _PLAIN:
        faults.append(f"{place}: there is no element {name}")
    known = {one.removesuffix("*") for one in attributes}
    faults += [f"{place}: {name} has no attribute {one}" for one in set(element.attrib) - known]
    needed = {one.removesuffix("*") for one in attributes if one.endswith("*")}
    faults += [f"{place}: {name} needs the attribute {one}" for one in needed - set(element.attrib)]
    for child in element:
        below = child.tag.partition("}")[2]
        if not child.tag.startswith(f"{{{MATHML}}}") and below not in children:
            faults.append(f"{place}: {below} cannot stand in {name}")
        _check_element(child, place, faults)


def _check_references(tree: Element, place: str, files: Mapping[str, bytes], faults: list[str]) -> None:
    declared = {one.get("identifier") for one in tree if one.tag.endswith("Declaration")}
    used = [one.get("responseIdentifier") for one in tree.iter() if one.get("responseIdentifier")]
    used += [one.get("identifier") for name in ("variable", "correct", "setOutcomeValue") for one in _all(tree, name)]
    faults += [f"{place}: {one} is not declared" for one in used if one not in declared]
    folder = place.rpartition("/")[0]
    for one in [*_all(tree, "img"), *_all(tree, "assessmentItemRef")]:
        target = "/".join(filter(None, (folder, one.get("src") or one.get("href") or "")))
        if target not in files:
            faults.append(f"{place}: {target} is not in the package")
    for value in _all(tree, "baseValue"):
        text = value.text or ""
        if "e" in text.lower() or not _is_decimal(text):
            faults.append(f"{place}: {text} is no plain decimal")


def _all(tree: Element, name: str) -> list[Element]:
    return list(tree.iter(f"{{{QTI}}}{name}"))


def _is_decimal(text: str) -> bool:
    try:
        return Decimal(text).is_finite()
    except InvalidOperation:
        return False


def marks(item: bytes, given: Mapping[str, str | Sequence[str]]) -> int:
    """Return the marks that an item's own processing gives for some responses, by their identifiers."""
    tree = fromstring(item)
    score = Decimal(0)
    for condition in _all(tree, "responseIf"):
        if all(_holds(test, tree, given) for test in condition if not test.tag.endswith("setOutcomeValue")):
            score += Decimal(condition.findtext(f".//{{{QTI}}}sum/{{{QTI}}}baseValue") or "0")
    return int(score)


def _holds(test: Element, tree: Element, given: Mapping[str, str | Sequence[str]]) -> bool:
    name = test.tag.partition("}")[2]
    if name == "and":
        return all(_holds(one, tree, given) for one in test)
    variable = test[0].get("identifier", "")
    if variable not in given:
        return False
    if name == "match":
        declared = next(one for one in _all(tree, "responseDeclaration") if one.get("identifier") == variable)
        right = [one.text or "" for one in declared.iter(f"{{{QTI}}}value")]
        chosen = [given[variable]] if isinstance(given[variable], str) else list(given[variable])
        ordered = declared.get("cardinality") == "ordered"
        return chosen == right if ordered else sorted(map(str, chosen)) == sorted(right)
    answer, bound = Decimal(str(given[variable])), Decimal(test[1].text or "0")
    return answer >= bound if name == "gte" else answer <= bound
