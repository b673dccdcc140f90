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
    wait_until(lambda: calculator(page).locator(".uplot").count() == 3, "the live picture")
    page.wait_for_load_state("networkidle")
    assert page.evaluate("shifts.filter(({at}) => at > fontsAt)") == [], "once the text has its fonts"
    assert page.evaluate("shifts.reduce((sum, {value}) => sum + value, 0)") < 0.01, "all in all"
    assert page.evaluate("violations") == []
    assert page.heard.complaints == []


def test_the_live_picture_fills_the_box_of_the_printed_one(phone, course):
    page = phone()
    page.goto(course.page())
    printed = calculator(page).locator("svg.figure").bounding_box()
    open_live(page, course.page())
    wait_until(lambda: calculator(page).locator(".uplot").count() == 3, "the live picture")
    assert calculator(page).locator("svg.figure").bounding_box() == printed
    live = calculator(page).locator(".picture-live")
    box = live.bounding_box()
    assert [box["width"], box["height"]] == pytest.approx([printed["width"], printed["height"]], abs=0.5)
    drawn = sum(one.bounding_box()["height"] for one in live.locator(".uplot").all())
    assert drawn == pytest.approx(printed["height"], abs=2)


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
    wait_until(lambda: calculator(page).locator(".uplot").count() == 3, "the live picture")
    canvas = calculator(page).locator("canvas").first
    ink = "one => [...one.getContext('2d').getImageData(0, 0, one.width, one.height).data].join()"
    before = canvas.evaluate(ink)
    page.locator('label[for="__palette_1"], label[for="__palette_0"]').locator("visible=true").first.click()
    wait_until(lambda: canvas.evaluate(ink) != before, "other ink")
