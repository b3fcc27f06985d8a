"""``casewright view``: a server on this machine alone, until Ctrl-C."""

import asyncio
import contextlib
import secrets
import socket
import threading
import webbrowser
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import uvicorn

from casewright.live.app import Desk
from casewright.live.guard import Guard
from casewright.live.session import Session
from casewright.live.spec_file import text_in
from casewright.live.writing import Writing
from ground.errors import WorkError

HERE = "127.0.0.1"

WINDOWS = 64
"""Requests at a time; each window holds one open."""


class ViewError(WorkError):
    """The view cannot be served."""


@dataclass(frozen=True, slots=True, kw_only=True)
class View:
    """What is viewed, where its package goes, and where it is served."""

    spec: Path
    out: Path
    port: int = 0
    browser: bool = True


def serve(view: View, say: Callable[[str], None]) -> None:
    """Serve the view until it is interrupted; ``say`` gets the address.

    Raises:
        SpecError: there is no such file, or it cannot be read.
        ViewError: the port is taken, or the viewer is not built.
    """
    from exporters.page import packed_file

    text_in(view.spec)  # a text that cannot be used is told in the page, a file that cannot be here
    if packed_file("live.js") is None:
        message = "the viewer is not built; tools/build_viewer.py builds it and says what it lacks"
        raise ViewError(message)
    with contextlib.closing(listening(view.port)) as door, contextlib.suppress(KeyboardInterrupt):
        asyncio.run(serving(view, door, say))


def listening(port: int) -> socket.socket:
    """A door on this machine alone; port 0 is any that is free.

    Raises:
        ViewError: the port is taken.
    """
    door = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    try:
        door.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        door.bind((HERE, port))
        door.listen(WINDOWS)  # whoever comes before the server is ready waits at the door
    except (OSError, OverflowError) as trouble:
        door.close()
        message = f"--port {port}: cannot be used ({trouble}); leave it out to take a free one"
        raise ViewError(message) from trouble
    return door


class Server(uvicorn.Server):
    """A server that lets its windows go before it waits for them."""

    def __init__(self, config: uvicorn.Config, session: Session) -> None:
        super().__init__(config)
        self._session = session

    async def shutdown(self, sockets: list[socket.socket] | None = None) -> None:
        """Close every stream of events first: they would never end by themselves."""
        self._session.windows.close()
        await super().shutdown(sockets)


async def serving(view: View, door: socket.socket, say: Callable[[str], None]) -> None:
    """Serve until told to stop, and leave nothing behind."""
    session = Session(view.spec)
    writing = Writing(session.spec, view.out, session.windows)
    token = secrets.token_urlsafe(24)
    port = door.getsockname()[1]
    guard = Guard(Desk(session, writing).app(), token=token, port=port)
    config = uvicorn.Config(
        guard,
        log_level="critical",
        access_log=False,
        lifespan="off",
        server_header=False,
        limit_concurrency=WINDOWS,
        timeout_graceful_shutdown=2,
    )
    server = Server(config, session)
    address = f"http://{HERE}:{port}/{token}/"
    following = asyncio.create_task(session.run())
    following.add_done_callback(lambda _: setattr(server, "should_exit", True))
    try:
        say(address)
        if view.browser:
            # the program that opens it may take its time, and end when it likes
            threading.Thread(target=webbrowser.open, args=(address,), daemon=True).start()
        await server.serve(sockets=[door])
    finally:
        following.cancel()
        session.end()
        writing.end()
        with contextlib.suppress(asyncio.CancelledError):
            await following  # whatever has ended it too early is told
