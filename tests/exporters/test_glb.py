"""GLB, read back by the Khronos validator and by trimesh."""

import io
import json
import struct
from typing import Any

import numpy as np
import pytest
import trimesh
from hypothesis import given
from hypothesis import strategies as st

from exporters.glb import Y_UP, piece_glb
from exporters.looks import Look
from ground.errors import BuildError
from ground.vectors import Frame, cross, norm, unit
from models.parts.assembly import Assembly, Copy
from models.solids.mesh_record import Mesh
from tests.helpers import door_and_leg as small
from tests.helpers.readers import glb_report


@pytest.fixture(scope="module")
def glb() -> bytes:
    return piece_glb(small.PIECE, small.meshes(), small.LOOKS)


@pytest.fixture(scope="module")
def scene(glb) -> trimesh.Scene:
    return as_scene(glb)


@pytest.fixture(scope="module")
def document(glb) -> dict[str, Any]:
    return as_document(glb)


def as_scene(glb: bytes) -> trimesh.Scene:
    loaded = trimesh.load_scene(io.BytesIO(glb), file_type="glb")
    assert isinstance(loaded, trimesh.Scene)
    return loaded


def as_document(glb: bytes) -> dict[str, Any]:
    """The JSON chunk of a GLB file."""
    magic, version, total, length, kind = struct.unpack("<4sIII4s", glb[:20])
    assert (magic, version, total, kind) == (b"glTF", 2, len(glb), b"JSON")
    found: dict[str, Any] = json.loads(glb[20 : 20 + length])
    return found


def nodes(document: dict[str, Any]) -> dict[str, dict[str, Any]]:
    """The nodes of copies by their id."""
    return {n["extras"]["id"]: n for n in document["nodes"] if n["extras"]["id"] is not None}


def test_the_validator_has_nothing_to_say(glb, tmp_path):
    path = tmp_path / "piece.glb"
    path.write_bytes(glb)
    report = glb_report(path)
    issues = report["issues"]
    counts = [issues[f"num{kind}"] for kind in ("Errors", "Warnings", "Infos", "Hints")]
    assert counts == [0, 0, 0, 0], issues["messages"]
    assert report["info"]["drawCallCount"] == 3
    assert report["info"]["generator"].startswith("casewright ")


def test_equal_parts_share_a_mesh(document):
    assert [mesh["name"] for mesh in document["meshes"]] == [
        "B1 leg <front> & left",
        "F1 Tür, links / 'große'",
        "L1 dowel",
    ]
    assert nodes(document)["F1.1"]["mesh"] == nodes(document)["F1.2"]["mesh"]


def test_copies_stand_in_the_tree_of_groups(scene):
    parents = scene.graph.transforms.parents
    root = parents["base"]
    assert root == "Kästchen 棚"
    assert [parents[n] for n in ("B1.1", "F1.1", "F1.2", "L1.1")] == ["base", "left", "right", root]
    assert [parents[n] for n in ("left", "right", "doors")] == ["doors", "doors", root]


def test_copies_stand_where_they_are_placed_in_metres_and_y_up(scene):
    """A point x, y, z (mm, Z up) stands at x, z, -y (m, Y up)."""
    for copy in small.PIECE.copies:
        matrix, _ = scene.graph[copy.id]
        for point in ((0.0, 0.0, 0.0), (600.0, 0.0, 0.0), (0.0, 400.0, 0.0), (0.0, 0.0, 20.0)):
            x, y, z = copy.placement.point(point)
            seen = matrix @ np.array([*np.array(point) / 1000, 1.0])
            assert seen[:3] == pytest.approx([x / 1000, z / 1000, -y / 1000], abs=1e-9)


def test_extras_say_what_each_copy_is(scene):
    edges = scene.graph.transforms.edge_data
    found = {node: data["metadata"] for (_, node), data in edges.items()}
    assert found["B1.1"] == {
        "id": "B1.1",
        "label": "B1",
        "kind": "lumber",
        "group": ["base"],
        "moves": None,
    }
    assert found["F1.1"]["group"] == ["doors", "left"]
    assert found["F1.1"]["kind"] == "sheet"


def test_extras_say_how_a_copy_moves(document):
    """A drawer slides to the front, -Y of the piece: +Z in glTF; a door turns about plumb: +Y."""
    assert nodes(document)["F1.2"]["extras"]["moves"] == {
        "id": "drawer 1",
        "kind": "slides",
        "axis": [0.0, 0.0, 1.0],
        "origin": [0.0, 0.0, 0.0],
        "limit": 0.35,
        "unit": "m",
    }
    assert nodes(document)["F1.1"]["extras"]["moves"] == {
        "id": "door 1",
        "kind": "turns",
        "axis": [0.0, 1.0, 0.0],
        "origin": pytest.approx([0.012, 0.19, -0.002]),
        "limit": 110.0,
        "unit": "deg",
    }


def test_every_node_carries_the_same_keys(document):
    for node in document["nodes"]:
        assert list(node["extras"]) == ["id", "label", "kind", "group", "moves"]


def test_meshes_are_closed_and_hold_their_volume(scene):
    for part in small.PIECE.parts:
        known = small.known_meshes()[part.label]
        read = scene.geometry[f"{part.label} {part.name}"].copy()
        read.merge_vertices(merge_norm=True, merge_tex=True)
        assert read.is_watertight
        assert read.is_winding_consistent
        assert read.volume == pytest.approx(known.volume / 1e9, rel=1e-6)


def test_normals_agree_with_the_triangles(scene):
    for read in scene.geometry.values():
        turned = read.vertex_normals[read.faces]
        across = np.einsum("ijk,ik->ij", turned, read.face_normals)
        assert np.all(across > np.cos(np.radians(23)))
        assert np.allclose(np.linalg.norm(read.vertex_normals, axis=1), 1, atol=1e-6)


def test_colours_are_written_in_linear_light(scene):
    """White oak c3a06c: (((0xc3 / 255) + 0.055) / 1.055) ^ 2.4 = 0.5457, 0.3515, 0.1500."""
    material = scene.geometry["B1 leg <front> & left"].visual.material
    assert material.name == "white oak"
    factor = np.asarray(material.baseColorFactor, float) / 255
    assert factor[:3] == pytest.approx([0.5457, 0.3515, 0.1500], abs=0.5 / 255)


def test_linear_light_of_dark_colours():
    """Below 0.04045 the transfer of IEC 61966-2-1 is a line: 0.02 / 12.92."""
    assert Look(name="soot", colour=(0.02, 0.0, 1.0)).linear == pytest.approx((0.02 / 12.92, 0, 1))


def test_parts_that_could_not_be_made_are_left_out(document):
    less = as_document(piece_glb(small.PIECE, {"L1": small.meshes()["L1"]}, small.LOOKS))
    assert list(nodes(less)) == ["L1.1"]
    assert [node["name"] for node in less["nodes"]] == ["L1.1", "Kästchen 棚"]
    assert len(nodes(document)) == 4


def test_a_piece_without_a_single_part_is_still_valid(tmp_path):
    path = tmp_path / "empty.glb"
    path.write_bytes(piece_glb(Assembly(name="empty", parts=(), copies=()), {}, {}))
    assert glb_report(path)["issues"]["numErrors"] == 0


def test_an_open_mesh_is_refused_by_name():
    whole = small.meshes()["F1"]
    holed = Mesh(points=whole.points, triangles=whole.triangles[1:])
    with pytest.raises(BuildError, match=r"F1 Tür.*mesh: it is not closed"):
        piece_glb(small.PIECE, {"F1": holed}, small.LOOKS)


def test_many_points_take_wider_indices(tmp_path):
    rod = small.mesh_of(small.rod(40.0, 8.0, 20_000))
    path = tmp_path / "rod.glb"
    path.write_bytes(piece_glb(small.PIECE, {"L1": rod}, small.LOOKS))
    document = as_document(path.read_bytes())
    (primitive,) = document["meshes"][0]["primitives"]
    assert document["accessors"][primitive["indices"]]["componentType"] == 5125
    assert glb_report(path)["issues"]["numErrors"] == 0


numbers = st.floats(-1, 1, allow_nan=False)


@given(st.tuples(numbers, numbers, numbers), st.tuples(numbers, numbers, numbers))
def test_any_turn_is_kept(x, away):
    if norm(x) < 1e-3 or norm(cross(x, away)) < 1e-3:
        return
    along = unit(x)
    frame = Frame(along, unit(cross(unit(cross(along, away)), along)), (0.0, 0.0, 0.0))
    copy = Copy(id="L1.1", label="L1", group=(), placement=frame)
    piece = Assembly(name="p", parts=(small.DOWEL_PART,), copies=(copy,))
    (node,) = nodes(as_document(piece_glb(piece, small.meshes(), small.LOOKS))).values()
    qx, qy, qz, qw = node["rotation"]
    read = trimesh.transformations.quaternion_matrix([qw, qx, qy, qz])[:3, :3]
    turned = frame.then(Y_UP)
    assert np.allclose(read, np.array([turned.x, turned.y, turned.z]).T, atol=1e-9)
