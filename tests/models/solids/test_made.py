import pickle
import subprocess
import sys

import numpy as np
import pytest

from ground.errors import BuildError
from models.solids.made import make, solid_of
from models.solids.measure import measure
from models.solids.solid import solid
from tests.helpers.hand_made_parts import board, hole, part, splayed_leg

pytestmark = pytest.mark.kernel

BORED = board(200, 60, 20, hole((100, 30, 20), 8, 12))


def test_a_made_part_says_what_its_solid_says():
    made = make(BORED)
    assert made.label == "T1"
    assert made.measured == measure(solid(BORED), BORED)
    assert made.mesh.volume() == pytest.approx(made.measured.volume, rel=0.004)
    assert [view.name for view in made.views] == ["top", "front", "right"]


def test_other_views_come_when_asked_for():
    made = make(BORED, views=("bottom", "left"))
    assert [view.name for view in made.views] == ["bottom", "left"]


def test_the_solid_comes_back_exactly():
    part_made = splayed_leg()
    back = solid_of(make(part_made))
    assert back.isValid()
    assert back.Volume() == pytest.approx(solid(part_made).Volume(), rel=1e-15)
    assert len(back.Faces()) == len(solid(part_made).Faces())
    now, then = measure(back, part_made), make(part_made).measured
    assert np.array(now.box) == pytest.approx(np.array(then.box), abs=1e-12)
    assert [face.name for face in now.faces] == [face.name for face in then.faces]


def test_parts_of_one_shape_are_made_once():
    twin = part(BORED.blank, *BORED.features, label="T2", name="other")
    first, second = make(BORED), make(twin)
    assert first.mesh is second.mesh
    assert (first.label, second.label) == ("T1", "T2")


def test_a_made_part_is_read_by_a_process_without_the_kernel(tmp_path):
    path = tmp_path / "made"
    made = make(BORED)
    path.write_bytes(pickle.dumps(made))
    code = (
        "import pickle, sys; m = pickle.load(open(sys.argv[1], 'rb'));"
        "print(m.label, m.measured.volume, len(m.mesh.triangles), len(m.views));"
        "print([n for n in ('cadquery', 'OCP', 'vtkmodules') if n in sys.modules])"
    )
    done = subprocess.run(
        [sys.executable, "-c", code, str(path)], capture_output=True, text=True, check=True
    )
    first, second = done.stdout.splitlines()
    assert first == f"T1 {made.measured.volume} {len(made.mesh.triangles)} 3"
    assert second == "[]"


def test_two_processes_make_the_same_record():
    code = (
        "import hashlib;"
        "from models.solids.made import make;"
        "from tests.helpers.hand_made_parts import splayed_leg;"
        "m = make(splayed_leg());"
        "h = hashlib.sha256(m.mesh.points.tobytes() + m.mesh.triangles.tobytes() + m.brep);"
        "h.update(repr((m.measured, m.views)).encode());"
        "print(h.hexdigest())"
    )
    prints = {
        subprocess.run(
            [sys.executable, "-c", code],
            capture_output=True,
            text=True,
            check=True,
            env={"PYTHONHASHSEED": seed, "PYTHONPATH": "."},
        ).stdout
        for seed in ("1", "2")
    }
    assert len(prints) == 1
    assert len(prints.pop().strip()) == 64


def test_touching_bores_name_both_holes():
    made = board(200, 60, 20, hole((100, 30, 20), 10, None), hole((110, 30, 20), 10, None))
    with pytest.raises(BuildError) as caught:
        make(made)
    assert caught.value.cut == "shelf-pin-hole-1 and shelf-pin-hole-2"
    assert str(caught.value).startswith("T1 part: shelf-pin-hole-1 and shelf-pin-hole-2: no wall")


def test_a_part_that_cannot_be_made_says_which_and_why():
    with pytest.raises(BuildError, match="T1 part: shelf-pin-hole-1"):
        make(board(200, 60, 20, hole((100, 30, 20), 0, 5)))


def test_arrays_of_a_mesh_are_plain():
    mesh = make(BORED).mesh
    assert mesh.points.dtype == np.float64
    assert mesh.triangles.dtype == np.int32
