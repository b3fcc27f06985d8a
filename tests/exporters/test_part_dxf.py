"""The machine's files, read back by ezdxf's audit, dxf-parser and GDAL."""

import io
import itertools
import math
import os
import subprocess
import sys
from collections import Counter
from dataclasses import replace
from pathlib import Path

import ezdxf
import pyogrio.raw
import pytest
from ezdxf import recover
from ezdxf.document import Drawing
from ezdxf.entities import LWPolyline, Text
from ezdxf.layouts import Modelspace
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from drawings.loops import Loop
from drawings.worked import worked_faces
from exporters.part_dxf import part_dxf, part_dxfs
from ground.vectors import X, Y, Z, neg, unit
from models.parts.blank import Blank, Section
from models.parts.features import (
    Channel,
    ChannelKind,
    EasedEdge,
    Mortise,
    Seat,
    Trim,
    Waste,
    WasteKind,
)
from models.parts.part import Part
from tests.helpers.hand_made_parts import (
    board,
    box_bite,
    countersink,
    ease,
    groove,
    hole,
    part,
    splayed_leg,
    trim,
)
from tests.helpers.parts_strategy import parts
from tests.helpers.readers import dxf_as_parsed
from tests.helpers.repository import ROOT

PANEL = board(
    600,
    200,
    20,
    groove((0, 150, 20), X, (600, 6, 8)),
    hole((50, 40, 20), 5, 12, count=4, pitch=32),
    hole((300, 60, 20), 4.5, None),
)


def read(data: bytes) -> Drawing:
    """The document of a file, which must have no fault at all."""
    document, auditor = recover.read(io.BytesIO(data))
    assert [str(error) for error in auditor.errors] == []
    assert [str(fix) for fix in auditor.fixes] == []
    return document


def polylines(space: Modelspace) -> list[LWPolyline]:
    """Every light polyline."""
    return [e for e in space if isinstance(e, LWPolyline)]


def entities(of: Part) -> Counter[tuple[str, str]]:
    """How many entities of each type lie on each layer, notes left out."""
    space = read(part_dxf(of)).modelspace()
    return Counter((e.dxftype(), e.dxf.layer) for e in space if e.dxf.layer != "NOTES")


def gdal_rings(data: bytes, folder: Path) -> dict[str, list[tuple[float, float]]]:
    """The first line string that GDAL finds on each layer, as its points."""
    import struct

    file = folder / "part.dxf"
    file.write_bytes(data)
    found: dict[str, list[tuple[float, float]]] = {}
    meta, _, shapes, fields = pyogrio.raw.read(file)
    layers = fields[list(meta["fields"]).index("Layer")]
    for layer, wkb in zip(layers, shapes, strict=True):
        kind, count = struct.unpack_from("<II", wkb, 1)
        if kind % 1000 == 2:
            wide = 3 if kind > 1000 or kind & 0x80000000 else 2
            flat = struct.unpack_from(f"<{wide * count}d", wkb, 9)
            found.setdefault(layer, list(zip(flat[::wide], flat[1::wide], strict=True)))
    return found


def ring_area(points: list[tuple[float, float]]) -> float:
    pairs = itertools.pairwise(points)
    return abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in pairs) / 2)


def test_each_operation_and_depth_has_its_layer():
    assert entities(PANEL) == {
        ("LWPOLYLINE", "OUTLINE"): 1,
        ("LWPOLYLINE", "GROOVE-D8.0"): 1,
        ("CIRCLE", "HOLE-5.0-D12.0"): 4,
        ("CIRCLE", "THROUGH-HOLE-4.5"): 1,
    }


def test_a_stranger_reads_units_radii_and_places(tmp_path):
    file = tmp_path / "panel.dxf"
    file.write_bytes(part_dxf(PANEL))
    found = dxf_as_parsed(file)
    assert found["header"]["$INSUNITS"] == 4
    circles = [e for e in found["entities"] if e["layer"] == "HOLE-5.0-D12.0"]
    assert [e["type"] for e in circles] == ["CIRCLE"] * 4
    assert [e["radius"] for e in circles] == [2.5] * 4
    assert [(e["center"]["x"], e["center"]["y"]) for e in circles] == [
        (50, 40),
        (82, 40),
        (114, 40),
        (146, 40),
    ]
    outlines = [e for e in found["entities"] if e["type"] == "LWPOLYLINE"]
    assert all(e["shape"] for e in outlines)


def test_gdal_finds_the_outline_closed_and_full_size(tmp_path):
    rings = gdal_rings(part_dxf(PANEL), tmp_path)
    assert rings["OUTLINE"][0] == rings["OUTLINE"][-1]
    assert ring_area(rings["OUTLINE"]) == pytest.approx(600 * 200)
    assert ring_area(rings["GROOVE-D8.0"]) == pytest.approx(600 * 6)


def test_a_mortise_keeps_its_round_ends(tmp_path):
    """40 over all, 8 wide in the front edge: bulges of 1 at both ends, 304 + 50.27 mm2."""
    seat = Seat((300.0, 0.0, 10.0), X, Y)
    mortised = board(
        600, 200, 20, Mortise(seat=seat, length=40, width=8, depth=25, made_by="joint")
    )
    data = part_dxf(mortised)
    (file := tmp_path / "m.dxf").write_bytes(data)
    slot = next(e for e in dxf_as_parsed(file)["entities"] if e["layer"] == "FRONT-MORTISE-D25.0")
    assert sorted(v.get("bulge", 0) for v in slot["vertices"]) == [0, 0, 1, 1]
    assert slot["shape"]
    ring = gdal_rings(data, tmp_path)["FRONT-MORTISE-D25.0"]
    assert ring_area(ring) == pytest.approx(32 * 8 + math.pi * 16, rel=1e-3)


def test_a_part_worked_on_two_faces_shows_both_apart():
    both = board(600, 200, 20, hole((50, 40, 20), 5, 12), hole((60, 50, 0), 8, 10, into=Z))
    space = read(part_dxf(both)).modelspace()
    boxes = [
        [(min(p[i] for p in e.get_points()), max(p[i] for p in e.get_points())) for i in (0, 1)]
        for e in polylines(space)
        if e.dxf.layer.endswith("OUTLINE")
    ]
    assert len(boxes) == 2
    assert boxes[0][0][1] < boxes[1][0][0]
    texts = [e.dxf.text for e in space.query("TEXT")]
    assert "face up: top" in texts
    assert "face up: bottom" in texts
    assert "turn it over edge for edge: the left end stays left" in texts


def test_the_face_turned_over_is_mirrored_about_its_length():
    """A hole 50 from the left and 30 from the front edge stands 170 up once it is turned over."""
    over = board(600, 200, 20, hole((60, 50, 20), 8, 10), hole((50, 30, 0), 8, 12, into=Z))
    space = read(part_dxf(over)).modelspace()
    outline = next(e for e in polylines(space) if e.dxf.layer == "BOTTOM-OUTLINE")
    left = min(p[0] for p in outline.get_points())
    drilled = next(e for e in space.query("CIRCLE") if e.dxf.layer == "BOTTOM-HOLE-8.0-D12.0")
    assert (drilled.dxf.center.x - left, drilled.dxf.center.y) == pytest.approx((50, 170))


def test_what_goes_plumb_through_needs_no_turning_over():
    """A clearance hole seated on the bottom is drilled from the top with the rest."""
    through = board(600, 200, 20, hole((50, 40, 20), 5, 12), hole((90, 30, 0), 4, None, into=Z))
    assert entities(through)[("CIRCLE", "THROUGH-HOLE-4.0")] == 1
    assert {layer for _, layer in entities(through)} == {
        "OUTLINE",
        "HOLE-5.0-D12.0",
        "THROUGH-HOLE-4.0",
    }


def test_a_groove_that_runs_past_the_part_is_clipped_to_it(tmp_path):
    long = board(300, 100, 18, groove((-20, 50, 18), X, (400, 6, 5)))
    ring = gdal_rings(part_dxf(long), tmp_path)["GROOVE-D5.0"]
    assert ring_area(ring) == pytest.approx(300 * 6)


def test_a_hole_over_the_edge_is_clipped_to_it(tmp_path):
    half = board(300, 100, 18, hole((150, 0, 18), 20, 5))
    ring = gdal_rings(part_dxf(half), tmp_path)["HOLE-20.0-D5.0"]
    assert ring_area(ring) == pytest.approx(math.pi * 50, rel=1e-3)


def test_a_mitre_is_left_to_the_hand_with_its_angle():
    """45 degrees over 20 mm: a strip of 20 x 100 along the end; the slot lies on the mitre."""
    seat = Seat((590.0, 0.0, 10.0), Y, unit((-1.0, 0.0, -1.0)))
    slot = Channel(kind=ChannelKind.SLOT, seat=seat, length=90, width=4, depth=6, made_by="spline")
    mitred = board(600, 100, 20, trim((600, 0, 0), (1, 0, 1)), slot)
    found = entities(mitred)
    assert found[("LWPOLYLINE", "BY-HAND-MITRE-A45.0")] == 1
    assert found[("LWPOLYLINE", "BY-HAND-MITRE-1-A45.0-OUTLINE")] == 1
    assert found[("LWPOLYLINE", "BY-HAND-MITRE-1-A45.0-SLOT-D6.0")] == 1
    strip = next(m for m in worked_faces(mitred)[0].marks if isinstance(m.feature, Trim))
    assert isinstance(strip.shape, Loop)
    assert sorted({u for u, _ in strip.shape.points}) == pytest.approx([580, 600])


def test_a_mitre_under_the_face_says_so():
    assert entities(board(600, 100, 20, trim((600, 0, 20), (1, 0, -1))))[
        ("LWPOLYLINE", "BY-HAND-MITRE-A45.0-UNDER")
    ]


def test_a_taper_in_plan_is_the_outline_itself(tmp_path):
    """From 100 to 60 wide over 600: 80 on average."""
    tapered = board(600, 100, 20, trim((0, 100, 0), (40, 600, 0)))
    assert set(entities(tapered)) == {("LWPOLYLINE", "OUTLINE")}
    ring = gdal_rings(part_dxf(tapered), tmp_path)["OUTLINE"]
    assert ring_area(ring) == pytest.approx(600 * 80)


def test_a_slanted_hole_leaves_its_ellipse():
    """15 degrees off the surface is 75 from square: the mouth is 1 / cos 75 as long as wide."""
    slant = math.radians(75)
    into = (math.sin(slant), 0.0, -math.cos(slant))
    pocket = board(600, 100, 20, hole((300, 50, 20), 9.5, 40, into=into))
    space = read(part_dxf(pocket)).modelspace()
    (mouth,) = space.query("ELLIPSE")
    assert mouth.dxf.layer == "BY-HAND-HOLE-9.5-D40.0-A75.0"
    assert mouth.dxf.ratio == pytest.approx(math.cos(slant))
    assert mouth.dxf.major_axis.magnitude == pytest.approx(4.75 / math.cos(slant))


def test_a_hole_at_the_end_of_another_is_worked_from_the_same_face():
    """A pocket of 75 degrees enters from below, and the screw's hole goes on from its floor."""
    slant = math.radians(75)
    into = (math.sin(slant), 0.0, math.cos(slant))
    deep = (550 + 20 * into[0], 50.0, 20 * into[2])
    screwed = board(600, 100, 20, hole((550, 50, 0), 9.5, 20, into), hole(deep, 4, 15, into))
    layers = {layer for _, layer in entities(screwed)}
    assert layers == {
        "OUTLINE",
        "BY-HAND-HOLE-9.5-D20.0-A75.0",
        "BY-HAND-HOLE-4.0-D35.0-A75.0",
    }


def test_depths_count_from_the_face_even_on_the_floor_of_another_hole():
    """A counterbore 5 deep and a hole of 7 from its floor: 12 below the face."""
    stepped = board(600, 100, 20, hole((50, 50, 20), 10, 5), hole((50, 50, 15), 4, 7))
    assert {layer for _, layer in entities(stepped)} == {
        "OUTLINE",
        "HOLE-10.0-D5.0",
        "HOLE-4.0-D12.0",
    }


def test_a_tenon_is_waste_from_both_broad_faces():
    cheeks = (
        box_bite((-1, -1, 14), (25, 101, 21), -1, -2, 2, 3, kind=WasteKind.TENON),
        box_bite((-1, -1, -1), (25, 101, 6), -1, -2, 2, -3, kind=WasteKind.TENON),
    )
    assert set(entities(board(600, 100, 20, *cheeks))) == {
        ("LWPOLYLINE", "OUTLINE"),
        ("LWPOLYLINE", "TENON-D6.0"),
        ("LWPOLYLINE", "BOTTOM-OUTLINE"),
        ("LWPOLYLINE", "BOTTOM-TENON-D6.0"),
    }


def test_a_notch_through_a_corner_is_cut_from_the_top():
    corner = board(600, 100, 20, box_bite((580, 70, -1), (601, 101, 21), 1, 2, 3, -3))
    assert entities(corner)[("LWPOLYLINE", "THROUGH-NOTCH")] == 1


def test_half_blind_sockets_are_worked_from_the_end_where_their_walls_are_square():
    """Seen on the end the socket is 1:7 wide at the inside face; seen from above it slants."""
    slope = 1 / 7
    socket = Waste(
        kind=WasteKind.SOCKET,
        made_by="dovetails",
        planes=(
            ("", trim((601, 0, 0), X).plane),
            ("floor", trim((588, 0, 0), neg(X)).plane),
            ("", trim((0, 0, 21), Z).plane),
            ("end", trim((0, 0, 5), neg(Z)).plane),
            ("wall-a", trim((0, 45, 20), (0, -1, -slope)).plane),
            ("wall-b", trim((0, 60, 20), (0, 1, -slope)).plane),
        ),
    )
    assert entities(board(600, 100, 20, socket))[("LWPOLYLINE", "RIGHT-DOVETAIL-SOCKET-D12.0")] == 1


def test_an_eased_arris_is_a_line_on_its_layer():
    eased = board(600, 100, 20, ease("top", "front", 3))
    (line,) = read(part_dxf(eased)).modelspace().query("LINE")
    assert line.dxf.layer == "ROUND-OVER-R3.0"
    ends = sorted([line.dxf.start.x, line.dxf.end.x])
    assert ends == pytest.approx([0, 600])


def test_an_arris_that_no_view_shows_is_noted():
    eased = board(600, 100, 20, ease("left", "front", 3))
    texts = [e.dxf.text for e in read(part_dxf(eased)).modelspace().query("TEXT")]
    assert "by hand: round-over 3.0 between left and front" in texts


def test_a_countersink_and_its_hole_stand_on_one_axis():
    screwed = board(600, 100, 20, countersink((50, 50, 20), 9), hole((50, 50, 20), 4, None))
    assert entities(screwed) == {
        ("LWPOLYLINE", "OUTLINE"): 1,
        ("CIRCLE", "COUNTERSINK-9.0-A90"): 1,
        ("CIRCLE", "THROUGH-HOLE-4.0"): 1,
    }


def test_depths_are_told_apart_to_a_hundredth():
    """5/16 in is 7.94, not 7.9."""
    assert entities(board(300, 100, 20, hole((50, 50, 20), 6.35, 7.9375)))[
        ("CIRCLE", "HOLE-6.35-D7.94")
    ]


@pytest.mark.parametrize(
    ("section", "ends"), [(Section.ROUND, "CIRCLE"), (Section.ROUND_EDGED, "LWPOLYLINE")]
)
def test_loose_pieces_have_an_outline(section, ends):
    width = 8.0 if section is Section.ROUND else 30.0
    loose = part(Blank(length=40, width=width, thickness=8, section=section))
    assert entities(loose) == {("LWPOLYLINE", "OUTLINE"): 1}
    bored = replace(
        loose, features=(replace(hole((40, width / 2, 4), 3, 10, into=neg(X)), id="hole-1"),)
    )
    assert entities(bored)[(ends, "RIGHT-OUTLINE")] == 1


def test_no_text_stands_on_a_cutting_layer():
    space = read(part_dxf(splayed_leg())).modelspace()
    assert {e.dxf.layer for e in space.query("TEXT MTEXT")} == {"NOTES"}


def test_the_splayed_leg_shows_its_slanted_faces():
    """Inner faces of the worked leg: 17.0 and 12.3 degrees from the blank's."""
    layers = {layer for _, layer in entities(splayed_leg())}
    assert "BY-HAND-INNER-SIDE-A17.0-MORTISE-D20.0" in layers
    assert "BY-HAND-INNER-FRONT-A12.3-MORTISE-D20.0" in layers


ODD = st.text(
    alphabet=st.one_of(st.sampled_from("\\{}%^;<>/\":?*|=`,'\n\t\0\r"), st.characters()),
    max_size=30,
)


@settings(suppress_health_check=[HealthCheck.too_slow])
@given(ODD, ODD, ODD)
def test_no_text_of_the_spec_breaks_the_file(label, name, feature):
    drilled = replace(hole((50, 40, 20), 5, 12), id=feature)
    odd = Part(
        label=label,
        name=name,
        kind=PANEL.kind,
        material=name,
        blank=PANEL.blank,
        features=(drilled, replace(trim((600, 0, 0), (1, 0, 1)), id=f"{feature}1")),
        note=name,
    )
    space = read(part_dxf(odd)).modelspace()
    assert len(space.query("CIRCLE")) == 1


def test_codes_in_a_name_are_shown_not_obeyed(tmp_path):
    odd = replace(PANEL, label="A\\P{1}", name="50%%d Tür")
    file = tmp_path / "odd.dxf"
    file.write_bytes(part_dxf(odd))
    shown = next(e for e in ezdxf.readfile(file).modelspace() if isinstance(e, Text))
    assert shown.plain_text() == "A\\P{1} 50%%d Tür"
    assert len(dxf_as_parsed(file)["entities"]) == len(ezdxf.readfile(file).modelspace())


@settings(max_examples=40, suppress_health_check=[HealthCheck.too_slow])
@given(parts())
def test_every_cut_of_any_part_is_drawn_inside_it(any_part):
    space = read(part_dxf(any_part)).modelspace()
    assert all(e.closed for e in polylines(space))
    drawn = {m.feature.id for face in worked_faces(any_part) for m in face.marks}
    cut = {f.id for f in any_part.features if not isinstance(f, EasedEdge | Trim)}
    assert cut <= drawn
    size = any_part.blank.size
    outline = next(e for e in polylines(space) if e.dxf.layer == "OUTLINE")
    inside = [e for e in space.query("CIRCLE") if e.dxf.layer.startswith(("HOLE", "THROUGH"))]
    for u, v, *_ in outline.get_points():
        assert -1e-6 <= u <= size[0] + 1e-6
        assert -1e-6 <= v <= size[1] + 1e-6
    assert all(0 < e.dxf.center.x < size[0] and 0 < e.dxf.center.y < size[1] for e in inside)


def test_there_is_one_file_a_part():
    assert part_dxfs(PANEL) == {".dxf": part_dxf(PANEL)}


def test_two_processes_write_the_same_bytes():
    code = (
        "import sys, hashlib\n"
        "from exporters.part_dxf import part_dxf\n"
        "from tests.helpers.hand_made_parts import splayed_leg\n"
        "assert not {'OCP', 'cadquery'} & set(sys.modules)\n"
        "print(hashlib.sha256(part_dxf(splayed_leg())).hexdigest())\n"
    )
    sums = {
        subprocess.run(
            [sys.executable, "-c", code],
            cwd=ROOT,
            env={**os.environ, "PYTHONHASHSEED": seed, "TZ": zone, "PYTHONPATH": str(ROOT)},
            capture_output=True,
            text=True,
            check=True,
        ).stdout
        for seed, zone in (("1", "UTC"), ("42", "Asia/Kathmandu"), ("7", "America/Lima"))
    }
    assert len(sums) == 1
