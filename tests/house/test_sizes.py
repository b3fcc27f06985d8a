"""Files and functions stay small enough to be read in one go."""

import ast
from pathlib import Path

import pytest

from tests.helpers.repository import ROOT, root_packages, tracked

USUAL = 400
MOST = 600
LONGEST_FUNCTION = 40
SHORT_ARM = 3

LONG = {
    "tests/exporters/test_part_dxf.py": "one file format, read back by three readers",
    "tests/models/test_base_splayed.py": "one base, its worked numbers in one place",
}
"""Each file that is longer than usual -> why it is better left whole."""


def lines_of(path: Path) -> int:
    return len(path.read_text(encoding="utf-8").splitlines())


def name_of(path: Path) -> str:
    return path.relative_to(ROOT).as_posix()


def test_no_source_file_is_longer_than_the_most_a_reader_can_bear():
    sources = tracked("*.py", "*.mjs", "*.js", "*.sh", "*.typ")
    assert {name_of(path): lines_of(path) for path in sources if lines_of(path) > MOST} == {}


def test_every_long_source_file_says_why():
    long = {name_of(path) for path in tracked("*.py", "*.mjs") if lines_of(path) > USUAL}
    assert long == set(LONG), "name each file over 400 lines with its reason, and no other"


def functions(path: Path):
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            yield node


def chooses(function: ast.FunctionDef | ast.AsyncFunctionDef) -> bool:
    """Whether the function only picks an arm of a closed union, short arms one below the other."""
    told = ast.get_docstring(function) is not None
    match function.body[1:] if told else function.body:
        case [ast.Match(cases=arms)] | [ast.Match(cases=arms), ast.Expr() | ast.Return()]:
            return all(len(arm.body) <= SHORT_ARM for arm in arms)
        case _:
            return False


def length(function: ast.FunctionDef | ast.AsyncFunctionDef) -> int:
    """Lines from ``def`` to the end, the docstring left out."""
    first = function.body[0]
    told = ast.get_docstring(function) is not None
    docstring = (first.end_lineno or first.lineno) - first.lineno + 1 if told else 0
    return (function.end_lineno or function.lineno) - function.lineno + 1 - docstring


@pytest.mark.parametrize("package", root_packages())
def test_no_function_is_longer_than_a_screen(package):
    long = [
        f"{name_of(path)}:{function.lineno} {function.name}: {length(function)} lines"
        for path in sorted((ROOT / package).rglob("*.py"))
        for function in functions(path)
        if length(function) > LONGEST_FUNCTION and not chooses(function)
    ]
    assert long == []


def test_the_length_of_a_function_leaves_its_docstring_out():
    source = 'def cut():\n    """Say.\n\n    More.\n    """\n    a = 1\n    return a\n'
    (function,) = ast.parse(source).body
    assert isinstance(function, ast.FunctionDef)
    assert length(function) == len(["def cut():", "a = 1", "return a"])
