"""The numbers of a calculator are on screen with the first paint of a page: in words, place and size.

Each frame's numbers are noted just before it is painted, and the browser says which frame was the first with content.
What that frame showed is compared with what was worked out here, and with the page at rest. Whether a page's scripts
come at all makes no difference, as each page is opened with and without them.
"""

import re

import pytest

from crankpin.notation.cases import by_name, read_cases
from crankpin.notation.course import Course
from tests.browser.conftest import ROOT
from tests.browser.pages import wait_for_state, wait_until

pytestmark = pytest.mark.browser

SIZES = {"phone": {"width": 390, "height": 844}, "desk": {"width": 1280, "height": 800}}

#: The first calculator of each page, or its case, and how high a window must be to have it all in sight.
PAGES = {"index": ("edge-on", 0), "chapter": ("pier-wheel", 6000)}

NOTE = """(() => {
  const shown = (of) => {
    const box = document.querySelector("crankpin-calculator");
    const seen = {};
    for (const one of box?.querySelectorAll("output, .strip-results b") ?? []) {
      const name = one.name ?? `strip ${one.parentElement.dataset.strip}`;
      const range = document.createRange();
      range.selectNodeContents(one);
      const {left, top, right, bottom, width, height} = range.getBoundingClientRect();
      if (!width || left < 0 || top < 0 || right > innerWidth || bottom > innerHeight) continue;
      const there = document.elementFromPoint((left + right) / 2, (top + bottom) / 2);
      if (!there || !(one.contains(there) || there.contains(one) && there.closest(of))) continue;
      const style = getComputedStyle(one);
      const ink = [style.color, style.opacity, style.visibility, style.fontFamily, style.fontSize].join(" ");
      seen[name] = {text: one.textContent, place: [left, top, width, height].map((x) => Math.round(x * 10) / 10), ink};
    }
    return seen;
  };
  const frames = [];
  let first = 0;
  const frame = () => {
    if (!first || performance.now() < first + 4) {
      frames.push([performance.now(), shown("crankpin-calculator")]);
      requestAnimationFrame(frame);
    }
  };
  requestAnimationFrame(frame);
  new PerformanceObserver((list) => {
    first ||= list.getEntriesByName("first-contentful-paint")[0]?.startTime ?? 0;
  }).observe({type: "paint", buffered: true});
  // The browser tells the time of a paint in steps of four milliseconds, rounded down.
  globalThis.atFirstPaint = () => first && frames.findLast(([time]) => time < first + 4)?.[1];
  globalThis.atRest = () => shown("crankpin-calculator");
})();"""


NUMBERS = re.compile(r"(<output [^>]*|<b)>([^<]+)(</output>|</b></span>)")


def emptied(html):
    """Return a page without the words of its numbers; they wait in a title."""
    return NUMBERS.sub(r'\1 title="\2">\3', html)


LATER = """addEventListener("load", () => setTimeout(() => {
  for (const one of document.querySelectorAll("output, .strip-results b")) CHANGE;
}, 200));"""


@pytest.fixture
def seen(phone, course):
    """Return a function that opens a page and gives what its first paint and the page at rest show of the numbers."""

    def look(where, size, *, scripts=True, before="", change=lambda html: html):
        element, height = PAGES[where]
        page = phone(size={**SIZES[size], "height": max(height, SIZES[size]["height"])})
        page.add_init_script(NOTE + before)
        if not scripts:
            page.route(lambda url: url.split("?")[0].endswith((".js", ".mjs", ".wasm")), lambda route: route.abort())
        address = course.page(where)
        page.route(address, lambda route: route.fulfill(response=(got := route.fetch()), body=change(got.text())))
        page.goto(address)
        if scripts:
            wait_for_state(page, "live", element)
        page.wait_for_load_state("networkidle")
        page.wait_for_timeout(500)
        wait_until(lambda: page.evaluate("Boolean(atFirstPaint())"), "the first paint")
        return page.evaluate("atFirstPaint()"), page.evaluate("atRest()")

    return look


@pytest.fixture(scope="module")
def printed(catalogue):
    """Return what each result must say, in its row and in the strip, on each page."""
    cases = read_cases((ROOT / "harbour.toml").read_text("utf-8"), "harbour.toml")
    trial = Course(catalogue, by_name(cases, catalogue))
    outputs = {where: trial.evaluation(name).outputs for where, (name, _) in PAGES.items()}
    rows = {where: {key: one.text for key, one in found.items()} for where, found in outputs.items()}
    return {where: {**row, **{f"strip {key}": text for key, text in row.items()}} for where, row in rows.items()}


def check(first, rest, wanted):
    assert len(first) > 3, "the first paint shows too few numbers"
    assert {name: one["text"] for name, one in first.items()} == {name: wanted[name] for name in first}
    assert first == rest, "the numbers have changed or moved since the first paint"


@pytest.mark.parametrize("scripts", [True, False], ids=["with scripts", "without"])
@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("where", PAGES)
def test_the_numbers_are_there_with_the_first_paint(seen, printed, where, size, scripts):
    check(*seen(where, size, scripts=scripts), printed[where])


@pytest.mark.parametrize(
    ("before", "change"),
    [
        (LATER.replace("CHANGE", "one.textContent = one.title"), emptied),
        (LATER.replace("CHANGE", "one.closest('.calculator').style.marginTop = '40px'"), str),
        (LATER.replace("CHANGE", "one.style.fontSize = '115%'"), str),
        (LATER.replace("CHANGE", "one.hidden = false"), lambda html: html.replace("<output ", "<output hidden ")),
    ],
    ids=["words come later", "they move", "they grow", "they are shown later"],
)
def test_numbers_that_come_later_or_move_are_noticed(seen, printed, before, change):
    found = seen("index", "desk", scripts=False, before=before, change=change)
    with pytest.raises(AssertionError):
        check(*found, printed["index"])
