"""A QTI 1.2 file: sections that pick one of the sets of numbers of each problem.

Names and structure follow the IMS QTI ASI information model and XML binding 1.2, from memory; no schema was at hand.
"""

from __future__ import annotations

from collections.abc import Sequence
from xml.etree.ElementTree import Element, SubElement, tostring

from crankpin.handover.questions import Asked, Item
from crankpin.handover.xhtml import append_all


def file(title: str, problems: Sequence[tuple[str, Sequence[Item]]]) -> bytes:
    """Return the file; ``problems`` are titles with their items."""
    root = Element("questestinterop")
    assessment = SubElement(root, "assessment", ident="assessment", title=title)
    for at, (name, items) in enumerate(problems, 1):
        section = SubElement(assessment, "section", ident=f"section-{at}", title=name)
        ordering = SubElement(section, "selection_ordering")
        SubElement(SubElement(ordering, "selection"), "selection_number").text = "1"
        SubElement(ordering, "order", order_type="Fixed")
        for item in items:
            _item(section, item)
    return bytes(tostring(root, encoding="utf-8", xml_declaration=True))


def response_of(asked: Asked) -> str:
    """Return the identifier of a response."""
    return "_".join(filter(None, ("RESPONSE", asked.name.upper(), asked.form.upper())))


def _item(section: Element, item: Item) -> None:
    element = SubElement(section, "item", ident=item.id, title=item.title)
    flow = SubElement(SubElement(element, "presentation"), "flow")
    _material(flow, item.said)
    asked = []
    for part in item.parts:
        if part.name:
            _material(flow, [f"({part.name})"])
        _material(flow, part.said)
        if part.picture:
            SubElement(
                SubElement(flow, "material"), "matimage", imagtype="image/svg+xml", embedded="base64"
            ).text = _embedded(part.picture)
        for one in part.asked:
            _respond(flow, one)
            asked.append(one)
    processing = SubElement(element, "resprocessing")
    outcomes = SubElement(processing, "outcomes")
    SubElement(
        outcomes, "decvar", varname="SCORE", vartype="Decimal", defaultval="0", minvalue="0", maxvalue=str(item.marks)
    )
    for one in asked:
        if one.form != "words":
            _score(processing, one)


def _embedded(picture: str) -> str:
    from base64 import b64encode

    return b64encode(picture.encode()).decode()


def _material(parent: Element, nodes: Sequence[Element | str]) -> None:
    box = Element("div")
    append_all(box, nodes)
    text = tostring(box, encoding="unicode")
    SubElement(SubElement(parent, "material"), "mattext", texttype="text/html").text = text


def _respond(flow: Element, asked: Asked) -> None:
    response = response_of(asked)
    if asked.form == "number":
        _material(flow, [f"Your answer, in {asked.unit}:" if asked.unit else "Your answer, a plain number:"])
        box = SubElement(flow, "response_num", ident=response, rcardinality="Single", numtype="Decimal")
        SubElement(SubElement(box, "render_fib", fibtype="Decimal", columns="12"), "response_label", ident="ANSWER")
    elif asked.form == "words":
        box = SubElement(flow, "response_str", ident=response, rcardinality="Single")
        render = SubElement(box, "render_fib", fibtype="String", rows="6", columns="60")
        SubElement(render, "response_label", ident="ANSWER")
    else:
        cardinality = {"order": "Ordered"}.get(asked.form, "Multiple" if asked.several else "Single")
        box = SubElement(flow, "response_lid", ident=response, rcardinality=cardinality)
        render = SubElement(box, "render_choice", shuffle="No")
        for letter, nodes in asked.choices:
            _material(SubElement(render, "response_label", ident=letter), nodes)


def _score(processing: Element, asked: Asked) -> None:
    condition = SubElement(processing, "respcondition", {"title": response_of(asked), "continue": "Yes"})
    variable = SubElement(condition, "conditionvar")
    response = response_of(asked)
    both = SubElement(variable, "and")
    if asked.form == "number":
        SubElement(both, "vargte", respident=response).text = asked.low
        SubElement(both, "varlte", respident=response).text = asked.high
    elif asked.form == "order":
        for at, letter in enumerate(asked.right, 1):
            SubElement(both, "varequal", respident=response, index=str(at)).text = letter
    else:
        for letter, _ in asked.choices:
            holder = both if letter in asked.right else SubElement(both, "not")
            SubElement(holder, "varequal", respident=response).text = letter
    SubElement(condition, "setvar", varname="SCORE", action="Add").text = str(asked.marks)
