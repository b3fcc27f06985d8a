"""Grooves, dados and spline slots come out on no edge that shows, in every example.

Where a channel reaches an edge of its part, something must lie over its open end: another part, or
the part's own edging; or it leads on into a channel of the part that lies over it, which is looked
at by itself. Exceptions: the end that a back comes in by looks at the floor, the end of a case's
dado at its rear edges looks at the wall, and what is let in fills both; a lock rabbet is cut right
across a drawer's side, and its profile is meant to be seen on the box's upper edge, as a dovetail
is.
"""

import itertools
from collections.abc import Iterator
from dataclasses import replace

import pytest

from ground.vectors import Vec, along, dot, neg
from models.parts.assembly import Copy
from models.parts.features import Channel, ChannelKind, Seat
from models.parts.part import Part
from tests.helpers.examples import EXAMPLES, piece
from tests.helpers.wood import Wood, in_part, removes

HIDDEN = (ChannelKind.GROOVE, ChannelKind.DADO, ChannelKind.SLOT)
BOX_CORNER = "drawers.box.corner"
UNSEEN = ((0.0, 0.0, -1.0), (0.0, 1.0, 0.0))
"""At the floor and at the wall."""
NEAR = 0.6
"""A cover this close hides an end: fitting clearances are no gaps that show (mm)."""
STEPS = (0.1, 0.5, 0.9)


def hidden(part: Part) -> list[Channel]:
    """The channels of a part that must not be seen."""
    return [
        feature
        for feature in part.features
        if isinstance(feature, Channel) and feature.kind in HIDDEN and feature.made_by != BOX_CORNER
    ]


def ends(part: Part, channel: Channel) -> Iterator[tuple[Vec, Vec]]:
    """Points where the channel leaves the wood at either end, with the way out."""
    seat = channel.seat
    for place, way in ((0.0, neg(seat.along)), (channel.length, seat.along)):
        middle = along(seat.origin, seat.along, place)
        for a, d in itertools.product(STEPS, STEPS):
            point = along(middle, seat.across, (a - 0.5) * channel.width)
            point = along(point, seat.into, d * channel.depth)
            point = along(point, way, -_past(part, point, way))
            behind = along(point, way, -0.01)
            others = (cut for feature, cut in part.cuts() if feature.id != channel.id)
            if any(removes(cut, behind) for cut in others):
                continue  # it ends in a rabbet, or in another channel that is looked at by itself
            if not in_part(part, along(point, way, 0.01)):
                yield point, way


def _past(part: Part, point: Vec, way: Vec) -> float:
    """How far ``point`` lies beyond the part's own faces, measured along ``way``."""
    return max(
        (
            plane.height(point) / dot(plane.normal, way)
            for plane in part.base_planes().values()
            if dot(plane.normal, way) > 1e-9 and plane.height(point) > 0.0
        ),
        default=0.0,
    )


def shows(wood: Wood, copy: Copy, point: Vec, way: Vec) -> bool:
    """Tell whether nothing lies over ``point`` of ``copy`` (part axes)."""
    frame = copy.placement
    outward = frame.direction(way)
    over = (frame.point(along(point, way, NEAR * step)) for step in (0.05, 0.5, 1.0))
    if any(wood.at(place, but=copy.id) or leads_on(wood, copy, place) for place in over):
        return False
    fills = wood.at(frame.point(along(point, way, -0.5)), but=copy.id)
    unseen = max(dot(outward, unseen) for unseen in UNSEEN) > 0.99
    return not (fills and unseen)


def leads_on(wood: Wood, copy: Copy, place: Vec) -> bool:
    """Tell whether ``place`` (piece axes) lies in a channel of another part."""
    for other, part, back in wood.placed:
        local = back.point(place)
        if other.id == copy.id or any(p.height(local) > 0 for p in part.base_planes().values()):
            continue
        if any(removes(cut, local) for f, cut in part.cuts() if f in hidden(part)):
            return True
    return False


@pytest.mark.parametrize("name", EXAMPLES)
def test_no_channel_comes_out_where_it_shows(name: str) -> None:
    assembly = piece(name)
    wood = Wood(assembly)
    seen: list[str] = []
    counted = 0
    for part in assembly.parts:
        channels = hidden(part)
        for copy in assembly.copies_of(part.label):
            for channel in channels:
                counted += 1
                if any(shows(wood, copy, *end) for end in ends(part, channel)):
                    seen.append(f"{copy.id} {part.name}: {channel.id}")
    assert counted > 0
    assert seen == []


@pytest.mark.parametrize("name", EXAMPLES)
def test_the_test_sees_a_groove_that_comes_out(name: str) -> None:
    """A groove right across the outside of a drawer's side shows on the side's upper edge."""
    assembly = piece(name)
    part = next(part for part in assembly.parts if part.name.startswith("drawer side"))
    length, width, _ = part.blank.size
    across = Channel(
        kind=ChannelKind.GROOVE,
        seat=Seat((length / 2, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)),
        length=width,
        width=6.0,
        depth=4.0,
        made_by="test",
        id="across",
    )
    grooved = replace(part, features=(*part.features, across))
    copy = assembly.copies_of(part.label)[0]
    wood = Wood(replace(assembly, parts=(grooved, *(p for p in assembly.parts if p != part))))
    assert any(shows(wood, copy, *end) for end in ends(grooved, across))
