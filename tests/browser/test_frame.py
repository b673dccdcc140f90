"""The frame round the text: search, the ground, the contents, the way back up; and what of it a phone fetches when."""

import pytest

from tests.browser.pages import wait_until

pytestmark = pytest.mark.browser

WIDE = {"width": 1280, "height": 800}


def ground(page):
    return page.evaluate("document.body.dataset.mdColorScheme")


def frame_scripts(page):
    return [url for url in page.heard.requests if "/javascripts/bundle." in url]


def open_search(page):
    page.locator("button[aria-label=Search]").click()
    wait_until(lambda: page.evaluate("document.activeElement.name") == "query", "the search field")


def close_search(page):
    page.keyboard.press("Escape")
    wait_until(lambda: not page.locator("#__search").is_checked(), "the search to close")


def paste(page, words):
    """Put words into the search field as a phone's keyboard does: no key is heard."""
    field = page.locator("input[name=query]")
    field.evaluate("(box, words) => { box.value = words; box.dispatchEvent(new InputEvent('input')); }", words)


def told(page):
    return page.locator(".md-search-result__meta").text_content().strip()


def test_a_phone_fetches_the_theme_s_script_when_it_searches(phone, course):
    page = phone()
    page.goto(course.page("words"))
    page.wait_for_load_state("networkidle")
    assert not frame_scripts(page)
    open_search(page)
    paste(page, "scroll")
    wait_until(lambda: told(page) == "1 matching document", "what was found")
    assert len(frame_scripts(page)) == 1
    page.wait_for_timeout(600)
    assert page.locator("#__search").is_checked(), "the theme's script closed the search as it started"
    close_search(page)
    assert not page.heard.complaints


def test_what_was_pasted_in_place_of_other_words_is_searched_for(phone, course):
    page = phone()
    page.goto(course.page("words"))
    open_search(page)
    paste(page, "scroll")
    wait_until(lambda: told(page) == "1 matching document", "what was found")
    paste(page, "barnacle")
    wait_until(lambda: told(page) == "No matching documents", "nothing to be found")


@pytest.mark.parametrize(
    ("lost", "said"),
    [
        ("**/search/index.*.json", "The list of words could not be fetched."),
        ("**/javascripts/bundle.*", "Search could not be fetched."),
    ],
)
def test_a_search_that_cannot_be_fetched_says_so_and_can_be_opened_again(phone, course, lost, said):
    page = phone()
    page.goto(course.page("words"))
    page.route(lost, lambda route: route.abort())
    open_search(page)
    paste(page, "scroll")
    wait_until(lambda: told(page).startswith(said), "what is the matter")
    page.unroute(lost)
    close_search(page)
    open_search(page)
    paste(page, "scroll past")
    wait_until(lambda: told(page) == "1 matching document", "what was found")


def test_search_is_closed_as_soon_as_it_was_opened_once_more(phone, course):
    page = phone()
    page.goto(course.page("words"))
    for _ in range(3):
        open_search(page)
        close_search(page)
        page.wait_for_timeout(600)


def part_read(page):
    """The entry of the page's contents that is marked as being read."""
    marked = page.locator(".md-nav--secondary [aria-current=location]")
    assert marked.count() <= 1
    assert marked.count() == page.locator(".md-nav--secondary .md-nav__link--active").count()
    return marked.text_content().strip() if marked.count() else None


def test_contents_beside_the_text_follow_the_reading(phone, course):
    page = phone(size=WIDE)
    page.goto(course.page("parts"))
    page.wait_for_load_state("networkidle")
    links = page.locator(".md-nav--secondary a[href^='#']")
    titles = [title.strip() for title in links.all_text_contents()]
    assert titles == ["Part one", "Part two", "Part three"]
    assert part_read(page) in (None, titles[0])
    for title, link in zip(titles, links.all(), strict=True):
        link.click()
        wait_until(lambda title=title: part_read(page) == title, f"the mark at {title}")
    page.evaluate("scrollTo(0, 0)")
    wait_until(lambda: part_read(page) in (None, titles[0]), "the mark to go back")
    page.evaluate("scrollTo(0, document.body.scrollHeight)")
    wait_until(lambda: part_read(page) == titles[-1], "the mark at the last part")
    assert not frame_scripts(page)


def test_contents_longer_than_the_screen_scroll_by_themselves(phone, course):
    page = phone(size={"width": 1280, "height": 160})
    page.goto(course.page("parts"))
    last = page.locator(".md-sidebar--primary a").last
    last.evaluate("one => one.closest('.md-sidebar__scrollwrap').scrollTo(0, 1e6)")
    assert page.evaluate("scrollY") == 0
    place = last.bounding_box()
    assert place["y"] + place["height"] <= 160


@pytest.mark.parametrize("key", ["s", "/"])
def test_a_key_opens_the_search_of_a_page_that_has_not_fetched_it(phone, course, key):
    page = phone()
    page.goto(course.page("words"))
    page.wait_for_load_state("networkidle")
    page.keyboard.press(key)
    wait_until(lambda: page.evaluate("document.activeElement.name") == "query", "the search field")
    assert page.locator("input[name=query]").input_value() == ""


@pytest.mark.parametrize(("system", "other"), [("light", "night"), ("dark", "paper")])
def test_the_ground_is_the_system_s_until_the_reader_chooses(phone, course, system, other):
    page = phone()
    page.emulate_media(color_scheme=system)
    page.goto(course.page("words"))
    wait_until(lambda: ground(page) != other, "the system's ground")
    page.locator("[data-md-component=palette] label:visible").click()
    assert ground(page) == other
    page.goto(course.page())
    wait_until(lambda: ground(page) == other, "the ground that was chosen")
    assert page.locator("[data-md-component=palette] label:visible").count() == 1
    assert not frame_scripts(page)


def test_the_way_back_up_is_offered_to_a_reader_who_turns_round(phone, course):
    page = phone()
    page.goto(course.page("case"))
    up = page.locator(".md-top")
    page.wait_for_load_state("networkidle")
    page.evaluate("scrollTo(0, 1500)")
    page.wait_for_timeout(200)
    assert up.evaluate("one => one.hidden")
    page.evaluate("scrollTo(0, 1400)")
    wait_until(lambda: not up.evaluate("one => one.hidden"), "the way back up")
    up.click()
    wait_until(lambda: page.evaluate("scrollY") == 0, "the top")
    wait_until(lambda: up.evaluate("one => one.hidden"), "the way back up to go")


def test_no_line_waits_for_its_letters(phone, course):
    page = phone()
    page.goto(course.page("case"))
    assert page.evaluate("[...document.fonts].map((face) => face.status)").count("loaded") >= 2
    page.wait_for_load_state("networkidle")
    assert not [url for url in page.heard.requests if "woff2" in url and not url.startswith("data:")]


def test_no_line_moves_when_letters_come_on_a_slow_phone(phone, course):
    page = phone()
    page.context.new_cdp_session(page).send("Emulation.setCPUThrottlingRate", {"rate": 6})
    page.add_init_script("""window.shift_ = 0; new PerformanceObserver((list) => {
        for (const entry of list.getEntries()) window.shift_ += entry.value;
    }).observe({type: "layout-shift", buffered: true});""")
    page.goto(course.page("case"))
    page.wait_for_load_state("networkidle")
    page.wait_for_timeout(500)
    assert page.evaluate("window.shift_") == 0


def test_a_browser_that_keeps_nothing_has_menu_and_search_all_the_same(phone, course):
    page = phone()
    page.add_init_script("Object.defineProperty(window, 'localStorage', {get() { throw new DOMException('no'); }})")
    page.goto(course.page("words"))
    open_search(page)
    close_search(page)
    page.locator("button[aria-label=Contents]").click()
    wait_until(lambda: page.locator("#__drawer").is_checked(), "the contents")


COVERED = """() => [...document.querySelectorAll(".foot a, .foot button")].flatMap((one) => {
  if (!one.checkVisibility()) return [];
  one.scrollIntoView({block: "center"});
  const box = one.getBoundingClientRect();
  const places = [0.02, 0.25, 0.5, 0.75, 0.98].map((part) => [box.left + part * box.width, box.top + box.height / 2]);
  const away = places.filter(([x, y]) => !one.contains(document.elementFromPoint(x, y)) &&
    !document.elementFromPoint(x, y)?.contains(one));
  return away.length ? [one.textContent.trim()] : [];
})"""


@pytest.mark.parametrize("width", [390, 960, 1220, 1280, 1920])
def test_nothing_lies_over_the_foot_of_a_page(phone, course, width):
    page = phone(size={"width": width, "height": 320})  # the contents are longer than the screen
    for name in ("parts", "case"):
        page.goto(course.page(name))
        page.wait_for_load_state("networkidle")
        page.evaluate("scrollTo(0, 1e6)")
        wait_until(
            lambda: page.evaluate("innerHeight + scrollY >= document.documentElement.scrollHeight - 2"), "the end"
        )
        assert page.evaluate(COVERED) == [], name


RINGED = """() => {
  const one = document.activeElement;
  const style = getComputedStyle(one);
  const ringed = style.outlineStyle !== "none" && parseFloat(style.outlineWidth) >= 2;
  const name = one.getAttribute("aria-label") ?? one.textContent.trim().slice(0, 30);
  return [one.tagName, name, ringed, one === document.body];
}"""


@pytest.mark.parametrize("size", [{"width": 390, "height": 844}, WIDE])
def test_the_keyboard_s_place_is_always_to_be_seen(phone, course, size):
    page = phone(size=size)
    page.goto(course.page("moving"))
    page.wait_for_load_state("networkidle")
    places = []
    for _ in range(90):
        page.keyboard.press("Tab")
        places.append(page.evaluate(RINGED))
        if places[-1][3]:
            break
    assert len(places) > 15
    assert [place for place in places if not place[2] and not place[3]] == []
