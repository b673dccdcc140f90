"""Scenes as they stand in a page: what is prerendered, and what an author is told."""

import itertools
import json
import math
import re

import pytest

from crankpin.calculator.checks import faults_of
from crankpin.calculator.evaluate import evaluate
from crankpin.elements.scene import scene_html, scenes
from crankpin.faults import AuthorError
from crankpin.figures.stage import BODIES, CURVES, LINES, Stage, stage
from crankpin.figures.stills import Look, _Samples, _Still, full_scale
from crankpin.mechanics import damping, driving, harmonic, pendulum, springs
from crankpin.notation.course import Course


def prerendered(kind: str, options: dict[str, str], course: Course) -> dict:
    html = scene_html(kind, options, "one", course=course)
    return json.loads(re.search(r'<script type="application/json"[^>]*>(.*?)</script>', html, re.DOTALL)[1])


def track(data: dict, key: str) -> tuple[list[float], list[float]]:
    curve = next(one for panel in data["picture"]["panels"] for one in panel["curves"] if one["key"] == key)
    start, count = curve["start"], curve["count"]
    return data["numbers"][start : start + count], data["numbers"][start + count : start + 2 * count]


@pytest.mark.parametrize("kind", scenes())
def test_a_scene_keeps_the_rules_of_declarations(kind: str) -> None:
    assert faults_of(scenes()[kind], kind) == []


def test_the_wheel_follows_the_mechanics(course: Course) -> None:
    data = prerendered("wheel", {"A": "12 cm", "omega": "3 rad/s", "phi": "40 deg"}, course)
    times, angles = track(data, "angle")
    for i, time in enumerate(times):
        given = (0.12, 3.0, math.radians(40), time)
        assert angles[i] == pytest.approx(math.degrees(harmonic.phase_angle(3.0, math.radians(40), time)))
        assert track(data, "pin")[0][i] == pytest.approx(100 * harmonic.position(*given), abs=1e-4)
        assert track(data, "velocity")[0][i] == pytest.approx(harmonic.velocity(*given), abs=1e-5)
        assert track(data, "acceleration")[0][i] == pytest.approx(harmonic.acceleration(*given), abs=1e-5)


def test_velocity_is_at_right_angles_to_the_radius_and_acceleration_points_inwards(course: Course) -> None:
    data = prerendered("wheel", {}, course)
    rows = [zip(*track(data, key), strict=True) for key in ("pin", "velocity", "acceleration")]
    for (x, y), (v_x, v_y), (a_x, a_y) in zip(*rows, strict=True):
        assert x * v_x + y * v_y == pytest.approx(0.0, abs=1e-4)
        assert x * a_y - y * a_x == pytest.approx(0.0, abs=1e-4)
        assert x * a_x + y * a_y < 0.0


def test_the_spring_keeps_the_rate_of_mass_and_stiffness(course: Course) -> None:
    data = prerendered("spring", {"m": "2 kg", "k": "8 N/m"}, course)
    assert track(data, "angle")[0][-1] == pytest.approx(math.tau / springs.angular_frequency(8.0, 2.0))


def test_the_spiral_is_the_damped_motion_and_its_radius_shrinks_alike(course: Course) -> None:
    data = prerendered("spiral", {"m": "1 kg", "k": "20 N/m", "b": "1.5 kg/s", "x0": "10 cm"}, course)
    times, _ = track(data, "angle")
    xs, ys = track(data, "pin")
    v_x, a_x = track(data, "velocity")[0], track(data, "acceleration")[0]
    for i, time in enumerate(times):
        now = damping.damped_motion(1.0, 20.0, 1.5, 0.1, 0.0, time)
        assert xs[i] == pytest.approx(100 * now.position, abs=1e-4)
        assert v_x[i] == pytest.approx(now.velocity, abs=1e-5)
        assert a_x[i] == pytest.approx(-20 * now.position - 1.5 * now.velocity, abs=1e-4)
        envelope = damping.envelope(1.0, 20.0, 1.5, 0.1, 0.0, time)
        assert math.hypot(xs[i], ys[i]) == pytest.approx(100 * envelope, rel=1e-5)


def test_a_spiral_that_would_not_swing_is_refused(course: Course) -> None:
    with pytest.raises(AuthorError, match=r"b, damping constant.*must be below critical damping"):
        scene_html("spiral", {"m": "1 kg", "k": "1 N/m", "b": "2 kg/s"}, "one", course=course)


def test_the_steady_circle_lags_behind_the_drive(course: Course) -> None:
    given = {"m": "1 kg", "k": "16 N/m", "b": "2 kg/s", "F_0": "1 N", "omega": "3 rad/s"}
    data = prerendered("steady-circle", given, course)
    times, _ = track(data, "angle")
    xs, _ = track(data, "pin")
    for i, time in enumerate(times):
        steady = driving.steady_motion(1.0, 16.0, 2.0, 1.0, 3.0, time)
        assert xs[i] == pytest.approx(100 * steady.position, abs=1e-4)
        assert track(data, "drive")[0][i] == pytest.approx(100 / 16 * math.cos(3.0 * time), abs=1e-4)


def test_the_pendulum_keeps_step_with_its_circle_and_the_exact_swing_falls_behind(course: Course) -> None:
    data = prerendered("pendulum", {"L": "2 m", "g": "9.81 m/s2", "theta_max": "70 deg"}, course)
    times, _ = track(data, "angle")
    widest = math.radians(70)
    for i, time in enumerate(times):
        small = 2.0 * harmonic.position(widest, math.sqrt(9.81 / 2.0), 0.0, time)
        assert track(data, "pin")[0][i] == pytest.approx(small, abs=1e-5)
        assert track(data, "exact")[0][i] == pytest.approx(
            2.0 * pendulum.swing(2.0, 9.81, widest, time).angle, abs=1e-5
        )
    after_a_turn = {key: track(data, key)[0][72] for key in ("pin", "exact")}
    assert after_a_turn["pin"] == pytest.approx(2.0 * widest)
    assert after_a_turn["exact"] < 1.9 * widest


def test_the_circle_speaks_of_no_line(course: Course) -> None:
    html = scene_html("circle", {"r": "= pier-wheel.r", "arrows": "v a"}, "one", course=course)
    seen = re.sub(r"<script.*|<[^>]*>", " ", html, flags=re.DOTALL)
    assert not re.search(r"\b(line|phase|amplitude|projection|edge-on)\b", seen)
    assert 'data-line="none"' in html


def test_the_bob_hangs_on_a_thread_of_one_length() -> None:
    plan = stage("horizontal", ("x",), "pendulum")
    (thread,) = (shape for shape in plan.body if shape.kind == "thread")
    assert thread.points == ((0.0, -plan.thread),)
    assert plan.thread > plan.wheel.radius
    assert plan.line + 9.0 < plan.wheel.y - plan.wheel.radius


def test_inputs_may_refer_to_cases(course: Course) -> None:
    html = scene_html("wheel", {"A": "= pier-wheel.r", "omega": "= pier-wheel.rate"}, "one", course=course)
    assert 'value="1.8"' in html
    assert 'value="4"' in html


@pytest.mark.parametrize(
    ("kind", "options", "told"),
    [
        ("whirl", {}, "there is no scene whirl; there are circle, pendulum, spiral, spring, steady-circle, wheel"),
        ("wheel", {"line": "slanted"}, "line = slanted: choose none, vertical, horizontal"),
        ("wheel", {"body": "boat"}, "body = boat: choose spot, rod, buoy, spring, fenders, pendulum"),
        ("wheel", {"arrows": "v j"}, "arrows = v j: choose v, a, v a or none"),
        ("wheel", {"curves": "v"}, "curves = v: choose x, x v, x v a or none"),
        ("circle", {"curves": "x"}, "curves need a line of motion"),
        ("circle", {"line": "vertical"}, "the scene circle has no line of motion"),
        ("wheel", {"line": "none"}, "the scene circle has no line of motion"),
        ("wheel", {"body": "pendulum"}, "body = pendulum needs line = horizontal"),
        ("wheel", {"line": "horizontal", "curves": "x v"}, "there is room for curves = x only"),
        ("wheel", {"B": "1 m"}, "There is no input called B"),
        ("wheel", {"A": "12 kg"}, "the unit “kg” is not known here"),
    ],
)
def test_an_author_is_told_what_is_wrong(kind: str, options: dict[str, str], told: str, course: Course) -> None:
    with pytest.raises(AuthorError) as caught:
        scene_html(kind, options, "one", course=course)
    assert told in str(caught.value)


def test_the_same_scene_gives_the_same_bytes(course: Course) -> None:
    one, other = (scene_html("wheel", {"curves": "x v a", "arrows": "v a"}, "w", course=course) for _ in range(2))
    assert one == other
    assert "style=" not in one


def test_the_still_has_words_that_say_where_the_point_is(course: Course) -> None:
    html = scene_html("wheel", {"A": "12 cm", "arrows": "v a"}, "one", course=course)
    words = re.search(r"<desc[^>]*>(.*?)</desc>", html)[1]
    assert ": angle 60°" in words
    assert "position 6.0 cm" in words


@pytest.mark.parametrize(
    ("greatest", "full"), [(0.0, 1.0), (12.0, 12.0), (12.0000001, 12.0), (13.0, 15.0), (0.09, 0.1)]
)
def test_the_scale_ends_at_a_round_number(greatest: float, full: float) -> None:
    assert full_scale(greatest) == pytest.approx(full)


def test_the_style_sheet_keeps_the_room_that_the_plan_takes() -> None:
    from crankpin.site.styles import BROWSER

    text = (BROWSER / "scene.css").read_text("utf-8")
    kept = {
        shape: int(high) for shape, high in re.findall(r'data-shape="([\w-]+)"\] \{ aspect-ratio: 360 / (\d+);', text)
    }
    plans = [stage(line, curves, "spot") for line in LINES for curves in CURVES]
    plans += [stage("horizontal", curves, "pendulum") for curves in CURVES]
    assert {plan.shape: plan.height for plan in plans} == kept


def test_controls_stand_in_the_order_in_which_they_are_seen(course: Course) -> None:
    """Else a page painted while it is still coming in shifts, and the keyboard goes another way than the eye."""
    from crankpin.site.styles import BROWSER

    html = scene_html("wheel", {}, "one", course=course)
    places = [html.index(one) for one in ('data-do="on"', 'data-part="time"', 'data-part="pace"', 'data-do="say"')]
    assert places == sorted(places)
    assert "order:" not in re.sub(r"border", "", (BROWSER / "scene.css").read_text("utf-8"))


@pytest.mark.parametrize("body", BODIES)
@pytest.mark.parametrize("line", ["vertical", "horizontal"])
def test_every_body_stays_on_the_stage(body: str, line: str) -> None:
    plan = stage(line, ("x",), body)
    for shape in plan.body:
        if shape.kind == "coil" or plan.thread:
            continue
        reach = plan.wheel.radius if shape.kind == "moves" else 0.0
        for along, aside in shape.points:
            far = abs(along) + reach
            assert abs(aside) < 30
            assert plan.wheel.y + far < plan.height or line == "horizontal"
            assert plan.wheel.x + far < plan.width or line == "vertical"


def test_the_results_stand_beside_it(course: Course) -> None:
    found = evaluate(scenes()["wheel"], {"A": "12 cm", "omega": "18 rpm"}).outputs
    html = scene_html("wheel", {"A": "12 cm", "omega": "18 rpm"}, "one", course=course)
    assert f'name="v_max" aria-live="off" data-value="{found["v_max"].value!r}">{found["v_max"].text}<' in html


class Canvas:
    """What a still writes, and where."""

    def __init__(self) -> None:
        self.written: dict[str, tuple[float, float]] = {}

    def text(self, x: float, y: float, words: str, **_: object) -> None:
        self.written[words.strip("$")] = (x, y)

    def plot(self, *_: object, **__: object) -> None:
        pass

    fill = add_patch = plot


def written(kind: str, given: dict[str, str], look: Look) -> tuple[dict[str, tuple[float, float]], Stage]:
    """Return the texts of a still with their places, and its plan."""
    plan = stage(look.line, look.curves, look.body)
    picture = evaluate(scenes()[kind], given).picture()
    assert picture is not None
    canvas = Canvas()
    _Still(canvas, _Samples(picture), plan, look).draw()
    return canvas.written, plan


@pytest.mark.parametrize(
    ("kind", "line", "body"),
    [("wheel", "vertical", "rod"), ("wheel", "horizontal", "spot"), ("circle", "none", "spot")],
)
def test_letters_of_a_still_stand_clear_of_the_radius(kind: str, line: str, body: str) -> None:
    size = "r" if kind == "circle" else "A"
    look = Look(line, body, ("v", "a"), (), size)
    places, plan = written(kind, {size: "10 cm"}, look)
    turned = math.tau / 6
    out = (-math.sin(turned), -math.cos(turned)) if line == "vertical" else (math.cos(turned), -math.sin(turned))
    for letter in (size, "a", r"\theta"):
        if letter == "a" and plan.dials:
            continue  # there it is written twice; the dial's comes last
        across, down = places[letter][0] - plan.wheel.x, places[letter][1] - plan.wheel.y
        assert 0 < across * out[0] + down * out[1] < plan.wheel.radius
        assert abs(across * out[1] - down * out[0]) > 7.0


def test_a_still_names_the_shadow_of_the_radius_only_where_it_is_a_cosine() -> None:
    wheel, _ = written("wheel", {}, Look("vertical", "spot", (), (), "A"))
    assert r"A\,\cos\,\theta" in wheel
    spiral, _ = written("spiral", {}, Look("vertical", "spot", (), ()))
    assert not any("cos" in one for one in spiral)
    assert "x" in spiral
    driven, _ = written("steady-circle", {}, Look("vertical", "spot", (), (), "A"))
    assert r"\varphi" in driven
    assert r"\theta" not in driven


def test_the_circle_gives_the_sizes_of_its_arrows(course: Course) -> None:
    given = {"r": "50 cm", "omega": "4 rad/s"}
    html = scene_html("circle", given | {"arrows": "v a"}, "one", course=course)
    numbers = dict(re.findall(r'data-reading="(\w+)".*?<dd>(.*?)</dd>', html))
    assert numbers["v"] == "2.00 m/s"
    assert numbers["a"] == "8.00 m/s²"
    assert "data-reading" in html
    assert 'data-reading="x"' not in html


@pytest.mark.parametrize(
    ("kind", "options", "told"),
    [
        ("wheel", {"curves": "x"}, "far apart on the line, fast; close together, slow"),
        ("wheel", {"curves": "x"}, "Drag the ringed point, or along the curve."),
        ("wheel", {}, "Drag the ringed point."),
        ("spiral", {}, "four per turn"),
        ("circle", {"arrows": "v a"}, "each arrow is drawn from a fixed point"),
    ],
)
def test_it_says_what_the_rings_mean_and_what_can_be_dragged(
    kind: str, options: dict[str, str], told: str, course: Course
) -> None:
    html = scene_html(kind, options, "one", course=course)
    key = re.search(r'<figcaption class="scene-key">(.*?)</figcaption>', html)[1]
    assert told in re.sub(r"<[^>]*>", "", key)


def test_rings_mark_equal_times_on_circle_and_spiral() -> None:
    for kind, count in (("wheel", 12), ("pendulum", 12), ("spiral", 20)):
        picture = evaluate(scenes()[kind], {}).picture()
        assert picture is not None
        samples = _Samples(picture)
        assert len(samples.marked) == count
        places = [samples.pin.index(one) for one in samples.marked]
        assert len({later - earlier for earlier, later in itertools.pairwise(places)}) == 1
