"""Moving pictures in a browser: dragged, stepped, scrubbed and changed, and compared with the mechanics."""

import math
import time
from pathlib import Path

import pypdfium2
import pytest

from crankpin.figures.stage import stage
from crankpin.mechanics import damping, harmonic
from tests.browser.pages import wait_until

A, OMEGA = 12.0, 18 * math.tau / 60  # cm, rad/s
PERIOD = math.tau / OMEGA
PLAN = stage("vertical", ("x", "v", "a"), "rod")
PIXEL = 0.5


def scene(page, element="wheel"):
    return page.locator(f"crankpin-scene#{element}")


def state(page, element="wheel"):
    return scene(page, element).get_attribute("data-state")


def now(page, element="wheel"):
    return page.evaluate("id => document.getElementById(id).now", element)


def do(page, name, element="wheel"):
    scene(page, element).locator(f"[data-do={name}]").click()


def reading(page, key):
    return scene(page).locator(f"[data-reading={key}] dd").text_content()


def centre(page):
    """Return the wheel's centre and the radius of the point's circle in the window, in CSS pixels."""
    box = scene(page).locator(".scene-stage").bounding_box()
    unit = box["width"] / PLAN.width
    return box["x"] + unit * PLAN.wheel.x, box["y"] + unit * PLAN.wheel.y, unit * PLAN.wheel.radius * A / 12.0


def ink(page, box, colour, layer="moving", element="wheel"):
    """Return how many pixels of a layer, in a box of the plan (left, top, right, bottom), have a colour."""
    return page.evaluate(
        """([id, layer, [left, top, right, bottom], wide, colour]) => {
            const canvas = document.querySelector(`#${id} canvas.scene-${layer}`);
            const k = canvas.width / wide;
            const copy = document.createElement("canvas");
            Object.assign(copy, {width: canvas.width, height: canvas.height});
            const pen = copy.getContext("2d", {willReadFrequently: true});
            pen.drawImage(canvas, 0, 0);
            const cut = [left, top, right - left, bottom - top].map((one) => Math.round(one * k));
            const {data} = pen.getImageData(...cut);
            const probe = document.createElement("canvas").getContext("2d");
            probe.fillStyle = colour.startsWith("--")
                ? getComputedStyle(canvas).getPropertyValue(colour).trim() : colour;
            probe.fillRect(0, 0, 1, 1);
            const [red, green, blue] = probe.getImageData(0, 0, 1, 1).data;
            let count = 0;
            for (let i = 0; i < data.length; i += 4) {
                const off = Math.abs(data[i] - red) + Math.abs(data[i + 1] - green) + Math.abs(data[i + 2] - blue);
                if (data[i + 3] > 60 && off < 120) count++;
            }
            return count; }""",
        [element, layer, box, PLAN.width, colour],
    )


def moment(page):
    return scene(page).locator("[data-part=moment]").text_content()


def scrub(page, share, element="wheel"):
    page.evaluate(
        """([id, share]) => { const time = document.querySelector(`#${id} [data-part=time]`);
            time.value = share; time.dispatchEvent(new Event("input")); }""",
        [element, share],
    )


@pytest.fixture
def moving(phone, course):
    page = phone()
    page.goto(course.page("moving"))
    wait_until(lambda: state(page) == "ready", "the drawing")
    yield page
    assert page.heard.complaints == []


def is_where_the_mechanics_say(shown):
    phase, t = 0.0, shown["time"]
    assert shown["pin"][0] == pytest.approx(harmonic.position(A, OMEGA, phase, t), abs=2e-4 * A)
    assert shown["pin"][1] == pytest.approx(A * math.sin(OMEGA * t), abs=2e-4 * A)
    assert shown["velocity"][0] == pytest.approx(harmonic.velocity(A / 100, OMEGA, phase, t), abs=1e-4)
    assert shown["acceleration"][0] == pytest.approx(harmonic.acceleration(A / 100, OMEGA, phase, t), abs=1e-4)


def test_nothing_moves_before_the_reader_starts_it(moving):
    before = now(moving)
    time.sleep(0.4)
    assert now(moving) == before


def test_it_moves_as_the_clock_says_and_stops_when_told(moving):
    do(moving, "go")
    began = now(moving)["time"]
    time.sleep(0.8)
    do(moving, "go")
    ended = now(moving)
    assert began < ended["time"] < began + 5.0
    is_where_the_mechanics_say(ended)
    time.sleep(0.2)
    assert now(moving) == ended


def test_a_tenth_of_the_pace(moving):
    scene(moving).locator("[data-part=pace]").select_option("0.1")
    do(moving, "go")
    began, clock = now(moving)["time"], time.monotonic()
    time.sleep(1.0)
    ended, passed = now(moving)["time"], time.monotonic() - clock
    assert 0.0 < ended - began < 0.11 * passed + 0.02


def test_steps_are_five_degrees(moving):
    before = now(moving)["angle"]
    do(moving, "on")
    assert now(moving)["angle"] == pytest.approx(before + 5.0)
    for _ in range(3):
        do(moving, "back")
    assert now(moving)["angle"] == pytest.approx(before - 10.0)
    is_where_the_mechanics_say(now(moving))


def test_arrow_keys_turn_the_point_and_it_says_where_it_is(moving):
    handle = scene(moving).get_by_role("slider", name="angle of the point on the wheel")
    handle.focus()
    before = now(moving)["angle"]
    moving.keyboard.press("ArrowRight")
    moving.keyboard.press("PageUp")
    assert now(moving)["angle"] == pytest.approx(before + 35.0)
    assert handle.get_attribute("aria-valuenow") == str(round(before + 35.0))
    assert "position" in handle.get_attribute("aria-valuetext")


@pytest.mark.parametrize("angle", [0.0, 137.0, 250.0, 333.0])
def test_the_point_follows_the_drag_to_a_pixel(moving, angle):
    x, y, radius = centre(moving)
    box = scene(moving).locator(".scene-stage").bounding_box()
    at = now(moving)["at"]
    moving.mouse.move(box["x"] + at[0], box["y"] + at[1])
    moving.mouse.down()
    turn = math.radians(angle)
    target = (x - radius * math.sin(turn), y - radius * math.cos(turn))
    moving.mouse.move(*target, steps=8)
    moving.mouse.up()
    shown = now(moving)
    assert shown["angle"] % 360 == pytest.approx(angle, abs=0.5) or angle == 0.0
    assert box["x"] + shown["at"][0] == pytest.approx(target[0], abs=PIXEL)
    assert box["y"] + shown["at"][1] == pytest.approx(target[1], abs=PIXEL)
    is_where_the_mechanics_say(shown)


def test_a_touch_drags_too(moving):
    x, y, radius = centre(moving)
    box = scene(moving).locator(".scene-stage").bounding_box()
    at = now(moving)["at"]
    touch = moving.context.new_cdp_session(moving)
    turn = math.radians(200)
    places = [(box["x"] + at[0], box["y"] + at[1]), (x - radius * math.sin(turn), y - radius * math.cos(turn))]
    for kind, place in zip(("touchStart", "touchMove"), places, strict=True):
        points = [{"x": place[0], "y": place[1]}]
        touch.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})
    touch.send("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})
    assert now(moving)["angle"] % 360 == pytest.approx(200.0, abs=1.0)


def test_the_curves_can_be_scrubbed(moving):
    plot = PLAN.plots[1]
    box = scene(moving).locator(".scene-stage").bounding_box()
    unit = box["width"] / PLAN.width
    moving.mouse.click(box["x"] + unit * (plot.left + plot.width / 4), box["y"] + unit * (plot.top + 20))
    assert now(moving)["time"] == pytest.approx(PERIOD / 2, abs=0.05)  # a pixel
    assert reading(moving, "x") == "−12.0 cm"


def test_a_changed_number_keeps_the_angle_and_the_running(moving):
    scene(moving).locator("summary").click()
    before = now(moving)
    scene(moving).locator("[name=A]").fill("9")
    wait_until(lambda: scene(moving).get_attribute("data-stale") is None and now(moving)["pin"][0] < 5.9, "the answer")
    after = now(moving)
    assert after["angle"] == pytest.approx(before["angle"])
    assert math.hypot(*after["pin"]) == pytest.approx(9.0, abs=1e-3)
    scene(moving).locator("[name=phi]").fill("90")
    wait_until(lambda: scene(moving).get_attribute("data-stale") is None and now(moving)["time"] > 2, "the answer")
    assert now(moving)["angle"] % 360 == pytest.approx(before["angle"] % 360)
    assert scene(moving).locator("output[name=v_max]").text_content() == "0.170 m/s"


def test_what_would_flicker_is_refused_with_the_caution(moving):
    scene(moving).locator("summary").click()
    scene(moving).locator("[name=omega]").fill("300")
    wait_until(lambda: scene(moving).locator("output[name=f]").text_content() == "5.00 Hz", "the answer")
    do(moving, "go")
    assert state(moving) == "ready"
    assert "sensitive to light" in scene(moving).locator("[data-part=word]").text_content()
    scene(moving).locator("[data-part=pace]").select_option("0.1")
    do(moving, "go")
    assert state(moving) == "moving"


def test_a_wrong_number_is_told_and_the_picture_stays(moving):
    scene(moving).locator("summary").click()
    before = now(moving)
    scene(moving).locator("[name=A]").fill("-3")
    wait_until(lambda: "must be" in scene(moving).text_content(), "the message")
    assert now(moving) == before


def test_only_what_is_on_screen_runs(moving):
    do(moving, "go")
    scene(moving, "spiral").scroll_into_view_if_needed()
    wait_until(lambda: state(moving, "spiral") == "ready", "the spiral")
    time.sleep(0.3)
    before = now(moving)
    time.sleep(0.3)
    assert now(moving) == before
    assert state(moving) == "moving"


def test_nothing_is_drawn_while_the_page_is_hidden(moving):
    do(moving, "go")
    began = now(moving)["time"]
    wait_until(lambda: now(moving)["time"] > began, "some motion")
    hide = """hidden => { Object.defineProperty(document, "hidden", {value: hidden, configurable: true});
        document.dispatchEvent(new Event("visibilitychange")); }"""
    moving.evaluate(hide, True)
    before = now(moving)
    time.sleep(0.3)
    assert now(moving) == before
    moving.evaluate(hide, False)
    wait_until(lambda: now(moving)["time"] > before["time"], "the motion going on")
    assert now(moving)["time"] < before["time"] + 0.3


def test_the_spiral_is_the_damped_motion_and_ends(moving):
    scene(moving, "spiral").scroll_into_view_if_needed()
    wait_until(lambda: state(moving, "spiral") == "ready", "the spiral")
    given = (1000.0, 6300.0, 250.0, 0.3, 0.0)
    scrub(moving, 0.99, "spiral")
    shown = now(moving, "spiral")
    assert shown["pin"][0] == pytest.approx(100 * damping.damped_motion(*given, shown["time"]).position, abs=0.01)
    do(moving, "go", "spiral")
    wait_until(lambda: state(moving, "spiral") == "ready", "the end of the run")


def test_where_it_is_is_said_when_asked(moving):
    assert scene(moving).locator("[data-part=word]").text_content() == ""
    do(moving, "say")
    said = scene(moving).locator("[data-part=word]").text_content()
    assert said.startswith("angle 60°; time 0.56 s; position 6.0 cm; velocity −0.196 m/s")
    assert said.endswith("It moves downwards, getting faster.")


@pytest.fixture
def resting(phone, course):
    """The page of a reader who asks for less motion: it stays as printed."""
    page = phone()
    page.emulate_media(reduced_motion="reduce")
    page.goto(course.page("moving"))
    time.sleep(0.5)
    assert state(page) == "printed"
    return page


def test_with_less_motion_asked_for_the_still_stays_until_the_reader_starts(resting):
    page = resting
    assert scene(page).locator(".scene-stage > svg").is_visible()
    do(page, "go")
    assert state(page) == "moving"


def test_with_less_motion_asked_for_the_point_can_be_dragged_at_once(resting):
    page = resting
    x, y, radius = centre(page)
    turned = math.radians(now(page)["angle"])
    page.mouse.move(x - radius * math.sin(turned), y - radius * math.cos(turned))
    page.mouse.down()
    page.mouse.move(x, y + radius, steps=4)
    page.mouse.up()
    assert now(page)["angle"] == pytest.approx(180.0, abs=1.0)
    shown = now(page)
    time.sleep(0.3)
    assert now(page) == shown


def test_before_python_lives_it_moves_steps_and_is_dragged(phone, course):
    page = phone()
    page.route("**/python-*.zip*", lambda route: None)  # never comes
    page.goto(course.page("moving"))
    wait_until(lambda: state(page) == "ready", "the drawing")
    do(page, "go")
    began = now(page)["time"]
    wait_until(lambda: now(page)["time"] > began + 0.3, "some motion")
    do(page, "go")
    do(page, "on")
    is_where_the_mechanics_say(now(page))
    scene(page).locator("summary").click()
    before = now(page)
    scene(page).locator("[name=A]").fill("9")
    wait_until(lambda: scene(page).get_attribute("data-stale") is not None, "the mark of waiting")
    assert now(page) == before


def test_on_paper_stand_the_numbers_of_the_still(moving):
    do(moving, "on")
    do(moving, "on")
    live = reading(moving, "x")
    assert live != "6.0 cm"
    printed = pypdfium2.PdfDocument(moving.pdf())
    words = "".join(page.get_textpage().get_text_range() for page in printed)
    assert "6.0 cm" in words
    assert live not in words
    assert reading(moving, "x") == live


def test_the_still_and_the_numbers_stand_there_without_script(phone, course):
    page = phone(javascript=False)
    page.goto(course.page("moving"))
    assert scene(page).locator(".scene-stage > svg").is_visible()
    assert reading(page, "x") == "6.0 cm"
    assert not scene(page).locator("[data-do=go]").is_visible()


def test_the_page_does_not_shift(phone, course):
    """Of itself, that is: without what a tap did."""
    page = phone()
    page.add_init_script("""window.shift_ = []; new PerformanceObserver((list) => {
        for (const entry of list.getEntries()) for (const {node} of entry.sources)
            if (!entry.hadRecentInput && node?.parentElement?.closest("crankpin-scene"))
                window.shift_.push(node.outerHTML ?? node.textContent);
    }).observe({type: "layout-shift", buffered: true});""")
    page.goto(course.page("moving"))
    wait_until(lambda: state(page) == "ready", "the drawing")
    do(page, "go")
    time.sleep(0.5)
    do(page, "go")
    assert page.evaluate("window.shift_") == []


def test_nothing_on_the_page_is_written_while_it_moves(moving):
    scene(moving).scroll_into_view_if_needed()
    do(moving, "go")
    moving.evaluate("""() => { window.written_ = 0;
        new MutationObserver((list) => { window.written_ += list.length; })
            .observe(document.body, {subtree: true, childList: true, characterData: true, attributes: true}); }""")
    began = now(moving)["time"]
    wait_until(lambda: now(moving)["time"] > began + 0.4, "some motion")
    assert moving.evaluate("window.written_") == 0
    do(moving, "go")
    assert moving.evaluate("window.written_") > 0
    assert reading(moving, "x") == f"{now(moving)['pin'][0]:.1f} cm".replace("-", "−")


def swipe(page, start, across, down):
    """Move one finger in four steps, and return how far the page has scrolled once it is at rest."""
    touch = page.context.new_cdp_session(page)
    for i, kind in enumerate(("touchStart", *["touchMove"] * 4)):
        points = [{"x": start[0] + across * i / 4, "y": start[1] + down * i / 4}]
        touch.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})
    touch.send("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})
    seen = [None]
    while len(set(seen[-3:])) > 1 or len(seen) < 4:
        time.sleep(0.15)
        seen.append(page.evaluate("scrollY"))
    return seen[-1]


def test_a_touch_on_the_moving_point_holds_it_and_one_beside_it_scrolls(moving):
    box = scene(moving).locator(".scene-stage").bounding_box()
    scene(moving).locator("[data-part=pace]").select_option("0.01")
    do(moving, "go")
    moving.evaluate("scrollTo(0, 0)")
    before = now(moving)
    assert swipe(moving, (box["x"] + before["at"][0], box["y"] + before["at"][1]), 0, -120) == 0
    assert abs(now(moving)["angle"] - before["angle"]) > 5.0
    x, y, _ = centre(moving)
    assert swipe(moving, (x, y + 20), 0, -120) > 0


def test_a_touch_on_a_curve_scrolls_the_page_or_sets_the_time_as_it_moves(moving):
    moving.evaluate("scrollTo(0, 0)")
    plot = PLAN.plots[1]
    box = scene(moving).locator(".scene-stage").bounding_box()
    unit = box["width"] / PLAN.width
    start = (box["x"] + unit * (plot.left + 0.8 * plot.width), box["y"] + unit * (plot.top + 20))
    before = now(moving)
    assert swipe(moving, start, 0, -120) > 0
    assert now(moving) == before
    moving.evaluate("scrollTo(0, 0)")
    assert swipe(moving, start, -unit * 0.4 * plot.width, 0) == 0
    assert now(moving)["time"] == pytest.approx(0.8 * PERIOD, abs=0.06)
    mark = (box["x"] + unit * (plot.left + 0.4 * plot.width), box["y"] + unit * mark_level(moving, plot))
    assert swipe(moving, mark, 10, 60) == 0
    assert now(moving)["time"] == pytest.approx((0.8 + 20 / unit / plot.width) * PERIOD, abs=0.06)


def mark_level(page, plot):
    """Return how far down the mark on the curve of the velocity is, in the plan."""
    full = 0.25  # m/s: the whole scale of 0.226
    return plot.top + plot.height * (1 - now(page)["velocity"][0] / full) / 2


def test_a_link_opens_the_scene_as_it_was_set(moving, phone, course):
    scene(moving).locator("summary").click()
    scene(moving).locator("[name=A]").fill("9")
    wait_until(lambda: scene(moving).get_attribute("data-stale") is None and now(moving)["pin"][0] < 5.9, "the answer")
    for _ in range(4):
        do(moving, "on")
    scene(moving).locator("[data-part=pace]").select_option("0.1")
    do(moving, "link")
    field = scene(moving).locator("[data-part=link]")
    wait_until(lambda: field.input_value() != "", "the link")
    assert "wheel.A=9cm" in field.input_value()
    other = phone()
    other.goto(field.input_value())
    wait_until(lambda: scene(other).locator("output[name=v_max]").text_content() == "0.170 m/s", "the answer")
    assert now(other)["pin"] == pytest.approx(now(moving)["pin"], abs=2e-3)
    assert now(other)["angle"] == pytest.approx(80.0, abs=0.05)
    assert scene(other).locator("[data-part=pace]").input_value() == "0.1"
    assert other.heard.complaints == []


def test_what_is_wrong_in_a_link_is_told(phone, course):
    page = phone()
    page.goto(f"{course.page('moving')}?wheel.A=-3cm&wheel.turn=far&wheel.pace=9#wheel")
    told = scene(page).locator("[data-part=field-fault]", has_text="must be")
    wait_until(told.is_visible, "the message")
    assert now(page)["angle"] == pytest.approx(60.0)
    assert scene(page).locator("[data-part=pace]").input_value() == "1"


def test_the_bob_follows_its_law_and_the_run_ends(phone, course):
    page = phone()
    page.goto(course.page("swings"))
    scene(page, "pendulum").scroll_into_view_if_needed()
    wait_until(lambda: state(page, "pendulum") == "ready", "the drawing")
    scrub(page, 0.37, "pendulum")
    shown = now(page, "pendulum")
    small = 6.0 * harmonic.position(math.radians(60), math.sqrt(9.81 / 6.0), 0.0, shown["time"])
    assert shown["pin"][0] == pytest.approx(small, abs=1e-3)


@pytest.mark.parametrize("turn", [1 / 6, 5 / 6])
def test_the_shadow_of_the_radius_is_named_on_the_side_away_from_the_point(moving, turn):
    scrub(moving, turn / 2)
    wheel = PLAN.wheel
    sides = {
        -1: (wheel.x - 48, wheel.y - 30, wheel.x - 5, wheel.y - 5),
        1: (wheel.x + 5, wheel.y - 30, wheel.x + 48, wheel.y - 5),
    }
    counts = {side: ink(moving, box, "--position") for side, box in sides.items()}
    away = 1 if math.sin(math.tau * turn) > 0 else -1
    assert counts[away] > 20
    assert counts[-away] < 4


@pytest.mark.parametrize("turn", [0.1, 0.3, 0.6, 0.9])
def test_no_letter_lies_on_the_radius(moving, turn):
    """From the centre to where the arrow of the acceleration ends, the line of the radius is whole."""
    scrub(moving, turn / 2)
    wheel = PLAN.wheel
    radius = wheel.radius * A / 12.0
    for share in (0.1, 0.2, 0.3):
        x = wheel.x - share * radius * math.sin(math.tau * turn)
        y = wheel.y - share * radius * math.cos(math.tau * turn)
        assert ink(moving, (x - 1.5, y - 1.5, x + 1.5, y + 1.5), "--ink") > 3


def test_a_thumb_takes_hold_beside_the_point_and_nothing_jumps(moving):
    box = scene(moving).locator(".scene-stage").bounding_box()
    x, y, _ = centre(moving)
    before = now(moving)
    at = (box["x"] + before["at"][0], box["y"] + before["at"][1] + 28)
    turned = math.atan2(x - at[0], y - at[1])
    far = math.hypot(at[0] - x, at[1] - y)
    moving.mouse.move(*at)
    moving.mouse.down()
    moving.mouse.move(at[0] + 0.1, at[1])
    assert now(moving)["angle"] == pytest.approx(before["angle"], abs=1.0)
    turned += math.radians(50)
    moving.mouse.move(x - far * math.sin(turned), y - far * math.cos(turned), steps=4)
    moving.mouse.up()
    assert now(moving)["angle"] == pytest.approx(before["angle"] + 50.0, abs=1.0)


def test_everything_is_wide_enough_for_a_thumb(moving):
    sizes = scene(moving).evaluate(
        """(scene) => [".scene-handle", "button", "select", "[data-part=time]", "summary"].flatMap((which) =>
            [...scene.querySelectorAll(which)].filter((one) => one.checkVisibility()).map((one) => {
                const {width, height} = one.getBoundingClientRect();
                return [which, one.textContent, width, height]; }))"""
    )
    assert len(sizes) >= 8
    assert [one for one in sizes if min(one[2:]) < 44] == []


@pytest.mark.parametrize(
    ("turn", "said"),
    [
        (0.0, "At rest for an instant, and pulled back hardest."),
        (0.125, "It moves downwards, getting faster."),
        (0.25, "It moves downwards, at its fastest."),
        (0.375, "It moves downwards, getting slower."),
        (0.5, "At rest for an instant, and pulled back hardest."),
        (0.75, "It moves upwards, at its fastest."),
    ],
)
def test_it_says_what_happens_at_this_moment(moving, turn, said):
    scrub(moving, turn / 2)
    assert moment(moving) == said


def test_the_words_are_there_only_where_there_is_time_to_read_them(moving):
    do(moving, "go")
    assert moment(moving) == ""
    scene(moving).locator("[data-part=pace]").select_option("0.1")
    wait_until(lambda: moment(moving).startswith("It moves"), "the words")
    scene(moving).locator("[data-part=pace]").select_option("1")
    wait_until(lambda: moment(moving) == "", "no words")
    do(moving, "go")
    assert moment(moving) != ""


@pytest.mark.parametrize("dark", [False, True], ids=["light", "dark"])
@pytest.mark.parametrize("palette", ["paper", "night"])
def test_the_systems_own_colours_are_kept_to(phone, course, dark, palette):
    page = phone(dark=dark)
    page.emulate_media(forced_colors="active")
    page.goto(course.page("moving"))
    page.evaluate("(name) => document.body.setAttribute('data-md-color-scheme', name)", palette)
    wait_until(lambda: state(page) == "ready", "the drawing")
    time.sleep(0.2)
    whole = (0, 0, PLAN.width, PLAN.height)
    assert ink(page, whole, "white" if dark else "black") > 300
    assert ink(page, whole, "--position", "still") > 0
    assert (
        page.evaluate("getComputedStyle(document.querySelector('#wheel')).getPropertyValue('--position')")
        == "CanvasText"
    )


def test_large_type_leaves_nothing_cut_or_covered(phone, course):
    page = phone()
    page.goto(course.page("moving"))
    wait_until(lambda: state(page) == "ready", "the drawing")
    page.evaluate("""() => { const {style} = document.documentElement;
        const size = parseFloat(getComputedStyle(document.documentElement).fontSize);
        style.setProperty("font-size", `${2 * size}px`, "important"); }""")
    time.sleep(0.3)
    stage_, numbers, doings = (
        scene(page).locator(one).bounding_box() for one in (".scene-stage", ".scene-readings", ".scene-doings")
    )
    assert numbers["y"] >= stage_["y"] + stage_["height"]
    assert numbers["y"] + numbers["height"] <= doings["y"]
    rows = scene(page).locator(".scene-readings > div")
    assert rows.evaluate_all("rows => rows.filter((one) => one.scrollWidth > one.clientWidth + 1).length") == 0


AXE = Path(__file__).resolve().parents[2] / "node_modules" / "axe-core" / "axe.min.js"


@pytest.mark.skipif(not AXE.exists(), reason="axe-core is not installed")
@pytest.mark.parametrize("dark", [False, True], ids=["light", "dark"])
@pytest.mark.parametrize(("name", "element"), [("moving", "wheel"), ("swings", "circle")])
def test_axe_finds_nothing(phone, course, name, element, dark):
    page = phone(dark=dark)
    page.goto(course.page(name))
    wait_until(lambda: state(page, element) == "ready", "the drawing")
    scene(page, element).locator("summary").click()
    do(page, "link", element)
    do(page, "say", element)
    page.evaluate(AXE.read_text(encoding="utf-8") + "; void 0")
    for _ in range(2):
        found = page.evaluate("axe.run('crankpin-scene').then(({violations}) => violations)")
        assert [f"{one['id']}: {node['html'][:120]}" for one in found for node in one["nodes"]] == []
        do(page, "go", element)
