"""Cuts beyond a machine: the finding names the machine, the limit and what does it instead."""

import math

import numpy as np
import pytest

from exporters.set_ups_record import entries
from ground.findings import Severity
from ground.vectors import Plane, unit
from models.parts.blank import Blank
from models.parts.features import Trim, TrimKind
from models.parts.part import Part, PartKind
from planning.machines import Tool, reach
from planning.saw.job import Job
from planning.saw.plan import part_set_ups
from planning.saw.troubles import out_of_reach, troubles
from specs.machines import BandSaw, Machines, MitreSaw, TableSaw, TrackSaw
from tests.helpers import examples
from tests.helpers.saw_replay import replay


def only(table_saw: TableSaw) -> Machines:
    """A shop with a table saw and hand tools."""
    return Machines(
        table_saw=table_saw,
        track_saw=TrackSaw(owned=False),
        mitre_saw=MitreSaw(owned=False),
        band_saw=BandSaw(owned=False),
    )


def board(length: float, width: float, thickness: float, *cuts: tuple[str, Plane]) -> Part:
    return Part(
        label="X1",
        name="board",
        kind=PartKind.LUMBER,
        material=None,
        blank=Blank(length=length, width=width, thickness=thickness),
        features=tuple(
            Trim(kind=TrimKind.BEVEL, plane=plane, made_by="drawn", id=name) for name, plane in cuts
        ),
    )


def told(part: Part, machines: Machines):
    job = Job(part=part, machines=machines)
    return list(troubles(job, part_set_ups(job), ("X1.1",)))


def bevel(length: float, degrees_normal: tuple[float, float, float]) -> Plane:
    return Plane.through((length, 0.0, 0.0), unit(degrees_normal))


END_45 = ("end", Plane.through((500.0, 0.0, 0.0), unit((1.0, 0.0, 1.0))))


def test_a_tilt_beyond_the_saw_is_told_with_both_numbers():
    """The board is too wide to be stood on edge and mitred instead."""
    machines = only(TableSaw(tilt=30.0))
    (found,) = told(board(500, 120, 20, END_45), machines)
    assert found.severity is Severity.WARNING
    assert (found.value, found.limit, found.unit) == (pytest.approx(45.0), 30.0, "degrees")
    assert "table saw, mitre gauge: tilts to 30 degrees, this asks 45" in found.message
    assert "by hand" in found.message


def test_a_cut_higher_than_the_blade_goes_to_the_band_saw_and_says_so():
    """120 thick: more than the 80 that the blade rises, less than the band saw's 250."""
    part = board(500, 150, 120, ("end", Plane.through((490.0, 0, 0), unit((1.0, 0.2, 0.0)))))
    machines = Machines(mitre_saw=MitreSaw(owned=False), track_saw=TrackSaw(owned=False))
    (found,) = told(part, machines)
    assert found.severity is Severity.NOTE
    assert found.limit == pytest.approx(80.0)
    assert "band saw" in found.message


def test_a_piece_too_short_to_hold_is_told():
    part = board(100, 60, 20, ("end", Plane.through((95.0, 0, 0), unit((1.0, 0.1, 0.0)))))
    machines = only(TableSaw())
    (found,) = told(part, machines)
    assert (found.value, found.limit) == (100.0, 150.0)
    assert "the gauge holds pieces from 150 mm, this asks 100" in found.message
    assert "by hand" in found.message


def test_a_mitre_beyond_the_gauge_is_told():
    """A splay of 44 degrees on the gauge that turns only to 30."""
    part = board(500, 60, 20, ("end", Plane.through((495.0, 0, 0), unit((1.0, 0.9, 0.0)))))
    machines = only(TableSaw(mitre=30.0, height=15.0))
    found = told(part, machines)
    assert len(found) == 1
    assert found[0].subject == "X1 board"


def test_nothing_is_said_of_what_the_machines_reach():
    assert told(board(500, 80, 20, END_45), Machines()) == []


@pytest.mark.parametrize(("tilt", "high"), [(0.0, 80.0), (45.0, 55.0), (22.5, 67.5)])
def test_a_blade_cuts_less_high_as_it_tilts(tilt, high):
    assert reach(TableSaw(), tilt) == pytest.approx(high)


def test_a_bevelled_tapered_leg_is_told_what_the_fence_alone_would_do():
    """60 to 34 over 400, bevelled 7: (60 - 34) tan 7 = 3.19 from end to end on the wrong face."""
    t = math.tan(math.radians(7))
    taper = Plane.through((0.0, 0.0, 60.0), (26.0, 0.0, 400.0))
    side = Plane.through((0.0, 58.0, 60.0), (-26.0 * t / 400.0, 1.0, -t))
    part = board(400, 80, 60, ("taper", taper), ("side", side))
    job = Job(part=part, machines=Machines())
    steps = part_set_ups(job)
    made = next(one for one in steps if one.makes_face == "side")
    assert made.wedge is None
    assert "out by 3.19 mm from end to end" in made.note


def test_a_shop_without_a_sled_takes_a_wedge_and_says_what_it_mends():
    """A side that falls with no face: 26 over 400, 7 degrees, 3.19 out without the wedge."""
    t = math.tan(math.radians(7))
    side = Plane.through((0.0, 58.0, 45.0), (-26.0 * t / 400.0, 1.0, -t))
    job = Job(part=board(400, 80, 45, ("side", side)), machines=only(TableSaw(sled=100.0)))
    made = next(one for one in part_set_ups(job) if one.makes_face == "side")
    assert made.machine is Tool.TABLE_SAW
    assert made.wedge is not None
    assert made.wedge.rise == pytest.approx(26.0)
    assert made.wedge.length == pytest.approx(400.0)
    assert made.mitre == pytest.approx(90.0)
    assert "so the wedge turns the piece to it" in made.note
    assert "out by 3.19 mm from end to end" in made.note
    assert any("tape" in caution for caution in made.cautions)
    planes = replay(job.part.blank.size, entries(part_set_ups(job)))
    normal, offset = planes["side"]
    assert np.allclose(normal, side.normal, atol=1e-7)
    assert offset == pytest.approx(side.offset, abs=1e-4)


def test_the_spec_s_own_machines_are_held_to_and_named_as_the_source():
    """Legs 206 long on a gauge that the maker gives 250 for, and no other saw but the band saw."""
    machines = "  machines: {table_saw: {shortest_held: 250}, mitre_saw: {owned: false}}"
    spec = examples.changed(examples.DEMO, ("  kerf: 3.2 ", f"{machines}\n  kerf: 3.2 "))
    assert spec.shop.machines.table_saw.shortest_held == 250.0
    assert not spec.shop.machines.mitre_saw.owned
    found = out_of_reach(examples.piece(examples.DEMO), spec.shop)
    legs = [one for one in found if one.subject.startswith("B1")]
    assert {one.limit for one in legs} == {250.0}
    assert {one.source for one in legs} == {"the spec"}
    assert all(one.copies == ("B1.1", "B1.2") for one in legs)
