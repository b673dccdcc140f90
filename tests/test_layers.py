"""The house: each room imports exactly what its list says, and only rooms that stand before it."""

import ast
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
SOURCE = ROOT / "src"
MODULES = {
    ".".join(path.relative_to(SOURCE).with_suffix("").parts).removesuffix(".__init__"): path
    for path in sorted((SOURCE / "crankpin").rglob("*.py"))
}
DECLARATIONS = sorted((ROOT / "calculators").glob("*.py"))
#: What each room imports, neither more nor less: rooms of crankpin and packages. The lowest stand first.
ROOMS: dict[str, tuple[set[str], set[str]]] = {
    "": (set(), set()),
    "faults": (set(), set()),
    "store": (set(), set()),
    "chromium": (set(), set()),
    "server": (set(), set()),
    "mechanics": (set(), set()),
    "calculator": ({"mechanics"}, set()),
    "scenes": ({"mechanics", "calculator"}, set()),
    "problems": ({"mechanics", "calculator"}, set()),
    "calc": ({"calculator"}, set()),
    "service": ({"calculator", "problems"}, set()),
    "browser": (set(), set()),
    "figures": ({"calculator"}, {"matplotlib", "segno"}),
    "formulas": ({"faults", "calculator"}, {"math_core"}),
    "notation": ({"faults", "calculator"}, set()),
    "elements": (
        {"faults", "calculator", "scenes", "problems", "service", "figures", "formulas", "notation"},
        {"jinja2", "markupsafe"},
    ),
    "course": (
        {"faults", "calculator", "problems", "formulas", "notation", "elements"},
        {"markdown"},
    ),
    "site": (
        {"faults", "store", "calculator", "browser", "formulas", "notation", "elements"},
        {"fontTools", "mkdocs", "pymdownx"},
    ),
    "paper": (
        {
            *("faults", "store", "chromium", "calculator", "figures", "formulas"),
            *("problems", "notation", "elements", "course", "site"),
        },
        {"markdown", "mkdocs", "pikepdf", "playwright"},
    ),
    "handover": ({"faults", "calculator", "problems", "elements", "course"}, set()),
    "portable": (set(), set()),
    "build": (
        {"faults", "portable", "calculator", "problems", "notation", "course", "site", "paper", "handover"},
        {"mkdocs"},
    ),
    "plugin": (
        {
            *("faults", "store", "calculator", "browser", "formulas", "problems"),
            *("notation", "elements", "course", "site", "paper"),
        },
        {"mkdocs"},
    ),
    "drafts": ({"server", "figures", "build"}, {"mkdocs", "watchfiles"}),
    "api": (
        {"faults", "calculator", "formulas", "notation", "elements", "course", "site", "paper"},
        {"markdown"},
    ),
    "checking": ({"faults", "course", "build"}, {"mkdocs"}),
    "scaffold": ({"calculator"}, set()),
    "picture": ({"calc", "calculator", "figures"}, set()),
    "cli": ({"calc", "picture", "scaffold", "checking", "server", "site", "build", "drafts"}, {"click", "segno"}),
}

ON_PHONES = ("mechanics", "calculator", "problems", "scenes", "service")
KEPT_OFF_PHONES = {"decimal", "statistics", "numpy"}


def part_of(module):
    """Return the part of crankpin a module belongs to: crankpin.formulas.mathml is in ``formulas``."""
    return ([*module.split("."), ""])[1]


def imports_of(path):
    """Return the full name of each module that a file imports, inside functions too."""
    found = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path}: write the import in full, from crankpin down"
            found.add(node.module)
            if node.module == "crankpin":
                found |= {f"crankpin.{alias.name}" for alias in node.names if alias.name != "__version__"}
    return found


def is_of_crankpin(name):
    return name.split(".")[0] == "crankpin"


def is_standard(name):
    return name.split(".")[0] in sys.stdlib_module_names


def files_of(room):
    return [path for module, path in MODULES.items() if part_of(module) == room]


def rooms_below(room):
    """Return all rooms that come along when a room is imported: those it uses, those they use, and so on."""
    used = ROOMS[room][0]
    return used.union(*(rooms_below(below) for below in used))


def test_every_room_is_listed_and_none_is_a_ghost():
    assert set(ROOMS) == {part_of(module) for module in MODULES}


def test_no_room_uses_one_that_stands_after_it():
    order = list(ROOMS)
    for room, (used, _) in ROOMS.items():
        assert all(order.index(below) < order.index(room) for below in used), room


@pytest.mark.parametrize("room", ROOMS)
def test_a_room_imports_what_its_list_says_neither_more_nor_less(room):
    names = set().union(*(imports_of(path) for path in files_of(room)))
    own = {part_of(name) for name in names if is_of_crankpin(name)} - {"", room}
    others = {name.split(".")[0] for name in names if not is_of_crankpin(name) and not is_standard(name)}
    assert (own, others) == ROOMS[room]


@pytest.mark.parametrize("path", DECLARATIONS, ids=lambda path: path.stem)
def test_a_declaration_uses_the_mechanics_and_its_own_words_alone(path):
    for name in imports_of(path):
        assert is_standard(name) or part_of(name) in ("mechanics", "calculator"), name


@pytest.mark.parametrize("module", [name for name in MODULES if part_of(name) in ON_PHONES])
def test_what_runs_on_phones_stays_light_and_adds_exactly(module):
    tree = ast.parse(MODULES[module].read_text(encoding="utf-8"))
    assert not imports_of(MODULES[module]) & KEPT_OFF_PHONES
    for node in ast.walk(tree):
        if isinstance(node, ast.Call) and ast.unparse(node.func) == "sum":
            assert counts(node.args[0]), f"line {node.lineno}: sum() differs between Pythons; use math.fsum"


def counts(terms):
    """Tell whether what is added is ones and yeses: no sum of floats, which Pythons round differently."""
    if not isinstance(terms, ast.GeneratorExp):
        return False
    called = ast.unparse(terms.elt.func).lstrip("_") if isinstance(terms.elt, ast.Call) else ""
    is_yes_or_no = isinstance(terms.elt, (ast.BoolOp, ast.Compare)) or called.startswith("is_")
    return is_yes_or_no or ast.unparse(terms.elt) == "1"


def is_bare(room):
    """Tell whether a room, with all it brings along, needs nothing but the standard library."""
    return not any(ROOMS[below][1] for below in {room, *rooms_below(room)})


def import_alone(module):
    """Import one module in a fresh interpreter, without any installed package where it may need none."""
    bare = ["-S"] if is_bare(part_of(module)) else []
    program = f"import sys; sys.path.insert(0, {str(SOURCE)!r}); import {module}; print(*sys.modules)"
    return subprocess.run(
        [sys.executable, "-I", "-W", "error::SyntaxWarning", *bare, "-c", program],
        capture_output=True,
        text=True,
        check=False,
    )


def test_each_module_can_be_imported_alone():
    with ThreadPoolExecutor(2) as pool:
        answers = dict(zip(MODULES, pool.map(import_alone, MODULES), strict=True))
    failed = {module: answer.stderr[-600:] for module, answer in answers.items() if answer.returncode}
    assert not failed
    for module, answer in answers.items():
        loaded = {part_of(name) for name in answer.stdout.split() if is_of_crankpin(name)} - {""}
        allowed = rooms_below(part_of(module)) | {part_of(module)}
        assert loaded <= allowed, f"importing {module} alone also loads {sorted(loaded - allowed)}"


@pytest.mark.parametrize("path", sorted((SOURCE / "crankpin").glob("*/__init__.py")), ids=lambda path: path.parent.name)
def test_a_package_says_what_it_may_import_as_the_list_does(path):
    said = ast.get_docstring(ast.parse(path.read_text(encoding="utf-8"))) or ""
    _, _, listed = said.partition("May import: ")
    names = set(" ".join(listed.split()).removesuffix(".").split(", "))
    own, others = ROOMS[path.parent.name]
    assert names == {"the standard library", *(f"crankpin.{room}" for room in own), *others}
