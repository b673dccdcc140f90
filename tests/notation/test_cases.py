"""Cases in the values file and in pages; references between them; every fault with file and line."""

import pytest

from crankpin.calculator.catalogue import Catalogue
from crankpin.faults import AuthorError, CourseFaultsError, Place
from crankpin.notation.cases import cases_in_page, read_cases
from crankpin.notation.course import Course
from tests.course_fixtures import course_with, named


def test_a_reference_carries_every_digit(course: Course) -> None:
    whole = course.evaluation("pier-wheel").outputs["omega"].value
    assert course.evaluation("pump-rod").inputs["omega"].value == whole
    assert course.evaluation("pump-rod").inputs["A"].value == 0.12


def test_a_reference_to_what_was_given_carries_it_as_typed(calculators: Catalogue) -> None:
    values = """
        [wheel]
        calculator = "turning-rate"
        r = "12 cm"
        rate = "2.5 s"
        [rod]
        calculator = "edge-on"
        A = "= wheel.r"
        omega = "= wheel.rate"
    """
    given = course_with(values, calculators).given("rod")
    assert given == {"A": "12 cm", "omega": "2.5 s"}


def test_a_reference_to_a_table_or_a_choice_carries_it_as_typed(calculators: Catalogue) -> None:
    values = """
        [record]
        calculator = "line-fit"
        use = "spring-periods"
        data = '''
        0.1; 0.45
        0.2; 0.63
        '''
        [again]
        calculator = "line-fit"
        use = "= record.use"
        data = "= record.data"
    """
    course = course_with(values, calculators)
    first, again = course.evaluation("record"), course.evaluation("again")
    assert again.inputs["data"].value == first.inputs["data"].value
    assert again.outputs["k"].value == first.outputs["k"].value


def test_a_reference_to_an_exact_number_carries_it_as_typed(calculators: Catalogue) -> None:
    values = """
        [sand]
        calculator = "crossed-wheels"
        f_x = "0.3 Hz"
        [sand-again]
        calculator = "crossed-wheels"
        f_x = "= sand.f_x"
    """
    assert course_with(values, calculators).given("sand-again") == {"f_x": "0.3 Hz"}


def test_a_reference_to_what_was_found_is_in_the_unit_shown_without_dust(calculators: Catalogue) -> None:
    values = """
        [spring]
        calculator = "spring-mass"
        k = "25 N/m"
        m = "400 g"
        m_spring = "45 g"
        [share]
        calculator = "energy-share"
        m = "= spring.m_eff"
    """
    course = course_with(values, calculators)
    assert course.given("share") == {"m": "415 g"}
    assert course.evaluation("share").inputs["m"].value == 0.415
    assert course.evaluation("spring").outputs["m_eff"].value == pytest.approx(0.415, rel=5e-16, abs=0.0)


def test_a_reference_changes_unit_where_the_measures_allow(calculators: Catalogue) -> None:
    values = """
        [wheel]
        calculator = "turning-rate"
        rate = "30 rpm"
        [rod]
        calculator = "edge-on"
        omega = "= wheel.n"
    """
    course = course_with(values, calculators)
    assert course.evaluation("rod").inputs["omega"].value == pytest.approx(3.141592653589793, rel=1e-15, abs=0.0)


def test_overrides_come_after_the_case(course: Course) -> None:
    assert course.given("pump-rod", {"A": "3 cm", "t": "1 s"})["A"] == "3 cm"
    assert set(course.given("pump-rod", {"t": "1 s"})) == {"A", "omega", "t"}
    assert course.calculator_of("pump-rod") == "edge-on"
    assert course.calculator_of("edge-on") == "edge-on"


@pytest.mark.parametrize(
    ("values", "message"),
    [
        (
            "[a]\nr = '1 m'",
            'harbour.toml:1: the case a does not say its calculator; add, for example, calculator = "edge-on"',
        ),
        ("x = 1\n[a]\ncalculator = 'edge-on'", "harbour.toml:1: x stands outside a case"),
        (
            "[a]\ncalculator = 'edge-on'\nA = 12",
            'harbour.toml:1: A of the case a must be a text with its unit, such as A = "12 cm"',
        ),
        ("\n[A b]\ncalculator = 'edge-on'", "harbour.toml:2: not TOML"),
        ("[Pier]\ncalculator = 'edge-on'", 'harbour.toml:1: "Pier" cannot name a case'),
    ],
)
def test_faults_of_the_file(values: str, message: str) -> None:
    with pytest.raises(CourseFaultsError) as told:
        read_cases(values, "harbour.toml")
    assert message in str(told.value)


@pytest.mark.parametrize(
    ("values", "message"),
    [
        (
            "[a]\ncalculator = 'edge-om'",
            "harbour.toml:1: the case a uses the calculator edge-om, which does not exist (did you mean edge-on?)",
        ),
        ("[a]\ncalculator = 'edge-on'\nA = '12 kg'", "harbour.toml:3: a: A, "),
        ("[a]\ncalculator = 'edge-on'\n\nB = '1 m'", "harbour.toml:1: a: There is no input called B"),
        ("[a]\ncalculator = 'edge-on'\nA = '= b.v'", "there is no calculator or case b"),
        ("[a]\ncalculator = 'edge-on'\nA = '= turning-rate.v'", "A, amplitude, is in m, but turning-rate.v is in m/s"),
        (
            "[a]\ncalculator = 'edge-on'\nA = '= turning-rate.q'",
            "turning-rate has no quantity q; given are r, rate, found are omega, T, ",
        ),
        (
            "[a]\ncalculator = 'edge-on'\nA = '= turning-rate'",
            'write a case and a quantity, such as "= pier-wheel.omega"',
        ),
        (
            "[a]\ncalculator = 'edge-on'\nA = '= b.A'\n[b]\ncalculator = 'edge-on'\nA = '= a.A'",
            "these cases refer to each other in a ring: a → b → a",
        ),
    ],
)
def test_faults_when_cases_are_worked_out(values: str, message: str, calculators: Catalogue) -> None:
    with pytest.raises(CourseFaultsError) as told:
        course_with(values, calculators).check_cases()
    assert message in str(told.value)


def test_after_a_ring_the_course_still_answers(calculators: Catalogue) -> None:
    course = course_with("[a]\ncalculator='edge-on'\nA='= a.A'\n[c]\ncalculator='edge-on'", calculators)
    with pytest.raises(AuthorError, match="ring"):
        course.evaluation("a")
    assert course.evaluation("c").outputs["x"].value is not None


def test_a_case_in_a_page_knows_its_lines() -> None:
    page = "Text\n\n```case pump-rod edge-on\n# the pump\nA = 12 cm\n```\n"
    (case,) = cases_in_page(page, Place("chapters/02.md", 1))
    assert (case.name, case.calculator, dict(case.given)) == ("pump-rod", "edge-on", {"A": "12 cm"})
    assert str(case.place) == "chapters/02.md:3"
    assert str(case.place_of("A")) == "chapters/02.md:5"


@pytest.mark.parametrize(
    ("fence", "message"),
    [
        ("```case pump-rod\n```", 'must be "case", a name and a calculator'),
        ("```case pump edge-on\nA 12\n```", '"A 12" is not a line "key = value"'),
        ("```case pump edge-on\nA = 1 m\nA = 2 m\n```", "A is given twice"),
        ("```case pump edge-on\nA =\n```", "A has no value"),
    ],
)
def test_faults_of_a_case_in_a_page(fence: str, message: str) -> None:
    with pytest.raises(CourseFaultsError) as told:
        cases_in_page("\n" + fence, Place("a.md", 1))
    assert str(told.value).startswith("a.md:2: ")
    assert message in str(told.value)


def test_a_name_is_taken_once(calculators: Catalogue) -> None:
    cases = read_cases("[edge-on]\ncalculator = 'edge-on'\n[rod]\ncalculator = 'edge-on'", "harbour.toml")
    cases += cases_in_page("```case rod edge-on\n```", Place("a.md", 1))
    with pytest.raises(CourseFaultsError) as told:
        named(cases, calculators)
    assert str(told.value).splitlines() == [
        "harbour.toml:1: the case edge-on has the name of a calculator; choose another",
        "a.md:1: the case rod is already made in harbour.toml:3; choose another name",
    ]
