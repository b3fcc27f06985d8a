"""One line on a terminal that says which part is in hand; nothing elsewhere."""

from types import TracebackType
from typing import Self, TextIO

WIDEST = 100
"""Characters of the line at most, so that it never wraps on a common terminal."""


class Progress:
    """A line on ``stream`` that is written over again, and cleared in the end; None: silence."""

    def __init__(self, stream: TextIO | None) -> None:
        self._stream = stream if stream is not None and stream.isatty() else None
        self._last = 0
        self._done = 0
        self._all = 0

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        where: TracebackType | None,
    ) -> None:
        if self._last:
            self._write("")
            self._write("")

    def expect(self, number: int) -> None:
        """Say how many steps there are in all."""
        self._all = number

    def in_hand(self, what: str) -> None:
        """Say what is being worked on."""
        self._write(f"{self._done}/{self._all} {what}")

    def done(self) -> None:
        """Count one step."""
        self._done += 1

    def _write(self, text: str) -> None:
        if self._stream is None:
            return
        safe = "".join(sign for sign in text if sign.isprintable())[:WIDEST]
        self._stream.write("\r" + safe.ljust(self._last))
        self._stream.flush()
        self._last = len(safe)
