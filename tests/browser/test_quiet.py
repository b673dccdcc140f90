"""A quiet page: nothing jumps, nothing is fetched from elsewhere, no rule of the content policy is broken."""

from pathlib import Path
from urllib.parse import urlsplit

import pytest

from tests.browser.conftest import ROOT
from tests.browser.pages import calculator, open_live, wait_until

pytestmark = pytest.mark.browser

WATCH = """
window.shifts = [];
window.violations = [];
window.fontsAt = Infinity;
addEventListener("load", () => document.fonts.ready.then(() => (fontsAt = performance.now())));
new PerformanceObserver((list) => {
  for (const one of list.getEntries()) {
    const nodes = one.sources.map(({node}) => (node?.outerHTML ?? node?.textContent ?? "").slice(0, 80));
    shifts.push({value: one.value, at: one.startTime, nodes});
  }
}).observe({type: "layout-shift", buffered: true});
document.addEventListener("securitypolicyviolation", ({violatedDirective, blockedURI}) => {
  violations.push(`${violatedDirective} ${blockedURI}`);
});
"""


@pytest.mark.parametrize("width", [390, 1280])
@pytest.mark.parametrize("dark", [False, True], ids=["light", "dark"])
def test_nothing_moves_and_nothing_complains_from_printed_to_live(phone, course, width, dark):
    page = phone(dark=dark, size={"width": width, "height": 844})
    page.add_init_script(WATCH)
    page.goto(course.page())
    calculator(page).scroll_into_view_if_needed()
    page.evaluate("document.querySelector('.calculator-picture')?.scrollIntoView()")
    wait_until(lambda: calculator(page).get_attribute("data-state") == "live", "live")
    wait_until(lambda: calculator(page).locator("[data-live]").count() == 1, "the live picture")
    page.wait_for_load_state("networkidle")
    assert page.evaluate("shifts.filter(({at}) => at > fontsAt)") == [], "once the text has its fonts"
    assert page.evaluate("shifts.reduce((sum, {value}) => sum + value, 0)") < 0.01, "all in all"
    assert page.evaluate("violations") == []
    assert page.heard.complaints == []


WORDS_AND_LINES = """() => [...document.querySelectorAll("svg.figure :is(text, path, circle)")]
  .filter((one) => one.textContent || one.getAttribute("d") || one.getAttribute("r"))
  .map((one) => {
    const {x, y, width, height} = one.getBoundingClientRect();
    return {what: `${one.tagName} ${one.textContent}`, at: [x, y, width, height], ink: getComputedStyle(one).stroke};
  }).sort((a, b) => a.what.localeCompare(b.what) || a.ink.localeCompare(b.ink)
    || a.at[1] - b.at[1] || a.at[0] - b.at[0])"""


@pytest.mark.parametrize("width", [320, 390, 1280])
@pytest.mark.parametrize("name", ["index", "few", "all"])
def test_the_live_picture_is_the_printed_one(phone, course, name, width):
    page = phone(size={"width": width, "height": 844})
    page.add_init_script("Object.defineProperty(navigator, 'connection', {value: {saveData: true}})")
    page.goto(course.page(name))
    page.wait_for_load_state("networkidle")
    boxes = [one.bounding_box() for one in page.locator(".picture-box").all()]
    printed = page.evaluate(WORDS_AND_LINES)
    page.locator("crankpin-calculator input").first.focus(timeout=10_000)
    pictures = page.locator(".picture-box").count()
    wait_until(lambda: page.locator(".picture-box[data-live]").count() == pictures, "the live pictures")
    assert page.locator("[data-panel]").count() == 0, "as printed, it is left alone"
    page.evaluate(
        """() => document.querySelectorAll("svg.figure").forEach((one) =>
            one.dispatchEvent(new PointerEvent("pointermove", {clientX: -9, clientY: -9})))"""
    )
    assert page.locator("svg.figure:not(:has([data-panel]))").count() == 0
    assert [one.bounding_box() for one in page.locator(".picture-box").all()] == boxes
    live = page.evaluate(WORDS_AND_LINES)
    assert [(one["what"], one["ink"]) for one in live] == [(one["what"], one["ink"]) for one in printed]
    for now, then in zip(live, printed, strict=True):
        assert now["at"] == pytest.approx(then["at"], abs=0.4), now["what"]


def test_letters_in_the_picture_are_large_enough_on_every_width(phone, course):
    for width in (320, 360, 390, 600, 1280):
        page = phone(size={"width": width, "height": 844})
        page.goto(course.page())
        size = page.evaluate(
            """() => {
              const svg = document.querySelector("svg.figure");
              const sizes = [...svg.querySelectorAll("text")].map((one) => parseFloat(getComputedStyle(one).fontSize));
              return Math.min(...sizes) * svg.getBoundingClientRect().width / svg.viewBox.baseVal.width;
            }"""
        )
        assert size >= 10.9, width


def test_everything_comes_from_the_sites_own_host(phone, course):
    page = phone()
    open_live(page, course.page())
    home = urlsplit(course.address).netloc
    asked = [url for url in page.heard.requests if urlsplit(url).scheme in ("http", "https")]
    assert len(asked) > 10
    assert {urlsplit(url).netloc for url in asked} == {home}


AXE = ROOT / "node_modules" / "axe-core" / "axe.min.js"


@pytest.mark.skipif(not AXE.exists(), reason="axe-core is not installed")
@pytest.mark.parametrize("dark", [False, True], ids=["light", "dark"])
@pytest.mark.parametrize("name", ["index", "few"])
def test_axe_finds_nothing(phone, course, name, dark):
    page = phone(dark=dark)
    page.goto(course.page(name))
    wait_until(lambda: calculator(page).get_attribute("data-state") == "live", "live")
    calculator(page).locator("[name=A]").fill("far")
    wait_until(lambda: calculator(page).locator("[aria-invalid]").count() == 1, "a fault to look at")
    page.evaluate(Path(AXE).read_text(encoding="utf-8") + "; void 0")
    found = page.evaluate("axe.run('crankpin-calculator').then(({violations}) => violations)")
    told = [f"{one['id']}: {node['html'][:120]} {node['failureSummary']}" for one in found for node in one["nodes"]]
    assert told == []


def test_the_theme_can_change_under_a_live_picture(phone, course):
    page = phone()
    open_live(page, course.page())
    wait_until(lambda: calculator(page).locator("[data-live]").count() == 1, "the live picture")
    curve = calculator(page).locator(".figure path.ink-position").first
    ink = "one => getComputedStyle(one).stroke"
    before = curve.evaluate(ink)
    page.locator('label[for="__palette_1"], label[for="__palette_0"]').locator("visible=true").first.click()
    wait_until(lambda: curve.evaluate(ink) != before, "other ink")
