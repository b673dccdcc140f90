"""Reading problems from a Markdown file: every fault is told at once, each with its file and line."""

import re
import tomllib
from collections.abc import Callable, Mapping
from functools import partial
from typing import Any, TypeVar

from crankpin.calculator.declaration import Calculator
from crankpin.problems.cases import quoted
from crankpin.problems.declaration import (
    LEVELS,
    SLIPS_APART,
    TAGS,
    Answer,
    Graph,
    Item,
    Problem,
    Question,
    Slip,
    Step,
    Tolerance,
    Worked,
)
from crankpin.problems.drawing import Drawn, read_drawn
from crankpin.problems.expressions import read_expression, result_unit
from crankpin.problems.faults import ProblemFault, ProblemFaultsError, WordingError
from crankpin.problems.kind import Kind, kind_named
from crankpin.problems.notation import Block, Section, blocks_in, declaration_and_body, list_items, sections_in
from crankpin.problems.placeholders import read_asked
from crankpin.problems.quantities import read_quantity
from crankpin.problems.slips import read_slip

_ID = re.compile(r"[a-z][a-z0-9-]*")
_KEY = re.compile(r"[A-Za-z]\w*")
_MARKS = re.compile(r"\s*\((?P<codes>[MAB]\d(?:[ ,]+[MAB]\d)*|\d marks?)\)\s*$")
_BOX = re.compile(r"\[(?P<box>[ xX])\]\s+(?P<text>.*)", re.DOTALL)
_OF_A_PROBLEM = {"title", "level", "version", "tags", "needs", "kind", "draw", "work", "where", "part"}
_OF_A_QUESTION = frozenset({"hints", "solution"})
_TOLERANCE = "1 %"

_Read = TypeVar("_Read")


def read_problems(
    text: str, file: str, calculators: Mapping[str, Calculator], cases: Mapping[str, str] | None = None
) -> tuple[Problem, ...]:
    """Return the problems of a Markdown file. Raises `ProblemFaultsError` with everything that is wrong in it.

    ``cases`` holds what the course's cases are given, as typed (`crankpin.problems.cases.typed_inputs`).
    """
    faults: list[ProblemFault] = []
    problems: dict[str, Problem] = {}
    for block in blocks_in(text):
        reader = _Reader(block, file, calculators, cases or {})
        problem = reader.problem()
        if problem.id in problems:
            reader.fault(f"the id {problem.id} is already taken in line {problems[problem.id].line}; choose another")
        faults += reader.faults
        problems[problem.id] = problem
    if faults:
        raise ProblemFaultsError(sorted(faults, key=lambda fault: fault.line))
    return tuple(problems.values())


def read_problem(block: Block, file: str, calculators: Mapping[str, Calculator], cases: Mapping[str, str]) -> Problem:
    """Return the problem of one block. Raises `ProblemFaultsError`."""
    reader = _Reader(block, file, calculators, cases)
    problem = reader.problem()
    if reader.faults:
        raise ProblemFaultsError(sorted(reader.faults, key=lambda fault: fault.line))
    return problem


class _Reader:
    """Reads one block."""

    def __init__(
        self, block: Block, file: str, calculators: Mapping[str, Calculator], cases: Mapping[str, str]
    ) -> None:
        self.block, self.file, self.calculators, self.cases = block, file, calculators, cases
        self.faults: list[ProblemFault] = []
        toml, body, first = declaration_and_body(block)
        self.declared = self._declared(toml)
        self.lines = _lines_of(toml, block.line + 1)
        self.sections = sections_in(body, first)

    def fault(self, message: str, line: int = 0) -> None:
        self.faults.append(ProblemFault(self.file, line or self.block.line, message))

    def told(self, read: Callable[[], _Read], line: int = 0) -> _Read | None:
        """Return what is read, or None where it cannot be used, which is told."""
        try:
            return read()
        except WordingError as error:
            self.fault(str(error), line)
            return None

    def _declared(self, toml: str) -> dict[str, Any]:
        try:
            return tomllib.loads(toml)
        except tomllib.TOMLDecodeError as error:
            line = re.search(r"line (\d+)", str(error))
            self.fault(f"the declaration is not TOML: {error}", self.block.line + int(line[1]) if line else 0)
            return {}

    def problem(self) -> Problem:
        """Return the problem, as far as it can be read."""
        if not self.block.closed:
            self.fault("this problem is never closed; put its fence, ~~~ or ```, on a line of its own behind it")
        if not _ID.fullmatch(self.block.id):
            self.fault(f"“{self.block.id}” cannot be a problem's id; write, for example, ~~~problem turning-lamp")
        work = tuple(filter(None, (self._worked(key, text) for key, text in self._texts("work"))))
        draw = tuple(filter(None, (self._drawn(key, text) for key, text in self._texts("draw"))))
        return Problem(
            id=self.block.id,
            title=self._text("title", "The lamp on the rim"),
            level=self._one_of("level", LEVELS),
            version=self._version(),
            tags=tuple(self._listed("tags", TAGS)),
            needs=tuple(self._listed("needs")),
            draw=draw,
            work=work,
            where=tuple(self._where()),
            text=self._section("", "").text,
            questions=self._questions(),
            file=self.file,
            line=self.block.line,
        )

    def _texts(self, table: str) -> list[tuple[str, str]]:
        found = self.declared.get(table, {})
        if not isinstance(found, dict):
            self.fault(
                f"{table} must be a table: a line [{table}], and below it its quantities", self.lines.get(table, 0)
            )
            return []
        for key, text in found.items():
            line = self.lines.get(f"{table}.{key}", 0)
            if not isinstance(text, str):
                self.fault(f"{key} must be a text in quotation marks", line)
            if not _KEY.fullmatch(key) or key == "pi":
                self.fault(f"{key} cannot name a quantity; use letters, digits and _, such as T_d", line)
        return [(key, text) for key, text in found.items() if isinstance(text, str)]

    def _drawn(self, key: str, text: str) -> Drawn | None:
        return self.told(lambda: read_drawn(key, quoted(text, self.cases)), self.lines.get(f"draw.{key}", 0))

    def _worked(self, key: str, text: str) -> Worked | None:
        line = self.lines.get(f"work.{key}", 0)
        if key in self.declared.get("draw", {}):
            self.fault(f"{key} is drawn and worked out as well; give one of them another name", line)
        return self.told(lambda: self._worked_out(key, text, line), line)

    def _worked_out(self, key: str, text: str, line: int) -> Worked:
        asked = read_asked(text)
        known = result_unit(asked.expression, self.calculators)
        if asked.unit:
            return Worked(key, asked.expression, asked.dimension, asked.unit, asked.digits or 3, line)
        if known is None:
            raise WordingError(
                f'{key}: say the unit in which it is written, such as {key} = "{text} in m/s" (or "in 1")'
            )
        return Worked(key, asked.expression, known[0], known[1], asked.digits or known[2], line)

    def _text(self, key: str, example: str) -> str:
        found = self.declared.get(key)
        if isinstance(found, str) and found.strip():
            return found
        self.fault(f'{key} is missing; write, for example, {key} = "{example}"')
        return ""

    def _one_of(self, key: str, allowed: tuple[str, ...]) -> str:
        found = str(self.declared.get(key, ""))
        if found not in allowed:
            self.fault(f"{key} is “{found}”; it must be {' or '.join(allowed)}", self.lines.get(key, 0))
        return found

    def _listed(self, key: str, allowed: tuple[str, ...] = ()) -> list[str]:
        found = self.declared.get(key, [])
        if not isinstance(found, list):
            self.fault(
                f'{key} must be a list, such as {key} = ["{(allowed or ("01-turning",))[0]}"]', self.lines.get(key, 0)
            )
            return []
        for word in found:
            if allowed and word not in allowed:
                self.fault(f"“{word}” is not one of the {key}: {', '.join(allowed)}", self.lines.get(key, 0))
        return [str(word) for word in found]

    def _version(self) -> int:
        found = self.declared.get("version", 1)
        if type(found) is int and found >= 1:
            return found
        self.fault("version must be a whole number from 1 on", self.lines.get("version", 0))
        return 1

    def _where(self) -> list[str]:
        line = self.lines.get("where", 0)
        listed = self._listed("where")
        for text in listed:
            if text != SLIPS_APART:
                self.told(partial(read_expression, text), line)
        return listed

    def _section(self, part: str, name: str) -> Section:
        found = [section for section in self.sections if (section.part, section.name) == (part, name)]
        if len(found) > 1:
            self.fault(f"there are two sections “{name}”; join them", found[1].line)
        return found[0] if found else Section(part, name, (), 0)

    def _questions(self) -> tuple[Question, ...]:
        kind = self.declared.get("kind", "parts" if "part" in self.declared else "number")
        if kind != "parts":
            extra = [section for section in self.sections if section.part]
            if extra:
                self.fault(f"part {extra[0].part} has no table; write [part.{extra[0].part}] above ---", extra[0].line)
            return tuple(filter(None, [self._question("", kind, self.declared, _OF_A_PROBLEM)]))
        tables = self.declared.get("part", {})
        if not isinstance(tables, dict) or not all(isinstance(table, dict) for table in tables.values()) or not tables:
            self.fault("the parts must be tables, such as [part.a], each with its answer", self.lines.get("part", 0))
            return ()
        self._compare_parts(set(tables))
        found = [self._question(n, t.get("kind", "number"), t, {"kind", "goes_on_from"}) for n, t in tables.items()]
        for key in set(self.declared) - _OF_A_PROBLEM:
            self.fault(f"{key} belongs to a part here: put it below [part.a]", self.lines.get(key, 0))
        return tuple(filter(None, found))

    def _compare_parts(self, tables: set[str]) -> None:
        sections = {section.part: section.line for section in self.sections if section.part}
        for part in sorted(tables - set(sections)):
            self.fault(f"part {part} has no text; write # Part {part} below ---", self.lines.get(f"part.{part}", 0))
        for part in sorted(set(sections) - tables):
            self.fault(f"part {part} has no table; write [part.{part}] above ---", sections[part])

    def _question(self, name: str, kind: str, table: Mapping[str, Any], beside: set[str]) -> Question | None:
        source = _QuestionSource(self, name, table)
        found = self.told(lambda: kind_named(str(kind)), source.line("kind"))
        if found is None:
            return None
        source.check_names(found, beside)
        return Question(
            name=name,
            kind=str(kind),
            text=self._section(name, "").text if name else "",
            hints=source.hints(),
            solution=source.solution(),
            goes_on_from=tuple(source.goes_on_from()),
            line=source.line(""),
            **found.read(source),
        )


class _QuestionSource:
    """What a kind reads its question from (see `crankpin.problems.kind.Source`)."""

    def __init__(self, reader: _Reader, name: str, table: Mapping[str, Any]) -> None:
        self._reader, self._name, self._table = reader, name, table

    def line(self, key: str) -> int:
        above = f"part.{self._name}" if self._name else ""
        wanted = f"{above}.{key}".strip(".")
        return self._reader.lines.get(wanted) or self._reader.lines.get(above) or self._reader.block.line

    def fault(self, message: str, line: int = 0) -> None:
        self._reader.fault((f"part {self._name}: " if self._name else "") + message, line or self.line(""))

    def check_names(self, kind: Kind, beside: set[str]) -> None:
        """Tell the keys and sections that this kind does not know."""
        for key in self._table:
            if key not in kind.keys and key not in beside:
                known = ", ".join(sorted(kind.keys))
                self.fault(f"{key} is not known here; this kind knows {known or 'no keys of its own'}", self.line(key))
        for section in self._reader.sections:
            if section.part == self._name and section.name and section.name not in kind.sections | _OF_A_QUESTION:
                known = ", ".join(sorted(kind.sections | _OF_A_QUESTION))
                self.fault(f"there is no section “{section.name}” here; there are {known}", section.line - 1)

    def has(self, key: str) -> bool:
        return key in self._table or any((s.part, s.name) == (self._name, key) for s in self._reader.sections)

    def goes_on_from(self) -> list[str]:
        found = self._table.get("goes_on_from", [])
        return [found] if isinstance(found, str) else [str(part) for part in found]

    def answer(self) -> Answer | None:
        key = self._table.get("answer")
        known = [*self._reader.declared.get("work", {}), *self._reader.declared.get("draw", {})]
        if key not in known:
            self.fault(
                f"answer is {'missing' if key is None else f'“{key}”'}; it must name a quantity of [work] or [draw]: "
                f"{', '.join(known) or 'none is there yet'}",
                self.line("answer"),
            )
            return None
        tolerance = self._reader.told(self._tolerance, self.line("tolerance"))
        return Answer(str(key), tolerance) if tolerance else None

    def _tolerance(self) -> Tolerance:
        written = str(self._table.get("tolerance", _TOLERANCE))
        value, form = read_quantity(written)
        if value <= 0.0:
            raise WordingError("tolerance must be above zero, such as 2 % or 0.1 s")
        return Tolerance(value, absolute=form.unit != "%")

    def slips(self) -> tuple[Slip, ...]:
        table = self._table.get("slips", {})
        if not isinstance(table, dict):
            self.fault("slips must be a table, each slip a line", self.line("slips"))
            return ()
        found = [self._slip(name, written) for name, written in table.items()]
        return tuple(filter(None, found))

    def _slip(self, name: str, written: object) -> Slip | None:
        line = self.line(f"slips.{name}")
        return self._reader.told(lambda: read_slip(name, written, line), line)

    def graph(self) -> Graph | None:
        table = self._table.get("graph")
        if not isinstance(table, dict):
            self.fault("the graph is missing: a table graph with across, up and curve")
            return None
        return self._reader.told(lambda: _graph(table), self.line("graph"))

    def _items_of(self, section: str) -> list[tuple[str, int]]:
        found = self._reader._section(self._name, section)
        return list_items(found)

    def items(self, section: str, least: int = 2) -> tuple[Item, ...]:
        found = self._items_of(section)
        if len(found) < least:
            self.fault(f"the section “{section}” must be a list of {least} or more")
        return tuple(_item(text) for text, _ in found)

    def points(self, section: str) -> tuple[Step, ...]:
        found = self._items_of(section)
        if not found:
            self.fault(f"the section “{section}” must be a list of points, each with its marks, such as (1 mark)")
        return tuple(_step(text) for text, _ in found)

    def markdown(self, section: str) -> str:
        found = self._reader._section(self._name, section).text
        if not found.strip():
            self.fault(f"the section “{section}” is missing or empty")
        return found

    def hints(self) -> tuple[str, ...]:
        found = tuple(text for text, _ in self._items_of("hints"))
        if len(found) != 3:
            self.fault(f"there are {len(found)} hints; write three, from a nudge to nearly the whole way, as a list")
        return found

    def solution(self) -> tuple[Step, ...]:
        steps = tuple(_step(text) for text, _ in self._items_of("solution"))
        if not steps and self.has("solution"):
            self.fault("the solution must be a list of steps, with their marks at the end, such as (M1) or (1 mark)")
        if not steps and not self.has("a good answer"):
            self.fault("the section “solution” is missing: a list of steps with their marks")
        if not any(step.worth for step in steps) and not self.has("a good answer"):
            self.fault("the solution has no marks; put them at the end of its steps: (M1), (A1), (B1) or (1 mark)")
        return steps


def _item(text: str) -> Item:
    head, _, reason = text.partition("\n")
    box = _BOX.fullmatch(head)
    return Item(box["text"], box["box"] != " ", reason.strip()) if box else Item(text)


def _step(text: str) -> Step:
    found = _MARKS.search(text)
    if not found:
        return Step(text)
    codes = re.findall(r"[MAB]\d", found["codes"]) or [f"B{found['codes'].split()[0]}"]
    return Step(text[: found.start()], tuple(codes))


def _graph(table: Mapping[str, Any]) -> Graph:
    """Read across = "t from 0 to 2*T in s", up = "x in cm", curve = an expression over t."""
    across = re.fullmatch(
        r"(?P<key>[A-Za-z]\w*) from (?P<low>.+?) to (?P<high>.+) in (?P<unit>.+)", str(table.get("across", ""))
    )
    up = re.fullmatch(r"(?P<key>[A-Za-z]\w*) in (?P<unit>.+)", str(table.get("up", "")))
    if not across or not up or set(table) != {"across", "up", "curve"}:
        raise WordingError(
            'a graph needs across = "t from 0 to 2*T in s", up = "x in cm", curve = "harmonic.displacement(…)", no more'
        )
    for expression in (across["low"], across["high"], str(table["curve"])):
        read_expression(expression)
    return Graph(
        across["key"], across["low"], across["high"], across["unit"], str(table["curve"]), up["key"], up["unit"]
    )


def _lines_of(toml: str, first: int) -> dict[str, int]:
    """Return the line of each key and table, by its dotted name."""
    found: dict[str, int] = {}
    table = ""
    for number, line in enumerate(toml.split("\n"), first):
        if heading := re.match(r"\s*\[([\w.-]+)\]", line):
            table = heading[1]
            found.setdefault(table, number)
        elif key := re.match(r"\s*([\w.-]+)\s*=", line):
            found.setdefault(f"{table}.{key[1]}".strip("."), number)
    return found
