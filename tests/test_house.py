"""The locks are whole and name no host; no file of the project names a machine's folder or a registry."""

import json
import re
import subprocess
import tomllib
from pathlib import Path

import pytest
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

ROOT = Path(__file__).resolve().parent.parent
HASH = re.compile(r" --hash=sha256:[0-9a-f]{64}(?= |$)")


def locked_python():
    """Return the requirements of the lock, each with its number of hashes, and the lines that are neither."""
    text = (ROOT / "requirements.lock").read_text(encoding="utf-8").replace("\\\n", " ")
    lines = [line for line in text.splitlines() if line.strip() and not line.startswith("#")]
    return [(Requirement(HASH.sub("", line).strip()), len(HASH.findall(line))) for line in lines]


def locked_node():
    return json.loads((ROOT / "package-lock.json").read_text(encoding="utf-8"))["packages"]


def project_files():
    """Return the text files that git keeps, and those that it is about to."""
    listed = subprocess.run(
        ["git", "ls-files", "-z", "--cached", "--others", "--exclude-standard"],
        cwd=ROOT,
        capture_output=True,
        check=True,
    ).stdout.decode()
    for name in filter(None, listed.split("\0")):
        path = ROOT / name
        if path.is_file():
            try:
                yield name, path.read_text(encoding="utf-8")
            except UnicodeDecodeError:
                continue


def test_each_python_package_is_pinned_and_hashed():
    locked = locked_python()
    assert len(locked) > 30
    for requirement, hashes in locked:
        assert [clause.operator for clause in requirement.specifier] == ["=="], requirement
        assert requirement.url is None
        assert hashes > 0, f"{requirement} has no hash"


def test_the_python_lock_agrees_with_the_project_file():
    locked = {canonicalize_name(requirement.name): requirement for requirement, _ in locked_python()}
    settings = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    wanted = settings["project"]["dependencies"]
    wanted += settings["dependency-groups"]["dev"] + settings["build-system"]["requires"]
    for line in wanted:
        asked = Requirement(line)
        pinned = locked.get(canonicalize_name(asked.name))
        assert pinned is not None, f"{line}: not in requirements.lock; run 'make lock'"
        version = next(iter(pinned.specifier)).version
        assert version in asked.specifier, f"{line}: requirements.lock has {version}; run 'make lock'"


def test_each_node_package_is_pinned_and_hashed_without_an_address():
    packages = locked_node()
    installed = {name: entry for name, entry in packages.items() if name}
    assert len(installed) >= 4
    for name, entry in installed.items():
        assert "resolved" not in entry, name
        assert entry["integrity"].startswith("sha512-"), name
    assert "omit-lockfile-registry-resolved=true" in (ROOT / ".npmrc").read_text(encoding="utf-8").split()


def test_the_node_lock_agrees_with_package_json():
    packages = locked_node()
    settings = json.loads((ROOT / "package.json").read_text(encoding="utf-8"))
    for name, version in (settings["dependencies"] | settings["devDependencies"]).items():
        assert re.fullmatch(r"\d+\.\d+\.\d+", version), f"{name}: pin one version, not {version}"
        assert packages[f"node_modules/{name}"]["version"] == version


@pytest.mark.parametrize("name", ["requirements.lock", "package-lock.json", "runtime/pyodide-tests.lock"])
def test_a_lock_names_no_host_and_no_folder(name):
    text = (ROOT / name).read_text(encoding="utf-8")
    assert re.findall(r"\w+://\S+|file:\S+|--(?:extra-)?index-url|--find-links", text) == []


MACHINE_FOLDER = re.compile(r"(?<![\w).~}/-])/(?:work|tmp|root|home/\w+|Users/\w+)(?=[/\s\"'`)]|$)", re.MULTILINE)
REGISTRY = re.compile(r"\b(?:registry\.[a-z]+\.[a-z]|pypi\.[a-z]|pythonhosted\.[a-z]|npmjs\.[a-z]|deb\.[a-z]+\.[a-z])")


@pytest.mark.parametrize(
    ("line", "is_bad"),
    [
        ("cd /" + "work/main", True),
        ('path = "/' + 'tmp"', True),
        ("see /" + "root/.cache", True),
        ("/" + "home/ada/crankpin", True),
        ("force/" + "work and energy", False),
        ("site/" + "tmp", False),
        ("/" + "rooted", False),
    ],
)
def test_a_machine_s_folder_is_told_from_other_words(line, is_bad):
    assert bool(MACHINE_FOLDER.search(line)) is is_bad


def test_no_file_names_a_machine_s_folder_or_a_registry():
    found = [
        f"{name}:{number}: {line.strip()[:80]}"
        for name, text in project_files()
        for number, line in enumerate(text.splitlines(), 1)
        if len(line) < 2000 and (MACHINE_FOLDER.search(line) or REGISTRY.search(line))
    ]
    assert found == []


def test_every_target_that_the_readme_or_the_guide_names_exists():
    targets = set(re.findall(r"^([a-z]+):", (ROOT / "Makefile").read_text(encoding="utf-8"), re.MULTILINE))
    for name in ("README.md", "DEVELOPERS.md"):
        named = set(re.findall(r"\bmake ([a-z]+)`", (ROOT / name).read_text(encoding="utf-8")))
        assert named <= targets, f"{name} names {sorted(named - targets)}"


def test_the_licence_page_names_the_versions_that_the_site_carries():
    page = (ROOT / "THIRD_PARTY.md").read_text(encoding="utf-8")
    rows = {
        cells[1].strip(): cells[2].strip()
        for cells in (line.split("|") for line in page.splitlines())
        if len(cells) == 6
    }
    told = {re.sub(r"\[([^]]+)\].*", r"\1", part): version for part, version in rows.items()}
    node = {name.removeprefix("node_modules/"): entry.get("version") for name, entry in locked_node().items()}
    python = {requirement.name: next(iter(requirement.specifier)).version for requirement, _ in locked_python()}
    assert told["Pyodide"] == node["pyodide"]
    assert told["Material for MkDocs"] == python["mkdocs-material"]
