"""STEP, read back from its text by a grammar of its own and by the kernel that imports it."""

import io
import math
from pathlib import Path

import cadquery as cq
import pytest

from exporters.stamp import iso_date
from exporters.step import part21, part_step, piece_step
from ground.vectors import Vec, angle, norm, sub
from models.parts.assembly import Assembly
from tests.helpers import door_and_leg as small
from tests.helpers.part21 import StepFile, decoded

pytestmark = pytest.mark.kernel

COLOURS = {label: look.colour for label, look in small.LOOKS.items()}


def brep(shape: cq.Shape) -> bytes:
    stream = io.BytesIO()
    shape.exportBin(stream)
    return stream.getvalue()


def solids() -> dict[str, cq.Shape]:
    """The parts of the small piece as the kernel's own solids."""
    at, wide, deep = small.GROOVE
    length, width, thick = small.DOOR
    door = cq.Solid.makeBox(length, width, thick).cut(
        cq.Solid.makeCylinder(small.BORE / 2, thick + 2, cq.Vector(*small.BORE_AT, -1.0)),
        cq.Solid.makeBox(wide, width + 2, deep + 1, cq.Vector(at, -1.0, thick - deep)),
    )
    dowel_length, diameter = small.DOWEL
    across, centre = cq.Vector(1, 0, 0), cq.Vector(0, diameter / 2, diameter / 2)
    dowel = cq.Solid.makeCylinder(diameter / 2, dowel_length, centre, across)
    return {"F1": door.Solids()[0], "B1": leg(), "L1": dowel}


def leg() -> cq.Shape:
    """The splayed leg, its six sides sewn from its corners."""
    corners = small.leg_corners()
    sides = []
    for plane in small.leg_planes():
        on = [corner for corner in corners if abs(plane.height(corner)) < 1e-9]
        middle = tuple(sum(values) / 4 for values in zip(*on, strict=True))
        on.sort(key=lambda corner: _turn(corner, middle, plane.normal))
        wire = cq.Wire.makePolygon([cq.Vector(*corner) for corner in on], close=True)
        sides.append(cq.Face.makeFromWires(wire))
    return cq.Solid.makeSolid(cq.Shell.makeShell(sides))


def _turn(corner: Vec, middle: tuple[float, ...], normal: Vec) -> float:
    """The angle of ``corner`` about ``middle`` in the plane across ``normal``."""
    along, up = (2, 1) if abs(normal[0]) > 0.9 else (0, 1 if abs(normal[2]) > 0.9 else 2)
    return math.atan2(corner[up] - middle[up], corner[along] - middle[along])


@pytest.fixture(scope="module")
def piece(tmp_path_factory) -> StepFile:
    path = tmp_path_factory.mktemp("step") / "piece.step"
    breps = {label: brep(shape) for label, shape in solids().items()}
    piece_step(small.PIECE, breps, COLOURS, path=path, name=small.PIECE.name)
    return StepFile(path.read_text("ascii"))


@pytest.fixture(scope="module")
def door(tmp_path_factory) -> StepFile:
    path = tmp_path_factory.mktemp("step") / "part.step"
    part_step(solids()["F1"], name="F1 Tür", colour=COLOURS["F1"], path=path)
    return StepFile(path.read_text("ascii"))


def test_every_reference_is_defined(piece, door):
    assert not piece.dangling()
    assert not door.dangling()


def test_a_planted_dangling_reference_is_found(tmp_path):
    path = tmp_path / "part.step"
    part_step(solids()["L1"], name="dowel", colour=(0.5, 0.4, 0.3), path=path)
    text = path.read_text("ascii").replace("PRODUCT_CONTEXT('',#2,", "PRODUCT_CONTEXT('',#99999,")
    assert StepFile(text).dangling() == {99999}


def test_the_header_names_schema_maker_and_the_date_asked_for(piece):
    (schema,) = piece.header["FILE_SCHEMA"].values[0]
    assert schema.startswith("AP242_MANAGED_MODEL_BASED_3D_ENGINEERING")
    name, date, _, _, _, system, _ = piece.header["FILE_NAME"].values
    assert name == "Kästchen 棚"
    assert date == iso_date()
    assert system.startswith("casewright ")


def test_lengths_are_in_millimetres(piece, door):
    assert piece.units() == door.units() == {("MILLI", "METRE")}


def test_every_product_keeps_its_name(piece):
    assert piece.products() == {
        "Kästchen 棚": "Kästchen 棚",
        "B1": "B1 leg <front> & left",
        "F1": "F1 Tür, links / 'große'",
        "L1": "L1 dowel",
        "base": "base",
        "doors": "doors",
        "doors / left": "left",
        "doors / right": "right",
    }


def test_copies_stand_in_their_groups_and_share_a_shape(piece):
    inside = {name: pair[:2] for name, pair in piece.occurrences().items()}
    assert inside == {
        "base": ("Kästchen 棚", "base"),
        "doors": ("Kästchen 棚", "doors"),
        "left": ("doors", "doors / left"),
        "right": ("doors", "doors / right"),
        "B1.1": ("base", "B1"),
        "F1.1": ("doors / left", "F1"),
        "F1.2": ("doors / right", "F1"),
        "L1.1": ("Kästchen 棚", "L1"),
    }
    assert len(list(piece.all("MANIFOLD_SOLID_BREP"))) == 3


def test_copies_stand_where_they_are_placed(piece):
    places = piece.occurrences()
    for copy in small.PIECE.copies:
        frame = places[copy.id][2]
        for point in ((0.0, 0.0, 0.0), (600.0, 0.0, 0.0), (0.0, 400.0, 0.0), (0.0, 0.0, 20.0)):
            assert norm(sub(frame.point(point), copy.placement.point(point))) < 1e-9


def test_occurrences_are_numbered_from_one(piece):
    numbers = [usage.values[0] for _, usage in piece.all("NEXT_ASSEMBLY_USAGE_OCCURRENCE")]
    assert numbers == [str(number) for number in range(1, 9)]


def test_colours_are_each_parts_own(piece):
    colours = piece.colours()
    assert set(colours) == set(COLOURS)
    for label, colour in colours.items():
        assert colour == pytest.approx(COLOURS[label], abs=1e-6)


def test_a_board_measures_what_it_should(door):
    corners = door.corners()
    low = tuple(min(values) for values in zip(*corners, strict=True))
    high = tuple(max(values) for values in zip(*corners, strict=True))
    assert low == pytest.approx((0.0, 0.0, 0.0), abs=1e-9)
    assert high == pytest.approx(small.DOOR, abs=1e-9)
    assert door.radii() == [small.BORE / 2]
    offsets = sorted(plane.offset for plane in door.planes() if plane.normal[2] > 1 - 1e-12)
    assert offsets == pytest.approx([small.DOOR[2] - small.GROOVE[2]] + [small.DOOR[2]] * 2)


def test_a_splayed_leg_keeps_its_angles(tmp_path):
    """By hand, in the leg's own axes: tan = tan of the splay, give or take half the taper.

    Faces of one pair lean by atan(tan 9 + 14/190) and atan(tan 9 - 14/190), the other pair by
    4 degrees likewise; with slopes p and q two neighbours' normals (p, 1, 0) and (q, 0, 1) meet
    at acos(p q / (sqrt(1 + p^2) sqrt(1 + q^2))).
    """
    path = tmp_path / "leg.step"
    part_step(brep(leg()), name="leg", colour=(0.5, 0.4, 0.3), path=path)
    planes = StepFile(path.read_text("ascii")).planes()
    assert len(planes) == 6
    steep, gentle = math.tan(math.radians(9)), math.tan(math.radians(4))
    slopes = [(steep - 14 / 190, steep + 14 / 190), (gentle - 14 / 190, gentle + 14 / 190)]
    expected = sorted(
        math.degrees(math.acos(sign * p * q / math.sqrt((1 + p * p) * (1 + q * q))))
        for one, p in enumerate(slopes[0])
        for two, q in enumerate(slopes[1])
        for sign in (1.0 if one == two else -1.0,)
    )
    long = [plane.normal for plane in planes if abs(plane.normal[0]) < 0.9]
    fronts = [normal for normal in long if abs(normal[2]) < 1e-9]
    sides = [normal for normal in long if abs(normal[1]) < 1e-9]
    found = sorted(angle(front, side) for front in fronts for side in sides)
    assert found == pytest.approx(expected, abs=1e-9)


def test_the_kernel_reads_the_same_volumes_back(tmp_path):
    for label, shape in solids().items():
        path = tmp_path / f"{label}.step"
        part_step(brep(shape), name=label, colour=COLOURS[label], path=path)
        read = cq.importers.importStep(str(path)).val()
        assert isinstance(read, cq.Shape)
        assert read.Volume() == pytest.approx(shape.Volume(), rel=1e-12)


def test_the_kernel_reads_names_colours_and_places_back(tmp_path):
    path = tmp_path / "piece.step"
    piece_step(small.PIECE, solids(), COLOURS, path=path, name=small.PIECE.name)
    read = cq.Assembly.importStep(str(path))
    assert read.name == "Kästchen 棚"
    copies = {one.name: one for _, one in read.traverse() if one.obj is not None}
    assert set(copies) == {copy.id for copy in small.PIECE.copies}
    for copy in small.PIECE.copies:
        one = copies[copy.id]
        assert one.color is not None
        assert one.color.toTuple()[:3] == pytest.approx(COLOURS[copy.label], abs=1e-6)
        assert one.loc.toTuple()[0] == pytest.approx(copy.placement.origin)


AWKWARD = [
    "Tür, links",
    "棚",
    "\N{WHITE SMILING FACE} \N{CHAIR}",
    "it's a 'box' \\X2\\00FC\\X0\\",
    "'@0@'",
    "é" * 200,
    "a /* comment */ ; ENDSEC;",
]


@pytest.mark.parametrize("name", AWKWARD)
def test_any_name_comes_back_as_it_was(name, tmp_path):
    assert decoded(part21(name)) == name
    path = tmp_path / "part.step"
    part_step(solids()["L1"], name=name, colour=(0.5, 0.4, 0.3), path=path)
    read = StepFile(path.read_text("ascii"))
    assert read.products() == {name: name}
    assert read.header["FILE_NAME"].values[0] == name


def test_parts_that_could_not_be_made_are_left_out(tmp_path):
    path = tmp_path / "piece.step"
    made = {"L1": solids()["L1"]}
    piece_step(small.PIECE, made, COLOURS, path=path, name=small.PIECE.name)
    assert StepFile(path.read_text("ascii")).products() == {
        "Kästchen 棚": "Kästchen 棚",
        "L1": "L1 dowel",
    }


def test_a_piece_without_a_single_part_is_still_a_file(tmp_path):
    path = tmp_path / "piece.step"
    piece_step(Assembly(name="empty", parts=(), copies=()), {}, {}, path=path, name="empty")
    assert StepFile(path.read_text("ascii")).products() == {"empty": "empty"}


def test_a_folder_that_is_not_there_is_an_error(tmp_path):
    with pytest.raises(OSError, match="could not be written"):
        part_step(solids()["L1"], name="x", colour=(0, 0, 0), path=Path(tmp_path, "no", "x.step"))
