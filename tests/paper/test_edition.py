"""The PDFs of a small course: structure, looks, codes, and printing again."""

import io
import re

import pikepdf
import pypdfium2
import pytest
import zxingcpp
from pikepdf import Name

from crankpin.build import print_site
from crankpin.calculator.catalogue import load_catalogue
from crankpin.calculator.evaluate import evaluate
from crankpin.elements.embedded import Embedded
from crankpin.paper.source import load_source, short_address
from crankpin.paper.structure import elements

NAMES = ("01-turning", "01-turning-handout", "02-edge-on", "02-edge-on-handout", "card-bench", "course")
SHEETS = {"A4": (595, 842), "Letter": (612, 792)}


def text_of(path):
    document = pypdfium2.PdfDocument(path)
    return [page.get_textpage().get_text_bounded() for page in document]


def structure(pdf):
    return list(elements(pdf.Root.StructTreeRoot))


@pytest.mark.browser
@pytest.mark.parametrize("name", NAMES)
def test_a_pdf_says_what_it_is(printed, name):
    with pikepdf.open(printed.pdf(name)) as pdf:
        assert str(pdf.Root.Lang) == "en"
        assert pdf.Root.MarkInfo.Marked
        assert pdf.Root.ViewerPreferences.DisplayDocTitle
        assert len(str(pdf.docinfo.Title)) > 5
        assert not {"/CreationDate", "/ModDate"} & set(pdf.docinfo.keys())
        assert {str(one.S) for one in structure(pdf)} >= {"/Document", "/H1", "/H2", "/P", "/Table", "/TH", "/TD"}


@pytest.mark.browser
@pytest.mark.parametrize("name", NAMES)
def test_every_formula_and_figure_has_words(printed, name):
    with pikepdf.open(printed.pdf(name)) as pdf:
        shown = [one for one in structure(pdf) if str(one.S) in ("/Figure", "/Formula")]
        assert shown
        for one in shown:
            words = str(one.get(Name.Alt, ""))
            assert words and "formula:" not in words, one.S
        formulas = [str(one.Alt) for one in shown if str(one.S) == "/Formula"]
        if name == "01-turning":
            assert "v equals r omega" in formulas


@pytest.mark.browser
@pytest.mark.parametrize("name", NAMES)
def test_fonts_are_inside(printed, name):
    with pikepdf.open(printed.pdf(name)) as pdf:
        fonts = [
            one
            for one in pdf.objects
            if isinstance(one, pikepdf.Dictionary) and one.get(Name.Type) == Name.FontDescriptor
        ]
        assert fonts
        for font in fonts:
            assert Name.FontFile2 in font or Name.FontFile3 in font or Name.FontFile in font, font.FontName
        names = {str(font.FontName).rpartition("+")[2].partition("-")[0] for font in fonts}
        assert "SourceSerif4" in names and names <= {"SourceSerif4", "STIXTwoMath"}


@pytest.mark.browser
@pytest.mark.parametrize("name", NAMES)
def test_pages_are_of_one_size_and_none_is_blank(printed, name):
    document = pypdfium2.PdfDocument(printed.pdf(name))
    for page in document:
        assert tuple(map(round, page.get_size())) == SHEETS["A4"]
        assert len(page.get_textpage().get_text_bounded().split()) > 5


@pytest.mark.browser
@pytest.mark.parametrize("name", NAMES)
def test_nothing_stands_in_the_margins(printed, name):
    """A line that were clipped would reach the edge of the sheet."""
    for page in pypdfium2.PdfDocument(printed.pdf(name)):
        image = page.render(scale=1, grayscale=True).to_numpy()
        left, right = image[:, :50], image[:, image.shape[1] - 50 :]
        assert left.min() > 200 and right.min() > 200


@pytest.mark.browser
def test_the_outline_has_the_headings(printed):
    with pikepdf.open(printed.pdf("course")) as pdf, pdf.open_outline() as outline:
        titles = [item.title for item in outline.root]
        inside = [child.title for item in outline.root for child in item.children]
    assert titles[:1] == ["The Harbour Course"]
    assert "Turning at the rate omega" in titles
    assert "The numbers" in inside


@pytest.mark.browser
def test_no_control_of_a_calculator_is_printed(printed):
    text = "\n".join(text_of(printed.pdf("01-turning")))
    for words in ("Every digit", "Back to the printed numbers", "Link to these numbers", "Try again", "as printed"):
        assert words not in text
    for words in ("Given", "Found", "Working", "all else as given", "4.00 rpm"):
        assert words in text


@pytest.mark.browser
def test_a_page_printed_from_the_browser_shows_no_controls(printed, page):
    page.goto(f"{printed.address}chapters/02-edge-on/#edge-on")
    page.locator('#edge-on[data-state="live"]').wait_for(timeout=60_000)
    controls = page.locator(".calculator :is(button, input, select, textarea)")
    assert controls.filter(visible=True).count() > 5
    page.emulate_media(media="print")
    assert controls.filter(visible=True).count() == 0
    assert page.locator("#edge-on .given-printed").filter(visible=True).count() == 4
    assert page.locator("#edge-on .working-lines").is_visible()
    assert page.locator("#edge-on .calculator-picture figure").is_visible()
    assert page.locator(".calculator-picture table").filter(visible=True).count() == 0
    kept = page.locator("#edge-on .calculator-picture").evaluate(
        "(one) => [one, one.closest('.calculator-sheet')].map((box) => getComputedStyle(box))"
        ".map((style) => [style.breakInside, style.display])"
    )
    assert kept[0][0] == "avoid" and kept[1][1] == "block"
    assert page.locator(".on-paper, .md-header").filter(visible=True).count() == 0


@pytest.mark.browser
def test_contents_name_the_pages_on_which_chapters_begin(printed):
    pages = text_of(printed.pdf("course"))
    contents = next(text for text in pages if "Contents" in text)
    numbers = dict(re.findall(r"(Turning at the rate omega|The numbers|Edge-on|Readings)\s*(\d+)", contents))
    assert len(numbers) == 4
    for heading, start in (("The numbers", "The numbers"), ("Edge-on", "Chapter 2"), ("Readings", "Readings")):
        assert start in pages[int(numbers[heading]) - 1]


@pytest.mark.browser
def test_links_lead_into_the_course_or_to_the_site(printed):
    def targets(name):
        with pikepdf.open(printed.pdf(name)) as pdf:
            links = [one for page in pdf.pages for one in page.get(Name.Annots, []) if one.Subtype == Name.Link]
            outside = [str(one.A.URI) for one in links if Name.A in one and Name.URI in one.A]
            return outside, len(links) - len(outside)

    outside, _ = targets("01-turning")
    assert f"{printed.address}chapters/02-edge-on/" in outside
    assert "https://elsewhere.example/page" in outside
    outside, inside = targets("course")
    assert f"{printed.address}chapters/02-edge-on/" not in outside
    assert inside >= 5
    assert "https://elsewhere.example/page" in "".join(text_of(printed.pdf("01-turning")))


def codes_of(path):
    found = []
    for page in pypdfium2.PdfDocument(path):
        image = page.render(scale=200 / 72).to_pil()
        found += [one.text for one in zxingcpp.read_barcodes(image, formats=zxingcpp.BarcodeFormat.QRCode)]
    return found


@pytest.mark.browser
def test_every_code_reads_back_and_opens_the_same_numbers(printed, page):
    source = load_source(printed.folder)
    calculators = load_catalogue(printed.folder / "calculators")
    for chapter in (one for one in source.pages if one.chapter):
        read = codes_of(printed.pdf(chapter.file.removeprefix("chapters/").removesuffix(".md")))
        assert read == [short_address(source, chapter, one) for one in chapter.calculators]
        for address, one in zip(read, chapter.calculators, strict=True):
            assert len(address) <= 80
            check_opens(page, address, one, evaluate(calculators[one.calculator], one.given))
    (address,) = codes_of(printed.pdf("card-bench"))
    given = {"A": "9 cm", "omega": "3 s", "phi": "0 rad", "t": "0.5 s"}
    check_opens(page, address, Embedded("edge-on", "edge-on", given), evaluate(calculators["edge-on"], given))


def check_opens(page, address, one, found):
    page.goto(address)
    page.wait_for_url(f"**#{one.element_id}", timeout=20_000)
    shown = page.locator(f'#{one.element_id}[data-state="live"]')
    shown.wait_for(timeout=60_000)
    for key, out in found.outputs.items():
        assert shown.locator(f'output[name="{key}"]').inner_text() == (
            out.text if out.value is not None else out.reason
        )
    for key, reading in found.inputs.items():
        field = shown.locator(f'[name="{key}"]:not([type=range])')
        assert field.input_value().strip().startswith(reading.typed.strip())


@pytest.mark.browser
def test_short_pages_work_without_script_and_under_their_own_policy(printed):
    pages = list((printed.site / "q").glob("*/index.html"))
    assert len(pages) == 5  # four in chapters, one of the card
    for path in pages:
        text = path.read_text("utf-8")
        assert "<script" not in text and "<link" not in text
        assert text.count("Content-Security-Policy") == 1 and "default-src 'none'" in text
        assert 'http-equiv="refresh"' in text


@pytest.mark.browser
def test_chapters_link_to_their_pdfs(printed):
    chapter = (printed.site / "chapters/02-edge-on/index.html").read_text("utf-8")
    assert 'href="../../print/02-edge-on.pdf"' in chapter
    assert 'href="../../print/02-edge-on-handout.pdf"' in chapter
    assert 'href="../../print/card-bench.pdf"' in chapter
    assert 'href="print/course.pdf"' in (printed.site / "index.html").read_text("utf-8")


@pytest.mark.browser
def test_printing_again_takes_what_is_unchanged_and_gives_the_same_bytes(printed, capsys):
    before = {name: printed.pdf(name).read_bytes() for name in NAMES}
    print_site(printed.folder)
    assert "6 of 6 documents are unchanged" in capsys.readouterr().out
    work = printed.folder / "build/print"
    for path in work.glob("0*.pdf"):
        path.unlink()
    print_site(printed.folder)
    assert "2 of 6 documents are unchanged" in capsys.readouterr().out
    assert {name: printed.pdf(name).read_bytes() for name in NAMES} == before


@pytest.mark.browser
def test_letter_paper_and_no_address(printed, capsys):
    kept = {name: printed.pdf(name).read_bytes() for name in NAMES}
    try:
        print_site(printed.folder, sheet="Letter", address="")
        assert "no address is set, so no QR codes are printed" in capsys.readouterr().out
        document = pypdfium2.PdfDocument(io.BytesIO(printed.pdf("02-edge-on").read_bytes()))
        assert tuple(map(round, document[0].get_size())) == SHEETS["Letter"]
        assert codes_of(printed.pdf("02-edge-on")) == []
        assert len(pypdfium2.PdfDocument(printed.pdf("card-bench"))) == 1
    finally:
        for name, content in kept.items():
            printed.pdf(name).write_bytes(content)


@pytest.mark.browser
def test_a_handout_has_two_pages_at_most_the_core_and_nothing_further(printed):
    whole, short = (" ".join(text_of(printed.pdf(f"01-turning{part}"))) for part in ("", "-handout"))
    assert len(text_of(printed.pdf("01-turning-handout"))) <= 2
    assert "The numbers" in short and "Guard the disc" in short and "Notes" in short
    assert "Hypocycloids" in whole and "Hypocycloids" not in short
    assert "Working" in whole and "Working" not in short
    with pikepdf.open(printed.pdf("01-turning-handout")) as pdf, pdf.open_outline() as outline:
        assert [child.title for item in outline.root for child in item.children] == ["The numbers"]


@pytest.mark.browser
def test_a_card_is_one_page_with_the_kits_own_numbers(printed):
    pages = text_of(printed.pdf("card-bench"))
    assert len(pages) == 1
    calculators = load_catalogue(printed.folder / "calculators")
    given = {"A": "9 cm", "omega": "3 s", "phi": "0 rad", "t": "0.5 s"}
    assert evaluate(calculators["edge-on"], given).outputs["v_max"].text in pages[0].replace("\xa0", " ")
