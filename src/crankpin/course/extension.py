"""The course's notation in Python-Markdown: calculators, scenes, cases, computed numbers, checked formulas.

    md = markdown.Markdown(extensions=[CrankpinExtension(course=course, place=Place("chapters/01-turning.md", 1))])

All faults of a page are raised together as `CourseFaultsError`, each with its file and line; a caller that has its own
way of stopping gives `stop`.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Collection, Iterable, Mapping
from xml.etree.ElementTree import Element

from markdown import Extension, Markdown
from markdown.preprocessors import Preprocessor
from markdown.treeprocessors import Treeprocessor

from crankpin.course import prose
from crankpin.course.problem_text import quotable, render
from crankpin.elements.calculator import calculator_html, ids_in
from crankpin.elements.index import index_html
from crankpin.elements.problem import ProblemWriter, overview_html
from crankpin.elements.scene import scene_html
from crankpin.faults import AuthorError, CourseFault, CourseFaultsError, Place
from crankpin.formulas import mathml
from crankpin.notation.blocks import read_pairs
from crankpin.notation.course import Course
from crankpin.notation.passages import Fence, Writers, fences, rewrite
from crankpin.problems.declaration import Problem
from crankpin.problems.faults import NoNumberError, ProblemFault, ProblemFaultsError, WordingError
from crankpin.problems.notation import Block
from crankpin.problems.parsing import read_problem
from crankpin.problems.trial import try_problem

Embed = Callable[[Course, str, dict[str, str], str], str]
"""Gives the HTML of a calculator or scene, or what stands in for it: the course, its id or kind, what is given, the
element's id."""

Ids = Callable[[str, Collection[str]], Iterable[str]]
"""Gives those of some ids that are in the HTML of a calculator, a scene or an index, or in what stands in for it."""

Trial = Callable[[Problem, Course], Iterable[ProblemFault]]
"""Gives the faults that are found when variants of a problem are drawn and solved."""

Stop = Callable[[CourseFaultsError], None]
"""Told the faults of a page; must raise."""

# After the white space is made regular, before fenced code is taken.
_PRIORITY = 28
#: So many variants of a problem are solved where nobody says otherwise.
_VARIANTS = 20
# After the headings have got their ids.
_AFTER_TOC = 4


class CrankpinExtension(Extension):
    """The notation of one course; `place` is set anew for each page."""

    def __init__(
        self,
        course: Course | None = None,
        place: Place | None = None,
        calculator: Embed | None = None,
        scene: Embed | None = None,
        ids: Ids | None = None,
        trial: Trial | None = None,
        stop: Stop | None = None,
    ) -> None:
        super().__init__()
        self.course = course or Course({})
        self.place = place or Place("page", 1)
        self.stop = stop or _raise
        self.calculator = calculator or _calculator_html
        self.scene = scene or _scene_html
        self.ids = ids or _ids_among
        self.trial = trial or _trial
        #: The problems of each page, by its file.
        self.problems_of: dict[str, list[Problem]] = {}
        #: Where each problem of the course stands; an id is taken once.
        self.problems: dict[str, Place] = {}

    def extendMarkdown(self, md: Markdown) -> None:  # noqa: N802  the name is Python-Markdown's
        """Add the notation to a Markdown reader."""
        md.registerExtension(self)
        notation = _Notation(md, self)
        md.preprocessors.register(notation, "crankpin", _PRIORITY)
        md.treeprocessors.register(_HeadingsApart(notation), "crankpin-headings", _AFTER_TOC)


def _calculator_html(course: Course, name: str, given: dict[str, str], element_id: str) -> str:
    return calculator_html(name, given, element_id, calculators=course.calculators)


def _scene_html(course: Course, kind: str, options: dict[str, str], element_id: str) -> str:
    return scene_html(kind, options, element_id, course=course)


def _ids_among(part: str, among: Collection[str]) -> Iterable[str]:
    return (one for one in ids_in(part) if one in among)


def _trial(problem: Problem, course: Course) -> Iterable[ProblemFault]:
    return try_problem(problem, course.calculators, _VARIANTS).told()


def _raise(faults: CourseFaultsError) -> None:
    raise faults


class _Notation(Preprocessor):
    def __init__(self, md: Markdown, extension: CrankpinExtension) -> None:
        super().__init__(md)
        self.extension = extension
        self._course = extension.course

    def run(self, lines: list[str]) -> list[str]:
        """Rewrite the notation of one page."""
        self._faults: list[CourseFault] = []
        self._used: dict[str, int] = {}
        self._problems: list[Problem] = []
        self.extension.problems_of[self.extension.place.file] = self._problems
        self._overview: int | None = None
        self.blocks: list[tuple[str, str]] = []
        answered = rewrite(lines, Writers(self._number, self._tex_number, self._check_formula))
        ready = self._without_own_fences(lines, answered)
        if self._overview is not None:
            self.md.htmlStash.rawHtmlBlocks[self._overview] = overview_html(self._problems)
        if self._faults:
            self.extension.stop(CourseFaultsError(sorted(self._faults, key=lambda fault: fault.place.line or 0)))
        return ready

    def _without_own_fences(self, lines: list[str], answered: list[str]) -> list[str]:
        written = list(fences(lines))
        out: list[str] = []
        at = 0
        for fence, original in zip(fences(answered), written, strict=True):
            out += answered[at : fence.first]
            block = self._block(original)
            out += answered[fence.first : fence.last + 1] if block is None else block
            at = fence.last + 1
        return out + answered[at:]

    def _block(self, fence: Fence) -> list[str] | None:
        """Return the lines that stand for a fenced block of the course's own, None for any other."""
        kind = fence.info.partition(" ")[0]
        writers: dict[str, Callable[[Fence], str]] = {
            "calculator": self._calculator,
            "scene": self._scene,
            "index": self._index,
            "case": lambda _: "",
            "problem": self._problem,
        }
        write = writers.get(kind)
        if write is None:
            return None
        text = self._told(fence.first, lambda: write(fence))
        self.blocks.append((text, fence.info))
        if self._problems and self._overview is None:
            self._overview = self.md.htmlStash.html_counter
            return ["", self._stash("<crankpin-overview>"), "", self._stash(text), ""]
        return ["", fence.indent + self._stash(text), ""] if text else [""]

    def _calculator(self, fence: Fence) -> str:
        name = _one_name(fence, "calculator edge-on")
        identity = self._course.calculator_of(name)
        given = self._course.given(name, read_pairs(fence.body))
        return self.extension.calculator(self._course, identity, given, self._element_id(name))

    def _scene(self, fence: Fence) -> str:
        kind = _one_name(fence, "scene wheel")
        return self.extension.scene(self._course, kind, read_pairs(fence.body), self._element_id(kind))

    def _index(self, fence: Fence) -> str:
        kind = _one_name(fence, "index formulas")
        return index_html(kind, [line.strip() for line in fence.body if line.strip()], self._course.calculators)

    def _problem(self, fence: Fence) -> str:
        problem = self._read_problem(fence)
        if problem is None:
            return ""
        self._problems.append(problem)
        place = self.extension.place.below(fence.first)
        known = self.extension.problems.setdefault(problem.id, place)
        if known.file != place.file or self._element_id(problem.id) != problem.id:
            raise AuthorError(f"the id {problem.id} is already taken in {known}; choose another")
        self._keep(self.extension.trial(problem, self._course))
        writer = ProblemWriter(self._course.calculators, render, lambda *given: self._embed(problem, *given))
        try:
            return writer.html(problem)
        except (WordingError, NoNumberError) as error:
            raise AuthorError(str(error)) from None

    def _read_problem(self, fence: Fence) -> Problem | None:
        place, line = self.extension.place, self.extension.place.below(fence.first).line or 1
        block = Block(fence.info.partition(" ")[2], fence.body, line)
        try:
            return read_problem(block, place.file, self._course.calculators, quotable(self._course.cases))
        except ProblemFaultsError as error:
            self._keep(error.faults)
            return None

    def _keep(self, faults: Iterable[ProblemFault]) -> None:
        self._faults += [CourseFault(Place(fault.file, fault.line), fault.message) for fault in faults]

    def _embed(self, problem: Problem, fence: Fence, given: Mapping[str, str]) -> tuple[str, str]:
        """Return a calculator or scene that opens inside a problem, and its element's id."""
        kind, _, name = fence.info.partition(" ")
        element_id = self._element_id(f"{problem.id}-{name}")
        if kind == "scene":
            return self.extension.scene(self._course, name, dict(given), element_id), element_id
        if kind != "calculator":
            raise AuthorError(f"“{fence.info}” cannot open in a problem; a calculator or a scene can")
        inputs = self._course.given(name, given)
        return self.extension.calculator(self._course, self._course.calculator_of(name), inputs, element_id), element_id

    def _element_id(self, name: str) -> str:
        count = self._used[name] = self._used.get(name, 0) + 1
        return name if count == 1 else f"{name}-{count}"

    def _stash(self, html: str) -> str:
        tag = re.match(r"\s*<([\w-]+)", html)
        if tag and tag[1] not in self.md.block_level_elements:
            self.md.block_level_elements.append(tag[1])
        return self.md.htmlStash.store(html)

    def _number(self, asked: str, line: int) -> str:
        return self.md.htmlStash.store(self._told(line, lambda: prose.answer_html(self._course, asked), asked))

    def _tex_number(self, asked: str, line: int) -> str:
        return self._told(line, lambda: prose.answer_tex(self._course, asked), asked) or "0"

    def _check_formula(self, tex: str, display: bool, line: int) -> None:
        self._told(line, lambda: mathml.mathml(tex, display=display))

    def _told(self, line: int, write: Callable[[], str], asked: str = "") -> str:
        """Return what is written, or keep the fault with its place."""
        before = f"{{= {asked} =}}: " if asked else ""
        try:
            return write()
        except AuthorError as told:
            self._faults.append(CourseFault(self.extension.place.below(line), before + str(told)))
        return ""


class _HeadingsApart(Treeprocessor):
    """Tells the headings whose id a calculator or scene of the page has as well: a link could reach only one."""

    def __init__(self, notation: _Notation) -> None:
        super().__init__()
        self._notation = notation

    def run(self, root: Element) -> None:
        """Stop at headings that share an id; change nothing."""
        extension = self._notation.extension
        headings = [one.attrib.get("id", "") for one in root.iter() if re.fullmatch("h[1-6]", one.tag)]
        taken = {name: info for text, info in self._notation.blocks for name in extension.ids(text, headings)}
        faults = [self._fault(name, taken[name]) for name in headings if name in taken]
        if faults:
            extension.stop(CourseFaultsError(faults))

    def _fault(self, name: str, info: str) -> CourseFault:
        return CourseFault(
            Place(self._notation.extension.place.file),
            f'a heading and "{info}" both have the id {name}; word the heading another way, or '
            "give it an id of its own behind it, such as { #more-about-it }",
        )


def _one_name(fence: Fence, example: str) -> str:
    words = fence.info.split()
    if len(words) != 2:
        raise AuthorError(f'"{fence.info}" must be two words, such as "{example}"')
    return words[1]


def makeExtension(**settings: object) -> CrankpinExtension:  # noqa: N802  the name is Python-Markdown's
    """Return the extension; for use by name."""
    return CrankpinExtension(**settings)  # type: ignore[arg-type]
