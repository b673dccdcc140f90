"""A problem as plain data: what a phone needs to draw its numbers and to mark, without its texts.

The texts stand in the page; `slots` are the numbers in them, as asked for between `{=` and `=}`, each once.
"""

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from crankpin.problems.declaration import Answer, Graph, Item, Problem, Question, Slip, Tolerance, Worked
from crankpin.problems.drawing import read_drawn
from crankpin.problems.placeholders import asked_in
from crankpin.problems.slips import SLIPS


def texts(problem: Problem) -> Iterator[tuple[int, str]]:
    """Yield every text of a problem that can hold numbers, with a line near it."""
    yield problem.line, problem.text
    for question in problem.questions:
        parts = [question.text, *question.hints, question.model, question.look]
        parts += [step.text for step in (*question.solution, *question.points)]
        parts += [part for item in question.items for part in (item.text, item.reason)]
        yield from ((question.line, part) for part in parts if part)


def slots(problem: Problem) -> tuple[str, ...]:
    """Return the numbers that stand in a problem's texts, each once, in order."""
    return tuple(dict.fromkeys(asked for _, text in texts(problem) for asked in asked_in(text)))


def data(problem: Problem) -> dict[str, Any]:
    """Return a problem as JSON can hold it."""
    return {
        "id": problem.id,
        "version": problem.version,
        "draw": {drawn.key: drawn.written for drawn in problem.draw},
        "work": [[w.key, w.expression, w.dimension, w.unit, w.digits] for w in problem.work],
        "where": list(problem.where),
        "questions": [_question_data(question) for question in problem.questions],
        "slots": list(slots(problem)),
    }


def _question_data(question: Question) -> dict[str, Any]:
    answer, graph = question.answer, question.graph
    said: dict[str, Any] = {
        "name": question.name,
        "kind": question.kind,
        "answer": answer and [answer.key, answer.tolerance.size, answer.tolerance.absolute],
        "slips": [[s.name, _own_words(s), dict(s.changes), s.expression] for s in question.slips],
        "right": [int(item.marked) for item in question.items],
        "goes_on_from": list(question.goes_on_from),
        "graph": graph and [getattr(graph, name) for name in Graph.__slots__],
    }
    return {key: value for key, value in said.items() if value or key == "name"}


def _own_words(slip: Slip) -> str:
    known = SLIPS.get(slip.name)
    return "" if known and known.says == slip.says else slip.says


def read_data(found: Mapping[str, Any]) -> tuple[Problem, tuple[str, ...]]:
    """Return the problem, without its texts, and its slots."""
    problem = Problem(
        id=found["id"],
        title="",
        level="",
        version=found["version"],
        draw=tuple(read_drawn(key, written) for key, written in found["draw"].items()),
        work=tuple(Worked(*worked) for worked in found["work"]),
        where=tuple(found["where"]),
        questions=tuple(map(_question, found["questions"])),
    )
    return problem, tuple(found["slots"])


def _question(found: Mapping[str, Any]) -> Question:
    answer, graph = found.get("answer"), found.get("graph")
    return Question(
        name=found["name"],
        kind=found["kind"],
        answer=Answer(answer[0], Tolerance(answer[1], answer[2])) if answer else None,
        slips=tuple(map(_slip, found.get("slips", ()))),
        items=tuple(Item("", bool(marked)) for marked in found.get("right", ())),
        goes_on_from=tuple(found.get("goes_on_from", ())),
        graph=Graph(*graph) if graph else None,
    )


def _slip(found: Sequence[Any]) -> Slip:
    name, says, changes, expression = found
    return Slip(name, says or SLIPS[name].says, tuple(changes.items()), expression)
