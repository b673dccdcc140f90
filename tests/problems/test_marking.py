import pytest

from crankpin.problems.marking import mark_number
from crankpin.problems.quantities import quantity_text


def verdict(variant, part, typed, earlier=None):
    return mark_number(variant.problem.question(part), variant, typed, earlier or {})


@pytest.fixture
def omega(variant):
    return float(variant.quantities["omega"])


@pytest.fixture
def v(variant):
    return float(variant.quantities["v"])


@pytest.mark.parametrize(
    "spelling",
    ["{v:.4g} m/s", "{v:.4g}m/s", "{cm:.4g} cm/s", "{v:.3e} m/s", "{comma} m/s", "{v:.4g} m s-1", "+{v:.4g}  m/s"],
)
def test_a_right_answer_is_accepted_in_each_spelling(variant, v, spelling):
    typed = spelling.format(v=v, cm=v * 100, comma=f"{v:.5g}".replace(".", ","))
    assert verdict(variant, "b", typed).state == "right"


def test_the_printed_answer_is_accepted(variant, v):
    assert verdict(variant, "b", quantity_text(v, variant.forms["v"])).state == "right"


def test_tolerance_is_kept_on_both_sides(variant, v):
    for factor, state in ((0.991, "right"), (1.009, "right"), (0.98, "wrong"), (1.02, "wrong")):
        assert verdict(variant, "b", f"{v * factor:.9g} m/s").state == state


@pytest.mark.parametrize(
    ("typed", "state", "told"),
    [
        ("", "unread", "Nothing is written"),
        ("fast", "unread", "not a number"),
        ("{v:.4g} quux", "unread", "not a unit known"),
        ("{v:.4g}", "nearly", "add its unit"),
        ("{v:.4g} kg", "wrong", "not measured in kg"),
        ("-{v:.4g} m/s", "slip", "sign"),
        ("{milli:.4g} m/s", "slip", "power of ten"),
        ("{v:.9f} m/s", "right", "Right"),
    ],
)
def test_what_is_said_of_unit_sign_and_size(variant, v, typed, state, told):
    found = verdict(variant, "b", typed.format(v=v, milli=v * 1000))
    assert (found.state, told in found.says) == (state, True)


def test_too_many_and_too_few_digits_are_remarked_on(variant, v):
    assert "Three significant digits" in verdict(variant, "b", f"{v:.9f} m/s").comments[0]
    coarse = f"{v:.1g} m/s"
    assert verdict(variant, "b", coarse).state in ("nearly", "right")


def test_a_slip_is_told_without_the_answer(variant, v):
    found = verdict(variant, "b", f"{2 * v:.4g} m/s")
    assert (found.state, found.slip) == ("slip", "diameter_for_radius")
    assert f"{v:.3g}" not in found.says


def test_a_part_goes_on_from_the_student_s_own_answer(variant, omega, v):
    wrong = 1.5 * omega
    typed = f"{1.5 * v:.4g} m/s"
    assert verdict(variant, "b", typed).state == "wrong"
    found = verdict(variant, "b", typed, {"a": wrong})
    assert found.state == "right"
    assert "your own answer to (a)" in found.says


def test_the_right_answer_stays_right_after_a_wrong_part(variant, omega, v):
    assert verdict(variant, "b", f"{v:.4g} m/s", {"a": 1.5 * omega}).state == "right"


def test_a_comma_that_may_group_thousands_is_asked_back(variant, v):
    told = verdict(variant, "b", "2,278 m/s")
    assert told.state == "unread"
    assert "can be 2278 or 2.278" in told.says
