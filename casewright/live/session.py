"""The live view at work: from a save to findings, from findings to the picture."""

import asyncio
import contextlib
import gc
import os
import sys
from collections import deque
from collections.abc import Coroutine, Iterator
from pathlib import Path
from typing import Any

from casewright.live import jobs, reckoning
from casewright.live.jobs import Box
from casewright.live.picturing import Pictured, Shapes, not_proved
from casewright.live.reckoning import Looked
from casewright.live.spec_file import text_in
from casewright.live.windows import Windows
from casewright.live.worker import State, Worker
from casewright.workers import Failure, Trouble, worded
from ground.errors import Problem, SpecError
from ground.findings import Finding, Severity

HALF_WRITTEN = 0.12
"""Seconds to wait before a text that cannot be used is told: the editor may be at it still."""

LOOK = 1000
"""Milliseconds after which the file is looked at even where the system has told nothing."""

SHOWN = 0.4
"""Seconds that the windows have for the new picture before more is found out about the piece."""

JOB_LIMIT = 300.0
"""Seconds that a picture or a sheet may take before its process is taken for hung."""

TURN = 0.001
"""Seconds after which a thread lets the others go on: a worker without work waits less."""

IN_HAND = 2
"""Parts that a worker is asked for at a time: the next one waits while it makes one."""

WORKERS = 2
"""Processes that hold the kernel: a picture is made by both, a proof by the first, a sheet by the
last."""

PICTURE, SHEET, PROOF = 0, 1, 2
"""Ranks: the picture goes before any sheet, and both before the proof of what is shown."""


class Session:
    """One spec under one view; everything but the workers' threads runs in one event loop."""

    def __init__(self, spec: Path) -> None:
        self.spec = Path(os.path.abspath(spec))  # noqa: PTH100 - a link is not followed
        self.name = str(spec)
        self.windows = Windows()
        self.workers = [
            Worker(prepare=jobs.prepare, limit=JOB_LIMIT, tell=self._worker_says)
            for _ in range(WORKERS)
        ]
        self.number = 0
        self.drawn = 0
        self.text: str | None = None
        self.piece: Looked | None = None
        self.record: bytes | None = None
        self.sheets: tuple[str, ...] = ()
        self.shapes = Shapes()
        self._trouble = ""
        self._afterwards: list[asyncio.Task[None]] = []
        self._fresh = asyncio.Event()
        self._to_draw = asyncio.Event()
        self._loop = asyncio.get_running_loop()

    async def run(self) -> None:
        """Follow the file until the task is cancelled."""
        sys.setswitchinterval(TURN)
        for worker in self.workers:
            worker.start()
        self.see()
        async with asyncio.TaskGroup() as group:
            group.create_task(self._watch())
            group.create_task(self._look())
            group.create_task(self._draw())

    def end(self) -> None:
        """Let the windows go and end the workers."""
        self._let_go_of_the_rest()
        self.windows.close()
        for worker in self.workers:
            worker.end()

    # ---- the file

    async def _watch(self) -> None:
        """See the file whenever the system says so, and from time to time all the same."""
        from watchfiles import awatch

        while True:
            with contextlib.suppress(OSError, RuntimeError):  # its folder may go and come back
                async for _ in awatch(
                    self.spec.parent,
                    watch_filter=lambda _change, path: Path(path).name == self.spec.name,
                    debounce=40,
                    step=10,
                    rust_timeout=LOOK,
                    yield_on_timeout=True,
                    recursive=False,
                ):
                    await self._see_twice()
            await asyncio.sleep(LOOK / 1000)
            await self._see_twice()

    async def _see_twice(self) -> None:
        """See the file; a second time where it cannot be read at first."""
        try:
            text_in(self.spec)
        except SpecError:
            await asyncio.sleep(HALF_WRITTEN)
        self.see()

    def see(self) -> None:
        """Take what stands in the file now."""
        try:
            text = text_in(self.spec)
        except SpecError as error:
            if str(error) != self._trouble:
                self._trouble = str(error)
                self.text = None
                self.number += 1
                self.windows.tell("looked", reckoning.told_of_error(self.number, error))
            return
        if text != self.text:
            self.text, self._trouble = text, ""
            self.number += 1
            self._fresh.set()

    # ---- what needs no kernel

    async def _look(self) -> None:
        while True:
            await self._fresh.wait()
            self._fresh.clear()
            number, text = self.number, self.text
            if text is None:
                continue
            await self._looked(number, text)
            self.windows.tell(
                "numbers", await asyncio.to_thread(reckoning.told_numbers, number, text)
            )

    async def _looked(self, number: int, text: str) -> None:
        """Look at one text, tell what comes of it, and have the piece drawn where there is one."""
        try:
            found = await asyncio.to_thread(reckoning.looked, number, text, self.name, self.piece)
        except SpecError as error:
            self.windows.tell("looked", reckoning.told_of_error(number, error))
            return
        except Exception as error:  # noqa: BLE001 - the view outlives a fault of ours
            told = SpecError((Problem(path=(), message=fault(error).message),))
            self.windows.tell("looked", reckoning.told_of_error(number, told))
            return
        if self.piece is None:  # what stays for good need not be gone through again and again
            gc.collect()
            gc.freeze()
        self.piece = found
        self.windows.tell("looked", reckoning.told(found))
        self._to_draw.set()

    # ---- what the kernel does

    async def _draw(self) -> None:
        while True:
            await self._to_draw.wait()
            self._to_draw.clear()
            piece = self.piece
            if piece is not None and await self._made(piece):
                self._show(piece)

    async def _made(self, piece: Looked) -> bool:
        """Have all workers make what is not made yet of a piece; tell whether that went well.

        Nothing is made before the findings are told: two cores often share what one of them needs.
        """
        waiting = deque(self.shapes.missing(piece.assembly))
        answers = await asyncio.gather(
            *(self._empty(waiting, one) for one in self.workers for _ in range(IN_HAND))
        )
        failure = next((one for one in answers if one is not None), None)
        if failure is not None:
            self.windows.tell("undrawn", {"number": piece.number, "why": failure.reason})
        return failure is None

    async def _empty(self, waiting: deque[jobs.Asked], worker: Worker) -> Failure | None:
        """Have parts that are ``waiting`` made and keep them, until none waits."""
        while waiting:
            asked = waiting.popleft()
            answer = await self._made_by(worker, asked, PICTURE)
            if isinstance(answer, Failure):
                waiting.clear()
                return answer
            self.shapes.take(asked, answer)
        return None

    async def _made_by(
        self, worker: Worker, asked: jobs.Asked, rank: int
    ) -> jobs.Seen | jobs.Unmade | Failure:
        """Have one part made, once more where the worker was lost over it."""
        job = jobs.proved if rank == PROOF else jobs.seen
        answer: jobs.Seen | jobs.Unmade | Failure
        answer = await asyncio.wrap_future(worker.ask(rank, job, asked))
        if isinstance(answer, Failure) and answer.trouble is Trouble.CRASH:
            answer = await asyncio.wrap_future(worker.ask(rank, job, asked))
        return answer

    def _show(self, piece: Looked) -> None:
        """Show a new picture, and see to the rest when the windows have had time for it."""
        pictured = self._pictured(piece)
        self._let_go_of_the_rest()
        rest = (self._order(piece, pictured.bounds), self._prove(piece))
        self._afterwards = [self._loop.create_task(self._later(piece, one)) for one in rest]

    async def _later(self, piece: Looked, rest: Coroutine[Any, Any, None]) -> None:
        """Do what is left to do about a piece; a fault of ours in it is told."""
        try:
            await asyncio.sleep(SHOWN)
            await rest
        except Exception as error:  # noqa: BLE001 - as above
            self._add(piece, (fault(error),))
        finally:
            rest.close()

    def _add(self, piece: Looked, failed: tuple[Finding, ...]) -> None:
        """Tell the windows what else is wrong with a piece, if it is still the latest."""
        if self.piece is not None and self._is_latest(piece):
            self.piece = self.piece.with_failed((*self.piece.failed, *failed))
            self.windows.tell("looked", reckoning.told(self.piece))

    def _pictured(self, piece: Looked) -> Pictured:
        """Tell the windows of a picture, and what could not be made for it."""
        number = piece.number
        pictured = self.shapes.picture(piece.checked.spec, piece.assembly)
        self.record = pictured.record
        self.drawn += 1
        told = {"number": number, "drawn": self.drawn, "made": pictured.made}
        self.windows.tell("picture", told)
        self.sheets = reckoning.sheets(piece.assembly)
        self.windows.tell("sheets", {"number": number, "sheets": list(self.sheets)})
        if pictured.findings and self._is_latest(piece):
            self.piece = piece.with_failed(pictured.findings)
            self.windows.tell("looked", reckoning.told(self.piece))
        return pictured

    def _is_latest(self, piece: Looked) -> bool:
        """Tell whether nothing was set out since."""
        return self.piece is not None and self.piece.number == piece.number

    async def _order(self, piece: Looked, bounds: Box | None) -> None:
        """Tell how the piece goes together."""
        self.windows.tell("order", await asyncio.to_thread(reckoning.order, piece, bounds))

    async def _prove(self, piece: Looked) -> None:
        """Make the exact solids of what is shown; where one says otherwise, show that.

        A later piece has what is left over proved with its own.
        """
        mended = False
        doubtful: list[Finding] = []
        for asked in self.shapes.unproved(piece.assembly):
            answer = await self._made_by(self.workers[0], asked, PROOF)
            if not isinstance(answer, Failure):
                mended |= self.shapes.prove(asked, answer)
            elif answer.trouble is Trouble.REFUSED:
                return  # there is no kernel; the windows know
            else:
                doubtful.append(not_proved(piece.assembly, asked.part, answer.reason))
            if not self._is_latest(piece):
                return  # its picture is being made, out of what was mended here
        if mended:
            self._pictured(piece)
        if doubtful:
            self._add(piece, tuple(doubtful))
        self.windows.tell("proved", {"number": piece.number})

    def _let_go_of_the_rest(self) -> None:
        """Find out no more about an earlier piece."""
        for task in self._afterwards:
            task.cancel()

    async def sheet(self, path: str) -> bytes | Failure | None:
        """One drawing of the piece as it is now; None where there is no piece or no such sheet."""
        if self.piece is None or path not in self.sheets:
            return None
        piece = self.piece
        answer: bytes | Failure = await asyncio.wrap_future(
            self.workers[-1].ask(
                SHEET, jobs.sheet, piece.number, piece.checked.spec, piece.assembly, path
            )
        )
        return answer

    def _worker_says(self, state: State, words: str) -> None:
        """Pass on how the worker is; called from a worker's thread."""
        with contextlib.suppress(RuntimeError):  # the loop has ended meanwhile
            content = {"state": state.value, "words": words}
            self._loop.call_soon_threadsafe(self.windows.tell, "worker", content)

    def packed(self, names: list[str]) -> Iterator[bytes]:
        """Meshes one after the other, each after its length (32 bits, little-endian)."""
        for name in names:
            mesh = self.shapes.mesh(name)
            yield len(mesh).to_bytes(4, "little")
            yield mesh


def fault(error: Exception) -> Finding:
    """A fault of ours, which the view outlives."""
    return Finding(
        code="view.fault",
        severity=Severity.ERROR,
        subject="the live view",
        message=f"a fault in casewright, not in your spec: {worded(error)}",
        source="the program itself",
    )
