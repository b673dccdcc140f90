"""A QTI 2.1 package: an item for each set of numbers, and a test that picks one of each problem.

Names and structure follow the IMS Question and Test Interoperability 2.1 final specification and IMS Content Packaging
1.1, from memory; no schema was at hand (see `crankpin.handover.reader` for what is checked).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from xml.etree.ElementTree import Element, SubElement, register_namespace, tostring

from crankpin.handover.questions import Asked, Item, Part
from crankpin.handover.xhtml import MATHML, append_all

QTI = "http://www.imsglobal.org/xsd/imsqti_v2p1"
PACKAGE = "http://www.imsglobal.org/xsd/imscp_v1p1"
_WORDS_SIZE = "6"


def files(title: str, problems: Sequence[tuple[str, Sequence[Item]]]) -> dict[str, bytes]:
    """Return the files of a package by their names; ``problems`` are titles with their items."""
    found: dict[str, bytes] = {}
    for _, items in problems:
        for item in items:
            found[f"items/{item.id}.xml"] = _written(item_element(item), QTI)
            for part in item.parts:
                if part.picture:
                    found[f"items/{picture_name(item, part)}"] = part.picture.encode()
    found["test.xml"] = _written(_test(title, problems), QTI)
    found["imsmanifest.xml"] = _written(_manifest(found), PACKAGE)
    return found


def picture_name(item: Item, part: Part) -> str:
    """Return the file of a part's picture, beside its item."""
    return f"{item.id}-{part.name or 'graph'}.svg"


def item_element(item: Item) -> Element:
    """Return one assessmentItem."""
    root = _element("assessmentItem", identifier=item.id, title=item.title, adaptive="false", timeDependent="false")
    asked = [one for part in item.parts for one in part.asked]
    for one in asked:
        _declare_response(root, one)
    _declare_outcome(root, "SCORE", 0)
    _declare_outcome(root, "MAXSCORE", item.marks)
    body = _sub(root, "itemBody")
    append_all(_sub(body, "div"), item.said)
    for part in item.parts:
        _say(body, item, part)
    processing = _sub(root, "responseProcessing")
    for one in asked:
        if one.form != "words":
            _score(processing, one)
    return root


def response_of(asked: Asked) -> str:
    """Return the identifier of a response."""
    return "_".join(filter(None, ("RESPONSE", asked.name.upper(), asked.form.upper())))


_TYPES: Mapping[str, tuple[str, str]] = {
    "number": ("single", "float"),
    "words": ("single", "string"),
    "order": ("ordered", "identifier"),
    "choices": ("single", "identifier"),
    "line": ("single", "identifier"),
}


def _declare_response(root: Element, asked: Asked) -> None:
    cardinality, base = _TYPES[asked.form]
    cardinality = "multiple" if asked.several and asked.form == "choices" else cardinality
    declared = _sub(root, "responseDeclaration", identifier=response_of(asked), cardinality=cardinality, baseType=base)
    if asked.right:
        correct = _sub(declared, "correctResponse")
        for value in asked.right:
            _sub(correct, "value").text = value


def _declare_outcome(root: Element, name: str, value: int) -> None:
    declared = _sub(root, "outcomeDeclaration", identifier=name, cardinality="single", baseType="float")
    _sub(_sub(declared, "defaultValue"), "value").text = str(value)


def _say(body: Element, item: Item, part: Part) -> None:
    box = _sub(body, "div")
    if part.name:
        _sub(_sub(box, "p"), "b").text = f"({part.name})"
    append_all(_sub(box, "div"), part.said)
    if part.picture:
        _sub(_sub(box, "p"), "img", src=picture_name(item, part), alt="The graph to be read")
    for asked in part.asked:
        _interact(box, asked)


def _interact(box: Element, asked: Asked) -> None:
    response = response_of(asked)
    if asked.form == "number":
        line = _sub(box, "p")
        line.text = f"Your answer, in {asked.unit}: " if asked.unit else "Your answer, a plain number: "
        _sub(line, "textEntryInteraction", responseIdentifier=response, expectedLength="12")
    elif asked.form == "words":
        _sub(box, "extendedTextInteraction", responseIdentifier=response, expectedLines=_WORDS_SIZE)
    elif asked.form == "order":
        interaction = _sub(box, "orderInteraction", responseIdentifier=response, shuffle="false")
        _choose(interaction, asked, "Put these steps in order.")
    else:
        most = "0" if asked.several else "1"
        interaction = _sub(box, "choiceInteraction", responseIdentifier=response, shuffle="false", maxChoices=most)
        _choose(interaction, asked, "Which line is wrong?" if asked.form == "line" else "Choose.")


def _choose(interaction: Element, asked: Asked, prompt: str) -> None:
    _sub(interaction, "prompt").text = prompt
    for letter, nodes in asked.choices:
        append_all(_sub(interaction, "simpleChoice", identifier=letter), nodes)


def _score(processing: Element, asked: Asked) -> None:
    condition = _sub(_sub(processing, "responseCondition"), "responseIf")
    response = response_of(asked)
    if asked.form == "number":
        both = _sub(condition, "and")
        for test, bound in (("gte", asked.low), ("lte", asked.high)):
            compared = _sub(both, test)
            _sub(compared, "variable", identifier=response)
            _sub(compared, "baseValue", baseType="float").text = bound
    else:
        same = _sub(condition, "match")
        _sub(same, "variable", identifier=response)
        _sub(same, "correct", identifier=response)
    total = _sub(_sub(condition, "setOutcomeValue", identifier="SCORE"), "sum")
    _sub(total, "variable", identifier="SCORE")
    _sub(total, "baseValue", baseType="float").text = str(asked.marks)


def _test(title: str, problems: Sequence[tuple[str, Sequence[Item]]]) -> Element:
    root = _element("assessmentTest", identifier="test", title=title)
    part = _sub(root, "testPart", identifier="part", navigationMode="nonlinear", submissionMode="simultaneous")
    for at, (name, items) in enumerate(problems, 1):
        section = _sub(part, "assessmentSection", identifier=f"section-{at}", title=name, visible="true")
        _sub(section, "selection", select="1")
        for item in items:
            _sub(section, "assessmentItemRef", identifier=f"ref-{item.id}", href=f"items/{item.id}.xml")
    return root


def _manifest(found: Mapping[str, bytes]) -> Element:
    root = Element(f"{{{PACKAGE}}}manifest", identifier="package")
    metadata = SubElement(root, f"{{{PACKAGE}}}metadata")
    SubElement(metadata, f"{{{PACKAGE}}}schema").text = "QTIv2.1 Package"
    SubElement(metadata, f"{{{PACKAGE}}}schemaversion").text = "1.0.0"
    SubElement(root, f"{{{PACKAGE}}}organizations")
    resources = SubElement(root, f"{{{PACKAGE}}}resources")
    for name in sorted(found):
        if not name.endswith(".xml"):
            continue
        kind = "imsqti_test_xmlv2p1" if name == "test.xml" else "imsqti_item_xmlv2p1"
        stem = name.removesuffix(".xml").replace("/", "-")
        resource = SubElement(resources, f"{{{PACKAGE}}}resource", identifier=f"r-{stem}", type=kind, href=name)
        beside = [
            other for other in sorted(found) if other.startswith(name.removesuffix(".xml") + "-") and ".svg" in other
        ]
        for file in (name, *beside):
            SubElement(resource, f"{{{PACKAGE}}}file", href=file)
        if name == "test.xml":
            for other in sorted(found):
                if other.startswith("items/") and other.endswith(".xml"):
                    reference = "r-" + other.removesuffix(".xml").replace("/", "-")
                    SubElement(resource, f"{{{PACKAGE}}}dependency", identifierref=reference)
    return root


def _element(name: str, **attributes: str) -> Element:
    return Element(f"{{{QTI}}}{name}", attributes)


def _sub(parent: Element, name: str, **attributes: str) -> Element:
    return SubElement(parent, f"{{{QTI}}}{name}", attributes)


def _written(root: Element, namespace: str) -> bytes:
    for element in root.iter():
        if not element.tag.startswith("{"):
            element.tag = f"{{{namespace}}}{element.tag}"
    register_namespace("", namespace)
    register_namespace("m", MATHML)
    return bytes(tostring(root, encoding="utf-8", xml_declaration=True))
