"""What a session does with the answers of its workers, which are stood in for here."""

import asyncio
import contextlib
from collections.abc import Callable
from concurrent.futures import Future
from pathlib import Path
from typing import Any

import pytest

from casewright.live import jobs, session
from casewright.live.session import PROOF, Session
from casewright.live.windows import Windows
from casewright.live.worker import Worker
from casewright.workers import Failure, Trouble
from models.solids.records import Measured
from specs.starter import starter

Answer = Callable[[Any, jobs.Asked], Any]


class Stand(Worker):
    """Answers at once, in the place of a process."""

    def __init__(self, answer: Answer) -> None:
        self.answer = answer
        self.asked: list[tuple[int, Any]] = []

    def start(self) -> None: ...

    def end(self) -> None: ...

    def ask(self, rank: int, job: Any, *given: Any) -> "Future[Any]":
        self.asked.append((rank, job))
        future: Future[Any] = Future()
        future.set_result(self.answer(job, *given))
        return future


def as_asked(job: Any, asked: jobs.Asked) -> jobs.Seen:
    """A part as its blank."""
    box = ((0.0, 0.0, 0.0), asked.part.blank.size)
    return jobs.Seen(
        measured=Measured(volume=1.0, box=box, faces=()),
        name=f"{asked.part.label} as a blank",
        content=b"",
        boxes=dict.fromkeys(asked.turned, box),
        proved=job is jobs.proved,
    )


class Heard(Windows):
    """Windows that keep every event, and say when there are ``enough``."""

    def __init__(self, enough: Callable[[list[Any]], object]) -> None:
        super().__init__()
        self.told: list[Any] = []
        self.full = asyncio.Event()
        self.enough = enough

    def tell(self, kind: str, content: Any, *, keep: bool = True) -> None:
        super().tell(kind, content, keep=keep)
        self.told.append((kind, content))
        if self.enough(self.told):
            self.full.set()


def told(folder: Path, answer: Answer, until: Callable[[list[Any]], object]) -> list[Any]:
    """Run a session over a starter until enough is told; every event with its content."""

    async def running() -> list[Any]:
        spec = folder / "piece.yaml"
        spec.write_text(starter("Piece"), encoding="utf-8")
        one = Session(spec)
        one.workers = [Stand(answer), Stand(answer)]
        one.windows = heard = Heard(until)
        task = asyncio.create_task(one.run())
        async with asyncio.timeout(60):
            await heard.full.wait()
        task.cancel()
        with contextlib.suppress(asyncio.CancelledError):
            await task
        one.end()
        return heard.told

    return asyncio.run(running())


@pytest.fixture(autouse=True)
def _no_pause(monkeypatch):
    monkeypatch.setattr(session, "SHOWN", 0.0)


def kinds(events: list[Any]) -> list[str]:
    return [kind for kind, _ in events]


def test_a_picture_is_told_before_its_solids_are_made(tmp_path):
    events = told(tmp_path, as_asked, lambda heard: "proved" in kinds(heard))
    order = kinds(events)
    assert order.index("looked") < order.index("picture") < order.index("proved")
    assert order.count("picture") == 1
    assert events[order.index("proved")][1] == {"number": 1}


def test_a_solid_that_cannot_be_made_changes_the_picture_and_the_findings(tmp_path):
    def answer(job: Any, asked: jobs.Asked) -> Any:
        if job is jobs.proved and asked.part.label == "C1":
            return jobs.Unmade(cut="groove-1", reason="it cannot be cut")
        return as_asked(job, asked)

    events = told(tmp_path, answer, lambda heard: "proved" in kinds(heard))
    pictures = [content for kind, content in events if kind == "picture"]
    assert [(one["number"], one["drawn"]) for one in pictures] == [(1, 1), (1, 2)]
    first, second = (content for kind, content in events if kind == "looked")
    new = [one for one in second["findings"] if one not in first["findings"]]
    assert [one["code"] for one in new] == ["make.solid"]
    assert "cannot be made at groove-1" in new[0]["message"]


def test_a_worker_lost_over_a_proof_is_asked_once_more_and_then_it_is_told(tmp_path):
    tries: list[str] = []

    def answer(job: Any, asked: jobs.Asked) -> Any:
        if job is jobs.proved and asked.part.label == "C1":
            tries.append(asked.part.label)
            return Failure(trouble=Trouble.CRASH, reason="the process was lost")
        return as_asked(job, asked)

    events = told(tmp_path, answer, lambda heard: "proved" in kinds(heard))
    assert tries == ["C1", "C1"]
    last = [content for kind, content in events if kind == "looked"][-1]
    assert "the process was lost" in last["findings"][0]["message"]


def test_a_picture_that_cannot_be_made_at_all_is_told(tmp_path):
    refused = Failure(trouble=Trouble.REFUSED, reason="the kernel is not here")
    events = told(tmp_path, lambda *_: refused, lambda heard: "undrawn" in kinds(heard))
    assert "picture" not in kinds(events)
    assert events[kinds(events).index("undrawn")][1]["why"] == "the kernel is not here"


def test_proofs_come_after_pictures_and_sheets():
    assert max(session.PICTURE, session.SHEET) < PROOF
