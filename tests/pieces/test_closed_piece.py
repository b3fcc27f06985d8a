"""Every example, closed: sound solids, nothing that shares space, the asked outside sizes."""

from functools import cache

import cadquery as cq
import pytest

from ground.tolerances import CLASH_VOLUME, LENGTH_EPS
from models.parts.part import PartKind
from models.solids.clash import clashes, piece_bounds
from models.solids.mesh import mesh
from models.solids.solid import solid
from tests.helpers import twins
from tests.helpers.examples import EXAMPLES, piece, spec

pytestmark = pytest.mark.kernel

WITHIN = 0.005
"""A mesh's volume lies within half a per cent of its solid's."""


@cache
def solids(name: str) -> dict[str, cq.Solid]:
    """The solid of every part of an example, by label."""
    return {part.label: solid(part) for part in piece(name).parts}


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_part_is_one_valid_solid(name: str) -> None:
    for label, made in solids(name).items():
        assert made.isValid(), label
        assert made.ShapeType() == "Solid", label
        assert len(made.Shells()) == 1, label


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_volume_is_the_blank_less_its_cuts(name: str) -> None:
    """Against a polyhedron cut by another library (manifold3d) from the same cuts."""
    for part in piece(name).parts:
        twin = twins.volume(part)
        made = solids(name)[part.label].Volume()
        assert made == pytest.approx(twin, rel=twins.tolerance(part)), f"{part.label} {part.name}"


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_mesh_is_closed_and_near_its_solid(name: str) -> None:
    for label, made in solids(name).items():
        net = mesh(made)
        edges: dict[tuple[int, int], int] = {}
        for a, b, c in net.triangles.tolist():
            for edge in ((a, b), (b, c), (c, a)):
                edges[edge] = edges.get(edge, 0) + 1
        # Every edge is run once each way: closed, and turned one way round everywhere.
        assert all(count == 1 and (b, a) in edges for (a, b), count in edges.items()), label
        # A positive volume: normals point outward.
        assert net.volume() == pytest.approx(made.Volume(), rel=WITHIN), label


@pytest.mark.parametrize("name", EXAMPLES)
def test_no_two_parts_of_the_closed_piece_share_space(name: str) -> None:
    """Loose pieces in their holes included; screws have no solid, so their threads are not."""
    too_much = [
        clash for clash in clashes(piece(name), solids(name)) if clash.volume > CLASH_VOLUME
    ]
    assert too_much == []


@pytest.mark.parametrize("name", EXAMPLES)
def test_the_outside_is_as_asked(name: str) -> None:
    """Fittings other than glides aside, to a millionth; the feet stay under the case."""
    assembly, asked = piece(name), spec(name)
    kinds = {part.label: part for part in assembly.parts}
    wood = [
        copy
        for copy in assembly.copies
        if kinds[copy.label].kind is not PartKind.HARDWARE
        or kinds[copy.label].name.startswith(("glide", "leveller"))
    ]
    lo, hi = piece_bounds(wood, solids(name))
    size = asked.case.size
    assert lo == pytest.approx((0.0, 0.0, 0.0), abs=LENGTH_EPS)
    assert hi == pytest.approx(
        (size.length, size.depth, asked.base.height + size.height), abs=LENGTH_EPS
    )


@pytest.mark.parametrize("name", EXAMPLES)
def test_fittings_stand_inside_too(name: str) -> None:
    """Pulls and the knuckles of butt hinges may stand out in front; nothing else anywhere."""
    assembly, asked = piece(name), spec(name)
    kinds = {part.label: part for part in assembly.parts}
    size = asked.case.size
    for copy in assembly.copies:
        if kinds[copy.label].name.startswith(("bar pull", "knob", "hinge knuckle", "hinge leaf")):
            continue
        lo, hi = piece_bounds([copy], solids(name))
        assert min(lo) >= -LENGTH_EPS, f"{copy.id} {kinds[copy.label].name}"
        assert hi[0] <= size.length + LENGTH_EPS
        assert hi[1] <= size.depth + LENGTH_EPS
        assert hi[2] <= asked.base.height + size.height + LENGTH_EPS
