"""Links that carry inputs, in and out."""

from urllib.parse import parse_qsl, urlsplit

import pytest

from crankpin.calculator.evaluate import evaluate
from tests.browser.pages import calculator, open_live, results, type_into, wait_for_state, wait_until

pytestmark = pytest.mark.browser


def values(page, element="edge-on"):
    return {
        key: (calculator(page, element).locator(f'[name="{key}"]').input_value(), unit.input_value())
        for key in ("A", "omega", "phi", "t")
        for unit in [calculator(page, element).locator(f'[name="{key}-unit"]')]
    }


def test_a_link_shows_its_inputs_at_once_and_their_results_when_live(phone, course, catalogue):
    page = phone()
    page.goto(f"{course.page()}?edge-on.A=30cm&edge-on.t=700ms#edge-on", wait_until="domcontentloaded")
    wait_until(lambda: calculator(page).locator("[name=A]").input_value() != "12", "the link's input")
    assert calculator(page).locator("[name=A]").input_value().startswith("30")
    wait_for_state(page, "live")
    expected = evaluate(catalogue["edge-on"], {"A": "30cm", "t": "700ms"})
    assert results(page)["x"]["text"] == expected.outputs["x"].text
    assert values(page)["A"] == ("30", "cm")
    assert values(page)["t"] == ("700", "ms")
    assert calculator(page).get_attribute("data-stale") is None


def test_results_of_a_link_are_stale_until_live(phone, course):
    page = phone()
    page.route("**/*.wasm*", lambda route: route.fulfill(status=404, body="gone"))
    page.goto(f"{course.page()}?edge-on.A=30cm#edge-on")
    wait_for_state(page, "failed")
    assert calculator(page).get_attribute("data-stale") is not None


def test_a_link_can_be_copied_and_opens_the_same_state(phone, course):
    page = phone()
    open_live(page, course.page())
    type_into(page, {"A": "130 mm", "omega": "33.3 rpm", "phi": "−45 deg", "t": "0,7"})
    shown = results(page)
    calculator(page).locator('[data-do="link"]').click()
    field = calculator(page).locator('[data-part="link"]')
    wait_until(lambda: field.input_value() != "", "the link")
    link = field.input_value()
    assert dict(parse_qsl(urlsplit(link).query)) == {
        "edge-on.A": "130mm",
        "edge-on.omega": "33.3rpm",
        "edge-on.phi": "-45deg",
        "edge-on.t": "0.7s",
    }
    assert urlsplit(link).fragment == "edge-on"
    page.goto("about:blank")
    page.goto(link)
    wait_for_state(page, "live")
    assert results(page) == shown


def test_a_link_speaks_to_one_of_two(phone, course):
    page = phone()
    page.goto(f"{course.page('few')}?edge-on-2.A=30cm#edge-on-2")
    wait_for_state(page, "live", "edge-on-2")
    assert values(page, "edge-on-2")["A"] == ("30", "cm")
    assert values(page, "edge-on")["A"] == ("12", "cm")


def test_an_unknown_or_wrong_input_in_a_link_is_told_and_can_be_put_right(phone, course):
    page = phone()
    page.goto(f"{course.page()}?edge-on.Q=3&edge-on.A=far#edge-on")
    wait_for_state(page, "live")
    assert "There is no input called Q" in calculator(page).locator('[data-part="fault"]').inner_text()
    assert calculator(page).locator("[name=A]").input_value() == "far"
    assert calculator(page).locator("[name=A]").get_attribute("aria-invalid") == "true"
    type_into(page, {"A": "12"})
    assert calculator(page).locator('[data-part="fault"]').inner_text() == ""
    assert calculator(page).get_attribute("data-stale") is None


def test_a_link_by_the_calculators_own_name_finds_the_first_of_its_kind(phone, course):
    page = phone()
    page.goto(f"{course.page('case')}?edge-on.t=700ms#edge-on")
    wait_for_state(page, "live", "pump")
    assert values(page, "pump")["t"] == ("700", "ms")
    assert values(page, "pump")["A"] == ("20", "cm")
    assert page.evaluate("scrollY") > 1000
    calculator(page, "pump").locator('[data-do="link"]').click()
    field = calculator(page, "pump").locator('[data-part="link"]')
    wait_until(lambda: field.input_value() != "", "the link")
    assert "?pump.A=20cm&" in field.input_value()
    assert field.input_value().endswith("#pump")
