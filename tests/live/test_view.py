"""The live view as it runs: edits, attacks, a worker that is killed, an end without leftovers."""

import json
import os
import signal
import time
from collections.abc import Iterator
from urllib.parse import urlsplit

import pytest

from specs.starter import starter
from tests.helpers.live import View, all_gone, viewing

pytestmark = [pytest.mark.kernel, pytest.mark.slow]


@pytest.fixture(scope="module")
def view(tmp_path_factory: pytest.TempPathFactory) -> Iterator[View]:
    folder = tmp_path_factory.mktemp("live")
    spec = folder / "night stand.yaml"
    spec.write_text(starter("Night stand"), encoding="utf-8")
    with viewing(spec, folder / "out") as running:
        running.heard.wait("order")
        yield running


def latest(view: View) -> int:
    return max(int(told["number"]) for kind, told in view.heard.events if kind == "looked")


def save(view: View, text: str) -> int:
    """Save a text and give the number that it gets."""
    number = latest(view) + 1
    view.spec.write_text(text, encoding="utf-8")
    view.heard.wait("looked", lambda told: told["number"] == number)
    return number


def test_findings_come_first_then_the_picture_then_the_order(view):
    kinds = [kind for kind, _ in view.heard.events]
    assert kinds.index("looked") < kinds.index("picture") < kinds.index("order")


def test_a_record_names_meshes_that_can_be_had(view):
    status, body = view.ask("GET", "record")
    record = json.loads(body)
    assert status == 200
    assert record["piece"] == "Night stand"
    names = sorted({part["mesh"] for part in record["parts"]})
    status, packed = view.ask("GET", f"meshes?names={','.join(names)},../../piece.yaml")
    lengths = []
    while packed:
        length = int.from_bytes(packed[:4], "little")
        points = int.from_bytes(packed[4:8], "little") if length else 0
        corners = int.from_bytes(packed[8:12], "little") if length else 0
        assert not length or length == 8 + 24 * points + 4 * corners
        lengths.append(length)
        packed = packed[4 + length :]
    assert len(lengths) == len(names) + 1
    assert all(lengths[:-1])
    assert lengths[-1] == 0  # what is no mesh has none


def test_a_save_remakes_only_what_changed(view):
    text = view.spec.read_text(encoding="utf-8")
    fields = view.heard.wait("numbers")["fields"]
    drawer = next(field for field in fields if field["path"][-2:] == ["heights", 0])
    assert drawer["main"]
    number = latest(view) + 1
    status, told = view.put(["case", "size", "height"], "1", "2")
    assert (status, told["done"]) == (200, False)
    height = next(field for field in fields if field["path"] == ["loads", "top"])
    assert view.put(height["path"], height["text"], "321") == (200, {"done": True})
    view.shown(number)
    made = view.heard.wait("picture", lambda told: told["number"] == number)["made"]
    assert made == 0  # a load changes no part
    after = view.spec.read_text(encoding="utf-8")
    lines = [
        pair for pair in zip(text.split("\n"), after.split("\n"), strict=True) if pair[0] != pair[1]
    ]
    assert len(lines) == 1
    assert lines[0][1] == lines[0][0].replace(height["text"], "321", 1)


def test_a_mistake_is_told_with_its_place_over_the_last_good_piece(view):
    text = view.spec.read_text(encoding="utf-8")
    pictures = [kind for kind, _ in view.heard.events].count("picture")
    number = save(view, text.replace("units: mm", "units: furlong"))
    told = view.heard.wait("looked", lambda told: told["number"] == number)
    line = next(at for at, row in enumerate(text.splitlines(), 1) if row.startswith("units"))
    assert (told["file"], told["problems"][0]["line"], told["problems"][0]["column"]) == (
        "night stand.yaml",
        line,
        8,
    )
    assert view.ask("GET", "record")[0] == 200
    save(view, text)
    assert [kind for kind, _ in view.heard.events].count("picture") >= pictures


def test_a_broken_spec_for_an_hour_of_edits(view):
    """Sixty saves that cannot be used, one a minute told quickly, then one that can."""
    text = view.spec.read_text(encoding="utf-8")
    breaks = ("{", "a: [1", "\x00", "", "- 1", "format: 1\n", "units: [", "%YAML 9\n---\n")
    before = latest(view)
    for count in range(60):
        view.spec.write_text(f"{breaks[count % len(breaks)]}{'#' * count}", encoding="utf-8")
        time.sleep(0.02)
    view.heard.quiet()
    number = save(view, text + "# at last\n")
    view.shown(number)
    assert number > before + 1
    assert view.process.poll() is None
    save(view, text)


@pytest.mark.parametrize("kind", ["folder", "link", "nothing"])
def test_a_spec_that_is_swapped_is_told_and_nothing_is_followed(view, kind):
    text = view.spec.read_text(encoding="utf-8")
    secret = view.spec.with_name("secret.yaml")
    secret.write_text(text.replace("Night stand", "Secret"), encoding="utf-8")
    before = latest(view)
    view.spec.unlink()
    if kind == "folder":
        view.spec.mkdir()
    elif kind == "link":
        view.spec.symlink_to(secret)
    words = {"folder": "is a folder", "link": "is a link", "nothing": "there is no such file"}[kind]
    view.heard.wait(
        "looked",
        lambda told: (
            told["number"] > before and told["problems"] and words in told["problems"][0]["message"]
        ),
    )
    _, told = view.put(["case", "size", "height"], "600", "601")
    assert not told["done"]
    assert words in told["why"]
    assert "Secret" not in view.ask("GET", "record")[1].decode()
    if kind == "folder":
        view.spec.rmdir()
    elif kind == "link":
        assert "601" not in secret.read_text(encoding="utf-8")
        view.spec.unlink()
    number = latest(view)
    view.spec.write_text(text, encoding="utf-8")
    view.heard.wait("looked", lambda told: told["number"] > number and not told["problems"])
    view.heard.quiet()


@pytest.mark.parametrize(
    "path",
    [
        "files/../../../../etc/passwd", "files/..%2f..%2fpyproject.toml", "files/%2e%2e%2fpage.py",
        "files/live.js%00.css", "files/", "../", "%2e%2e/", "sheet?name=../../etc/passwd",
        "sheet?name=drawings/../../piece.yaml", "night%20stand.yaml", "out/package/build.json",
        "record/1", "meshes/../record", ".git/config",
    ],
)  # fmt: skip
def test_no_path_opens_a_file(view, path):
    assert view.ask("GET", path)[0] in {404, 400}


def test_strangers_are_refused(view):
    parts = urlsplit(view.address)
    assert view.ask("GET", "record", host="evil.example")[0] == 403
    assert view.ask("GET", "record", origin="http://evil.example")[0] == 403
    assert view.ask("POST", "number", {}, origin="null")[0] == 403
    assert view.ask("POST", "number", {"x": "y" * 10_000})[0] == 413
    assert view.ask("POST", "number", {}, **{"content-type": "text/plain"})[0] == 415
    assert view.ask("GET", f"../{parts.path.strip('/')[::-1]}/record")[0] == 404
    assert parts.hostname == "127.0.0.1"


@pytest.mark.parametrize(
    "content",
    [
        [], 1, "x", {}, {"path": []}, {"path": "case", "was": "1", "text": "2"},
        {"path": [True], "was": "1", "text": "2"}, {"path": [["case"]], "was": "1", "text": "2"},
        {"path": ["case"] * 100, "was": "1", "text": "2"}, {"path": ["case"], "was": 1, "text": 2},
    ],
)  # fmt: skip
def test_what_is_no_number_of_the_spec_writes_nothing(view, content):
    before = view.spec.read_bytes()
    assert view.ask("POST", "number", content)[0] == 400
    assert view.spec.read_bytes() == before


def test_only_sheets_of_the_piece_are_written_and_drawn(view):
    sheets = view.heard.wait("sheets")["sheets"]
    assert "drawings/assembly.dxf" in sheets
    for name in ("../../x", "piece.step", "drawings/none.dxf", "--out", 1, ["drawings"]):
        assert view.ask("POST", "write", {"sheet": name})[0] == 404
    assert not view.out.exists()
    drawing = next(name for name in sheets if "drawer-front" in name)
    status, body = view.ask("GET", f"sheet?name={drawing}")
    assert status == 200
    assert body.startswith(b"<svg")
    assert body.count(b"@font-face") == 1
    assert b"drawer front" in body


def test_a_button_writes_one_sheet_into_the_out_folder(view):
    sheet = next(name for name in view.heard.wait("sheets")["sheets"] if "drawer-front" in name)
    assert view.ask("POST", "write", {"sheet": sheet}) == (200, b'{"done":true}')
    told = view.heard.wait("written", lambda told: told["state"] != "writing")
    assert told["state"] == "written"
    found = [path.relative_to(view.out).as_posix() for path in view.out.rglob("*")]
    assert sorted(found) == ["sheet", "sheet/build.json", "sheet/drawings", f"sheet/{sheet}"]


def test_a_killed_worker_is_started_again_and_the_page_is_told(view):
    worker, _other = view.children()
    number = latest(view) + 1
    told = len(view.heard.events)

    os.kill(worker, signal.SIGKILL)
    lost = view.heard.wait("worker", lambda told: told["state"] == "lost")
    assert "SIGKILL" in lost["words"]
    view.put(["case", "size", "height"], "380", "385")
    view.shown(number)  # both workers have a share in it
    states = [state["state"] for kind, state in view.heard.events[told:] if kind == "worker"]
    assert states == ["lost", "starting", "ready"]
    assert len(view.children()) == 2
    assert worker not in view.children()


def test_ctrl_c_leaves_nothing_behind(tmp_path):
    spec = tmp_path / "piece.yaml"
    spec.write_text(starter("Night stand"), encoding="utf-8")
    with viewing(spec, tmp_path / "out") as view:
        view.heard.wait("worker", lambda told: told["state"] == "ready")
        assert view.ask("POST", "write", {})[0] == 200
        assert b"being written already" in view.ask("POST", "write", {})[1]
        end = time.monotonic() + 30
        while len(view.children()) < 5 and time.monotonic() < end:  # two of the build's own
            time.sleep(0.05)
        children = view.children()
        assert len(children) >= 4
        view.process.send_signal(signal.SIGINT)
        assert view.process.wait(20) == 0
        assert all_gone(children)
        assert view.process.stderr is not None
        assert view.process.stderr.read() == ""
        assert [path.name for path in tmp_path.iterdir() if path.name != "out"] == ["piece.yaml"]
        left = [path for path in (tmp_path / "out").rglob("*") if path.is_file()]
        assert left == []


def test_a_server_that_is_killed_takes_its_worker_along(tmp_path):
    spec = tmp_path / "piece.yaml"
    spec.write_text(starter("Night stand"), encoding="utf-8")
    with viewing(spec, tmp_path / "out") as view:
        view.heard.wait("worker", lambda told: told["state"] == "starting")
        children = view.children()
        view.process.kill()
        view.process.wait()
        assert all_gone(children)
