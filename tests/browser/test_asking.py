"""The other way round on the page: an input is asked, and a result is given in its place."""

import pytest

from tests.browser.conftest import PHONE


@pytest.fixture
def spring(chromium, course):
    page = chromium.new_page(viewport=PHONE)
    page.goto(course.page("asked"))
    page.locator("#spring-mass[data-state=live]").or_(page.locator("#spring-mass")).first.scroll_into_view_if_needed()
    yield page
    page.close()


def row(page, key):
    return page.locator(f'#spring-mass .given-row[data-key="{key}"]')


def ask(page, key, text):
    row(page, key).locator('[data-do="ask"]').click()
    row(page, key).locator(".ask-line input").fill(text)


def expect_text(locator, text):
    from playwright.sync_api import expect

    expect(locator).to_contain_text(text, timeout=60_000)


def test_a_tap_asks_for_the_spring_constant_and_everything_follows(spring):
    ask(spring, "k", "0.8")
    expect_text(spring.locator('#spring-mass output[name="T"]'), "0.800 s")
    expect_text(row(spring, "k").locator(".given-printed"), "N/m")
    found = float(row(spring, "k").locator('input[name="k"]').input_value())
    row(spring, "k").locator('[data-do="ask"]').click()
    expect_text(spring.locator('#spring-mass output[name="T"]'), "0.800 s")
    assert float(row(spring, "k").locator('input[name="k"]').input_value()) == pytest.approx(found)


def test_the_link_of_a_question_opens_it_again(spring, chromium):
    ask(spring, "k", "0.8")
    expect_text(spring.locator('#spring-mass output[name="T"]'), "0.800 s")
    spring.locator('#spring-mass [data-do="link"]').click()
    link = spring.locator('#spring-mass [data-part="link"]').input_value()
    assert "spring-mass.find=k" in link
    assert "spring-mass.T=0.8s" in link
    answer = row(spring, "k").locator(".given-printed").text_content()
    other = chromium.new_page(viewport=PHONE)
    other.goto(link)
    expect_text(other.locator('#spring-mass output[name="T"]'), "0.800 s")
    expect_text(row(other, "k").locator(".given-printed"), answer)
    other.close()


def test_a_question_survives_a_reload(spring):
    ask(spring, "k", "0.8")
    expect_text(spring.locator('#spring-mass output[name="T"]'), "0.800 s")
    spring.reload()
    expect_text(spring.locator('#spring-mass output[name="T"]'), "0.800 s")
    assert row(spring, "k").locator(".ask-line input").input_value() == "0.8"


def test_what_can_not_be_reached_is_said_beside_the_question(spring):
    ask(spring, "k", "abc")
    expect_text(row(spring, "k").locator(".ask-fault"), "“abc")
    spring.locator('#spring-mass [data-do="reset"]').click()
    assert spring.locator("#spring-mass .ask-from").count() == 0


def test_a_page_printed_with_a_question_shows_its_answer_before_any_script(chromium, course):
    page = chromium.new_page(viewport=PHONE, java_script_enabled=False)
    page.goto(course.page("asked"))
    expect_text(page.locator('#asked-length .given-row[data-key="L"] .given-printed'), "99.")
    page.close()
