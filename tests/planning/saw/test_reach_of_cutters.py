"""Grooves, holes, joints and blanks beyond a machine: which, which limit, what instead."""

import pytest

from ground.findings import Severity
from ground.vectors import Plane, Vec, X, Y, Z, neg
from models.parts.assembly import Assembly
from models.parts.blank import Blank
from models.parts.features import (
    Channel,
    ChannelKind,
    Feature,
    Hole,
    HoleKind,
    Mortise,
    Seat,
    Waste,
    WasteKind,
)
from models.parts.part import Part, PartKind, numbered
from planning.machines import Tool
from planning.saw.job import Job
from planning.saw.plan import part_set_ups
from planning.saw.troubles import out_of_reach
from specs.machines import BandSaw, DrillPress, Machines, Mortiser, Router, TableSaw, TrackSaw
from specs.shop import Shop


def part(size: Vec, *features: Feature, kind: PartKind = PartKind.LUMBER) -> Part:
    length, width, thickness = size
    return Part(
        label="X1",
        name="board",
        kind=kind,
        material=None,
        blank=Blank(length=length, width=width, thickness=thickness),
        features=numbered(features),
    )


def told(made: Part, machines: Machines):
    return out_of_reach(Assembly(name="X", parts=(made,), copies=()), Shop(machines=machines))


def tool(made: Part, machines: Machines, does: str) -> Tool:
    steps = part_set_ups(Job(part=made, machines=machines))
    return next(one.machine for one in steps if one.does == does)


def groove(*, width: float, depth: float, start: float = 0.0, length: float = 500.0) -> Channel:
    return Channel(
        kind=ChannelKind.GROOVE,
        seat=Seat((start, 30.0, 0.0), X, Z),
        length=length,
        width=width,
        depth=depth,
        made_by="drawn",
    )


def hole(place: Vec, *, depth: float | None, into: Vec = Z, count: int = 1) -> Hole:
    return Hole(
        kind=HoleKind.DOWEL,
        seat=Seat(place, X, into),
        diameter=8.0,
        depth=depth,
        count=count,
        pitch=32.0,
        made_by="drawn",
    )


def test_a_groove_too_wide_for_the_stack_goes_to_the_router_and_nothing_is_said():
    made = part((500, 120, 40), groove(width=22.0, depth=10.0))
    assert tool(made, Machines(), "groove") is Tool.ROUTER_TABLE
    assert told(made, Machines()) == ()
    assert tool(part((500, 120, 40), groove(width=12.0, depth=10.0)), Machines(), "groove") is (
        Tool.DADO
    )


def test_a_groove_too_deep_for_every_cutter_is_told():
    """A stopped groove 40 deep; the router cuts 35."""
    made = part((500, 120, 60), groove(width=12.0, depth=40.0, start=50.0, length=300.0))
    machines = Machines(router=Router(deepest=35.0))
    (found,) = told(made, machines)
    assert (found.code, found.severity) == ("cutter.reach", Severity.WARNING)
    assert (found.value, found.limit, found.unit) == (40.0, 35.0, "mm")
    assert "groove-1: router" in found.message
    assert "cuts as deep as 35 mm, this asks 40; mark it with knife and gauge" in found.message
    assert tool(made, machines, "groove") is Tool.HAND_SAW
    assert told(made, Machines(router=Router(deepest=40.0))) == ()


def mortise(width: float, depth: float) -> Mortise:
    return Mortise(
        seat=Seat((100.0, 30.0, 0.0), X, Z), length=40.0, width=width, depth=depth, made_by="drawn"
    )


def test_a_mortise_goes_from_the_mortiser_to_the_router_to_the_chisel():
    short = Machines(mortiser=Mortiser(deepest=28.0), router=Router(deepest=30.0))
    assert tool(part((500, 60, 60), mortise(10.0, 28.0)), short, "mortise") is Tool.MORTISER
    assert tool(part((500, 60, 60), mortise(10.0, 30.0)), short, "mortise") is Tool.ROUTER
    deep = part((500, 60, 60), mortise(10.0, 31.0))
    assert tool(deep, short, "mortise") is Tool.HAND_SAW
    (found,) = told(deep, short)
    assert (found.value, found.limit) == (31.0, 30.0)
    assert found.message.startswith("mortise-1: router, guided: mortises as deep as 30 mm")


@pytest.mark.parametrize(
    ("press", "made", "words"),
    [
        (
            DrillPress(reach=100.0),
            part((500, 250, 20), hole((250.0, 125.0, 0.0), depth=12.0)),
            "reaches in from an edge 100 mm, this asks 125",
        ),
        (
            DrillPress(stroke=50.0),
            part((500, 250, 90), hole((40.0, 40.0, 0.0), depth=60.0)),
            "bores as deep as 50 mm, this asks 60",
        ),
        (
            DrillPress(height=200.0),
            part((500, 250, 20), hole((40.0, 0.0, 10.0), depth=30.0, into=Y)),
            "takes pieces as high as 200 mm, this asks 250",
        ),
    ],
)
def test_a_hole_beyond_the_drill_press_is_a_note_that_says_how_it_is_drilled(press, made, words):
    machines = Machines(drill_press=press)
    (found,) = told(made, machines)
    assert (found.code, found.severity) == ("cutter.reach", Severity.NOTE)
    assert found.message == (
        f"dowel-hole-1: drill press: {words}; drill it with a hand drill in a guide, a stop on"
        " the bit"
    )
    assert tool(made, machines, "dowel hole") is Tool.DRILL
    assert told(made, Machines(drill_press=DrillPress(reach=125, stroke=60, height=250))) == ()


def test_the_middle_of_a_row_may_be_the_hole_that_is_too_far_in():
    """Nine holes from 60 to 316 of 376: both ends are 60 in, the fifth 188."""
    size = (376, 500, 20)
    made = part(size, hole((60.0, 250.0, 0.0), depth=12.0, count=9), kind=PartKind.SHEET)
    (found,) = told(made, Machines())
    assert (found.value, found.limit) == (188.0, 170.0)


def test_holes_over_one_limit_are_one_finding():
    made = part(
        (500, 500, 20),
        hole((200.0, 250.0, 0.0), depth=12.0),
        hole((250.0, 250.0, 0.0), depth=12.0),
        kind=PartKind.SHEET,
    )
    (found,) = told(made, Machines())
    assert found.message.startswith("dowel-hole-1, dowel-hole-2: drill press")
    assert found.value == 250.0


def test_a_board_wider_than_the_planer_is_told_unless_it_is_glued_up():
    wide = part((500, 320, 20))
    (found,) = told(wide, Machines())
    assert found.code == "mill.reach"
    assert (found.value, found.limit) == (320.0, 300.0)
    assert "glue it up of narrower staves" in found.message
    blank = Blank(length=500.0, width=320.0, thickness=20.0, staves=2)
    staved = Part(label="X1", name="board", kind=PartKind.LUMBER, material=None, blank=blank)
    assert told(staved, Machines()) == ()


def test_a_sheet_part_too_large_to_feed_lies_still_under_a_rail():
    panel = part((1680, 420, 18), kind=PartKind.SHEET)
    machines = Machines(table_saw=TableSaw(largest=1500.0))
    words = "saw to size from the sheet"
    assert tool(panel, machines, words) is Tool.TRACK_SAW
    assert told(panel, machines) == ()
    bare = Machines(table_saw=TableSaw(largest=1500.0), track_saw=TrackSaw(owned=False))
    assert tool(panel, bare, words) is Tool.HAND_SAW
    (found,) = told(panel, bare)
    assert (found.value, found.limit) == (1680.0, 1500.0)


SHOULDER = ("shoulder", Plane(X, 40.0))
CHEEK = ("cheek", Plane(Z, 7.0))


def tenoned(length: float) -> Part:
    """A tenon 40 long, 7 of the lower face cut away to its cheek."""
    waste = Waste(
        kind=WasteKind.TENON,
        planes=(SHOULDER, CHEEK, ("", Plane(neg(Z), 1.0))),
        made_by="drawn",
    )
    return part((length, 60, 20), waste)


def test_a_shoulder_on_a_piece_too_short_for_the_gauge_is_told():
    assert told(tenoned(300.0), Machines()) == ()
    (found,) = told(tenoned(120.0), Machines(band_saw=BandSaw(shortest=60.0)))
    assert found.message.startswith(
        "tenon-1.shoulder: table saw, mitre gauge: the gauge holds pieces from 150 mm,"
        " this asks 120; mark it with knife"
    )
    steps = part_set_ups(Job(part=tenoned(120.0), machines=Machines()))
    shoulder = next(one for one in steps if one.makes_face == "tenon-1.shoulder")
    assert (shoulder.machine, shoulder.kerf) == (Tool.HAND_SAW, 0.0)
    assert shoulder.distance == pytest.approx(40.0)
    assert shoulder.depth == pytest.approx(7.0)
