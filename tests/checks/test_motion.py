"""Drawers and doors on their way: rooms worked by hand, what meets is found, all examples free."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from checks.motion import find_motion, least_room
from checks.placed import Piece, read
from checks.shapes import pieces, room, rotations, shape, standing, swept, whole
from checks.solid_geometry import box, lump
from ground.findings import Finding, Severity
from ground.vectors import Frame, X, Y, Z
from models.parts.assembly import Motion, Mover
from models.parts.blank import Blank, Section
from models.parts.features import Channel, ChannelKind, Seat
from models.parts.part import Part, PartKind
from models.setting_out.piece import set_out
from tests.helpers.examples import BEDSIDE, CHEST, DEMO, EXAMPLES, changed, piece, spec


def look(name: str, *swaps: tuple[str, str]) -> Piece:
    """An example, with some of its text changed, as the checks see it."""
    text = changed(name, *swaps) if swaps else spec(name)
    return read(set_out(text) if swaps else piece(name), text)


def mover(of: Piece, name: str) -> Mover:
    return of.movers[name]


def board(*cuts: Channel, section: Section = Section.SQUARED) -> Part:
    return Part(
        label="T1",
        name="board",
        kind=PartKind.LUMBER,
        material=None,
        blank=Blank(length=100.0, width=20.0, thickness=20.0, section=section),
        features=cuts,
    )


@pytest.mark.parametrize("name", EXAMPLES)
def test_nothing_meets_anything_on_its_way(name: str) -> None:
    found = look(name)
    assert [finding.message for finding in find_motion(found)] == []
    assert found.assembly.movers


def test_a_door_of_a_pair_nears_its_neighbour_as_it_swings() -> None:
    """268.4 wide and 20 thick, about its front arris: its inner corner is 269.144 away.

    sqrt(268.4^2 + 20^2) = 269.144, so of the gap of 2 it leaves 1.256, at atan(20 / 268.4) = 4.26
    degrees; looked at every 2 degrees, at 4.
    """
    demo = look(DEMO)
    near = least_room(demo, mover(demo, "door 1/1"))
    assert near is not None
    assert near.at == pytest.approx(4.0)
    assert near.least == pytest.approx(2.0 - (math.hypot(268.4, 20.0) - 268.4), abs=0.01)
    assert near.least >= 2.0 - (math.hypot(268.4, 20.0) - 268.4) - 1e-6


def test_a_front_keeps_its_gap_all_the_way() -> None:
    demo, chest, bedside = look(DEMO), look(CHEST), look(BEDSIDE)
    for seen, name, gap in (
        (demo, "drawer 2/1", 2.0),
        (chest, "drawer 1/3", 3.0),
        (bedside, "drawer 1/1", 5 / 64 * 25.4),
    ):
        near = least_room(seen, mover(seen, name))
        assert near is not None
        assert near.least == pytest.approx(gap, abs=1e-6)


def meetings(*swaps: tuple[str, str]) -> list[Finding]:
    return list(find_motion(look(DEMO, *swaps)))


FAR = ("opens_to: 110", "opens_to: 178")
PULLED = (
    "        runner: runner\n",
    "        runner: runner\n        pull: {kind: bar, holes: 440}\n",
)


def test_a_door_that_opens_too_far_meets_its_neighbours_pull() -> None:
    """Bars 440 between screws on a front 516 wide end 32 from the divider; the doors pass 178."""
    assert meetings(PULLED) == []
    found = meetings(PULLED, FAR)
    assert {finding.code for finding in found} == {"motion.meets"}
    assert {finding.subject for finding in found} == {"door 1/2", "door 3/1"}
    for finding in found:
        assert finding.severity is Severity.ERROR
        assert finding.unit == "degrees"
        assert finding.value is not None
        assert 100.0 < finding.value < 178.0
        assert finding.limit == 178.0
        assert "bar pull" in finding.message


@pytest.mark.kernel
def test_the_kernel_agrees_where_a_door_meets_a_pull() -> None:
    """At the angle that is told they share wood, 4 degrees before they do not."""
    from dataclasses import replace

    from tests.helpers.moving import meets, shapes

    seen = look(DEMO, PULLED, FAR)
    found = next(iter(find_motion(seen)))
    assert found.value is not None
    door = mover(seen, found.subject)
    placed = shapes(seen.assembly)
    for degrees, meeting in ((found.value, True), (found.value - 4.0, False)):
        at = replace(door, limit=degrees)
        assert bool(meets(seen.assembly, placed, at, 1.0)) is meeting


@pytest.mark.kernel
@pytest.mark.slow
@pytest.mark.parametrize("name", EXAMPLES)
def test_the_kernel_agrees_closed_half_open_and_open(name: str) -> None:
    from tests.helpers.moving import meets, shapes

    found = piece(name)
    placed = shapes(found)
    for one in found.movers:
        for part in (0.0, 0.5, 1.0):
            assert meets(found, placed, one, part) == [], f"{one.id} at {part}"


def test_a_notch_that_lets_something_pass_is_seen() -> None:
    """A board 20 x 20 with a notch 10 deep from 40 to 60: what lies in the notch is not met."""
    seat = Seat((40.0, 10.0, 20.0), X, (0.0, 0.0, -1.0))
    notch = Channel(
        kind=ChannelKind.NOTCH,
        seat=seat,
        length=20.0,
        width=20.0,
        depth=10.0,
        made_by="test",
        id="n",
    )
    notched = board(notch)
    bits = pieces(notched)
    assert sum(lump(bit).volume for bit in bits) == pytest.approx(100 * 20 * 20 - 20 * 20 * 10)
    block = shape(box((16.0, 40.0, 6.0)), Frame(X, Y, (42.0, -10.0, 12.0)))
    whole_room = room(standing(shape(whole(notched), Frame())), block)
    assert whole_room[0] < 0
    left = [room(standing(shape(bit, Frame())), block)[0] for bit in bits]
    assert min(left) == pytest.approx(2.0)


def test_a_rod_is_as_wide_as_its_diameter() -> None:
    """24 sides with their corners on the rod: 20 across at four places, 0.991 of it between."""
    rod = shape(whole(board(section=Section.ROUND)), Frame())
    lo, hi = rod.box
    assert hi - lo == pytest.approx(np.array((100.0, 20.0, 20.0)))
    beside = shape(box((100.0, 10.0, 20.0)), Frame(X, Y, (0.0, 21.0, 0.0)))
    assert room(standing(rod), beside)[0] == pytest.approx(1.0)


sizes = st.floats(1.0, 50.0)
places = st.tuples(*[st.floats(-80.0, 80.0)] * 3)


@given(st.tuples(sizes, sizes, sizes), st.tuples(sizes, sizes, sizes), places, st.floats(0, 360))
def test_the_room_between_upright_boxes_is_that_of_their_spans(
    one: tuple[float, float, float],
    two: tuple[float, float, float],
    at: tuple[float, float, float],
    degrees: float,
) -> None:
    """The largest of the three gaps; and turning both together changes nothing."""
    gaps = [max(at[i] - one[i], 0.0 - at[i] - two[i]) for i in range(3)]
    a, b = shape(box(one), Frame()), shape(box(two), Frame(X, Y, at))
    assert room(standing(a), b)[0] == pytest.approx(max(gaps), abs=1e-9)
    turn = rotations((0.6, 0.0, 0.8), np.array((degrees,)))[0]
    frame = Frame(tuple(turn[:, 0]), tuple(turn[:, 1]))
    both = [
        shape(box(size), Frame(X, Y, place).then(frame))
        for size, place in ((one, (0, 0, 0)), (two, at))
    ]
    assert room(standing(both[0]), both[1])[0] == pytest.approx(max(gaps), abs=1e-6)


@given(st.tuples(sizes, sizes, sizes), places, places)
def test_a_sweep_holds_every_place_on_the_way(
    size: tuple[float, float, float],
    move: tuple[float, float, float],
    at: tuple[float, float, float],
) -> None:
    if np.linalg.norm(move) < 1.0:
        return
    start = shape(box(size), Frame())
    target = shape(box((5.0, 6.0, 7.0)), Frame(Y, Z, at))
    over_all = room(standing(swept(start, np.array(move))), target)[0]
    for share in (0.0, 0.3, 0.7, 1.0):
        x, y, z = (share * step for step in move)
        there = room(standing(shape(box(size), Frame(X, Y, (x, y, z)))), target)[0]
        # Apart over the whole way, so apart at every place of it.
        assert there > 0.0 or over_all <= 1e-9


def test_a_quarter_turn_about_an_upright_axis_carries_x_to_y() -> None:
    turn = rotations((0.0, 0.0, 1.0), np.array((90.0,)))[0]
    assert turn @ np.array((1.0, 0.0, 0.0)) == pytest.approx((0.0, 1.0, 0.0), abs=1e-12)


def test_every_mover_of_every_example_is_looked_at() -> None:
    kinds = {one.kind for name in EXAMPLES for one in piece(name).movers}
    assert kinds == {Motion.SLIDES, Motion.TURNS}
