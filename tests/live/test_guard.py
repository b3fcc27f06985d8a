"""Only a page of this server, on this machine, gets through; everything else is refused."""

import asyncio
from typing import Any

import pytest

from casewright.live.guard import HEADERS, LARGEST_BODY, POLICY, Guard

TOKEN = "t0ken-of-this-run"  # noqa: S105 - of this test and nothing else
HERE = "127.0.0.1:8000"
PAGE = {"host": HERE}
OURS = {
    "host": HERE,
    "origin": f"http://{HERE}",
    "content-type": "application/json",
    "sec-fetch-site": "same-origin",
}


async def inner(scope: Any, receive: Any, send: Any) -> None:
    """Answer with the path that came through, after reading all that was sent."""
    more = True
    while more:
        more = (await receive()).get("more_body", False)
    await send({"type": "http.response.start", "status": 200, "headers": []})
    await send({"type": "http.response.body", "body": scope["path"].encode()})


def asked(
    method: str = "GET",
    path: str = f"/{TOKEN}/record",
    headers: dict[str, str] | list[tuple[str, str]] | None = None,
    chunks: tuple[bytes, ...] = (b"",),
) -> tuple[int, bytes, dict[bytes, bytes]]:
    """Status, body and headers of the answer to one request."""
    pairs = (headers if headers is not None else PAGE) or {}
    listed = list(pairs.items()) if isinstance(pairs, dict) else pairs
    scope = {
        "type": "http",
        "method": method,
        "path": path,
        "headers": [(key.encode(), value.encode()) for key, value in listed],
    }
    waiting = [
        {"type": "http.request", "body": chunk, "more_body": place < len(chunks) - 1}
        for place, chunk in enumerate(chunks)
    ]
    sent: list[Any] = []

    async def receive() -> Any:
        return waiting.pop(0)

    async def send(message: Any) -> None:
        sent.append(message)

    asyncio.run(Guard(inner, token=TOKEN, port=8000)(scope, receive, send))
    start, body = sent
    return start["status"], body["body"], dict(start["headers"])


def test_a_page_of_ours_gets_through_without_the_token():
    status, body, _ = asked()
    assert (status, body) == (200, b"/record")


def test_a_number_from_a_page_of_ours_gets_through():
    status, body, _ = asked("POST", f"/{TOKEN}/number", OURS, (b"{}",))
    assert (status, body) == (200, b"/number")


@pytest.mark.parametrize(
    "host",
    [
        "evil.example", "127.0.0.1", "127.0.0.1:8001", "127.0.0.1:8000.evil.example", "[::1]:8000",
        "0.0.0.0:8000", "127.0.0.2:8000", "LOCALHOST.evil.example:8000", "",
    ],
)  # fmt: skip
def test_a_foreign_host_is_refused(host):
    assert asked(headers={"host": host})[0] == 403


def test_a_missing_or_double_host_is_refused():
    assert asked(headers={"accept": "*/*"})[0] == 403
    assert asked(headers=[("host", HERE), ("host", "evil.example")])[0] == 403


@pytest.mark.parametrize(
    "origin", ["http://evil.example", "null", "https://127.0.0.1:8000", "http://127.0.0.1:8001", ""]
)
@pytest.mark.parametrize("method", ["GET", "POST"])
def test_a_foreign_origin_is_refused(method, origin):
    assert asked(method, headers={**OURS, "origin": origin})[0] == 403


def test_a_number_without_an_origin_is_refused():
    headers = {key: value for key, value in OURS.items() if key != "origin"}
    assert asked("POST", headers=headers)[0] == 403


@pytest.mark.parametrize("site", ["cross-site", "same-site"])
def test_another_sites_page_can_open_a_page_and_fetch_nothing(site):
    clicked = {**PAGE, "sec-fetch-site": site, "sec-fetch-mode": "navigate"}
    assert asked(headers=clicked)[0] == 200
    for mode in ("no-cors", "cors", "websocket"):
        assert asked(headers={**clicked, "sec-fetch-mode": mode})[0] == 403
    assert asked("POST", headers={**OURS, "sec-fetch-site": site})[0] == 403


@pytest.mark.parametrize(
    "path",
    [
        "/", "", "/record", f"/{TOKEN}", f"/{TOKEN[:-1]}/record", f"/{TOKEN}x/record",
        f"//{TOKEN}/record", f"/{TOKEN.upper()}/record", "/\ufffd/record", f"/x/../{TOKEN}/record",
    ],
)  # fmt: skip
def test_a_missing_or_wrong_token_finds_nothing(path):
    status, body, _ = asked(path=path)
    assert status == 404
    assert TOKEN.encode() not in body


@pytest.mark.parametrize("method", ["PUT", "DELETE", "PATCH", "OPTIONS", "TRACE", "CONNECT"])
def test_other_methods_are_refused(method):
    assert asked(method, headers=OURS)[0] == 405


@pytest.mark.parametrize("kind", ["text/plain", "application/x-www-form-urlencoded", "", "json"])
def test_what_a_form_of_another_site_could_send_is_refused(kind):
    assert asked("POST", headers={**OURS, "content-type": kind})[0] == 415


@pytest.mark.parametrize("length", [str(LARGEST_BODY + 1), "9" * 30, "-1", "ten"])
def test_a_huge_body_is_refused_before_it_is_read(length):
    assert asked("POST", headers={**OURS, "content-length": length})[0] == 413


def test_a_body_that_goes_on_and_on_is_cut_off():
    endless = (b"x" * 4096,) * 1000
    assert asked("POST", headers=OURS, chunks=endless)[0] == 413


def test_every_answer_carries_the_policy():
    for headers, path in ((PAGE, f"/{TOKEN}/"), ({"host": "evil.example"}, "/"), (PAGE, "/")):
        answer = asked(path=path, headers=headers)[2]
        assert set(HEADERS) <= set(answer.items())
    assert "unsafe" not in POLICY
    assert "default-src 'none'" in POLICY


def test_a_socket_is_closed_at_once():
    sent: list[Any] = []

    async def send(message: Any) -> None:
        sent.append(message)

    async def run() -> None:
        scope = {"type": "websocket", "path": f"/{TOKEN}/events", "headers": []}
        await Guard(inner, token=TOKEN, port=8000)(scope, None, send)  # type: ignore[arg-type]

    asyncio.run(run())
    assert sent == [{"type": "websocket.close", "code": 1008}]
