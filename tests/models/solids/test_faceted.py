"""A part of facets says what its exact solid says, which another kernel makes, and closes."""

import math
import os
import subprocess
import sys

import numpy as np
import pytest
import trimesh
from hypothesis import given, settings

from exporters.meshes import is_closed, single
from exporters.shading import shaded
from ground.errors import BuildError
from ground.vectors import X, Y, neg, unit
from models.parts.blank import Blank, Section
from models.parts.cuts import Edge, Profile
from models.parts.features import Mortise, Seat
from models.parts.part import Part
from models.solids.faceted import SAG, circle, faceted, round_ended
from models.solids.measure import measure
from models.solids.solid import solid
from tests.helpers.examples import EXAMPLES, piece
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

pytestmark = pytest.mark.kernel

MORTISE = Mortise(seat=Seat((100, 0, 15), X, Y), length=50, width=8, depth=25, made_by="test")
SENSELESS = Mortise(seat=Seat((100, 0, 15), X, Y), length=5, width=8, depth=25, made_by="test")
HAND_MADE = {
    "plain board": board(300, 80, 20),
    "crossing grooves": board(
        300, 80, 20, groove((0, 40, 20), X, (300, 6, 9)), groove((100, 0, 20), Y, (80, 18, 6))
    ),
    "tenon": board(300, 80, 20, box_bite((280, 0, 14), (300, 80, 20), 1, -2, 2, 3)),
    "row of holes": board(300, 80, 20, hole((40, 37, 20), 5, 12, count=7, pitch=32)),
    "hole right through": board(300, 80, 20, hole((280, 40, 20), 8, None)),
    "hole as deep as the board": board(100, 60, 20, hole((50, 30, 20), 8, 20)),
    "screw hole": board(100, 60, 20, countersink((50, 30, 20), 9), hole((50, 30, 20), 4.5, None)),
    "pocket hole": board(
        200, 60, 19, hole((60, 30, 19), 9.5, 55, unit((0.966, 0.0, -0.259)), lead=40)
    ),
    "mortise": board(200, 60, 30, MORTISE),
    "mitred both ways": board(
        900, 70, 20, trim((880, 35, 10), (1, 0.3, 0.1)), trim((20, 35, 10), (-1, 0.3, -0.1))
    ),
}


def agrees(made: Part) -> None:
    """See that a part's facets measure what its solid does, and what trimesh finds in its mesh."""
    found = faceted(made)
    assert found is not None
    exact = measure(solid(made), made)
    assert found.measured.agrees_with(exact), made.name
    mesh = trimesh.Trimesh(found.mesh.points, found.mesh.triangles)
    assert mesh.is_volume
    assert mesh.volume == pytest.approx(found.measured.volume, rel=1e-9)
    assert is_closed(single(found.mesh, made.name).triangles)


@pytest.mark.parametrize("made", HAND_MADE.values(), ids=HAND_MADE.keys())
def test_facets_say_what_the_solid_says(made):
    agrees(made)


@pytest.mark.slow
@pytest.mark.parametrize("name", EXAMPLES)
def test_so_do_all_parts_of_every_example_that_are_made_so(name):
    """Save those with round sections and eased arrises, which are few, all parts are."""
    made = {one.shape: one for one in piece(name).parts}.values()
    flat = [one for one in made if not is_rounded(one)]
    assert len(flat) > 0.6 * len(made)
    for one in flat:
        agrees(one)


@settings(max_examples=40)
@given(parts())
def test_generated_parts_too(made):
    """Where many wide holes cross, facets are off by more; the live view then shows the solid."""
    found = faceted(made)
    if is_rounded(made):
        assert found is None
        return
    assert found is not None
    exact = measure(solid(made), made)
    assert found.measured.volume == pytest.approx(exact.volume, rel=2e-3)
    assert np.array(found.measured.box) == pytest.approx(np.array(exact.box), abs=1e-6)
    assert [face.name for face in found.measured.faces] == [face.name for face in exact.faces]


def is_rounded(made: Part) -> bool:
    """Tell whether only the solid will do."""
    return made.blank.section is not Section.SQUARED or any(
        isinstance(cut, Edge) for _, cut in made.cuts()
    )


@pytest.mark.parametrize(
    "made",
    [
        splayed_leg(),
        board(300, 60, 12, ease("top", "front", 3, Profile.CHAMFER)),
        part(Blank(length=60, width=8, thickness=8, section=Section.ROUND)),
        board(200, 60, 30, SENSELESS),
        board(200, 60, 20, box_bite((80, -1, -1), (120, 61, 21), -1, 1, -2, 2, -3, 3)),
        board(200, 60, 20, box_bite((-1, -1, -1), (201, 61, 21), -1, 1, -2, 2, -3, 3)),
    ],
    ids=["round-over", "chamfer", "rod", "mortise shorter than wide", "in two", "nothing left"],
)
def test_what_only_the_solid_can_make_or_explain_is_left_to_it(made):
    assert faceted(made) is None


def test_a_base_of_which_nothing_is_left_is_told():
    with pytest.raises(BuildError):
        faceted(board(100, 60, 20, trim((-10, 0, 0), (1, 0, 0))))


@pytest.mark.parametrize("radius", [0.05, 0.75, 2.5, 4.0, 17.5])
def test_a_circle_of_strips_holds_its_area(radius):
    """By the shoelace formula; no corner is further out than an eye sees."""
    ring = circle(radius, 10.0)
    assert area(ring) == pytest.approx(math.pi * radius**2, rel=1e-12)
    assert np.hypot(*ring.T).max() <= radius + SAG
    assert len(ring) % 4 == 0


@pytest.mark.parametrize(("length", "width"), [(50, 8), (40, 6.35), (12, 12), (60, 40)])
def test_a_round_ended_outline_holds_its_area_and_its_sides_are_true(length, width):
    outline = round_ended(length, width, 10.0)
    true = (length - width) * width + math.pi * width**2 / 4
    assert area(outline) == pytest.approx(true, rel=1e-12)
    assert np.abs(outline[:, 1]).max() == pytest.approx(width / 2, abs=1e-12) or width == length
    assert np.abs(outline[:, 0]).max() == pytest.approx(length / 2, abs=SAG)


def mortise(length: float, width: float, depth: float) -> Mortise:
    return Mortise(
        seat=Seat((100, 0, 15), X, Y), length=length, width=width, depth=depth, made_by="test"
    )


ROUND = {
    **{
        f"hole {size:g} x {depth or 'through'}": board(200, 60, 20, hole((60, 30, 20), size, depth))
        for size, depth in (
            *((size, 12) for size in (2, 3, 4.5, 5, 8, 20, 35)),
            *((size, None) for size in (2, 5, 35)),
            *((20, 3), (8, 2), (10, 1.5)),
        )
    },
    **{
        f"hole {size:g} with its countersink": board(
            200, 60, 20, countersink((60, 30, 20), 2 * size), hole((60, 30, 20), size, None)
        )
        for size in (3, 4.5, 6, 8)
    },
    **{
        f"mortise {size}": board(200, 60, 30, mortise(*size))
        for size in ((50, 4, 25), (40, 8, 5), (30, 20, 20))
    },
}


@pytest.mark.parametrize("made", ROUND.values(), ids=ROUND.keys())
def test_a_round_wall_is_shaded_as_one_surface(made):
    """Every corner of the picture stands once for each surface: at a rim two, at the board's three.

    A wall that fell into its strips would have three at its rim.
    """
    found = faceted(made)
    assert found is not None
    shape = shaded(single(found.mesh, "part"))
    places, counts = np.unique(shape.points, axis=0, return_counts=True)
    size = np.array(made.blank.size, np.float32)
    of_board = np.all((places == 0) | (places == size), axis=1)
    assert counts[of_board].tolist() == [3] * 8
    assert counts[~of_board].max() == 2


def test_a_hole_that_is_missing_or_too_many_is_seen():
    """The smallest of a large panel takes more than two measures may differ by."""
    seats = [(100 + 50 * place, 200, 20) for place in range(20)]
    whole = board(1200, 400, 20, *(hole(seat, 2, 2) for seat in seats))
    less = board(1200, 400, 20, *(hole(seat, 2, 2) for seat in seats[1:]))
    found = faceted(less)
    assert found is not None
    assert not found.measured.agrees_with(measure(solid(whole), whole))
    assert found.measured.agrees_with(measure(solid(less), less))


def area(outline: np.ndarray) -> float:
    """What a closed outline holds: the shoelace formula."""
    x, y = outline.T
    return float(np.abs(np.dot(x, np.roll(y, -1)) - np.dot(y, np.roll(x, -1))) / 2)


@pytest.mark.skipif(not hasattr(os, "sched_setaffinity"), reason="the system has no such call")
def test_a_worker_keeps_to_one_core_and_may_use_all():
    """The threads of a process of its own, as the system counts them, before and after."""
    code = (
        "import os\n"
        "from models.solids.faceted import stay_on_one_core, faceted\n"
        "from tests.models.solids.test_faceted import HAND_MADE\n"
        "count = lambda: len(os.listdir('/proc/self/task'))\n"
        "cores, before = os.sched_getaffinity(0), count()\n"
        "stay_on_one_core()\n"
        "for made in HAND_MADE.values(): faceted(made)\n"
        "print(count() - before, os.sched_getaffinity(0) == cores)\n"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.split() == ["0", "True"]


def test_hidden_planes_are_not_listed():
    """The floor of a groove that a deeper one swallows does not show."""
    made = board(
        300, 80, 20, groove((0, 40, 20), X, (300, 6, 4)), groove((0, 40, 20), X, (300, 12, 9))
    )
    found = faceted(made)
    assert found is not None
    names = [face.name for face in found.measured.faces]
    assert "groove-1.floor" not in names
    assert "groove-2.floor" in names
    assert neg(X) in [face.plane.normal for face in found.measured.faces]
