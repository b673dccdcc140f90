"""Computed numbers: every form of the question, in text and in TeX."""

import pytest

from crankpin.course.prose import Asked, answer_html, answer_tex, answer_text, read_asked
from crankpin.faults import AuthorError
from crankpin.notation.course import Course

NB = "\u00a0"


@pytest.mark.parametrize(
    ("question", "answer"),
    [
        ("pier-wheel.v", f"0.754{NB}m/s"),
        ("pier-wheel.r", f"1.80{NB}m"),
        ("pier-wheel.v to 4", f"0.7540{NB}m/s"),
        ("pier-wheel.v in cm/s", f"75.4{NB}cm/s"),
        ("pier-wheel.v to 2 in km/h", f"2.7{NB}km/h"),
        ("pier-wheel.v in km/h to 2", f"2.7{NB}km/h"),
        ("pier-wheel.v bare", "0.754"),
        ("pier-wheel.v in cm/s bare", "75.4"),
        ("edge-on.x_max | A = 12 cm", f"12.0{NB}cm"),
        ("edge-on.x | A = 12 cm; t = 0 s; phi = 60 deg", f"6.00{NB}cm"),
        ("edge-on.theta in deg | omega = 1 rad/s; t = 0 s; phi = 60 deg", "60.0°"),
        ("turning-rate.v | r = = pier-wheel.r; rate = 4 rpm", f"0.754{NB}m/s"),
    ],
)
def test_answers(question: str, answer: str, course: Course) -> None:
    assert answer_text(course, question) == answer


def test_in_a_page_the_number_is_marked(course: Course) -> None:
    assert answer_html(course, "pier-wheel.v") == f'<span class="number">0.754{NB}m/s</span>'


@pytest.mark.parametrize(
    ("question", "tex"),
    [
        ("pier-wheel.v", r"0.754\,\mathrm{m/s}"),
        ("pier-wheel.v to 2 in cm/s", r"75\,\mathrm{cm/s}"),
        ("pier-wheel.v bare", "0.754"),
        ("turning-rate.v | r = 1e-9 m; rate = 4 rpm", r"4.19\times10^{-10}\,\mathrm{m/s}"),
        ("edge-on.theta in deg | omega = 1 rad/s; t = 0 s; phi = 60 deg", r"60.0^{\circ}"),
    ],
)
def test_answers_in_maths(question: str, tex: str, course: Course) -> None:
    assert answer_tex(course, question) == tex


def test_words_of_a_question() -> None:
    assert read_asked("a.b to 4 in kg m2 bare | c = 1 m; d = 2 s") == Asked(
        "a", "b", {"c": "1 m", "d": "2 s"}, 4, "kg m2", True
    )


@pytest.mark.parametrize(
    ("question", "message"),
    [
        ("pier-wheel", '"pier-wheel" is not a name and a quantity'),
        ("pier-wheel.v to four", '"to four" is not "to" and digits, "in" and a unit, or "bare"'),
        ("pier-wheel.v to 0", "0 digits are asked for; 1 to 12 are possible"),
        ("pier-wheel.v in kg", "pier-wheel.v cannot be given in kg; possible are m/s, cm/s, mm/s, km/h"),
        (
            "pier-wheel.w",
            "pier-wheel has no quantity w; given are r, rate, found are omega, T, f, n, v, a_c, g_n, g_ratio",
        ),
        ("pear-wheel.v", "there is no calculator or case pear-wheel (did you mean pier-wheel?)"),
        ("edge-on.x | A 12", '"A 12" is not "key = value"'),
        ("edge-on.x | A = 12 kg", "edge-on: A, "),
    ],
)
def test_faults_say_what_is_there(question: str, message: str, course: Course) -> None:
    with pytest.raises(AuthorError) as told:
        answer_text(course, question)
    assert message in str(told.value)


def test_what_does_not_exist_is_told_with_its_reason(course: Course) -> None:
    with pytest.raises(AuthorError, match=r"^damped\.omega_d does not exist here: \S"):
        answer_text(course, "damped.omega_d | b = 90000 kg/s")


def test_a_word_has_no_digits(course: Course) -> None:
    assert answer_text(course, "damped.regime | b = 0.1 kg/s; m = 1 kg; k = 10 N/m") == "underdamped"
    assert answer_tex(course, "damped.regime | b = 0.1 kg/s; m = 1 kg; k = 10 N/m") == r"\text{underdamped}"
    with pytest.raises(AuthorError, match="is a word, not a number"):
        answer_text(course, "damped.regime to 3")
