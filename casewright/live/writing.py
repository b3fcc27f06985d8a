"""The package, or one sheet of it, written from the live view by a process of its own."""

import asyncio
import contextlib
import signal
import subprocess
import threading
from dataclasses import dataclass
from pathlib import Path
from types import FrameType
from typing import NoReturn

from casewright.live.windows import Windows
from casewright.workers import Failure, ask, close, launch
from ground.errors import WorkError
from ground.findings import Severity

PACKAGE, SHEET = "package", "sheet"
"""The folders inside the out folder: the whole package, and the last sheet by itself."""

LIMIT = 3600.0
"""Seconds that a package may take."""

PATIENCE = 5.0
"""Seconds that a process which is told to end has to tidy up."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Written:
    """What came of it, in words."""

    words: str
    failed: bool


def write(spec: Path, out: str, only: tuple[str, ...]) -> Written:
    """Build the package, or ``only`` some of it, into ``out``; runs in a process of its own."""
    from casewright.building import build
    from casewright.report import count, tally

    signal.signal(signal.SIGTERM, tidy)
    try:
        built = build(spec, out, only=only)
    except WorkError as error:
        return Written(words=str(error), failed=True)
    files = count(built.files, "file", "files")
    errors = any(found.severity is Severity.ERROR for found in built.findings)
    return Written(words=f"{out}: {files}; {tally(built.findings)}", failed=errors)


def tidy(number: int, _frame: FrameType | None) -> NoReturn:
    """End so that nothing half written is left.

    Raises:
        SystemExit: always.
    """
    raise SystemExit(128 + number)


def ready() -> None:
    """Nothing has to be loaded beforehand."""


class Writing:
    """Writes one thing at a time, and tells the windows of it."""

    def __init__(self, spec: Path, out: Path, windows: Windows) -> None:
        self._spec = spec
        self._out = out
        self._windows = windows
        self._loop = asyncio.get_running_loop()
        self._guard = threading.Lock()
        self._process: subprocess.Popen[bytes] | None = None
        self._thread: threading.Thread | None = None

    def start(self, sheet: str | None) -> str | None:
        """Begin to write the package, or one sheet; why not, where something is being written."""
        if self._thread is not None and self._thread.is_alive():
            return "Something is being written already; wait until it is done."
        out = self._out / (PACKAGE if sheet is None else SHEET)
        only = () if sheet is None else (sheet,)
        self._say("writing", f"{sheet or 'the package'} into {out}")
        self._thread = threading.Thread(target=self._run, args=(str(out), only), daemon=True)
        self._thread.start()
        return None

    def _run(self, out: str, only: tuple[str, ...]) -> None:
        with self._guard:
            process = self._process = launch()
        answer = ask(process, write, (self._spec, out, only), LIMIT)
        self.end()
        with contextlib.suppress(RuntimeError):  # the loop has ended meanwhile
            if isinstance(answer, Failure):
                words = f"nothing was written: {answer.reason}"
                self._loop.call_soon_threadsafe(self._say, "failed", words)
            else:
                state = "failed" if answer.failed else "written"
                self._loop.call_soon_threadsafe(self._say, state, answer.words)

    def end(self) -> None:
        """End the process, if there is one, and let it tidy up."""
        with self._guard:
            process, self._process = self._process, None
        if process is None:
            return
        process.terminate()
        with contextlib.suppress(subprocess.TimeoutExpired):
            process.wait(PATIENCE)
        close(process)

    def _say(self, state: str, words: str) -> None:
        self._windows.tell("written", {"state": state, "words": words})
