"""What is told before anything is served, and what the windows are told."""

import asyncio
import socket
import sys

import pytest

from casewright import cli
from casewright.live.serve import HERE, listening
from casewright.live.windows import BEHIND, Windows
from tests.helpers.small_piece import EXAMPLES

SPEC = EXAMPLES / "plan-chest.yaml"


@pytest.fixture
def run(monkeypatch, capfd):
    """Run ``casewright view`` and give its status, results and messages."""

    def running(*words: object) -> tuple[int, str, str]:
        argv = ["casewright", "view", *map(str, words), "--no-browser"]
        monkeypatch.setattr(sys, "argv", argv)
        return (cli.main(), *capfd.readouterr())

    return running


@pytest.mark.parametrize(
    ("name", "words"),
    [("nothing.yaml", "there is no such file"), ("", "is a folder"), ("empty.yaml", "is empty")],
)
def test_a_spec_that_is_not_there_is_told_with_status_2(run, tmp_path, name, words):
    (tmp_path / "empty.yaml").touch()
    status, results, messages = run(tmp_path / name)
    assert (status, results) == (2, "")
    assert words in messages


@pytest.mark.parametrize("port", [-1, 99_999])
def test_a_port_that_there_is_not_is_told_with_status_2(run, port):
    status, results, messages = run(SPEC, "--port", port)
    assert (status, results) == (2, "")
    assert f"--port {port}: cannot be used" in messages


def test_a_port_that_is_taken_is_told_with_status_2(run):
    with listening(0) as taken:
        port = taken.getsockname()[1]
        status, results, messages = run(SPEC, "--port", port)
    assert (status, results) == (2, "")
    assert "leave it out to take a free one" in messages


def test_a_viewer_that_is_not_built_is_told_with_status_2(run, monkeypatch):
    monkeypatch.setattr("exporters.page.packed_file", lambda _: None)
    status, results, messages = run(SPEC)
    assert (status, results) == (2, "")
    assert "the viewer is not built" in messages


def test_the_door_opens_to_this_machine_alone():
    with listening(0) as door:
        assert door.family is socket.AF_INET
        assert door.getsockname()[0] == HERE == "127.0.0.1"


def heard(windows: Windows, count: int) -> list[str]:
    """The first events that a new window is told."""

    async def listen() -> list[str]:
        events = windows.events()
        found = [(await anext(events)).decode() for _ in range(count)]
        await events.aclose()
        return found

    return asyncio.run(listen())


def test_a_new_window_is_told_the_last_of_each_kind_in_the_order_of_events():
    windows = Windows()
    windows.tell("picture", {"number": 1})
    windows.tell("looked", {"number": 2, "piece": "a\nb"})
    windows.tell("picture", {"number": 2})
    assert heard(windows, 2) == [
        'event: looked\ndata: {"number":2,"piece":"a\\nb"}\n\n',
        'event: picture\ndata: {"number":2}\n\n',
    ]


def test_a_window_that_does_not_listen_is_let_go():
    windows = Windows()

    async def slow() -> int:
        events = windows.events()
        windows.tell("first", 0)
        count = len([await anext(events)])
        for number in range(2 * BEHIND):
            windows.tell("more", number)
        return count + len([event async for event in events])

    assert asyncio.run(slow()) == BEHIND + 1


def test_windows_are_let_go_in_the_end():
    windows = Windows()

    async def listen() -> list[bytes]:
        windows.tell("first", 0)
        events = windows.events()
        found = [await anext(events)]
        windows.close()
        return [*found, *[event async for event in events]]

    assert len(asyncio.run(listen())) == 1
