"""A spec from its file: every error at once, each with line and column, or a spec."""

import os
import stat
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path as FilePath

from pydantic import ValidationError

from ground.errors import Path, Problem, SpecError
from specs.marks import Marks, in_order
from specs.names import names_in
from specs.spec import Spec
from specs.tree import Tree, scanned
from specs.wording import MEANT, UNKNOWN_KEY

LARGEST_FILE = 1 << 20
"""A spec is a page or two of text (bytes)."""

LOOKS = 8
"""Kinds inside kinds are put right so many times over."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Loaded:
    """A spec, and where each of its values stands in the file it came from."""

    spec: Spec
    marks: Marks
    name: str

    def complain(self, problems: Iterable[Problem]) -> SpecError:
        """Problems found later, as the error that tells their places; raise it."""
        placed = tuple(self.marks.placed(problem) for problem in problems)
        return SpecError(in_order(placed), self.name)


def load(path: FilePath) -> Loaded:
    """Read, check and place one spec file.

    Raises:
        SpecError: the file cannot be used, or what is written in it; all that is wrong.
    """
    return read(text_of(path), str(path))


def text_of(path: FilePath) -> str:
    """The text of one spec file, as it stands there.

    Raises:
        SpecError: the file cannot be used.
    """
    name = str(path)
    return _text(_bytes(path, name), name)


def read(text: str, name: str) -> Loaded:
    """Read, check and place the text of one spec; ``name`` stands before each complaint.

    Raises:
        SpecError: what is written cannot be used; all that is wrong, in the text's order.
    """
    text_tree = scanned(text.removeprefix("\ufeff"))
    root, marks, problems = text_tree.root, text_tree.marks, text_tree.problems
    if not text_tree.usable:
        raise SpecError(problems, name)
    spec, found = _validated(root, marks)
    if spec is None or problems:
        raise SpecError(in_order((*problems, *found)), name)
    return Loaded(spec=spec, marks=marks, name=name)


def _validated(root: Tree, marks: Marks) -> tuple[Spec | None, tuple[Problem, ...]]:
    """The spec, or all that is wrong with it.

    Under a misspelt kind nothing else can be judged, so a tree with the kinds put right is read
    as well, until no kind is left to put right: what it complains of is in the file too.
    """
    found: dict[tuple[Path, str], Problem] = {}
    first: Spec | None = None
    for look in range(LOOKS):
        try:
            spec = Spec.model_validate(root, context=names_in(root))
            first = spec if look == 0 else None
            break
        except ValidationError as error:
            every = error.errors(include_url=False, include_input=False)
        for details in every:
            problem = _problem(details["type"], details["loc"], details["msg"], root, marks)
            found.setdefault((problem.path, problem.message), problem)
        meant = {
            _path_in(root, details["loc"]): details["ctx"]["meant"]
            for details in every
            if details["type"] == MEANT and details["ctx"]["meant"] is not None
        }
        if not meant:
            break
        root = _put_right(root, meant)
    return first, tuple(found.values())


def _put_right(tree: Tree, words: Mapping[Path, str], path: Path = ()) -> Tree:
    """A copy of ``tree`` with other words at some places."""
    if path in words:
        return words[path]
    match tree:
        case dict():
            return {key: _put_right(inner, words, (*path, key)) for key, inner in tree.items()}
        case list():
            return [_put_right(inner, words, (*path, at)) for at, inner in enumerate(tree)]
        case _:
            return tree


def _problem(kind: str, loc: Path, message: str, root: Tree, marks: Marks) -> Problem:
    path = _path_in(root, loc)
    line, column = marks.key(path) if kind == UNKNOWN_KEY else marks.place(path)
    return marks.placed(Problem(path=path, message=message, line=line, column=column))


def _path_in(root: Tree, loc: Path) -> Path:
    """The steps of ``loc`` that are really in the text: no kinds, no keys left out as short."""
    path: list[str | int] = []
    here = root
    for step in loc:
        match here, step:
            case dict(), str() if step in here:
                here = here[step]
            case list(), int() if step < len(here):
                here = here[step]
            case _:
                continue
        path.append(step)
    return tuple(path)


def _refused(
    name: str, message: str, line: int | None = None, column: int | None = None
) -> SpecError:
    return SpecError((Problem(path=(), message=message, line=line, column=column),), name)


_OTHER_THINGS = {
    stat.S_IFDIR: "is a folder; name a file in it, such as cabinet.yaml",
    stat.S_IFLNK: "is a link; name the file that it leads to",
    stat.S_IFIFO: "is a pipe; name a file",
    stat.S_IFSOCK: "is a socket; name a file",
    stat.S_IFCHR: "is a device; name a file",
    stat.S_IFBLK: "is a device; name a file",
}


def _bytes(path: FilePath, name: str) -> bytes:
    """The file's bytes; only a plain file of a sensible size is ever opened."""
    # No waiting on a pipe and no following of a link that takes the file's place meanwhile.
    flags = os.O_RDONLY | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_NONBLOCK", 0)
    try:
        _plain(path.lstat(), name)
        handle = os.open(path, flags | getattr(os, "O_BINARY", 0))
        with os.fdopen(handle, "rb") as file:
            _plain(os.fstat(file.fileno()), name)
            data = file.read(LARGEST_FILE + 1)
    except FileNotFoundError:
        raise _refused(name, "there is no such file; check the name") from None
    except PermissionError:
        raise _refused(name, "may not be read; check the file's permissions") from None
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise _refused(name, f"cannot be read ({reason}); check the name") from None
    if len(data) > LARGEST_FILE:
        raise _refused(name, "is larger than 1 MiB; a spec is a page or two of text")
    return data


def _plain(status: os.stat_result, name: str) -> None:
    """Refuse all but a plain file of a sensible size."""
    if not stat.S_ISREG(status.st_mode):
        kind = _OTHER_THINGS.get(stat.S_IFMT(status.st_mode), "is not a plain file; name one")
        raise _refused(name, kind)
    if status.st_size == 0:
        raise _refused(name, "is empty; 'casewright new' writes one to start from")
    if status.st_size > LARGEST_FILE:
        size = f"{status.st_size / 1e6:.1f} MB"
        raise _refused(name, f"is {size} large, over 1 MiB; a spec is a page or two of text")


def _text(data: bytes, name: str) -> str:
    """The text of the file.

    Raises:
        SpecError: it is not UTF-8.
    """
    try:
        return data.decode("utf-8")
    except UnicodeDecodeError as error:
        before = data[: error.start].decode("utf-8")
        line, column = before.count("\n") + 1, len(before) - before.rfind("\n")
        message = f"byte 0x{data[error.start]:02X} is not UTF-8; save the file as UTF-8 text"
        raise _refused(name, message, line, column) from None
