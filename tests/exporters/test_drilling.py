"""drilling.csv: holes worked by hand, every hole of every row, kinds kept apart, pilots by rule."""

import csv
import io
from functools import cache

import pytest

from exporters.drilling import bored, drilling_list
from ground.quantities import Units
from ground.vectors import Vec, X, Y, Z, neg, unit
from models.parts.assembly import Assembly, Copy
from models.parts.blank import Blank
from models.parts.features import Countersink, Feature, Hole, HoleKind, Seat
from models.parts.part import Part, PartKind, numbered
from tests.helpers.examples import BEDSIDE, DEMO, EXAMPLES, piece, spec

Row = dict[str, str]


def read(assembly: Assembly, units: Units = Units.MM) -> list[Row]:
    """The list as a spreadsheet reads it."""
    return list(csv.DictReader(io.StringIO(drilling_list(assembly, units).decode(), newline="")))


@cache
def rows(name: str) -> list[Row]:
    return read(piece(name), spec(name).units)


def one(*features: Feature) -> Assembly:
    """A piece of one board, 400 x 100 x 18, with ``features``."""
    part = Part(
        label="C1",
        name="board",
        kind=PartKind.LUMBER,
        material="oak",
        blank=Blank(length=400.0, width=100.0, thickness=18.0),
        features=numbered(features),
    )
    from ground.vectors import Frame

    copy = Copy(id="C1.1", label="C1", group=("case",), placement=Frame())
    return Assembly(name="board", parts=(part,), copies=(copy,))


def hole(at: Vec, into: Vec, along: Vec, **more: float | None) -> Hole:
    kept: dict[str, float | int | None] = {"diameter": 5.0, "depth": 12.0, **more}
    seat = Seat(at, along, into)
    return Hole(kind=HoleKind.PILOT, seat=seat, made_by="test", **kept)  # type: ignore[arg-type]


def test_a_row_of_three_is_three_lines_32_apart() -> None:
    """From 37, 50 on the upper face: x 37, 69 and 101, y 50, 12 deep, square to the face."""
    found = read(one(hole((37.0, 50.0, 18.0), neg(Z), X, count=3, pitch=32.0)))
    assert [row["x (mm)"] for row in found] == ["37", "69", "101"]
    assert {(row["y (mm)"], row["depth (mm)"]) for row in found} == {("50", "12")}
    assert {row["face"] for row in found} == {"top"}
    assert {row["angle to face (degrees)"] for row in found} == {"90.0"}
    assert found[0]["x from"] == "left"
    assert found[0]["y from"] == "front"


def test_a_hole_in_an_end_is_placed_across_and_through_the_thickness() -> None:
    (found,) = read(one(hole((400.0, 30.0, 9.0), neg(X), Y)))
    assert (found["face"], found["x from"], found["y from"]) == ("right", "front", "bottom")
    assert (found["x (mm)"], found["y (mm)"]) == ("30", "9")


def test_a_slanted_hole_says_its_angle_to_the_face() -> None:
    """Into (0, 1, -1) from the upper face: 45 degrees."""
    (found,) = read(one(hole((200.0, 50.0, 18.0), unit((0.0, 1.0, -1.0)), X)))
    assert found["angle to face (degrees)"] == "45.0"


def test_a_hole_on_anothers_floor_is_placed_there() -> None:
    plug = Hole(
        kind=HoleKind.PLUG,
        seat=Seat((60.0, 20.0, 18.0), X, neg(Z)),
        diameter=10.0,
        depth=5.0,
        made_by="test",
    )
    found = read(one(plug, hole((60.0, 20.0, 13.0), neg(Z), X, depth=None)))
    under = next(row for row in found if row["what"] == "pilot hole")
    assert under["face"] == "plug-hole-1.floor"
    assert under["depth (mm)"] == "through"
    assert (under["x (mm)"], under["y (mm)"]) == ("60", "20")


def test_a_countersink_is_a_line_of_its_own() -> None:
    """8.3 across at 90 degrees: 8.3 / 2 / tan 45 = 4.15 deep, 4.2 as printed."""
    sink = Countersink(
        seat=Seat((60.0, 20.0, 18.0), X, neg(Z)), diameter=8.3, angle=90.0, made_by="test"
    )
    found = read(one(sink, hole((60.0, 20.0, 18.0), neg(Z), X, depth=None)))
    assert sorted(row["what"] for row in found) == ["countersink", "pilot hole"]
    assert next(row for row in found if row["what"] == "countersink")["depth (mm)"] == "4.2"


def test_an_inch_piece_has_every_size_in_mm_beside_it() -> None:
    (found,) = read(one(hole((25.4, 50.8, 18.0), neg(Z), X)), Units.INCH)
    assert (found["x (in)"], found["y (in)"]) == ('1"', '2"')
    assert (found["x (mm)"], found["diameter (mm)"]) == ("25.4", "5")
    assert rows(BEDSIDE)[0].keys() >= {"x (in)", "x (mm)", "diameter (in)", "diameter (mm)"}


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_hole_of_every_made_part_is_there(name: str) -> None:
    made = [part for part in piece(name).parts if part.made]
    holes = [f for part in made for f in part.features if isinstance(f, Hole | Countersink)]
    assert len(rows(name)) == sum(feature.count for feature in holes)
    labels = {row["part"] for row in rows(name)}
    assert labels == {p.label for p in made if any(isinstance(f, Hole) for f in p.features)}


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_hole_begins_on_a_face_that_is_named(name: str) -> None:
    for part in piece(name).parts:
        if part.made:
            for found in bored(part):
                assert found.face, f"{part.label} {part.name}: {found.feature.id}"


def test_the_demos_cups_are_there() -> None:
    """Four doors of two hinges; doors alike are one part, so it is two cups a distinct door."""
    cups = [row for row in rows(DEMO) if row["what"] == "hinge cup"]
    assert {(row["diameter (mm)"], row["depth (mm)"], row["what for"]) for row in cups} == {
        ("35", "12.5", "doors.hinge")
    }
    assert sum(int(row["quantity"]) for row in cups) == 8


NUMBERS = {6: (0.138, 0.094), 8: (0.164, 0.112), 10: (0.190, 0.130)}
"""Shank and root (in) of wood screws: check values section 10."""


@pytest.mark.parametrize("name", EXAMPLES)
def test_pilots_are_never_shank_size(name: str) -> None:
    """A pilot is 70 or 90 % of a screw's root; the smallest shank here is No. 6, 3.5 mm."""
    pilots = [row for row in rows(name) if row["what"] == "pilot hole"]
    assert pilots
    allowed = {
        round(root * 25.4 * share, 1) for _, root in NUMBERS.values() for share in (0.7, 0.9)
    }
    small = {1.5, 2.0, 2.5}  # plates, glides and cups: shanks of 2, 2.6 and 3.5
    for row in pilots:
        assert float(row["diameter (mm)"]) in allowed | small, row
        assert float(row["diameter (mm)"]) < NUMBERS[6][0] * 25.4


@pytest.mark.parametrize("name", EXAMPLES)
def test_the_same_piece_gives_the_same_bytes(name: str) -> None:
    units = spec(name).units
    assert drilling_list(piece(name), units) == drilling_list(piece(name), units)
