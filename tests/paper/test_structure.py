"""The structure of the PDFs: all content in it once, nothing neutral, lists with bodies, links with words."""

import re

import pikepdf
import pytest
from pikepdf import Array, Dictionary, Name

from crankpin.paper.artifacts import mark_artifacts
from crankpin.paper.structure import elements

NAMES = ("01-turning", "02-edge-on", "card-bench", "course")


def kids(one):
    held = one.get(Name.K)
    return list(held) if isinstance(held, Array) else [] if held is None else [held]


def is_element(kid):
    return isinstance(kid, Dictionary) and Name.S in kid


def owners(pdf):
    """Return the owner of each piece of content, by page and number, as the tree has it."""
    pages = {page.obj.objgen: i for i, page in enumerate(pdf.pages)}
    found = {}
    for one in elements(pdf.Root.StructTreeRoot):
        for kid in kids(one):
            if is_element(kid):
                assert kid.P.objgen == one.objgen
            elif isinstance(kid, int) or Name.MCID in kid:
                page, number = (one.Pg, kid) if isinstance(kid, int) else (kid.get(Name.Pg, one.get(Name.Pg)), kid.MCID)
                place = pages[page.objgen], int(number)
                assert place not in found
                found[place] = one
    return found


def parents(node):
    found = {}
    for branch in node.get(Name.Kids, []):
        found |= parents(branch)
    numbers = list(node.get(Name.Nums, []))
    return found | {int(key): entry for key, entry in zip(numbers[::2], numbers[1::2], strict=True)}


@pytest.mark.browser
@pytest.mark.parametrize("name", NAMES)
def test_all_marked_content_is_in_the_tree_once_and_both_ways(printed, name):
    with pikepdf.open(printed.pdf(name)) as pdf:
        found, up = owners(pdf), parents(pdf.Root.StructTreeRoot.ParentTree)
        marked = 0
        for number, page in enumerate(pdf.pages):
            for one in pikepdf.parse_content_stream(page):
                if str(one.operator) == "BDC" and Name.MCID in one.operands[1]:
                    piece = int(one.operands[1].MCID)
                    marked += 1
                    assert up[int(page.StructParents)][piece].objgen == found[number, piece].objgen
            for link in page.get(Name.Annots, []):
                assert Name.Link == up[int(link.StructParent)].S
        assert marked == len(found) > 20


@pytest.mark.browser
@pytest.mark.parametrize("name", NAMES)
def test_the_tree_holds_what_a_reader_needs_and_nothing_neutral(printed, name):
    with pikepdf.open(printed.pdf(name)) as pdf:
        root = pdf.Root.StructTreeRoot
        found = list(elements(root))
        types = {str(one.S) for one in found}
        assert "/NonStruct" not in types
        assert types & {"/Strong", "/Em"} <= set(map(str, root.get(Name.RoleMap, Dictionary()).keys()))
        for item in (one for one in found if Name.LI == one.S):
            assert {str(kid.S) for kid in kids(item)} <= {"/Lbl", "/LBody"}
        for heading in (one for one in found if str(one.S) in ("/H1", "/H2", "/H3")):
            assert kids(heading)


@pytest.mark.browser
@pytest.mark.parametrize("name", NAMES)
def test_no_letter_is_painted_outside_marked_content(printed, name):
    with pikepdf.open(printed.pdf(name)) as pdf:
        artifacts = 0
        for page in pdf.pages:
            depth = 0
            for one in pikepdf.parse_content_stream(page):
                sign = str(one.operator)
                artifacts += sign == "BMC"
                depth += (sign in ("BMC", "BDC")) - (sign == "EMC")
                assert depth >= 0
                if sign in ("Tj", "TJ", "f", "S", "Do"):
                    assert depth > 0
            assert depth == 0
        assert artifacts


@pytest.mark.browser
@pytest.mark.parametrize("name", NAMES)
def test_links_say_where_they_lead(printed, name):
    with pikepdf.open(printed.pdf(name)) as pdf:
        links = [one for page in pdf.pages for one in page.get(Name.Annots, [])]
        said = {str(one.Contents) for one in links}
    assert said and "" not in said
    if name == "course":
        assert {"Readings", "Edge-on"} <= said
        assert any(re.fullmatch(r"page \d+", words) for words in said)
    if name == "01-turning":
        assert "https://elsewhere.example/page" in said


def test_only_what_is_painted_outside_becomes_an_artifact():
    pdf = pikepdf.new()
    page = pdf.add_blank_page()
    page.Contents = pdf.make_stream(b"q 0 0 9 9 re W n 1 1 2 2 re f BT (a) Tj ET /P <</MCID 0>> BDC BT (b) Tj ET EMC Q")
    mark_artifacts(pdf)
    signs = [str(one.operator) for one in pikepdf.parse_content_stream(pdf.pages[0])]
    assert signs == (
        ["q", "re", "W", "n", "BMC", "re", "f", "BT", "Tj", "ET", "EMC", "BDC", "BT", "Tj", "ET", "EMC", "Q"]
    )


def test_marked_content_is_left_as_it_was_written():
    content = b"q\n1 1 2 2 re\nf\n/P <</MCID 0>> BDC\n.50 .5 m\n/Q BMC\n(a) Tj\nEMC\nEMC\nBT\n<01> Tj\nET\nQ\n"
    whole = content, b"<< /MCID 0 >>"
    in_parts = content.replace(b"(a)", b"<02>"), b"<</MCID 0>>"
    for one, kept in (whole, in_parts):
        pdf = pikepdf.new()
        page = pdf.add_blank_page()
        page.Contents = pdf.make_stream(one)
        mark_artifacts(pdf)
        assert kept in page.Contents.read_bytes()
        signs = [str(one.operator) for one in pikepdf.parse_content_stream(pdf.pages[0])]
        inside = ["BDC", "m", "BMC", "Tj", "EMC", "EMC"]
        assert signs == ["q", "BMC", "re", "f", "EMC", *inside, "BMC", "BT", "Tj", "ET", "EMC", "Q"]
