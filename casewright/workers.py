"""A few processes of their own for work that may hang, crash or hold the machine up.

Each worker is a fresh interpreter that is handed one job at a time over a pipe and answers over
another. A job that takes too long is ended with its process and a new one is started; nothing
survives its parent.
"""

import contextlib
import os
import pickle
import queue
import signal
import subprocess
import sys
import threading
import traceback
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path
from types import TracebackType
from typing import Any, BinaryIO, Self

from ground.errors import BuildError, WorkError

JOB_LIMIT = 120.0
"""Seconds that one job may take; the slowest part known takes about two."""

START_LIMIT = 300.0
"""Seconds that a worker may take to load what it works with, from a cold disk."""

ROOT = Path(__file__).resolve().parent.parent


class Trouble(StrEnum):
    """Why a job has no result."""

    REFUSED = "refused"
    """The kernel could not do it: a BuildError."""
    FAULT = "fault"
    """An exception nobody foresaw."""
    TIME = "time"
    """It took too long and was ended."""
    CRASH = "crash"
    """The process ended under it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Failure:
    """What became of a job instead of a result: ``part`` and ``cut`` as far as known."""

    trouble: Trouble
    reason: str
    part: str = ""
    cut: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Started:
    """A worker has taken a job in hand."""

    key: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Ended:
    """A job has ended: with ``value``, or with ``failure``."""

    key: str
    value: Any = None
    failure: Failure | None = None


class StartError(WorkError):
    """A worker cannot even load what it works with."""


Job = Callable[..., Any]
Event = Started | Ended | StartError


class Workers:
    """``count`` workers; jobs are module-level functions, picked up in the order submitted."""

    def __init__(self, count: int, *, prepare: Job, limit: float = JOB_LIMIT) -> None:
        self._jobs: queue.SimpleQueue[tuple[str, Job, tuple[Any, ...]] | None] = queue.SimpleQueue()
        self._events: queue.SimpleQueue[Event] = queue.SimpleQueue()
        self._open = 0
        self._slots = [
            Slot(self._jobs, self._events, prepare=prepare, limit=limit) for _ in range(count)
        ]

    def __enter__(self) -> Self:
        for slot in self._slots:
            slot.start()
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        where: TracebackType | None,
    ) -> None:
        for slot in self._slots:
            slot.end()
        for _ in self._slots:
            self._jobs.put(None)

    def submit(self, key: str, job: Job, *given: Any) -> None:
        """Put ``job(*given)`` in the queue; its result comes under ``key``."""
        self._open += 1
        self._jobs.put((key, job, given))

    def events(self) -> Iterator[Started | Ended]:
        """What happens, as it happens, until every job submitted has ended.

        Raises:
            StartError: the workers cannot start.
        """
        while self._open:
            event = self._events.get()
            if isinstance(event, StartError):
                raise event
            if isinstance(event, Ended):
                self._open -= 1
            yield event


class Slot(threading.Thread):
    """One worker process and the thread that feeds it.

    The process is started by this thread and no other: Linux ends it when its thread ends.
    """

    def __init__(
        self,
        jobs: "queue.SimpleQueue[tuple[str, Job, tuple[Any, ...]] | None]",
        events: "queue.SimpleQueue[Event]",
        *,
        prepare: Job,
        limit: float,
    ) -> None:
        super().__init__(daemon=True)
        self._jobs = jobs
        self._events = events
        self._prepare = prepare
        self._limit = limit
        self._guard = threading.Lock()
        self._ended = False
        self._process: subprocess.Popen[bytes] | None = None

    def end(self) -> None:
        """End the process now, whatever it does; none is started afterwards."""
        with self._guard:
            self._ended = True
            if self._process is not None:
                close(self._process)

    def run(self) -> None:
        """Take jobs until there is a None among them."""
        while not self._ended:
            try:
                process = self._ready()
            except StartError as error:
                self._events.put(error)
                return
            job = self._jobs.get()
            if job is None or process is None:
                return
            self._do(process, *job)

    def _ready(self) -> subprocess.Popen[bytes] | None:
        """The process, started anew when there is none; None when all is over.

        Raises:
            StartError: it does not come up.
        """
        with self._guard:
            if self._ended:
                return None
            if self._process is not None:
                return self._process
            process = self._process = launch()
        answer = ask(process, self._prepare, (), START_LIMIT)
        if isinstance(answer, Failure) and not self._ended:
            self._drop(process)
            raise StartError(answer.reason)
        return process

    def _do(self, process: subprocess.Popen[bytes], key: str, job: Job, given: Any) -> None:
        self._events.put(Started(key=key))
        answer = ask(process, job, given, self._limit)
        if isinstance(answer, Failure):
            if answer.trouble in {Trouble.TIME, Trouble.CRASH}:
                self._drop(process)
            self._events.put(Ended(key=key, failure=answer))
        else:
            self._events.put(Ended(key=key, value=answer))

    def _drop(self, process: subprocess.Popen[bytes]) -> None:
        with self._guard:
            close(process)
            self._process = None


def launch() -> subprocess.Popen[bytes]:
    """Start a fresh interpreter that serves jobs; it does not hear Ctrl-C, its parent does."""
    code = (
        f"import sys; sys.path.insert(0, {str(ROOT)!r}); import casewright.workers as w; w.serve()"
    )
    return subprocess.Popen(  # noqa: S603 - our own interpreter and our own code
        [sys.executable, "-P", "-c", code, str(os.getpid())],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        start_new_session=True,
    )


def close(process: subprocess.Popen[bytes]) -> None:
    """End a process and let go of its pipes."""
    process.kill()
    process.wait()
    for pipe in (process.stdin, process.stdout):
        with contextlib.suppress(OSError):  # what was still to be written has nobody to read it
            if pipe is not None:
                pipe.close()


def ask(process: subprocess.Popen[bytes], job: Job, given: tuple[Any, ...], limit: float) -> Any:
    """Hand over one job and wait for its answer; a ``Failure`` where there is none in time."""
    late = threading.Event()

    def stop() -> None:
        late.set()
        process.kill()

    clock = threading.Timer(limit, stop)
    clock.daemon = True
    clock.start()
    try:
        assert process.stdin is not None and process.stdout is not None  # noqa: S101, PT018 - for the type checker
        pickle.dump((job, given), process.stdin, protocol=pickle.HIGHEST_PROTOCOL)
        process.stdin.flush()
        return pickle.load(process.stdout)  # noqa: S301 - our own child writes it
    except (OSError, EOFError, ValueError, pickle.UnpicklingError):
        return lost(process, limit if late.is_set() else None)
    finally:
        clock.cancel()


def lost(process: subprocess.Popen[bytes], limit: float | None) -> Failure:
    """Say how a process was lost: by its ``limit`` in seconds, or by itself."""
    if limit is not None:
        return Failure(trouble=Trouble.TIME, reason=f"took longer than {limit:g} s and was ended")
    status = process.wait()
    how = f"with exit {status}"
    if status < 0:
        with contextlib.suppress(ValueError):  # a number that is no signal known here
            how = f"by {signal.Signals(-status).name}"
    return Failure(trouble=Trouble.CRASH, reason=f"the process that made it was ended {how}")


# ---- inside the worker


def serve() -> None:
    """Take jobs from standard input and answer on standard output until there are no more.

    What libraries print goes nowhere, so it cannot get between the answers.
    """
    stay_with_parent(int(sys.argv[1]))
    jobs = os.fdopen(os.dup(0), "rb")
    answers = os.fdopen(os.dup(1), "wb")
    nowhere = os.open(os.devnull, os.O_RDWR)
    os.dup2(nowhere, 0)
    os.dup2(nowhere, 1)
    with contextlib.suppress(EOFError, BrokenPipeError):
        while True:
            answer_one(jobs, answers)


def answer_one(jobs: BinaryIO, answers: BinaryIO) -> None:
    """Do one job.

    Raises:
        EOFError: there are no more.
    """
    job, given = pickle.load(jobs)  # noqa: S301 - our own parent writes it
    try:
        answer = pickle.dumps(job(*given), protocol=pickle.HIGHEST_PROTOCOL)
    except BuildError as error:
        failure = Failure(
            trouble=Trouble.REFUSED, reason=error.reason, part=error.part, cut=error.cut
        )
        answer = pickle.dumps(failure)
    except Exception as error:  # noqa: BLE001 - whatever it is, the parent says it in plain words
        answer = pickle.dumps(Failure(trouble=Trouble.FAULT, reason=worded(error)))
    answers.write(answer)
    answers.flush()


def worded(error: Exception) -> str:
    """An exception in one line, with the place in our code that it came from."""
    place = traceback.extract_tb(error.__traceback__)[-1]
    text = " ".join(str(error).split())
    return f"{type(error).__name__}: {text} ({Path(place.filename).name}, line {place.lineno})"


def stay_with_parent(parent: int) -> None:
    """End this process when its parent does, even if that one is killed."""
    if sys.platform.startswith("linux"):
        import ctypes

        death_signal = 1  # PR_SET_PDEATHSIG, linux/prctl.h
        ctypes.CDLL(None).prctl(death_signal, signal.SIGKILL)
        if os.getppid() != parent:  # it ended before we asked
            os._exit(0)
