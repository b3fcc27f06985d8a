"""What the live view answers: pages, events, meshes, and the few things that a button does."""

import json
from collections.abc import Awaitable, Callable
from typing import Any

from starlette.applications import Starlette
from starlette.requests import Request
from starlette.responses import JSONResponse, Response, StreamingResponse
from starlette.routing import Route

from casewright.live import pages
from casewright.live.fields import FieldError, with_number
from casewright.live.reckoning import path_of
from casewright.live.session import Session
from casewright.live.spec_file import replace_text, text_in
from casewright.live.writing import Writing
from casewright.workers import Failure
from ground.errors import PackageError, SpecError

KINDS = {
    "js": "text/javascript; charset=utf-8",
    "css": "text/css; charset=utf-8",
    "svg": "image/svg+xml",
}

MOST_MESHES = 4000
"""Names of meshes in one request."""

Answer = Callable[[Request], Awaitable[Response]]


class Desk:
    """The answers, over one session."""

    def __init__(self, session: Session, writing: Writing) -> None:
        self._session = session
        self._writing = writing
        self._files = built()

    def app(self) -> Starlette:
        """The application behind the guard."""
        answers: dict[str, Answer] = {
            "/": self.live,
            "/drawings": self.drawings,
            "/files/{name}": self.file,
            "/events": self.events,
            "/record": self.record,
            "/meshes": self.meshes,
            "/sheet": self.sheet,
        }
        acts: dict[str, Answer] = {"/number": self.number, "/write": self.write}
        return Starlette(
            routes=[
                *(Route(path, answer, methods=["GET"]) for path, answer in answers.items()),
                *(Route(path, act, methods=["POST"]) for path, act in acts.items()),
            ]
        )

    async def live(self, _request: Request) -> Response:
        """The page of the piece."""
        return Response(pages.live(), media_type="text/html")

    async def drawings(self, _request: Request) -> Response:
        """The page of the drawings."""
        return Response(pages.drawings(), media_type="text/html")

    async def file(self, request: Request) -> Response:
        """A script or a style sheet of the viewer, by a name that is known beforehand."""
        name = request.path_params["name"]
        content = self._files.get(name)
        if content is None:
            return missing()
        return Response(content, headers={"content-type": KINDS[name.rpartition(".")[2]]})

    async def events(self, _request: Request) -> Response:
        """All that happens, as it happens."""
        return StreamingResponse(self._session.windows.events(), media_type="text/event-stream")

    async def record(self, _request: Request) -> Response:
        """The record of the last picture."""
        record = self._session.record
        return missing() if record is None else Response(record, media_type="application/json")

    async def meshes(self, request: Request) -> Response:
        """Meshes by name, each after its length; one that is gone has none."""
        names = request.query_params.get("names", "").split(",")[:MOST_MESHES]
        packed = b"".join(self._session.packed(names))
        return Response(packed, media_type="application/octet-stream")

    async def sheet(self, request: Request) -> Response:
        """One drawing as a picture."""
        found = await self._session.sheet(request.query_params.get("name", ""))
        if found is None:
            return missing()
        if isinstance(found, Failure):
            return Response(found.reason, status_code=503, media_type="text/plain")
        return Response(found, media_type="image/svg+xml")

    async def number(self, request: Request) -> Response:
        """Put one number of the spec anew."""
        asked = await body(request)
        path, before, after = path_of(asked.get("path")), asked.get("was"), asked.get("text")
        if path is None or not isinstance(before, str) or not isinstance(after, str):
            return refused("Say which number, what it was and what it is to be.", 400)
        try:
            text = text_in(self._session.spec)
            replace_text(self._session.spec, text, with_number(text, path, before, after))
        except (FieldError, PackageError) as error:
            return refused(str(error))
        except SpecError as error:
            return refused("; ".join(error.lines()))
        self._session.see()
        return JSONResponse({"done": True})

    async def write(self, request: Request) -> Response:
        """Write the package, or one sheet of it."""
        asked = await body(request)
        sheet = asked.get("sheet")
        if sheet is not None and sheet not in self._session.sheets:
            return refused("There is no such sheet.", 404)
        why_not = self._writing.start(sheet)
        return JSONResponse({"done": True}) if why_not is None else refused(why_not)


def built() -> dict[str, bytes]:
    """The files of the viewer by name."""
    from exporters.page import packed_file

    names = (f"{which}.{kind}" for which in (pages.LIVE, pages.DRAWINGS) for kind in ("js", "css"))
    found = {name: packed_file(name) for name in names}
    files = {name: content for name, content in found.items() if content is not None}
    return files | {"icon.svg": pages.ICON.encode()}


async def body(request: Request) -> dict[str, Any]:
    """What a window sent; nothing where it is no JSON object."""
    try:
        sent = json.loads(await request.body())
    except (ValueError, RecursionError):
        return {}
    return sent if isinstance(sent, dict) else {}


def missing() -> Response:
    """There is nothing there."""
    return Response("There is nothing there.", status_code=404, media_type="text/plain")


def refused(why: str, status: int = 200) -> Response:
    """It cannot be done, and why; that a number is refused is no fault of the page."""
    return JSONResponse({"done": False, "why": why}, status_code=status)
