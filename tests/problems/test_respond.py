import json

import pytest

from crankpin.problems.kind import kind_named
from crankpin.problems.placeholders import answer
from crankpin.problems.respond import respond
from crankpin.problems.serialise import data, read_data, slots
from crankpin.problems.variants import Variant
from crankpin.problems.wrong_numbers import slip_value

from .test_harbour import CALCULATORS, PROBLEMS, spellings


def sent(problem):
    """Return a problem as it comes to a page."""
    return read_data(json.loads(json.dumps(data(problem))))


@pytest.mark.parametrize("problem", PROBLEMS, ids=lambda problem: problem.id)
def test_a_page_draws_the_numbers_that_the_sheet_prints(problem):
    received, asked = sent(problem)
    for number in range(1, 51):
        variant = Variant(problem, number, CALCULATORS)
        drawn = json.loads(json.dumps(respond(received, asked, {"do": "draw", "variant": number}, CALCULATORS)))
        assert drawn["slots"] == [answer(slot, variant).replace(" ", "\u00a0") for slot in slots(problem)]
        for question in problem.questions:
            if question.name in drawn["orders"]:
                assert sorted(drawn["orders"][question.name]) == list(range(len(question.items)))
            if question.graph:
                numbers = drawn["graphs"][question.name]["numbers"]
                assert len(numbers) == 2 * drawn["graphs"][question.name]["panels"][0]["curves"][0]["count"]


@pytest.mark.parametrize("problem", PROBLEMS, ids=lambda problem: problem.id)
def test_a_page_marks_as_the_whole_problem_does(problem):
    received, asked = sent(problem)
    for number in range(1, 21):
        variant = Variant(problem, number, CALCULATORS)
        for question in problem.questions:
            for given in answers(question, variant):
                request = {"do": "mark", "variant": number, "part": question.name, "given": given}
                told = respond(received, asked, request, CALCULATORS)
                known = kind_named(question.kind).mark(question, variant, given, {}).data()
                for verdict in (told, known):
                    del verdict["says"], verdict["comments"]  # the page has the words of a reason itself
                assert told == known


def answers(question, variant):
    """Yield the right answer and some wrong ones."""
    kind = kind_named(question.kind)
    yield kind.right(question, variant)
    yield None
    if kind.asks == ("choices",):
        yield from ([place] for place in range(len(question.items)))
    if kind.asks == ("number",):
        for slip in question.slips:
            wrong = slip_value(slip, question, variant.quantities)
            if wrong is not None:
                yield spellings(wrong, variant.forms[question.answer.key])[0]


def test_a_later_part_goes_on_from_what_the_student_gave(drum, variant):
    received, asked = sent(drum)
    request = {
        "do": "mark",
        "variant": variant.number,
        "part": "b",
        "given": f"{1.5 * variant.quantities['v']:.6g} m/s",
    }
    earlier = {"a": 1.5 * variant.quantities["omega"]}
    assert respond(received, asked, request, {})["state"] == "wrong"
    assert respond(received, asked, request | {"earlier": earlier}, {})["state"] == "right"


def test_nothing_of_the_texts_is_sent(drum):
    sent_text = json.dumps(data(drum))
    assert "How fast" not in sent_text
    assert "The drum" not in sent_text
