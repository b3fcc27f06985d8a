"""3MF, read back by trimesh, and its names and colours from the XML in the archive."""

import io
import zipfile
from xml.etree import ElementTree as ET

import numpy as np
import pytest
import trimesh

from exporters import threemf
from models.parts.assembly import Assembly
from tests.helpers import door_and_leg as small

pytestmark = pytest.mark.skipif(not threemf.available(), reason=str(threemf.why_not()))

CORE = "{http://schemas.microsoft.com/3dmanufacturing/core/2015/02}"
PRODUCTION = "{http://schemas.microsoft.com/3dmanufacturing/production/2015/06}"


@pytest.fixture(scope="module")
def piece() -> bytes:
    return threemf.piece_3mf(small.PIECE, small.meshes(), small.LOOKS)


def scene_of(data: bytes) -> trimesh.Scene:
    loaded = trimesh.load_scene(io.BytesIO(data), file_type="3mf")
    assert isinstance(loaded, trimesh.Scene)
    return loaded


def model_of(data: bytes) -> ET.Element:
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        assert archive.testzip() is None
        # The file is our own, read by a second parser.
        return ET.fromstring(archive.read("3D/3dmodel.model"))  # noqa: S314


def objects_of(model: ET.Element) -> dict[str, ET.Element]:
    """The objects of a model by name."""
    return {one.get("name", ""): one for one in model.iter(f"{CORE}object")}


def test_lengths_are_in_millimetres(piece):
    assert model_of(piece).get("unit") == "millimeter"
    assert scene_of(piece).units == "millimeter"


@pytest.mark.parametrize("label", ["B1", "F1", "L1"])
def test_a_part_is_closed_and_holds_its_volume(label):
    known = small.known_meshes()[label]
    data = threemf.part_3mf(known.mesh, f"{label} part", small.LOOKS[label])
    (found,) = scene_of(data).geometry.values()
    assert isinstance(found, trimesh.Trimesh)
    assert found.is_watertight
    assert found.is_winding_consistent
    assert found.volume == pytest.approx(known.volume, rel=1e-6)
    assert found.bounds == pytest.approx(
        np.array([known.mesh.points.min(axis=0), known.mesh.points.max(axis=0)]), abs=1e-4
    )


def test_coordinates_are_not_worn_by_rounding(piece):
    door = objects_of(model_of(piece))["F1 Tür, links / 'große'"]
    zs = {float(vertex.get("z", "")) for vertex in door.iter(f"{CORE}vertex")}
    assert {0.0, 10.6, 18.6} == zs


def test_copies_share_meshes_and_stand_where_they_are_placed(piece):
    scene = scene_of(piece)
    assert len(scene.geometry) == 3
    assert len(scene.graph.nodes_geometry) == 4
    expected = {
        (copy.label, tuple(np.round(np.array(copy.placement.matrix()), 5).reshape(-1).tolist()))
        for copy in small.PIECE.copies
    }
    found = set()
    for node in scene.graph.nodes_geometry:
        matrix, geometry = scene.graph[node]
        rounded = tuple((np.round(matrix, 5) + 0.0).reshape(-1).tolist())
        found.add((str(geometry).split()[0], rounded))
    assert found == expected


def test_parts_and_groups_keep_their_names(piece):
    model = model_of(piece)
    objects = objects_of(model)
    assert set(objects) == {
        "B1 leg <front> & left",
        "F1 Tür, links / 'große'",
        "L1 dowel",
        "base",
        "doors",
        "left",
        "right",
        "Kästchen 棚",
    }
    names = {one.get("id"): name for name, one in objects.items()}
    held = {
        name: [names[part.get("objectid")] for part in one.iter(f"{CORE}component")]
        for name, one in objects.items()
    }
    assert held["Kästchen 棚"] == ["base", "doors", "L1 dowel"]
    assert held["doors"] == ["left", "right"]
    assert held["left"] == held["right"] == ["F1 Tür, links / 'große'"]
    (item,) = model.iter(f"{CORE}item")
    assert names[item.get("objectid")] == "Kästchen 棚"


def test_parts_keep_their_colours(piece):
    model = model_of(piece)
    (group,) = model.iter(f"{CORE}basematerials")
    bases = [(base.get("name"), base.get("displaycolor")) for base in group]
    assert bases == [
        ("white oak", "#C3A06CFF"),
        ("linoleum", "#55695FFF"),
        ("loose piece", "#A9793FFF"),
    ]
    for name, place in (("B1 leg <front> & left", "0"), ("L1 dowel", "2")):
        one = objects_of(model)[name]
        assert (one.get("pid"), one.get("pindex")) == (group.get("id"), place)


def test_every_id_of_a_run_is_the_only_one(piece):
    ids = [one.get(f"{PRODUCTION}UUID") for one in model_of(piece).iter()]
    given = [one for one in ids if one]
    assert len(given) == len(set(given)) == 8 + 8 + 2


def test_a_strict_reader_takes_the_file(piece):
    import lib3mf

    model = lib3mf.get_wrapper().CreateModel()
    reader = model.QueryReader("3mf")
    reader.SetStrictModeActive(True)  # noqa: FBT003 - the library's
    reader.ReadFromBuffer(piece)
    assert reader.GetWarningCount() == 0
    meshes = model.GetMeshObjects()
    while meshes.MoveNext():
        assert meshes.GetCurrentMeshObject().IsManifoldAndOriented()


def test_a_piece_without_a_single_part_is_still_a_file():
    empty = Assembly(name="empty", parts=(), copies=())
    assert not list(model_of(threemf.piece_3mf(empty, {}, {})).iter(f"{CORE}object"))


def test_where_the_library_is_missing_the_reason_is_told(monkeypatch):
    import builtins

    load = builtins.__import__

    def refuse(name, *rest, **more):
        if name == "lib3mf":
            message = "No module named 'lib3mf'"
            raise ModuleNotFoundError(message)
        return load(name, *rest, **more)

    threemf._library.cache_clear()
    monkeypatch.setattr(builtins, "__import__", refuse)
    try:
        assert not threemf.available()
        assert "No module named 'lib3mf'" in str(threemf.why_not())
        with pytest.raises(RuntimeError, match="does not load here"):
            threemf.part_3mf(small.meshes()["L1"], "dowel", small.LOOKS["L1"])
    finally:
        threemf._library.cache_clear()
