"""piece.html and what it carries: unpacked again, and what comes from the spec is only text."""

import base64
import gzip
import hashlib
import json
import re
import xml.etree.ElementTree as ET

import pytest

from exporters.apart import SHARE, apart
from exporters.figure import figures
from exporters.looks import looks
from exporters.page import Viewer, page
from exporters.page_record import Shown, page_record
from exporters.still import still
from ground.vectors import sub
from models.parts.views import Arc, Curve, Line, LineView
from models.setting_out.piece import set_out
from planning.cutting.matching import matches
from tests.helpers.small_piece import BOARD, PIECE, built, measured, spec

VIEWER = Viewer(script='const end = "</script>";', style="p { margin: 0; }")


def record(**changes: object) -> dict[str, object]:
    facts: dict[str, object] = {
        "spec": spec(),
        "assembly": PIECE,
        "measured": {"B10": measured(BOARD, 700_000.0)},
        "looks": looks(PIECE, {}),
        "bounds": ((0.0, 0.0, 0.0), (1680.0, 430.0, 640.0)),
        "findings": built().findings,
        "drawings": {"B10": "drawings/B10-board.dxf"},
    }
    return page_record(Shown(**(facts | changes)))  # type: ignore[arg-type]


def block(text: str, name: str) -> bytes:
    found = re.search(rf'<script type="text/plain" id="{name}">([\w+/=]*)</script>', text)
    assert found
    return gzip.decompress(base64.b64decode(found[1]))


def test_the_record_and_the_mesh_come_out_as_they_went_in():
    made = record()
    text = page(VIEWER, made, b"glTF...", still="").decode()
    assert json.loads(block(text, "record")) == made
    assert block(text, "glb") == b"glTF..."


def test_the_same_piece_gives_the_same_page():
    assert page(VIEWER, record(), b"x", still="") == page(VIEWER, record(), b"x", still="")


def test_a_name_with_markup_stays_text():
    named = spec(**{"name: Reading-room cabinet": 'name: "<script>hit()</script>"'})
    text = page(VIEWER, record(spec=named), b"", still="").decode()
    assert "hit()</script>" not in text
    assert "<title>&lt;script&gt;hit()&lt;/script&gt;</title>" in text


def test_only_the_viewers_own_script_and_style_may_run():
    """The policy's hash is that of what stands between the tags, the end of a script escaped."""
    text = page(VIEWER, record(), b"", still="").decode()
    (script,) = re.findall(r"<script>(.*?)</script>", text, flags=re.DOTALL)
    assert script == 'const end = "<\\/script>";'
    total = base64.b64encode(hashlib.sha256(script.encode()).digest()).decode()
    policy = re.search(r'http-equiv="Content-Security-Policy" content="([^"]*)"', text)
    assert policy
    assert f"script-src 'sha256-{total}'" in policy[1]
    assert policy[1].startswith("default-src 'none'")
    assert "unsafe" not in policy[1]


def test_no_price_is_in_the_record():
    text = json.dumps(record())
    assert "price" not in text
    assert "2900" not in text


def test_a_part_says_its_sizes_its_faces_and_its_drawing():
    board = record()["parts"][0]  # type: ignore[index]
    assert (board["finished"], board["cut"]) == ([400, 100, 20], [400, 100, 20])
    assert {face["name"] for face in board["faces"]} == {"bottom", "mitre-1"}
    assert board["drawing"] == "drawings/B10-board.dxf"


@pytest.fixture(scope="module")
def cabinet():
    return set_out(spec())


def test_the_figure_runs_on_round_a_mitre(cabinet):
    """The outer arris of side and top is one line of the strip: 450 along from the floor end."""
    found = figures(cabinet, matches(spec(), cabinet))
    parts = {part.name: part for part in cabinet.parts}
    copies = {name: cabinet.copies_of(parts[name].label)[0] for name in ("side left", "top")}
    for y in (50.0, 300.0):
        arris = (0.0, y, 640.0)
        at = {
            name: found[copy.id].point(copy.placement.inverse().point(arris))
            for name, copy in copies.items()
        }
        assert at["side left"][:2] == pytest.approx(at["top"][:2], abs=1e-6)
        assert at["top"][0] == pytest.approx(450.0, abs=1e-6)


def test_a_stack_of_fronts_is_one_board(cabinet):
    """Two places one above the other in neighbouring fronts are as far apart in the figure."""
    found = figures(cabinet, matches(spec(), cabinet))
    fronts = [copy for copy in cabinet.copies if copy.label in {"F3", "F4"}]
    assert len(fronts) == 3
    for front in fronts[1:]:
        there = (700.0, 0.0, front.placement.origin[2])
        before = found[fronts[0].id].point(fronts[0].placement.inverse().point(there))
        assert found[front.id].point(front.placement.inverse().point(there)) == pytest.approx(
            before, abs=1e-6
        )


def test_parts_come_apart_the_way_they_close(cabinet):
    away = apart(cabinet, (), 1680.0)
    gap = SHARE * 1680.0
    named = {part.label: part.name for part in cabinet.parts}
    ids = {named[copy.label]: copy.id for copy in cabinet.copies}
    top = away[ids["top"]]
    assert sub(away[ids["side left"]], top) == pytest.approx((-gap, 0.0, -gap))
    assert sub(away[ids["side right"]], top) == pytest.approx((gap, 0.0, -gap))


def test_loose_pieces_stay_half_way(cabinet):
    away = apart(cabinet, (), 1680.0)
    joint = next(joint for joint in cabinet.joints if joint.loose and len(joint.parts) == 2)
    middle = [(a + b) / 2 for a, b in zip(*(away[part] for part in joint.parts), strict=True)]
    assert away[joint.loose[0]] == pytest.approx(middle)


def test_a_drawer_comes_out_whole_and_past_its_runner(cabinet):
    away = apart(cabinet, (), 1680.0)
    mover = next(mover for mover in cabinet.movers if mover.id == "drawer 2/1")
    ways = [away[copy][1] for copy in mover.copies]
    assert max(ways) < 0
    assert -(mover.limit + SHARE * 1680.0) in ways


def test_a_still_drawing_holds_every_stroke():
    """A circle of 10 about (0, 0) and a line to (30, 20): 40 wide, 30 high, and a margin of 0.8."""
    strokes = (
        Line((0, 0), (30, 20)),
        Arc(centre=(0, 0), radius=10, start=0, end=360),
        Curve(((0, 0), (1, 1), (2, 0))),
    )
    view = LineView(name="still", right=(1, 0, 0), up=(0, 0, 1), visible=strokes)
    root = ET.fromstring(still(view))  # noqa: S314 - our own text
    assert root.attrib["viewBox"] == "-10.8 -20.8 41.6 31.6"
    (path,) = root
    assert path.attrib["d"].count("A10 10") == 2
    assert still(LineView(name="none", right=(1, 0, 0), up=(0, 0, 1), visible=())) == ""
