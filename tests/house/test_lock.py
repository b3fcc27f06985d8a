"""The lock files pin everything by hash, for every platform, and name no host."""

import json
import re

import pytest
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

from tests.helpers.repository import ROOT, configuration

LOCKS = ("requirements.txt", "requirements-dev.txt")
READERS = ROOT / "tests" / "readers"


def entries(name: str) -> dict[str, tuple[Requirement, list[str]]]:
    """Return each pinned requirement of a lock file with its hashes, by name."""
    joined = (ROOT / name).read_text(encoding="utf-8").replace("\\\n", " ")
    found: dict[str, tuple[Requirement, list[str]]] = {}
    for line in joined.splitlines():
        if line.strip() and not line.lstrip().startswith("#"):
            wanted, *hashes = line.strip().split(" --hash=")
            requirement = Requirement(wanted)
            found[canonicalize_name(requirement.name)] = (
                requirement,
                [entry.strip() for entry in hashes],
            )
    return found


def version(requirement: Requirement) -> str:
    (pin,) = requirement.specifier
    assert pin.operator == "==", requirement
    return pin.version


def asked(group: str | None) -> list[Requirement]:
    """Return the requirements of pyproject.toml: of the program, or of a group."""
    project = configuration()
    wanted = project["dependency-groups"][group] if group else project["project"]["dependencies"]
    return [Requirement(line) for line in wanted]


@pytest.mark.parametrize("name", LOCKS)
def test_every_requirement_is_pinned_with_a_hash(name):
    locked = entries(name)
    assert locked
    for requirement, hashes in locked.values():
        assert version(requirement)
        assert requirement.url is None
        assert hashes
        assert all(re.fullmatch(r"sha256:[0-9a-f]{64}", entry) for entry in hashes), requirement


@pytest.mark.parametrize("name", LOCKS)
def test_a_lock_names_no_place_to_fetch_from(name):
    text = (ROOT / name).read_text(encoding="utf-8")
    assert "://" not in text
    assert re.findall(r"^\s*-(?!-hash=).*", text, flags=re.MULTILINE) == []


@pytest.mark.parametrize(
    ("name", "group"),
    [
        ("requirements.txt", None),
        ("requirements.txt", "install"),
        ("requirements-dev.txt", None),
        ("requirements-dev.txt", "dev"),
    ],
)
def test_a_lock_holds_what_the_project_asks_for(name, group):
    locked = entries(name)
    for wanted in asked(group):
        pinned, _ = locked[canonicalize_name(wanted.name)]
        assert wanted.specifier.contains(version(pinned)), f"{wanted} is locked as {pinned}"


def test_the_program_is_tested_with_the_versions_it_ships_with():
    program, tests = entries("requirements.txt"), entries("requirements-dev.txt")
    assert {name: tests[name][0] for name in program} == {
        name: program[name][0] for name in program
    }


def test_the_kernel_is_locked_for_linux_mac_and_windows():
    """At least a wheel each for Linux on two processors, macOS on two and Windows on one."""
    _, hashes = entries("requirements.txt")["cadquery-ocp"]
    assert len(hashes) >= 5


def test_the_test_readers_are_pinned_by_hash_without_addresses():
    lock = json.loads((READERS / "package-lock.json").read_text(encoding="utf-8"))
    asked_for = json.loads((READERS / "package.json").read_text(encoding="utf-8"))["dependencies"]
    packages = {path: entry for path, entry in lock["packages"].items() if path}
    assert {path.removeprefix("node_modules/") for path in packages} >= set(asked_for)
    for path, entry in packages.items():
        assert "resolved" not in entry, path
        assert entry["integrity"].startswith("sha512-"), path
    for name, wanted in asked_for.items():
        assert packages[f"node_modules/{name}"]["version"] == wanted
