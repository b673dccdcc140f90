"""The layers go one way only: each part may use those before it, and the first three nothing else."""

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
PAGE_PARTS = {"mechanics", "calculator", "problems", "scenes", "course", "paper", "browser", "chromium"}
MAY_USE = {
    "mechanics": {"mechanics"},
    "calculator": {"mechanics", "calculator"},
    "problems": {"mechanics", "calculator", "problems"},
    "scenes": {"mechanics", "calculator"},
    "course": PAGE_PARTS,
    "paper": PAGE_PARTS,
    "browser": PAGE_PARTS,
    "chromium": set(),
    "server": set(),
    "build": PAGE_PARTS,
    "plugin": PAGE_PARTS,
    "ask": {"mechanics", "calculator", "problems"},
    "drafts": PAGE_PARTS | {"build", "server"},
    "cli": PAGE_PARTS | {"ask", "build", "server", "drafts"},
    "": set(),
}
STANDARD_LIBRARY_ONLY = ("mechanics", "calculator", "problems", "scenes", "chromium", "server", "")
ON_PHONES = ("mechanics", "calculator", "problems", "scenes")
KEPT_OFF_PHONES = {"decimal", "statistics", "numpy"}


def part_of(module):
    """Return the part of crankpin a module belongs to: crankpin.course.maths is in ``course``."""
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


@pytest.mark.parametrize("module", MODULES)
def test_a_module_uses_only_the_layers_before_it(module):
    part = part_of(module)
    assert part in MAY_USE, f"{module}: a new part; say in this test what it may use"
    used = {part_of(name) for name in imports_of(MODULES[module]) if is_of_crankpin(name)} - {"", part}
    assert used <= MAY_USE[part], f"{module} may not use {sorted(used - MAY_USE[part])}"


@pytest.mark.parametrize("module", [name for name in MODULES if part_of(name) in STANDARD_LIBRARY_ONLY])
def test_these_parts_use_the_standard_library_alone(module):
    others = {name for name in imports_of(MODULES[module]) if not is_of_crankpin(name) and not is_standard(name)}
    assert not others


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


def import_alone(module):
    """Import one module in a fresh interpreter, without any installed package where it may need none."""
    bare = ["-S"] if part_of(module) in STANDARD_LIBRARY_ONLY else []
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
        allowed = MAY_USE[part_of(module)] | {part_of(module)}
        assert loaded <= allowed, f"importing {module} alone also loads {sorted(loaded - allowed)}"


@pytest.mark.parametrize("path", sorted((SOURCE / "crankpin").glob("*/__init__.py")), ids=lambda path: path.parent.name)
def test_a_package_says_first_what_it_may_import(path):
    said = ast.get_docstring(ast.parse(path.read_text(encoding="utf-8"))) or ""
    assert "may import" in said.lower()
