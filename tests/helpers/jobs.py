"""Jobs for workers: good ones, slow ones, and some that take their process with them."""

import os
import signal
import sys
import time
from pathlib import Path
from typing import Any, NoReturn

from casewright.kernel import make_part
from ground.errors import BuildError


def prepare() -> None:
    """Load nothing."""


def prepare_in_vain() -> None:
    """Fail the way a missing system library does."""
    message = "libNone.so.1: cannot open shared object file"
    raise ImportError(message)


def twice(number: int) -> int:
    """Work."""
    return 2 * number


def who() -> int:
    """Say which process this is."""
    return os.getpid()


def chatter(number: int) -> int:
    """Print as kernels do, in the way of the answer."""
    sys.stdout.write("*** transferring ***\n")
    os.write(1, b"*** statistics ***\n")
    sys.stdout.flush()
    return number


def hang(note: str = "") -> None:
    """Never end; leave the process's number in the file ``note`` first."""
    if note:
        Path(note).write_text(str(os.getpid()))
    time.sleep(3600)


def crash() -> None:
    """End the process as a fault in a library does."""
    os.kill(os.getpid(), signal.SIGSEGV)


def leave() -> NoReturn:
    """End the process without a word."""
    os._exit(3)


def refuse() -> NoReturn:
    """Fail as the kernel does."""
    part, cut, reason = "D2 drawer side", "groove-1", "two solids"
    raise BuildError(part, cut, reason)


def stumble() -> float:
    """Fail as a program with a fault does."""
    return 1 / 0


def hang_on_the_front(part: Any, colour: Any, step: Any) -> Any:
    """Make every part but the front, which takes for ever."""
    if part.label == "F2":
        hang()
    return make_part(part, colour, step)


def crash_on_the_front(part: Any, colour: Any, step: Any) -> Any:
    """Make every part but the front, which takes the kernel with it."""
    if part.label == "F2":
        crash()
    return make_part(part, colour, step)
