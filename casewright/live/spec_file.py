"""The one file that the live view may change, written whole or not at all."""

import os
import secrets
import stat
from pathlib import Path

from ground.errors import PackageError
from specs.reading import text_of

AGAIN = "look at the field again and type the number once more"


def text_in(path: Path) -> str:
    """The text of the spec as it stands.

    Raises:
        SpecError: the file cannot be used.
    """
    return text_of(path)


def replace_text(path: Path, before: str, after: str) -> None:
    """Put ``after`` in the place of a file that still says ``before``.

    It is written beside the file and put in its place in one step, with the same permissions. A
    link or a folder that has taken the file's place is left alone.

    Raises:
        SpecError: what stands there now cannot be used.
        PackageError: it says something else by now, or cannot be written.
    """
    if text_in(path) != before:
        message = f"{path}: was changed meanwhile; {AGAIN}"
        raise PackageError(message)
    beside = path.with_name(f".{path.name}.{secrets.token_hex(6)}")
    try:
        mode = stat.S_IMODE(path.lstat().st_mode)
        flags = os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0)
        try:
            with os.fdopen(os.open(beside, flags, 0o600), "wb") as file:
                file.write(after.encode())
                file.flush()
                os.fsync(file.fileno())
            beside.chmod(mode)
            put(path, beside)
        finally:
            beside.unlink(missing_ok=True)
    except OSError as trouble:
        message = f"{path}: cannot be written ({(trouble.strerror or str(trouble)).lower()})"
        raise PackageError(message) from trouble


def put(path: Path, beside: Path) -> None:
    """Let ``beside`` take the place of a plain file.

    Raises:
        PackageError: there is something else by now.
    """
    if not stat.S_ISREG(path.lstat().st_mode):
        message = f"{path}: is no longer a plain file; nothing was written"
        raise PackageError(message)
    beside.replace(path)
