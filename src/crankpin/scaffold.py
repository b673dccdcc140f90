"""A course begun, and what is added to one: each new file works at once and has a comment at each place to change.

This module may import: crankpin.calculator.
"""

from __future__ import annotations

import re
import shutil
from collections.abc import Iterator
from pathlib import Path

from crankpin.calculator.catalogue import load_one
from crankpin.calculator.faults import DeclarationFaultsError

_HERE = Path(__file__).parent
_NAME = re.compile(r"[a-z][a-z0-9]*(-[a-z0-9]+)*")


class ScaffoldError(ValueError):
    """What was asked for cannot be made; the message says what to do."""


def _packaged(name: str, in_clone: str) -> Path:
    """Return a folder that travels in an installed package, or stands at the root of a clone."""
    inside = _HERE / name
    return inside if inside.is_dir() else _HERE.parents[1] / in_clone


def starter() -> Path:
    """Return the folder of the course that a new one begins as."""
    return _packaged("starter", "starter")


def ready_made() -> Path:
    """Return the folder of the calculators that travel with crankpin."""
    return _packaged("ready_made", "calculators")


def new_course(folder: Path) -> list[Path]:
    """Write a new course into a folder that is not there yet or empty; return its files."""
    if folder.exists() and (not folder.is_dir() or any(folder.iterdir())):
        raise ScaffoldError(f"{folder} is there already and not empty; name a new folder")
    shutil.copytree(starter(), folder, dirs_exist_ok=True, ignore=shutil.ignore_patterns("__pycache__"))
    return sorted(path for path in folder.rglob("*") if path.is_file())


def new_chapter(course: Path, name: str) -> list[Path]:
    """Write a chapter with the next free number."""
    folder = _of_course(course) / "docs" / "chapters"
    number = 1 + max(_numbers(folder), default=0)
    return [_write(folder / f"{number:02d}-{_named(name)}.md", CHAPTER.format(title=_title(name)))]


def new_calculator(course: Path, name: str, like: str = "") -> list[Path]:
    """Write a calculator from formulas, or a copy of a ready-made one."""
    path = _of_course(course) / "calculators" / f"{_named(name).replace('-', '_')}.py"
    return [_write(path, _copied(like) if like else CALCULATOR.format(title=_title(name), name=name))]


def new_problem(course: Path, name: str) -> list[Path]:
    """Write a problem: behind those of the last chapter, or into its first file of problems."""
    chapters = sorted((_of_course(course) / "docs" / "chapters").glob("[0-9]*.md"))
    if not chapters:
        raise ScaffoldError("there is no chapter yet; a problem belongs to one: run 'crankpin new chapter NAME' first")
    path = course / "docs" / "problems" / chapters[-1].name
    problem = PROBLEM.format(id=_named(name), title=_title(name), chapter=chapters[-1].stem)
    if not path.exists():
        return [_write(path, PROBLEMS.format(chapter=chapters[-1].stem) + problem)]
    written = path.read_text("utf-8")
    if re.search(rf"^[~`]{{3,}}problem {re.escape(name)}\s*$", written, re.MULTILINE):
        raise ScaffoldError(f"{path} has a problem {name} already; choose another name")
    path.write_text(written.rstrip("\n") + "\n\n" + problem, "utf-8")
    return [path]


def new_card(course: Path, name: str) -> list[Path]:
    """Write a bench card, and its kit where it is missing."""
    kit = _of_course(course) / "bench.toml"
    card = course / "cards" / f"{_named(name)}.md"
    written = kit.read_text("utf-8") if kit.exists() else KIT_HEAD
    case = _first_calculator(course)
    made = [_write(card, CARD.format(title=_title(name), name=name, key=_first_output(course, case)))]
    kit.write_text(
        f'{written.rstrip()}\n\n[{name}-kit] # CHANGE: your own numbers, one line an input\ncalculator = "{case}"\n',
        "utf-8",
    )
    return [*made, kit]


def _of_course(course: Path) -> Path:
    if not (course / "mkdocs.yml").is_file():
        raise ScaffoldError(
            f"there is no mkdocs.yml in {course.resolve()}; go to the course's folder, or name it with --course"
        )
    return course


def _named(name: str) -> str:
    if not _NAME.fullmatch(name):
        raise ScaffoldError(f"“{name}” cannot be a name; use small letters, digits and hyphens, such as heavy-buoy")
    return name


def _title(name: str) -> str:
    return name.replace("-", " ").capitalize()


def _numbers(folder: Path) -> Iterator[int]:
    for path in folder.glob("*.md"):
        number = path.name.partition("-")[0]
        if number.isdigit():
            yield int(number)


def _write(path: Path, text: str) -> Path:
    if path.exists():
        raise ScaffoldError(f"{path} is there already; choose another name")
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, "utf-8")
    return path


def _copied(like: str) -> str:
    source = ready_made() / f"{like.replace('-', '_')}.py"
    if not source.is_file():
        there = ", ".join(sorted(path.stem.replace("_", "-") for path in ready_made().glob("[!_]*.py")))
        raise ScaffoldError(f"there is no ready-made calculator {like}; there are {there}")
    return source.read_text("utf-8")


def _first_calculator(course: Path) -> str:
    names = sorted(path.stem.replace("_", "-") for path in (course / "calculators").glob("[!_]*.py"))
    if not names:
        raise ScaffoldError("there is no calculator yet for the card: run 'crankpin new calculator NAME' first")
    return names[0]


def _first_output(course: Path, name: str) -> str:
    try:
        outputs = load_one(course / "calculators", name).outputs
    except DeclarationFaultsError as error:
        raise ScaffoldError(str(error)) from None
    return outputs[-1].key


CHAPTER = """\
---
title: {title}
description: One line for the list of chapters.
---

# {title}

<!-- CHANGE: the text. **Bold**, *italic*, $\\omega = 2\\pi f$ for a formula,
     {{= NAME.QUANTITY =}} for a computed number. -->

Write here.

!!! goals "After this chapter you can"
    - say what it is about.
"""
CALCULATOR = '''\
"""{title}: a calculator from formulas, called {name} on pages."""

from crankpin.calculator.short_form import calculator_from

calculator = calculator_from(
    title="{title}",
    purpose="CHANGE: what it is for, in one sentence.",
    # CHANGE: what the reader may change: key = value at first, from lowest to highest: what it is.
    given=[
        "d = 40 cm, from 10 cm to 120 cm: diameter",
    ],
    # CHANGE: what is worked out, each from what stands above it: key = formula in unit: what it is.
    found=[
        "s = pi*d in m: circumference",
    ],
    # CHANGE: a value that you worked out by hand; "crankpin check" holds the calculator against it.
    check="d = 40 cm gives s = 1.26 m",
)
'''
PROBLEMS = """\
---
title: "Problems"
description: Problems to chapter {chapter}.
---

# Problems

"""
PROBLEM = """\
~~~problem {id}
title = "{title}"
level = "standard"
needs = ["{chapter}"]
answer = "T"

# CHANGE: what is drawn anew for each student, and what is worked out from it.
[draw]
t = "20.0 to 40.0 s step 0.5"
N = "10"

[work]
T = "measurement.period_of_count(t, N) in s"

# CHANGE: the wrong numbers that students find, each told apart.
[slips]
upside_down = "N/t"
---
Ten turns take {{= t =}}. What is the period?

# Hints
1. The period belongs to one turn.
2. All ten turns take equally long.
3. Divide the time by ten.

# Solution
- $T = t/N$ (M1)
- $T = {{= t =}}/10 = {{= T =}}$ (A1)
~~~
"""
KIT_HEAD = (
    '# What you have on the bench: measure it, write it here, run "crankpin print". The cards in cards/ follow.\n'
)
CARD = """\
---
title: {title}
chapter: 1
code: {name}-kit
---

## Purpose

CHANGE: what is to be found out.

## Kit

- to hand: rule, stopwatch

## Numbers

| for this kit | computed | measured |
|---|--:|---|
| result | {{= {name}-kit.{key} =}} | |

## Steps

1. CHANGE: what is done, step by step.

## Readings

| first | second |
|---|---|
| | |

## Look for

- CHANGE: what to notice.

## Cautions

Your school’s own rules come first.
"""
