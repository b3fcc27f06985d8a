"""STL, read back by trimesh."""

import io

import numpy as np
import pytest
import trimesh

from exporters.stl import stl
from tests.helpers import door_and_leg as small


def read(data: bytes) -> trimesh.Trimesh:
    loaded = trimesh.load_mesh(io.BytesIO(data), file_type="stl")
    assert isinstance(loaded, trimesh.Trimesh)
    return loaded


@pytest.mark.parametrize("label", ["B1", "F1", "L1"])
def test_a_part_is_closed_and_holds_its_volume(label):
    known = small.known_meshes()[label]
    found = read(stl(known.mesh, label))
    assert found.is_watertight
    assert found.is_winding_consistent
    assert found.volume == pytest.approx(known.volume, rel=1e-6)
    assert len(found.faces) == len(known.mesh.triangles)


def test_sizes_are_in_millimetres():
    found = read(stl(small.meshes()["F1"], "door"))
    assert found.bounds == pytest.approx(np.array([(0.0, 0.0, 0.0), small.DOOR]), abs=1e-4)


def test_the_header_names_the_part_and_is_not_taken_for_text():
    data = stl(small.meshes()["L1"], "D2 Tür " + "x" * 90)
    header = data[:80]
    assert header.startswith(b"casewright ")
    assert b"D2 Tur" in header
    assert not header.startswith(b"solid")
    assert len(data) == 84 + 50 * len(small.meshes()["L1"].triangles)


def test_each_facet_carries_its_normal():
    data = stl(small.meshes()["F1"], "door")
    facets = np.frombuffer(
        data[84:], np.dtype([("normal", "<f4", 3), ("at", "<f4", (3, 3)), ("rest", "<u2")])
    )
    found = read(data)
    assert np.allclose(facets["normal"], found.face_normals, atol=1e-5)
