"""Checking a whole course before a class sees it: one report of what is wrong and what should be looked at.

This module may import: everything but the command line.
"""

from __future__ import annotations

import gzip
import logging
import re
from collections import Counter
from dataclasses import asdict, dataclass, field
from pathlib import Path
from typing import Any

from crankpin.build import CONFIGURATION, BuildFailedError, check_problems
from crankpin.course.review import HARDEST, reading_level, review_case, review_page, values_of
from crankpin.faults import CourseFault, Place

#: Where the course is built to be looked at, seen from its folder.
FOLDER = Path("build") / "check"
#: A page that takes more over the network is pointed out, in bytes after compression; what all pages share not counted.
HEAVIEST = 200_000


@dataclass(frozen=True)
class Finding:
    """One thing found: what it is about, where, in words, and whether it is only advice."""

    topic: str
    place: str
    message: str
    is_advice: bool = False

    def __str__(self) -> str:
        word = "look" if self.is_advice else "WRONG"
        where = f"{self.place}: " if self.place else ""
        return f"{word:6} {self.topic}: {where}{self.message}"


@dataclass
class Report:
    """What was checked, by topic with its number, and what was found."""

    checked: dict[str, int] = field(default_factory=dict)
    findings: list[Finding] = field(default_factory=list)

    @property
    def is_sound(self) -> bool:
        """Whether nothing is wrong; advice may be left."""
        return all(finding.is_advice for finding in self.findings)

    def as_data(self) -> dict[str, Any]:
        """Return the report in the form of ``--json``."""
        return {"sound": self.is_sound, "checked": self.checked, "findings": [asdict(one) for one in self.findings]}

    def as_text(self) -> str:
        """Return the findings, then what to do first."""
        wrong = sum(1 for one in self.findings if not one.is_advice)
        advice = Counter(one.topic for one in self.findings if one.is_advice)
        counted = ", ".join(f"{number} {topic}" for topic, number in self.checked.items())
        looks = ", ".join(f"{number} {topic}" for topic, number in advice.items()) or "nothing"
        verdict = f"{wrong} to mend before you publish" if wrong else "nothing is wrong"
        return "\n".join([*map(str, self.findings), f"checked: {counted}", f"to look at: {looks}", verdict])


def check_course(course: Path, variants: int = 1000) -> Report:
    """Check a course. Raises `BuildFailedError` where there is none."""
    report = Report()
    plugin = _build(course, report)
    if plugin is None:
        return report
    try:
        found = check_problems(course, variants)
    except BuildFailedError as error:
        report.findings.append(Finding("problems", "", str(error)))
        return report
    for problem in found:
        place = f"{_from(course, problem.fault.file)}:{problem.fault.line}"
        report.findings.append(Finding("problems", place, problem.fault.message, problem.is_advice))
    _review(course, plugin, report)
    _weigh(course / FOLDER, report)
    return report


class _Kept(logging.Handler):
    """Keeps the warnings and errors of a build."""

    def __init__(self) -> None:
        super().__init__(logging.WARNING)
        self.told: list[str] = []

    def emit(self, record: logging.LogRecord) -> None:
        """Keep one message."""
        self.told += record.getMessage().splitlines()


def _build(course: Path, report: Report) -> Any:
    """Build the course aside; return its plugin, None where it cannot be built. Numbers, checks and links are told."""
    from mkdocs.commands.build import build
    from mkdocs.config import load_config
    from mkdocs.exceptions import MkDocsException

    settings = course / CONFIGURATION
    if not settings.is_file():
        raise BuildFailedError(f"There is no {CONFIGURATION} in {course.resolve()}; go to the course's folder")
    log, kept = logging.getLogger("mkdocs"), _Kept()
    log.addHandler(kept)
    try:
        config: Any = load_config(str(settings), site_dir=str((course / FOLDER).resolve()))
        config.plugins.on_startup(command="build", dirty=False)
        build(config)
    except MkDocsException as error:
        if not kept.told:
            kept.told = [str(error)]
        report.findings += [Finding("pages", "", line) for line in kept.told]
        return None
    finally:
        log.removeHandler(kept)
    report.findings += [Finding("links", "", line) for line in kept.told]
    return config.plugins.get("crankpin")


def _review(course: Path, plugin: Any, report: Report) -> None:
    known = plugin.course
    values = values_of(known)
    docs = sorted((course / "docs").rglob("*.md"))
    cards = sorted((course / "cards").glob("*.md"))
    told: list[tuple[str, CourseFault]] = []
    for path in docs + cards:
        text = path.read_text("utf-8")
        told += [
            ("numbers and pictures", fault) for fault in review_page(text, Place(_from(course, str(path)), 1), values)
        ]
    for path in cards:
        level = reading_level(text_of_steps(path.read_text("utf-8")))
        if level is not None and level > HARDEST:
            words = f"the steps ask for {level:.0f} years at school; shorter sentences and words would help"
            told.append(("reading level", CourseFault(Place(_from(course, str(path))), words)))
    told += [("units", fault) for name in known.cases for fault in review_case(known, name)]
    report.findings += [Finding(topic, str(fault.place), fault.message, True) for topic, fault in told]
    asked = sum(path.read_text("utf-8").count("{=") for path in docs + cards)
    checks = sum(len(one.checks) for one in known.calculators.values())
    report.checked = {
        "pages": len(docs),
        "bench cards": len(cards),
        "computed numbers": asked,
        "calculators": len(known.calculators),
        "published checks": checks,
        "cases": len(known.cases),
        "problems": sum(len(re.findall(r"^[~`]{3,}problem ", path.read_text("utf-8"), re.M)) for path in docs),
    }


def text_of_steps(card: str) -> str:
    """Return the section Steps of a card."""
    return card.partition("\n## Steps\n")[2].partition("\n## ")[0]


def _weigh(site: Path, report: Report) -> None:
    for page in sorted(site.rglob("*.html")):
        size = len(gzip.compress(page.read_bytes(), 6))
        if size > HEAVIEST:
            words = f"takes {size // 1000} kB over the network; make two pages of it"
            report.findings.append(Finding("size", page.relative_to(site).as_posix(), words, True))


def _from(course: Path, file: str) -> str:
    path = Path(file).resolve()
    return path.relative_to(course.resolve()).as_posix() if path.is_relative_to(course.resolve()) else file
