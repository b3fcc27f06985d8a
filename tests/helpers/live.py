"""The live view as a program of its own, talked to as a browser would."""

import contextlib
import http.client
import json
import os
import signal
import socket
import subprocess
import sys
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

PATIENCE = 60.0
"""Seconds to wait for anything; a machine may be busy."""


class Heard:
    """All events that one window was told."""

    def __init__(self, address: str) -> None:
        self.events: list[tuple[str, Any]] = []
        self.over = False
        self._news = threading.Condition()
        parts = urlsplit(address)
        self._line = http.client.HTTPConnection(str(parts.hostname), parts.port)
        self._line.request("GET", f"{parts.path}events")
        self._socket: socket.socket = self._line.sock
        self._answer = self._line.getresponse()
        threading.Thread(target=self._listen, daemon=True).start()

    def _listen(self) -> None:
        kind = ""
        try:
            for raw in self._answer:
                line = raw.decode().rstrip("\n")
                if line.startswith("event: "):
                    kind = line.removeprefix("event: ")
                elif line.startswith("data: "):
                    with self._news:
                        self.events.append((kind, json.loads(line.removeprefix("data: "))))
                        self._news.notify_all()
        except (OSError, http.client.HTTPException):
            pass
        with self._news:
            self.over = True
            self._news.notify_all()

    def close(self) -> None:
        """Hear no more."""
        with contextlib.suppress(OSError):
            self._socket.shutdown(socket.SHUT_RDWR)
        with self._news:
            self._news.wait_for(lambda: self.over, PATIENCE)
        self._answer.close()
        self._line.close()

    def quiet(self, seconds: float = 0.8) -> None:
        """Wait until nothing has been told for a while."""
        with self._news:
            while self._news.wait(seconds):
                pass

    def wait(self, kind: str, fits: Callable[[Any], object] = lambda _: True) -> Any:
        """The first event of ``kind`` that fits, from the beginning or when it comes."""

        def found() -> Iterator[Any]:
            return (told for one, told in self.events if one == kind and fits(told))

        with self._news:
            there = self._news.wait_for(lambda: self.over or any(True for _ in found()), PATIENCE)
            told = next(found(), None)
        assert told is not None, f"no {kind} came ({'closed' if there else 'too late'})"
        return told


class View:
    """A running view."""

    def __init__(self, process: "subprocess.Popen[str]", spec: Path, out: Path) -> None:
        self.process = process
        self.spec = spec
        self.out = out
        assert process.stdout is not None
        self.address = process.stdout.readline().strip()
        assert self.address.startswith("http://127.0.0.1:"), self.address
        self.heard = Heard(self.address)

    def ask(
        self, method: str, path: str, content: object = None, **headers: str
    ) -> tuple[int, bytes]:
        """Status and body of the answer to a request as a page of the view makes it."""
        parts = urlsplit(self.address)
        line = http.client.HTTPConnection(str(parts.hostname), parts.port, timeout=PATIENCE)
        own = {"origin": f"http://{parts.netloc}", "content-type": "application/json"}
        body = None if content is None else json.dumps(content)
        line.request(method, f"{parts.path}{path}", body, {**own, **headers})
        answer = line.getresponse()
        read = answer.read()
        line.close()
        return answer.status, read

    def put(self, path: list[str | int], was: str, text: str) -> tuple[int, Any]:
        """Put a number anew as its field does."""
        status, body = self.ask("POST", "number", {"path": path, "was": was, "text": text})
        return status, json.loads(body)

    def children(self) -> list[int]:
        """Every process below the server's."""
        return below(self.process.pid)

    def shown(self, number: int) -> None:
        """Wait until the picture of a text is there."""
        self.heard.wait("picture", lambda told: told["number"] >= number)


def below(pid: int) -> list[int]:
    """The processes below one, by the system's own list."""
    found: list[int] = []
    for task in Path(f"/proc/{pid}/task").glob("*/children"):
        try:
            own = [int(word) for word in task.read_text().split()]
        except OSError:
            continue
        found += [*own, *(deep for child in own for deep in below(child))]
    return found


def alive(pid: int) -> bool:
    """Tell whether a process still runs; a zombie does not."""
    try:
        return Path(f"/proc/{pid}/stat").read_text().rsplit(")", 1)[1].split()[0] != "Z"
    except OSError:
        return False


def all_gone(pids: list[int]) -> bool:
    """Tell whether processes have ended, within some seconds."""
    end = time.monotonic() + 10
    while any(map(alive, pids)) and time.monotonic() < end:
        time.sleep(0.05)
    return not any(map(alive, pids))


@contextmanager
def viewing(spec: Path, out: Path) -> Iterator[View]:
    """Serve the view of ``spec`` in a process of its own, which is gone afterwards."""
    command = [
        sys.executable, "-P", "-m", "casewright", "view", str(spec), "--out", str(out),
        "--no-browser",
    ]  # fmt: skip
    process = subprocess.Popen(
        command,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        env={**os.environ, "PYTHONPATH": os.pathsep.join(sys.path)},
        start_new_session=True,
    )
    view = None
    try:
        view = View(process, spec, out)
        yield view
    finally:
        if view is not None:
            view.heard.close()
        if process.poll() is None:
            process.send_signal(signal.SIGINT)
            try:
                process.wait(20)
            except subprocess.TimeoutExpired:
                process.kill()
                process.wait()
        for pipe in (process.stdout, process.stderr):
            assert pipe is not None
            pipe.close()
