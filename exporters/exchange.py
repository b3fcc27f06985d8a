"""One folder takes another's place in one step, under a lock, with nothing left lying about.

Where the system can exchange two names at once (Linux), there is no moment without a whole folder
at the target. Elsewhere the old folder steps aside to ``.NAME.previous`` for an instant, and the
next build puts it back if it was interrupted just then.
"""

import contextlib
import ctypes
import errno
import hashlib
import os
import shutil
import sys
import tempfile
from collections.abc import Callable, Iterator
from pathlib import Path

from ground.errors import PackageError

AT_FDCWD = -100
RENAME_EXCHANGE = 2  # linux/fs.h
UNABLE = {errno.EINVAL, errno.ENOSYS, errno.EOPNOTSUPP, errno.EPERM}
"""What renameat2 answers where the system or the file system does not know the exchange."""

LONGEST = 150
"""Bytes of the target's name that go into its siblings' names: file systems stop at 255."""


def sibling(target: Path, ending: str) -> Path:
    """The hidden name beside ``target`` that is kept for ``ending``."""
    name = target.name
    if len(os.fsencode(name)) > LONGEST:
        name = hashlib.sha256(os.fsencode(name)).hexdigest()[:32]
    return target.parent / f".{name}.{ending}"


def make_stage(target: Path) -> Path:
    """Make a new hidden folder beside ``target``, as open to others as a new folder would be."""
    stage = Path(tempfile.mkdtemp(prefix=sibling(target, "building-").name, dir=target.parent))
    mask = os.umask(0)
    os.umask(mask)
    stage.chmod(target.stat().st_mode & 0o7777 if target.is_dir() else 0o777 & ~mask)
    return stage


def sweep(target: Path) -> None:
    """Clear away what builds that were ended by force left beside ``target``; call under its lock.

    An old folder that had stepped aside is put back where nothing took its place.
    """
    previous = sibling(target, "previous")
    if previous.is_dir() and not previous.is_symlink():
        if os.path.lexists(target):
            shutil.rmtree(previous, ignore_errors=True)
        else:
            previous.rename(target)
    prefix = sibling(target, "building-").name
    with os.scandir(target.parent) as entries:
        stale = [e.path for e in entries if e.name.startswith(prefix) and is_own_folder(e)]
    for path in stale:
        shutil.rmtree(path, ignore_errors=True)


def is_own_folder(entry: os.DirEntry[str]) -> bool:
    """Tell whether it is a real folder, not a link to one."""
    return entry.is_dir(follow_symlinks=False)


def swap(a: Path, b: Path) -> bool:
    """Exchange two names in one step; False where the system cannot.

    Raises:
        OSError: it can, but not with these two.
    """
    if not sys.platform.startswith("linux"):
        return False
    libc = ctypes.CDLL(None, use_errno=True)
    rename = getattr(libc, "renameat2", None)
    if rename is None:
        return False
    if rename(AT_FDCWD, os.fsencode(a), AT_FDCWD, os.fsencode(b), RENAME_EXCHANGE) == 0:
        return True
    code = ctypes.get_errno()
    if code in UNABLE:
        return False
    raise OSError(code, os.strerror(code), str(b))


def take_place(
    stage: Path,
    target: Path,
    agree: Callable[[Path], None],
    swap: Callable[[Path, Path], bool] = swap,
) -> None:
    """Put ``stage`` where ``target`` is and remove what was there.

    ``agree`` raises when the old folder, looked at where nobody reaches it by its own name any
    more, holds something that must not go; then everything is put back as it was.

    Raises:
        OSError: the system refuses; the old folder is left as it was.
    """
    if not target.is_dir() or not any(target.iterdir()):
        with contextlib.suppress(FileNotFoundError):
            target.rmdir()
        stage.rename(target)
        sync_folder(target.parent)
        return
    old, back = stage, swap
    if not swap(stage, target):
        old, back = step_aside(stage, target), put_back
    sync_folder(target.parent)
    try:
        agree(old)
    except PackageError:
        back(old, target)
        raise
    shutil.rmtree(old, ignore_errors=True)  # what will not go now is swept by the next build


def step_aside(stage: Path, target: Path) -> Path:
    """Do in two steps what cannot be done in one; gives where the old folder is now."""
    previous = sibling(target, "previous")
    target.rename(previous)
    try:
        stage.rename(target)
    except OSError:
        previous.rename(target)
        raise
    return previous


def put_back(old: Path, target: Path) -> bool:
    """Undo ``step_aside``; the new folder goes."""
    shutil.rmtree(target)
    old.rename(target)
    return True


def sync_files(folder: Path) -> None:
    """Have every byte below ``folder`` on the disk before its name is seen."""
    for path in sorted(folder.rglob("*")):
        if path.is_file():
            with path.open("rb") as file:
                os.fsync(file.fileno())


def sync_folder(folder: Path) -> None:
    """Have the names in ``folder`` on the disk, where the system can."""
    if os.name != "posix":
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    except OSError as trouble:
        if trouble.errno != errno.EINVAL:  # some file systems know no such thing for a folder
            raise
    finally:
        os.close(handle)


@contextlib.contextmanager
def locked(target: Path) -> Iterator[None]:
    """Hold the lock on ``target``: one build at a time writes it.

    Raises:
        PackageError: another build holds it.
    """
    path = sibling(target, "lock")
    handle = open_lock(path, target)
    try:
        yield
    finally:
        if os.name == "posix":
            path.unlink(missing_ok=True)  # while it is held, so nobody holds a lock without a name
        os.close(handle)


def open_lock(path: Path, target: Path) -> int:
    """Open the lock file and lock it, again if its last holder took the name away meanwhile."""
    while True:
        handle = os.open(path, os.O_RDWR | os.O_CREAT | getattr(os, "O_NOFOLLOW", 0), 0o666)
        try:
            lock(handle)
        except OSError as trouble:
            os.close(handle)
            if trouble.errno not in {errno.EWOULDBLOCK, errno.EACCES}:
                raise
            message = f"{target}: another build is writing it; wait until that one has ended"
            raise PackageError(message) from None
        with contextlib.suppress(FileNotFoundError):
            if os.path.samestat(os.fstat(handle), path.stat()):
                return handle
        os.close(handle)


def lock(handle: int) -> None:
    """Lock an open file without waiting.

    Raises:
        OSError: somebody else holds it.
    """
    if sys.platform == "win32":
        import msvcrt

        msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
    else:
        import fcntl

        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
