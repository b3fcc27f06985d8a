"""The package folder: it appears whole or not at all, and never in the place of anything else."""

import contextlib
import errno
import hashlib
import json
import os
import re
import shutil
import stat
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

from exporters import exchange
from ground.errors import PackageError

FORMAT = "casewright package 1"
"""The first value of build.json, by which a package of ours is known."""

RECORD = "build.json"
LARGEST_RECORD = 256 * 1024 * 1024
"""Bytes; a build.json larger than this was not written by a build."""

INSTEAD = "name a folder that is absent, empty or a package built before"

NAME = re.compile(r"[A-Za-z0-9][A-Za-z0-9.-]*\Z")


@dataclass(frozen=True, slots=True, kw_only=True)
class Listed:
    """One file of a package: its path with forward slashes, size and sum."""

    path: str
    bytes: int
    sha256: str


class Stage:
    """A package while it is being written, beside its target."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder

    def place(self, path: str) -> Path:
        """Where the file ``path`` (forward slashes) goes; its folder is made.

        Raises:
            ValueError: the path has a name in it that no package may have.
        """
        steps = path.split("/")
        if not all(NAME.match(step) for step in steps):
            message = f"not a name for a file of a package: {path!r}"
            raise ValueError(message)
        place = self.folder.joinpath(*steps)
        place.parent.mkdir(parents=True, exist_ok=True)
        return place

    def write(self, path: str, content: bytes) -> None:
        """Write a new file; one that is there already is a fault of ours."""
        with told(path), self.place(path).open("xb") as file:
            file.write(content)

    def files(self) -> tuple[Listed, ...]:
        """Every file written so far but the record itself, sorted by path."""
        found = []
        for place in self.folder.rglob("*"):
            path = place.relative_to(self.folder).as_posix()
            if place.is_file() and path != RECORD:
                content = place.read_bytes()
                total = hashlib.sha256(content).hexdigest()
                found.append(Listed(path=path, bytes=len(content), sha256=total))
        return tuple(sorted(found, key=lambda file: file.path))


def target(out: str, spec: Path) -> Path:
    """Say where ``--out`` leads, if a package may be written there.

    Raises:
        PackageError: it is something that is never replaced, or cannot be written.
    """
    if not out or out.startswith("~"):
        message = f"--out {out or 'is empty'}: write the folder's name out in full"
        raise PackageError(message)
    given = Path(out)
    with told(out):
        if given.is_symlink():
            message = f"{out}: is a link; name the folder itself"
            raise PackageError(message)
        place = Path(os.path.realpath(given))
        refuse_place(out, place, spec)
        refuse_content(out, place)
        if place.is_dir() and not os.access(place, os.W_OK | os.X_OK):
            message = f"{out}: cannot be written (permission denied)"
            raise PackageError(message)
    return place


def refuse_place(out: str, place: Path, spec: Path) -> None:
    """Refuse folders that hold what the user works with: here, home, the spec's, all above.

    Raises:
        PackageError: it is one of them.
    """
    kept = [
        ("the folder you are in", Path.cwd()),
        ("the spec's own folder", Path(os.path.realpath(spec)).parent),
    ]
    with contextlib.suppress(RuntimeError):  # an account without a home
        kept.append(("your home folder", Path.home()))
    for what, folder in kept:
        inside = Path(os.path.realpath(folder))
        if same(place, inside):
            message = f"{out}: is {what}; {INSTEAD}"
            raise PackageError(message)
        if any(same(place, above) for above in inside.parents):
            message = f"{out}: holds {what}; {INSTEAD}"
            raise PackageError(message)


def same(a: Path, b: Path) -> bool:
    """Tell whether two real paths are one place (names may differ in case on some systems)."""
    return a == b or (a.exists() and b.exists() and a.samefile(b))


def refuse_content(out: str, place: Path) -> None:
    """Refuse what is neither absent, nor an empty folder, nor a package and nothing but it.

    Raises:
        PackageError: something would be lost.
    """
    if not os.path.lexists(place):
        return
    if not stat.S_ISDIR(place.lstat().st_mode):
        message = f"{out}: is not a folder; {INSTEAD}"
        raise PackageError(message)
    if not any(place.iterdir()):
        return
    listed = listed_files(place)
    if listed is None:
        message = f"{out}: holds something else than a package; {INSTEAD}"
        raise PackageError(message)
    stray = first_stray(place, listed | {RECORD})
    if stray is not None:
        message = f"{out}: holds {stray!r}, which no build wrote; move it away, or {INSTEAD}"
        raise PackageError(message)


def listed_files(folder: Path) -> frozenset[str] | None:
    """The files that a package's own record lists; None where there is no such record."""
    record = folder / RECORD
    try:
        facts = record.lstat()
        if not stat.S_ISREG(facts.st_mode) or facts.st_size > LARGEST_RECORD:
            return None
        content = json.loads(record.read_text(encoding="utf-8"))
        if content["format"] != FORMAT:
            return None
        return frozenset(str(file["path"]) for file in content["files"])
    except (OSError, ValueError, KeyError, TypeError, RecursionError):
        return None


def first_stray(folder: Path, listed: frozenset[str]) -> str | None:
    """The first thing under ``folder`` that is neither listed nor a folder of something listed."""
    folders = {parent.as_posix() for path in listed for parent in Path(path).parents}
    for place in sorted(folder.rglob("*")):
        path = place.relative_to(folder).as_posix()
        mode = place.lstat().st_mode
        ours = path in listed if stat.S_ISREG(mode) else stat.S_ISDIR(mode) and path in folders
        if not ours:
            return path
    return None


@contextlib.contextmanager
def staged(place: Path, *, swap: Callable[[Path, Path], bool] = exchange.swap) -> Iterator[Stage]:
    """Give a stage to write on; when all went well it takes its place, else nothing is left.

    Raises:
        PackageError: the place cannot be written, is being written by another build, or came to
            hold something else meanwhile.
    """
    out = str(place)
    with contextlib.ExitStack() as held:
        with told(out):
            held.enter_context(parents(place))
            held.enter_context(exchange.locked(place))
            exchange.sweep(place)
            refuse_content(out, place)
            stage = Stage(exchange.make_stage(place))
        held.callback(shutil.rmtree, stage.folder, ignore_errors=True)
        yield stage
        with told(out):
            exchange.sync_files(stage.folder)
            refuse_content(out, place)
            exchange.take_place(stage.folder, place, lambda old: refuse_content(out, old), swap)


@contextlib.contextmanager
def parents(place: Path) -> Iterator[None]:
    """Make the folders above ``place``; take them away again when nothing came of it."""
    made = [above for above in place.parents if not above.exists()]
    standing = next(above for above in place.parents if above.exists())
    if not standing.is_dir():
        raise NotADirectoryError(errno.ENOTDIR, os.strerror(errno.ENOTDIR), str(standing))
    place.parent.mkdir(parents=True, exist_ok=True)
    try:
        yield
    except BaseException:
        for above in made:
            with contextlib.suppress(OSError):  # somebody else has put something there
                above.rmdir()
        raise


@contextlib.contextmanager
def told(out: str) -> Iterator[None]:
    """Turn the system's refusals into plain words.

    Raises:
        PackageError: the system refused something.
    """
    try:
        yield
    except OSError as trouble:
        message = f"{out}: cannot be written ({(trouble.strerror or str(trouble)).lower()})"
        raise PackageError(message) from trouble
