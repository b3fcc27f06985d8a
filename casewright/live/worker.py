"""The worker of the live view: one process that holds the CAD kernel for as long as the view runs.

It may hang, crash or be killed: it is then ended for good and started again, and whoever asked is
told. Its process belongs to the thread here and ends with it.
"""

import itertools
import queue
import subprocess
import threading
from collections.abc import Callable
from concurrent.futures import Future
from dataclasses import dataclass, field
from enum import StrEnum
from typing import Any

from casewright.workers import (
    START_LIMIT,
    Failure,
    Job,
    StartError,
    Trouble,
    ask,
    close,
    launch,
    lost,
)

LOOK = 0.25
"""Seconds between two looks whether the idle process still lives."""


class State(StrEnum):
    """How the worker is."""

    STARTING = "starting"
    READY = "ready"
    LOST = "lost"
    MISSING = "missing"
    """It cannot be started on this machine."""


Tell = Callable[[State, str], None]


@dataclass(order=True, slots=True)
class Asked:
    """A job in the queue, the lowest ``rank`` first."""

    rank: int
    number: int
    job: Job = field(compare=False)
    given: tuple[Any, ...] = field(compare=False)
    answer: "Future[Any]" = field(compare=False)


class Worker(threading.Thread):
    """One process that does one job after another; ``tell`` is called from this thread."""

    def __init__(self, *, prepare: Job, limit: float, tell: Tell) -> None:
        super().__init__(daemon=True)
        self._prepare = prepare
        self._limit = limit
        self._tell = tell
        self._asked: queue.PriorityQueue[Asked] = queue.PriorityQueue()
        self._numbers = itertools.count()
        self._guard = threading.Lock()
        self._ended = False
        self._process: subprocess.Popen[bytes] | None = None

    @property
    def pid(self) -> int | None:
        """The number of the process, None while there is none."""
        with self._guard:
            return None if self._process is None else self._process.pid

    def ask(self, rank: int, job: Job, *given: Any) -> "Future[Any]":
        """Put ``job(*given)`` in the queue; the answer is its value or a ``Failure``."""
        answer: Future[Any] = Future()
        self._asked.put(Asked(rank, next(self._numbers), job, given, answer))
        return answer

    def end(self) -> None:
        """End the process now, whatever it does; none is started afterwards."""
        with self._guard:
            self._ended = True
            if self._process is not None:
                close(self._process)

    def run(self) -> None:
        """Keep a process, and hand it what is asked, until the end."""
        while not self._ended:
            try:
                process = self._ready()
            except StartError as error:
                self._tell(State.MISSING, str(error))
                self._refuse(str(error))
                continue
            if process is not None:
                self._serve(process)

    def _ready(self) -> subprocess.Popen[bytes] | None:
        """The process, started where there is none; None when all is over.

        Raises:
            StartError: it does not come up.
        """
        with self._guard:
            if self._ended or self._process is not None:
                return self._process
            process = self._process = launch()
        self._tell(State.STARTING, "")
        answer = ask(process, self._prepare, (), START_LIMIT)
        if isinstance(answer, Failure):
            self._drop(process)
            if not self._ended:
                raise StartError(answer.reason)
            return None
        self._tell(State.READY, "")
        return process

    def _serve(self, process: subprocess.Popen[bytes]) -> None:
        """Do one job, or see after a while that the process is gone."""
        try:
            asked = self._asked.get(timeout=LOOK)
        except queue.Empty:
            if process.poll() is not None:
                self._lose(process, lost(process, None).reason)
            return
        if not asked.answer.set_running_or_notify_cancel():
            return
        answer = ask(process, asked.job, asked.given, self._limit)
        if isinstance(answer, Failure) and answer.trouble in {Trouble.TIME, Trouble.CRASH}:
            self._lose(process, answer.reason)
        asked.answer.set_result(answer)

    def _lose(self, process: subprocess.Popen[bytes], reason: str) -> None:
        self._drop(process)
        if not self._ended:
            self._tell(State.LOST, reason)

    def _drop(self, process: subprocess.Popen[bytes]) -> None:
        with self._guard:
            close(process)
            self._process = None

    def _refuse(self, reason: str) -> None:
        """Answer the next that is asked with what is missing, and only then try again."""
        while not self._ended:
            try:
                asked = self._asked.get(timeout=LOOK)
            except queue.Empty:
                continue
            if asked.answer.set_running_or_notify_cancel():
                asked.answer.set_result(Failure(trouble=Trouble.REFUSED, reason=reason))
            return
