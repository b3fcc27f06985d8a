"""Drawers and doors on their way: rooms worked by hand, what meets is found, all examples free."""

import math
import re
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checks.motion import find_motion, least_room
from checks.placed import Piece, read
from checks.shapes import beside, pieces, room, rotation, shape, swept, turned, whole
from checks.solid_geometry import box, lump
from ground.findings import Finding, Severity
from ground.vectors import Frame, X, Y, Z, norm, sub
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
    assert [one.message for one in find_motion(found) if one.severity is Severity.ERROR] == []
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
    return [one for one in find_motion(look(DEMO, *swaps)) if one.code == "motion.meets"]


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
    from tests.helpers.moving import meets, shapes

    seen = look(DEMO, PULLED, FAR)
    found = next(one for one in find_motion(seen) if one.code == "motion.meets")
    assert found.value is not None
    door = mover(seen, found.subject)
    two = tuple(copy for copy in seen.assembly.copies if copy.id in found.copies)
    labels = {copy.label for copy in two}
    parts = tuple(part for part in seen.assembly.parts if part.label in labels)
    alone = replace(seen.assembly, copies=two, parts=parts)
    placed = shapes(alone)
    mine = tuple(copy.id for copy in two if copy.mover == door.id)
    for degrees, meeting in ((found.value, True), (found.value - 4.0, False)):
        at = replace(door, limit=degrees, copies=mine)
        assert bool(meets(alone, placed, at, 1.0)) is meeting


def codes(*swaps: tuple[str, str]) -> dict[str, Finding]:
    return {one.code: one for one in find_motion(look(DEMO, *swaps))}


def test_a_door_that_leans_over_the_drawers_is_told_with_the_angle_that_clears_it() -> None:
    """Past 94 degrees the demo's inner doors stand before the drawers; hinges to 94 do not."""
    mine = codes()["motion.both_open"]
    assert mine.severity is Severity.NOTE  # it gives way at 90
    assert mine.value == pytest.approx(96.0)
    assert "drawer 2/1, drawer 2/2, drawer 2/3 cannot pass" in mine.message
    enough = re.search(r"open to (\d+) degrees at most", mine.message)
    assert enough
    assert "motion.both_open" not in codes(("opens_to: 110", f"opens_to: {enough[1]}"))


@pytest.mark.kernel
def test_the_kernel_agrees_where_an_open_door_stands_before_a_drawer() -> None:
    from tests.helpers.moving import moved as carried
    from tests.helpers.moving import shapes

    seen = look(DEMO)
    found = next(one for one in find_motion(seen) if one.code == "motion.both_open")
    assert found.value is not None
    two = {copy.id: copy for copy in seen.assembly.copies if copy.id in found.copies}
    labels = {copy.label for copy in two.values()}
    parts = tuple(part for part in seen.assembly.parts if part.label in labels)
    placed = shapes(replace(seen.assembly, copies=tuple(two.values()), parts=parts))
    for degrees, meets in ((found.value, True), (found.value - 2.0, False)):
        volume = 0.0
        for step in range(8):
            there = []
            for copy in two.values():
                one = mover(seen, copy.mover or "")
                share = degrees / one.limit if one.kind is Motion.TURNS else step / 7
                there.append(carried(placed[copy.id], one, share))
            volume = max(volume, float(there[0].intersect(there[1]).Volume()))
        assert (volume > 1.0) is meets


def test_two_doors_opened_together_keep_less_than_one_alone() -> None:
    """Both turn their inner corners towards each other: 2 - 2 x 0.741 at 4 degrees."""
    mine = codes()["motion.clear"]
    one = 268.4 * math.cos(math.radians(4)) + 20 * math.sin(math.radians(4)) - 268.4
    assert mine.value == pytest.approx(2.0 - 2 * one, abs=0.01)
    assert "door" in mine.message


def test_doors_too_near_one_another_are_told_and_the_room_that_is_asked_for_clears_it() -> None:
    doors = "count: 2, material: front-panel, gap: "
    tight = codes((f"{doors}2,", f"{doors}1.6,"))["motion.tight"]
    assert tight.severity is Severity.WARNING
    more = re.search(r"give it ([\d.]+) mm more", tight.message)
    assert more
    wider = f"{doors}{1.6 + float(more[1]):g},"
    assert "motion.tight" not in codes((f"{doors}2,", wider))


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
    assert room(shape(whole(notched), Frame()), block) < 0
    left = [room(shape(bit, Frame()), block) for bit in bits]
    assert min(left) == pytest.approx(2.0)


def test_a_rod_is_as_wide_as_its_diameter() -> None:
    """24 sides with their corners on the rod: 20 across at four places, 0.991 of it between."""
    rod = shape(whole(board(section=Section.ROUND)), Frame())
    lo, hi = rod.box
    assert sub(hi, lo) == pytest.approx((100.0, 20.0, 20.0))
    beside = shape(box((100.0, 10.0, 20.0)), Frame(X, Y, (0.0, 21.0, 0.0)))
    assert room(rod, beside) == pytest.approx(1.0)


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
    assert room(a, b) == pytest.approx(max(gaps), abs=1e-9)
    columns = tuple(zip(*rotation((0.6, 0.0, 0.8), degrees), strict=True))
    frame = Frame(columns[0], columns[1])
    both = [
        shape(box(size), Frame(X, Y, place).then(frame))
        for size, place in ((one, (0, 0, 0)), (two, at))
    ]
    assert room(both[0], both[1]) == pytest.approx(max(gaps), abs=1e-6)


@given(st.tuples(sizes, sizes, sizes), places, places)
def test_a_sweep_holds_every_place_on_the_way(
    size: tuple[float, float, float],
    move: tuple[float, float, float],
    at: tuple[float, float, float],
) -> None:
    if norm(move) < 1.0:
        return
    start = shape(box(size), Frame())
    target = shape(box((5.0, 6.0, 7.0)), Frame(Y, Z, at))
    over_all = room(swept(start, move), target)
    for share in (0.0, 0.3, 0.7, 1.0):
        x, y, z = (share * step for step in move)
        there = room(shape(box(size), Frame(X, Y, (x, y, z))), target)
        # Apart over the whole way, so apart at every place of it.
        assert there > 0.0 or over_all <= 1e-9


def test_a_quarter_turn_about_an_upright_axis_carries_x_to_y() -> None:
    """A post 3 x 2 at x 10 to 13, about the origin: at y 10 to 13 then."""
    post = shape(box((3.0, 2.0, 5.0)), Frame(X, Y, (10.0, 0.0, 0.0)))
    there = turned(post, rotation((0.0, 0.0, 1.0), 90.0), (0.0, 0.0, 0.0))
    assert there.box[0] == pytest.approx((-2.0, 10.0, 0.0), abs=1e-12)
    assert there.box[1] == pytest.approx((0.0, 13.0, 5.0), abs=1e-12)


@given(places, places, st.floats(-20, 20))
def test_a_search_that_may_end_early_ends_on_the_right_side(
    at: tuple[float, float, float], lean: tuple[float, float, float], enough: float
) -> None:
    """Told what is enough, the room is the whole one where it is less, and enough where not."""
    turn = rotation((0.0, 0.6, 0.8), lean[0])
    one = turned(shape(box((30.0, 20.0, 10.0)), Frame()), turn, (0.0, 0.0, 0.0))
    two = shape(box((12.0, 14.0, 16.0)), Frame(X, Y, at))
    most, told = room(one, two), room(one, two, enough=enough)
    assert told >= enough if most >= enough else told == most
    assert beside(one.box, two.box) <= most + 1e-9 or most > 0.0


def test_every_mover_of_every_example_is_looked_at() -> None:
    kinds = {one.kind for name in EXAMPLES for one in piece(name).movers}
    assert kinds == {Motion.SLIDES, Motion.TURNS}
