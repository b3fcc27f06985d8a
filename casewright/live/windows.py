"""The windows that are open on the live view, and what each has been told."""

import asyncio
import json
from collections.abc import AsyncGenerator
from typing import Any

BEHIND = 200
"""Messages that a window may be behind before it is let go; it comes back by itself."""

ALIVE = 15.0
"""Seconds after which an idle window is told that the server is still there."""

Event = tuple[str, str]
"""A kind and its JSON."""


class Windows:
    """Tells every window the same; the last of each kind is kept for the next that opens."""

    def __init__(self) -> None:
        self._open: set[asyncio.Queue[Event | None]] = set()
        self._last: dict[str, str] = {}
        self._over = False

    def tell(self, kind: str, content: Any, *, keep: bool = True) -> None:
        """Tell all windows; not ``keep`` is for what only matters now."""
        text = json.dumps(content, ensure_ascii=False, separators=(",", ":"))
        if keep:
            self._last.pop(kind, None)  # told in the order in which things came about
            self._last[kind] = text
        for window in list(self._open):
            if window.qsize() >= BEHIND:
                self._open.discard(window)
                window.put_nowait(None)
            else:
                window.put_nowait((kind, text))

    def last(self, kind: str) -> str | None:
        """What was told last of a kind."""
        return self._last.get(kind)

    def close(self) -> None:
        """Let all windows go."""
        self._over = True
        for window in self._open:
            window.put_nowait(None)
        self._open.clear()

    async def events(self) -> AsyncGenerator[bytes, None]:
        """What one window is told, as server-sent events, from all that is known onwards."""
        window: asyncio.Queue[Event | None] = asyncio.Queue()
        for event in self._last.items():
            window.put_nowait(event)
        self._open.add(window)
        try:
            while not self._over:
                try:
                    told = await asyncio.wait_for(window.get(), ALIVE)
                except TimeoutError:
                    yield b": still here\n\n"
                    continue
                if told is None:
                    return
                kind, text = told
                yield f"event: {kind}\ndata: {text}\n\n".encode()
        finally:
            self._open.discard(window)
