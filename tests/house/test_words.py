"""Nothing in the repository names a host or one machine's path, and what the papers name exists."""

import re
import subprocess
import sys

import pytest

from tests.helpers.repository import ROOT, text_of, tracked

# A letter of each stands in brackets, or this file would hold what it looks for.
REGISTRIES = re.compile(
    r"[p]ypi\.org|python[h]osted|regi[s]try\.npmjs|[d]eb\.debian|[f]iles\.python"
)
MACHINE_PATHS = re.compile(r"(?<![\w.$~])/(?:work|farm|root|tmp|home)/")
PAPERS = ("README.md", "DEVELOPERS.md")


def hits(pattern: re.Pattern[str]) -> list[str]:
    return [
        f"{path.relative_to(ROOT)}: {line.strip()[:100]}"
        for path in tracked()
        for line in (text_of(path) or "").splitlines()
        if pattern.search(line)
    ]


def test_no_file_names_a_package_registry():
    assert hits(REGISTRIES) == []


def test_no_file_names_a_path_of_one_machine():
    assert hits(MACHINE_PATHS) == []


@pytest.mark.parametrize(
    ("pattern", "text"),
    [
        (REGISTRIES, "--index-url https:~~pypi_org~simple"),
        (REGISTRIES, "resolved https:~~registry_npmjs_org~loglevel"),
        (MACHINE_PATHS, "--find-links ~home~someone~wheels"),
        (MACHINE_PATHS, "written to '~tmp~out.step'"),
    ],
)
def test_what_must_not_stand_there_is_recognised(pattern, text):
    assert pattern.search(text.replace("~", "/").replace("_", "."))


def paper(name: str) -> str:
    return (ROOT / name).read_text(encoding="utf-8")


def targets() -> set[str]:
    return set(re.findall(r"^([a-z][\w-]*):", paper("Makefile"), flags=re.MULTILINE))


@pytest.mark.parametrize("name", PAPERS)
def test_every_make_command_that_a_paper_names_exists(name):
    named = set(
        re.findall(r"\bmake ([a-z]+)\b(?=[`\s]*(?:[`#|]|$))", paper(name), flags=re.MULTILINE)
    )
    assert named
    assert named <= targets()


def test_the_readme_names_both_commands():
    assert re.search(r"^make demo\b", paper("README.md"), flags=re.MULTILINE)
    assert re.search(r"^make test\b", paper("README.md"), flags=re.MULTILINE)


@pytest.mark.parametrize("name", PAPERS)
def test_every_file_that_a_paper_names_exists(name):
    named = re.findall(
        r"(?<![\w/.])((?:examples|tests|tools|models|exporters|ground|\.ci)/[\w./-]*\w/?)",
        paper(name),
    )
    assert [path for path in named if not (ROOT / path).exists()] == []


def test_every_verb_that_the_readme_names_is_one_of_the_programs():
    named = set(re.findall(r"bin/casewright ([a-z]+)", paper("README.md")))
    helped = subprocess.run(
        [sys.executable, "-P", "-m", "casewright", "--help"],
        cwd=ROOT / "examples",
        check=True,
        capture_output=True,
        text=True,
    ).stdout
    assert named
    assert [verb for verb in sorted(named) if not re.search(rf"\b{verb}\b", helped)] == []
