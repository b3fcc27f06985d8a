"""What a session does with the answers of its workers, which are stood in for here."""

import asyncio
import contextlib
from collections.abc import Awaitable, Callable
from concurrent.futures import Future
from pathlib import Path
from typing import Any

import pytest

from casewright.live import jobs, reckoning, session
from casewright.live.session import Session
from casewright.live.windows import Windows
from casewright.live.worker import Worker
from casewright.workers import Failure, Trouble
from models.solids.records import Measured
from specs.starter import starter

Answer = Callable[[Any, jobs.Asked], Any]

TEXT = starter("Piece")


class Stand(Worker):
    """Answers at once, in the place of a process; an answer may be one to wait for."""

    def __init__(self, answer: Answer) -> None:
        self.answer = answer

    def start(self) -> None: ...

    def end(self) -> None: ...

    def ask(self, rank: int, job: Any, *given: Any) -> "Future[Any]":  # noqa: ARG002
        answer = self.answer(job, *given)
        if isinstance(answer, Future):
            return answer
        future: Future[Any] = Future()
        future.set_result(answer)
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
    """Windows that keep every event."""

    def __init__(self) -> None:
        super().__init__()
        self.told: list[Any] = []
        self._more = asyncio.Event()

    def tell(self, kind: str, content: Any, *, keep: bool = True) -> None:
        super().tell(kind, content, keep=keep)
        self.told.append((kind, content))
        self._more.set()

    async def wait(self, until: Callable[[list[Any]], object]) -> None:
        while not until(self.told):
            self._more.clear()
            await self._more.wait()

    async def number(self, kind: str, number: int) -> None:
        await self.wait(lambda told: any(k == kind and t["number"] == number for k, t in told))


async def running(
    spec: Path, answer: Answer, act: Callable[[Session, Heard], Awaitable[None]]
) -> list[Any]:
    """Run a session over a spec beside what somebody does; every event with its content."""
    one, heard = Session(spec), Heard()
    one.workers, one.windows = [Stand(answer), Stand(answer)], heard
    task = asyncio.create_task(one.run())
    acting = asyncio.ensure_future(act(one, heard))
    done, _ = await asyncio.wait({task, acting}, return_when=asyncio.FIRST_COMPLETED, timeout=60)
    assert acting in done, task.exception() if task in done else "too late"
    acting.result()
    task.cancel()
    with contextlib.suppress(asyncio.CancelledError):
        await task
    one.end()
    return heard.told


def told(folder: Path, answer: Answer, until: Callable[[list[Any]], object]) -> list[Any]:
    """What is told of a starter until that is enough."""
    spec = folder / "piece.yaml"
    spec.write_text(TEXT, encoding="utf-8")
    return asyncio.run(running(spec, answer, lambda _, heard: heard.wait(until)))


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
    """The part stays in the picture, and its solid is tried again with the next piece."""
    tries: list[str] = []

    def answer(job: Any, asked: jobs.Asked) -> Any:
        if job is jobs.proved and asked.part.label == "C1":
            tries.append(asked.part.label)
            return Failure(trouble=Trouble.CRASH, reason="the process was lost")
        return as_asked(job, asked)

    events = told(tmp_path, answer, lambda heard: "proved" in kinds(heard))
    assert tries == ["C1", "C1"]
    assert kinds(events).count("picture") == 1
    last = [content for kind, content in events if kind == "looked"][-1]
    assert "the process was lost" in last["findings"][0]["message"]


def test_a_kernel_that_cannot_be_loaded_any_more_changes_no_picture(tmp_path):
    refused = Failure(trouble=Trouble.REFUSED, reason="the kernel is not here")

    def answer(job: Any, asked: jobs.Asked) -> Any:
        return refused if job is jobs.proved else as_asked(job, asked)

    events = told(tmp_path, answer, lambda heard: "order" in kinds(heard))
    assert kinds(events).count("picture") == kinds(events).count("looked") == 1
    assert "proved" not in kinds(events)


def test_a_fault_of_ours_after_the_picture_is_told(tmp_path, monkeypatch):
    monkeypatch.setattr(reckoning, "order", lambda *_: 1 / 0)
    events = told(tmp_path, as_asked, lambda heard: kinds(heard).count("looked") == 2)
    last = [content for kind, content in events if kind == "looked"][-1]
    assert last["findings"][0]["code"] == "view.fault"
    assert "a fault in casewright" in last["findings"][0]["message"]


def test_a_picture_that_cannot_be_made_at_all_is_told(tmp_path):
    refused = Failure(trouble=Trouble.REFUSED, reason="the kernel is not here")
    events = told(tmp_path, lambda *_: refused, lambda heard: "undrawn" in kinds(heard))
    assert "picture" not in kinds(events)
    assert events[kinds(events).index("undrawn")][1]["why"] == "the kernel is not here"


def test_a_proof_that_ends_while_a_newer_piece_is_made_leaves_the_picture_alone(tmp_path):
    """Five pieces fill the store; a proof of the fifth ends while a part of the sixth is made.

    The sixth is the second again but for one gap. Whatever the proof says, the fifth is not shown
    once more, and nothing that the sixth has from the second is let go for its sake.
    """
    proof: Future[Any] = Future()
    part: Future[Any] = Future()
    held: list[tuple[Any, jobs.Asked]] = []
    number = 0

    def answer(job: Any, asked: jobs.Asked) -> Any:
        waits = (number == 5 and job is jobs.proved) or (number == 6 and job is jobs.seen)
        if not waits or any(job is other for other, _ in held):
            return as_asked(job, asked)
        held.append((job, asked))
        return proof if job is jobs.proved else part

    async def edits(one: Session, heard: Heard) -> None:
        nonlocal number
        for height in (380, 390, 400, 410, 420):
            number += 1
            text = TEXT.replace("height: 380", f"height: {height}")
            one.spec.write_text(text, encoding="utf-8")
            one.see()
            await heard.number("picture" if number == 5 else "proved", number)
        await until(lambda: held)
        number += 1
        text = TEXT.replace("height: 380", "height: 390").replace("gap: 2 ", "gap: 2.5 ")
        one.spec.write_text(text, encoding="utf-8")
        one.see()
        await until(lambda: len(held) == 2)
        proof.set_result(jobs.Unmade(cut="groove-1", reason="it cannot be cut"))
        await asyncio.sleep(0.1)
        part.set_result(as_asked(*held[1]))
        await heard.number("proved", 6)

    spec = tmp_path / "piece.yaml"
    spec.write_text(TEXT, encoding="utf-8")
    events = asyncio.run(running(spec, answer, edits))
    assert [one["number"] for kind, one in events if kind == "picture"] == [1, 2, 3, 4, 5, 6]


async def until(there: Callable[[], object]) -> None:
    """Wait until something is there."""
    while not there():  # noqa: ASYNC110 - what is waited for is no event
        await asyncio.sleep(0.01)
