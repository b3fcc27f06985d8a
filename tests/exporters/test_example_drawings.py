"""The drawings of the examples as files: dimensions read back, sheets of the whole piece."""

import io
import math

import pytest
from ezdxf import recover
from ezdxf.document import Drawing
from ezdxf.entities import Dimension
from ezdxf.math import Vec3

from drawings.apart_pictures import Apart
from drawings.exploded_sheet import exploded_sheet
from drawings.exploding import apart, away, leaves, shown
from drawings.lettering import FRACTION
from drawings.openings_sheet import openings_sheet
from drawings.part_sheet import part_sheet
from drawings.records import Angular, Issue, Sheet
from drawings.seeing import Block, Seen
from exporters.drawing_dxf import ALONG_U, ANGULAR, STYLE, sheet_dxf
from ground.vectors import ORIGIN, X, Y, Z, neg, norm
from models.parts.views import ISOMETRIC_RIGHT, ISOMETRIC_UP, LineView
from tests.helpers.examples import DEMO, EXAMPLES, piece, spec
from tests.helpers.flat_views import cube_picture, flat_views, groups_sheets, openings_front
from tests.helpers.sheets import collisions


def read_back(sheet: Sheet) -> Drawing:
    """The document of a sheet, which must have no fault at all."""
    document, auditor = recover.read(io.BytesIO(sheet_dxf(sheet)))
    assert [str(error) for error in auditor.errors] == []
    assert [str(fix) for fix in auditor.fixes] == []
    return document


def own_measure(dimension: Dimension, document: Drawing) -> float:
    """What the points of a dimension say: mm, an angle in radians.

    An ordinate gives the way to its feature, u and v. A view at a scale of its own has a style
    that counts its sizes for what they are.
    """
    found = dimension.get_measurement()
    if dimension.dimtype == ANGULAR:
        return math.radians(float(found))
    own, usual = (
        document.dimstyles.get(name).dxf.dimlfac for name in (dimension.dxf.dimstyle, STYLE)
    )
    if isinstance(found, Vec3):
        found = found.x if dimension.dxf.dimtype & ALONG_U else found.y
    return abs(float(found)) * float(own / usual)


def measured(sheet: Sheet) -> list[float]:
    """Sizes in mm, angles in radians, as group 42 has them."""
    return [
        math.radians(d.measured) if isinstance(d, Angular) else d.measured
        for view in sheet.views
        for d in view.dimensions
    ]


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_dimension_reads_back_as_it_was_measured(name: str) -> None:
    """Its group 42 and its own points agree within 1e-6, on the sheets of every third part."""
    asked = spec(name)
    for part in [part for part in piece(name).parts if part.made][::3]:
        sheet = part_sheet(
            part,
            flat_views(part),
            units=asked.units,
            standard=asked.drawings.standard,
            paper=asked.drawings.paper,
            piece=Issue.of(asked),
        )
        document = read_back(sheet)
        read = [e for e in document.modelspace() if isinstance(e, Dimension)]
        assert [d.dxf.actual_measurement for d in read] == pytest.approx(measured(sheet), abs=1e-6)
        points = [own_measure(d, document) for d in read]
        assert points == pytest.approx(measured(sheet), abs=1e-6)


@pytest.mark.parametrize("name", EXAMPLES)
def test_the_openings_are_drawn_with_their_clear_sizes(name: str) -> None:
    asked, assembly = spec(name), piece(name)
    sheet = openings_sheet(
        assembly,
        openings_front(assembly),
        units=asked.units,
        standard=asked.drawings.standard,
        paper=asked.drawings.paper,
        piece=Issue.of(asked),
    )
    read_back(sheet)
    assert collisions(sheet) == []
    clear = {round(v, 6) for o in assembly.openings for v in (o.width, o.height)}
    assert {round(value, 6) for value in measured(sheet)} <= clear
    leaves = [
        o.id
        for o in assembly.openings
        if not any(other.id.startswith(f"{o.id}/") for other in assembly.openings)
    ]
    named = [row[0] for row in sheet.tables[0].rows[1:]]
    assert named == [f"no. {id_}" if "/" in id_ else id_ for id_ in leaves]
    assert not any(FRACTION.search(name) for name in named)


def test_the_gaps_of_the_demo_are_those_asked_for() -> None:
    """Gaps of 2 all round and between, in all three bays."""
    asked, assembly = spec(DEMO), piece(DEMO)
    sheet = openings_sheet(
        assembly,
        openings_front(assembly),
        units=asked.units,
        standard=asked.drawings.standard,
        paper=asked.drawings.paper,
        piece=Issue.of(asked),
    )
    assert {row[-1] for row in sheet.tables[0].rows[1:]} == {
        "left 2, right 2, below 2, above 2, between 2"
    }


@pytest.mark.parametrize("name", EXAMPLES)
def test_the_exploded_view_names_every_group_and_tables_every_part(name: str) -> None:
    asked, assembly = spec(name), piece(name)
    picture = LineView(
        name="exploded", right=ISOMETRIC_RIGHT, up=ISOMETRIC_UP, visible=cube_picture(assembly)
    )
    sheet = exploded_sheet(
        assembly,
        Apart(view=picture, moves=away(assembly)),
        units=asked.units,
        standard=asked.drawings.standard,
        paper=asked.drawings.paper,
        piece=Issue.of(asked),
    )
    read_back(sheet)
    assert collisions(sheet) == []
    named = sorted(note.text.text for note in sheet.notes)
    assert named == sorted({copy.group[-1] for copy in assembly.copies} - {"inside"})
    assert [row[0] for row in sheet.tables[0].rows[1:]] == [p.label for p in assembly.parts]


@pytest.mark.parametrize("name", EXAMPLES)
def test_each_group_is_taken_apart_with_a_label_on_every_part_of_it(name: str) -> None:
    """No part of the piece goes without, and no picture says a label twice."""
    asked, assembly = spec(name), piece(name)
    labels: set[str] = set()
    for number, sheet in enumerate(groups_sheets(asked, assembly)):
        read_back(sheet)
        assert collisions(sheet) == []
        shown = leaves(assembly)[number]
        assert len(sheet.views) == len(shown)
        wanted = sorted(label for group in shown for label in {c.label for c in group.copies})
        assert sorted(note.text.text for note in sheet.notes) == wanted
        labels |= set(wanted)
    assert labels == {part.label for part in assembly.parts}


def test_groups_alike_share_a_picture() -> None:
    """The demo's drawers 2/1 and 2/2 are of the same parts; 2/3 is deeper."""
    likes = {group.name: group.like for group in shown(piece(DEMO))}
    assert likes["drawer 2/1"] == ("drawer 2/2",)
    assert likes["drawer 2/3"] == ()
    assert "drawer 2/2" not in likes
    assert list(likes)[:2] == ["base", "case"]


def test_what_comes_apart_moves_as_its_joints_open() -> None:
    """The demo's top goes up and its sides out; the edging comes off the front edge."""
    assembly = piece(DEMO)
    base, case = shown(assembly)[:2]
    moves = apart(assembly, case)
    assert moves["C1.1"][2] > 0.0
    assert moves["C3.1"][0] < 0.0 < moves["C4.1"][0]
    assert moves["E2.1"][1] < moves["C2.1"][1]
    assert set(moves) == {copy.id for copy in case.copies}
    assert norm(apart(assembly, base)["B1.1"]) > 0.0


def test_doors_come_off_in_front_and_the_base_below() -> None:
    moves = away(piece(DEMO))
    assert moves["F1.1"][1] < moves["F3.1"][1] < moves["C1.1"][1] == 0.0
    assert moves["B1.1"][2] < 0.0
    assert set(moves) == {copy.id for copy in piece(DEMO).copies}


def test_a_label_points_at_what_is_seen() -> None:
    """A block in front of another hides its middle; the leader goes to a place beside it."""
    small = Block(middle=(0.0, -50.0, 0.0), axes=(X, Y, Z), half=(20.0, 5.0, 20.0))
    large = Block(middle=ORIGIN, axes=(X, Y, Z), half=(100.0, 5.0, 100.0))
    place = Seen(blanks={"small": small, "large": large}, toward=neg(Y)).place(["large"])
    assert abs(place[0]) > 20.0 or abs(place[2]) > 20.0
    assert Seen(blanks={"large": large}, toward=neg(Y)).place(["large"]) == ORIGIN
