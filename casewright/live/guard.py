"""Who may talk to the live view: a page that this server gave out, on this machine, and no other.

Every request must name this server as its host and carry the token in its path. A request that
changes anything must come from a page of this server and hold no more than a few numbers.
"""

import hmac
from collections.abc import Awaitable, Callable, MutableMapping
from typing import Any

Scope = MutableMapping[str, Any]
Message = MutableMapping[str, Any]
Receive = Callable[[], Awaitable[Message]]
Send = Callable[[Message], Awaitable[None]]
Application = Callable[[Scope, Receive, Send], Awaitable[None]]

LARGEST_BODY = 8192
"""Bytes; what a window sends is a path and a number."""

POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; connect-src 'self';"
    " img-src 'self' blob:; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
)

HEADERS = (
    (b"content-security-policy", POLICY.encode()),
    (b"cache-control", b"no-store"),
    (b"cross-origin-opener-policy", b"same-origin"),
    (b"cross-origin-resource-policy", b"same-origin"),
    (b"referrer-policy", b"no-referrer"),
    (b"x-content-type-options", b"nosniff"),
    (b"x-frame-options", b"DENY"),
)
"""On every answer."""

REASONS = {
    403: "This address answers its own pages only.",
    404: "There is no such page here; use the whole address that the program has printed.",
    405: "That cannot be done here.",
    413: "That is more than a number.",
    415: "Numbers come as JSON.",
}


class TooLargeError(Exception):
    """More was sent than anything here needs."""


class Guard:
    """Lets through to ``inner`` what belongs here, with the token taken off its path."""

    def __init__(self, inner: Application, *, token: str, port: int) -> None:
        self._inner = inner
        self._token = token
        self._hosts = frozenset({f"127.0.0.1:{port}", f"localhost:{port}"})
        self._origins = frozenset(f"http://{host}" for host in self._hosts)

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer one request, or refuse it."""
        if scope["type"] == "lifespan":
            await self._inner(scope, receive, send)
            return
        if scope["type"] != "http":  # there are no sockets here
            await send({"type": "websocket.close", "code": 1008})
            return
        status = self._refusal(scope)
        if status is not None:
            await refuse(send, status)
            return
        scope["path"] = scope["path"].removeprefix(f"/{self._token}")
        scope["raw_path"] = scope["path"].encode()
        try:
            await self._inner(scope, limited(receive), with_headers(send))
        except TooLargeError:
            await refuse(send, 413)

    def _refusal(self, scope: Scope) -> int | None:
        """The status to refuse a request with, None where it may pass."""
        headers = Headers(scope)
        if headers.all(b"host") != 1 or headers.one(b"host") not in self._hosts:
            return 403
        if self._foreign(scope["method"], headers):
            return 403
        first, slash, _ = scope["path"].removeprefix("/").partition("/")
        if not slash or not hmac.compare_digest(first.encode(), self._token.encode()):
            return 404
        match scope["method"]:
            case "GET" | "HEAD":
                return None
            case "POST":
                return unfit(headers)
            case _:
                return 405

    def _foreign(self, method: str, headers: "Headers") -> bool:
        """Tell whether another site's page is behind a request."""
        origin = headers.one(b"origin")
        if headers.all(b"origin") > 1 or (origin is not None and origin not in self._origins):
            return True
        if method == "POST" and origin is None:
            return True
        site, mode = headers.one(b"sec-fetch-site"), headers.one(b"sec-fetch-mode")
        if site in {None, "same-origin", "none"}:
            return False
        # a link that somebody clicks elsewhere may open a page, and do nothing else
        return not (method == "GET" and mode == "navigate")


class Headers:
    """The headers of a request."""

    def __init__(self, scope: Scope) -> None:
        self._pairs: list[tuple[bytes, bytes]] = list(scope["headers"])

    def all(self, name: bytes) -> int:
        """How often a header stands there."""
        return sum(key == name for key, _ in self._pairs)

    def one(self, name: bytes) -> str | None:
        """The first value of a header, None where it is missing."""
        return next((value.decode("latin-1") for key, value in self._pairs if key == name), None)


def unfit(headers: Headers) -> int | None:
    """The status to refuse what is sent with, None where it may be read."""
    kind = (headers.one(b"content-type") or "").partition(";")[0].strip().lower()
    if kind != "application/json":
        return 415
    length = headers.one(b"content-length")
    if length is not None and (not length.isdecimal() or int(length) > LARGEST_BODY):
        return 413
    return None


def limited(receive: Receive) -> Receive:
    """``receive`` that gives up where more comes than was said."""
    total = 0

    async def counted() -> Message:
        nonlocal total
        message = await receive()
        total += len(message.get("body", b""))
        if total > LARGEST_BODY:
            raise TooLargeError
        return message

    return counted


def with_headers(send: Send) -> Send:
    """``send`` that puts our headers on every answer."""

    async def dressed(message: Message) -> None:
        if message["type"] == "http.response.start":
            message = {**message, "headers": [*message.get("headers", ()), *HEADERS]}
        await send(message)

    return dressed


async def refuse(send: Send, status: int) -> None:
    """Answer with a status and its reason in plain words."""
    body = REASONS[status].encode()
    headers = [
        (b"content-type", b"text/plain; charset=utf-8"),
        (b"content-length", str(len(body)).encode()),
        (b"connection", b"close"),
        *HEADERS,
    ]
    await send({"type": "http.response.start", "status": status, "headers": headers})
    await send({"type": "http.response.body", "body": body})
